"""All solids of a brake, from its outlines: which outline makes which solid, and how."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely
from manifold3d import Manifold

from geometry.brake import SIDES, Brake, Side
from geometry.condition import Condition
from geometry.kinematics import Poses
from geometry.outlines import Outline, Verb, brake_outlines
from geometry.outlines.deforming import diaphragm_points
from geometry.outlines.outline import ROLLER, SHOE
from geometry.outlines.parking import parking_frames
from mechviz.solid import actuation, chamber, foundation, springs, wheel_end
from mechviz.solid.fineness import STILL, Fineness
from mechviz.solid.frames import spring_lengths
from mechviz.solid.look_for import look_for
from mechviz.solid.making import prism
from mechviz.solid.places import Places, places
from mechviz.solid.solid import Group, Solid


@dataclass(frozen=True)
class Kit:
    """What every maker works from: the brake, where its parts stand along the shaft, their outlines, how fine."""

    brake: Brake
    where: Places
    outlines: Mapping[str, Outline]
    fineness: Fineness

    @property
    def parking(self) -> bool:
        """Whether a parking section is fitted."""
        return "parking_housing" in self.outlines


Maker = Callable[[Kit, Outline], Manifold]


def _shell(kit: Kit, outline: Outline) -> Manifold:
    return chamber.shell(outline, kit.brake, kit.fineness.detail)


def _sheet(kit: Kit, outline: Outline) -> Manifold:
    return chamber.sheet(shapely.get_coordinates(outline.geometry), kit.brake, kit.fineness.detail)


def _spring(make: Callable[[Brake, float, int, int], Manifold]) -> Maker:
    def made(kit: Kit, outline: Outline) -> Manifold:
        length = spring_lengths(kit.brake)[outline.name]
        return make(kit.brake, length, kit.fineness.steps, kit.fineness.sides)

    return made


def _camshaft(kit: Kit, _: Outline) -> Manifold:
    return foundation.camshaft(kit.brake, (kit.where.shaft[0], kit.where.shaft_end[0]), kit.fineness.small)


def _lining(side: Side) -> Maker:
    def made(kit: Kit, outline: Outline) -> Manifold:
        blocks = foundation.blocks(outline, kit.brake, kit.where, side)
        drilled = kit.fineness.drilled
        return blocks - foundation.drilled(kit.brake, kit.where, side, kit.fineness.small) if drilled else blocks

    return made


RECIPES: dict[str, tuple[str, Group, Maker]] = {
    "spindle": ("ground_wheel", "axle", lambda k, _: wheel_end.spindle(k.brake, k.where, k.fineness.detail)),
    "axle_tube": ("ground_wheel", "axle", lambda k, o: wheel_end.axle(o, k.brake, k.where)),
    "spider": ("ground_wheel", "spider", lambda k, o: prism(o.geometry, k.where.spider)),
    "drum": ("ground_wheel", "drum", lambda k, o: wheel_end.drum(k.brake, o, k.where, k.fineness.detail)),
    "anchor_pin_left": ("ground_wheel", "spider", lambda k, o: prism(o.geometry, k.where.pins)),
    "anchor_pin_right": ("ground_wheel", "spider", lambda k, o: prism(o.geometry, k.where.pins)),
    "anchor_pin_shared": ("ground_wheel", "spider", lambda k, o: prism(o.geometry, k.where.pins)),
    "camshaft": ("cam", "cam", _camshaft),
    "s_cam": ("cam", "cam", lambda k, o: foundation.s_cam(o, k.brake, k.where, k.fineness.small)),
    "shoe_return_spring": ("shoe_return_spring", "shoe", _spring(springs.shoe_spring)),
    "slack_adjuster": ("arm", "arm", lambda k, o: actuation.slack_adjuster(o, k.brake, k.where)),
    "camshaft_end": ("arm", "cam", lambda k, o: actuation.camshaft_end(o, k.where)),
    "clevis": ("clevis", "rod", lambda k, o: actuation.clevis(o, k.brake, k.where, k.fineness.small)),
    "clevis_pin": ("clevis_pin", "rod", lambda k, _: actuation.clevis_pin(k.brake, k.where, k.fineness.small)),
    "pushrod": ("pushrod", "rod", lambda k, o: actuation.pushrod(o, k.fineness.small)),
    "bracket": ("ground_arm", "axle", lambda k, o: actuation.bracket(o, k.brake, k.fineness.detail)),
    "studs": ("ground_arm", "chamber", lambda k, o: actuation.studs(o, k.brake, k.fineness.small)),
    "push_plate": ("plate", "chamber", lambda k, o: chamber.plate(o, k.fineness.small)),
    "diaphragm": ("ground_arm", "chamber", _sheet),
    "chamber_return_spring": ("chamber_return_spring", "chamber", _spring(springs.chamber_spring)),
    "chamber_non_pressure": ("ground_arm", "chamber", _shell),
    "chamber_pressure": (
        "ground_arm",
        "chamber",
        lambda k, o: chamber.pressure_half(o, k.brake, k.parking, k.fineness.detail),
    ),
    "clamp_ring": ("ground_arm", "chamber", _shell),
    "air_port": ("ground_arm", "chamber", lambda k, o: chamber.air_port(o, k.parking, k.fineness.small)),
    "parking_housing": ("ground_arm", "parking", _shell),
    "parking_plate": ("parking_plate", "parking", _shell),
    "parking_diaphragm": ("ground_arm", "parking", _sheet),
    "power_spring": ("power_spring", "parking", _spring(springs.power_spring)),
}
"""By an outline's name: the body that carries its solid, the group it comes off with, and what makes it."""
for _side in SIDES:
    RECIPES.update(
        {
            f"shoe_{_side}_web": (SHOE[_side], "shoe", lambda k, o: foundation.webs(o, k.where)),
            f"shoe_{_side}_platform": (SHOE[_side], "shoe", lambda k, o: prism(o.geometry, k.where.lining)),
            f"lining_{_side}": (SHOE[_side], "lining", _lining(_side)),
            f"roller_{_side}": (
                ROLLER[_side],
                "shoe",
                lambda k, o: foundation.roller(o, k.brake, k.where, k.fineness.small),
            ),
        }
    )


def brake_solids(
    brake: Brake, condition: Condition, *, parking: bool = False, fineness: Fineness = STILL
) -> tuple[Solid, ...]:
    """Return every solid of a brake in one condition, each in its body's own frame; what deforms, as released.

    ``parking`` adds a parking section. Raises `AssemblyError` where a part cannot be made.
    """
    outlines: Sequence[Outline] = brake_outlines(brake, condition, parking=parking, detail=fineness.small)
    outlines = outlines if fineness.thinned == 0 else [_with_fewer_points(o, fineness.thinned) for o in outlines]
    kit = Kit(brake, places(brake), {outline.name: outline for outline in outlines}, fineness)
    made = [_from_outline(kit, outline) for outline in outlines] + _without_outline(kit)
    return tuple(made if fineness.thinned == 0 else [_thinned(solid, fineness.thinned) for solid in made])


def _with_fewer_points(outline: Outline, tolerance: float) -> Outline:
    return replace(outline, geometry=shapely.simplify(outline.geometry, tolerance))


def _thinned(solid: Solid, tolerance: float) -> Solid:
    return replace(solid, shape=solid.shape.simplify(tolerance))


def _from_outline(kit: Kit, outline: Outline) -> Solid:
    body, group, make = RECIPES[outline.name]
    about = outline.verb, outline.title, outline.does, look_for(outline.name)
    return Solid(outline.name, *about, body, group, make(kit, outline))


def _without_outline(kit: Kit) -> list[Solid]:
    """What the two planes do not show: the wheel, its hub, the camshaft's tube, the rivets."""
    brake, where, fine = kit.brake, kit.where, kit.fineness

    def solid(name: str, verb: Verb, title: str, does: str, group: Group, shape: Manifold, body: str) -> Solid:
        return Solid(name, verb, title, does, look_for(name), body, group, shape)

    hidden = "Hides the brake: with it on, the pushrod's stroke and the arm's angle tell how it is adjusted."
    turns = "Runs on the axle; wheel and drum are bolted to it."
    guides = "Guides the camshaft from the spider to the slack adjuster."
    holds = "Holds the lining to its shoe."
    tube = actuation.shaft_tube(brake, where, fine.small)
    return [
        solid("wheel", "hold", "Wheel", hidden, "wheel", wheel_end.wheel(brake, where, fine.detail), "ground_wheel"),
        solid("hub", "hold", "Hub", turns, "drum", wheel_end.hub(brake, where, fine.detail), "ground_wheel"),
        solid("shaft_tube", "hold", "Camshaft tube", guides, "axle", tube, "ground_wheel"),
        *(
            solid(
                f"rivets_{side}",
                "rub",
                f"{side.capitalize()} lining's rivets",
                holds,
                "lining",
                foundation.rivets(brake, where, side, fine.small),
                SHOE[side],
            )
            for side in SIDES
        ),
    ]


def sheets(
    brake: Brake, poses: Poses, index: int = 0, *, parking_out: float | None = None, fineness: Fineness = STILL
) -> dict[str, Manifold]:
    """Return the diaphragms, arm plane, in one of the poses (flat index).

    With ``parking_out``, how far (mm) the power spring has pushed its plate out, that section's diaphragm too.
    """
    lines = {"diaphragm": diaphragm_points(brake, poses)[index]}
    if parking_out is not None:
        lines["parking_diaphragm"] = parking_frames(brake, parking_out)["parking_diaphragm"]
    return {name: chamber.sheet(line, brake, fineness.detail) for name, line in lines.items()}
