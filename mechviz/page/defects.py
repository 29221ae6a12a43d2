"""The defects on the page: each one's brake as a patch of the sound one's data, so that all of it moves as solved.

A patch holds what differs: links of the table, facts, deforming shapes, and the outlines and solids of parts that have
another form. With it the page's data are those of a page of the defective brake, in the sound brake's layout.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import isfinite
from typing import Any

from geometry.brake import Brake
from geometry.condition import Condition, tip_angle
from geometry.defects import OUTCOMES, Wheel, felt
from geometry.errors import AssemblyError
from geometry.outlines import Outline
from geometry.outlines.all_parts import arm_outlines, wheel_outlines
from geometry.reasons import Reason
from geometry.setup import Setup
from mechviz.drawing.layout import Layout, rule_start, with_parking
from mechviz.drawing.parts import path_data
from mechviz.drawing.scene import scene_at
from mechviz.faults.scene import held_scene
from mechviz.faults.study import Row, drawn_part, drawn_setup, every_row, sound_row
from mechviz.page.air import section_data
from mechviz.page.facts import brake_facts
from mechviz.page.labels import Names, names_anew
from mechviz.page.motion import motion_data
from mechviz.page.picture import drawn_facts
from mechviz.page.solid import SolidView
from mechviz.page.table import page_table

Data = Mapping[str, Any]

NEVER = {Reason.NOT_POSITIVE: "too little lining for it", Reason.INPUT_MISSING: "a figure is missing"}
"""A brake that has less than nothing of something cannot be drawn: such a defect is named with why it is not here."""

FRAMES = 17
"""Of a deforming shape: fewer than the sound brake's, for a line between them is still hair's breadth off."""

CRACKED = ("return-spring-broken",)
"""Defects whose part is drawn in two pieces."""


AT_REST = 2
"""Frames of a parking section that stands still: beside a defect its spring is held back."""


@dataclass(frozen=True)
class Sound:
    """The brake as found: the page's ``data`` of it (``table``, ``motion``, ``facts``), parts, layout and solids."""

    setup: Setup
    data: Data
    outlines: tuple[Outline, ...]
    where: Layout
    solid: SolidView
    named: Names

    @cached_property
    def section(self) -> dict[str, Any] | None:
        """Its parking section."""
        return section_data(self.setup, AT_REST)

    @cached_property
    def paths(self) -> Mapping[str, str]:
        """The parts as path data, by name."""
        return part_paths(self.outlines)


def defects_data(sound: Sound) -> dict[str, Any]:
    """Return every defect that this brake can have, and the figures of the brake as found."""
    rows = [(row, Reason(int(row.outcome.reason))) for row in every_row(sound.setup)]
    found = [_defect(sound, row) for row, reason in rows if reason not in NEVER]
    return {
        "sound": _outcome(sound.setup, sound_row(sound.setup)),
        "list": [one for one in found if one is not None],
        "without": [{"title": row.title, "why": NEVER[reason]} for row, reason in rows if reason in NEVER],
    }


def _defect(sound: Sound, row: Row) -> dict[str, Any] | None:
    """One defect's words, figures and patch; None where it leaves a brake whose parts cannot be put together."""
    wheel, (one,) = row.wheel, row.defects
    try:
        patch = _patch(sound, one.name, wheel)
    except AssemblyError:
        return None
    return {
        "name": one.name,
        "title": one.title,
        "part": drawn_part(one, wheel.brake).replace("_", "-"),
        "inside": one.inside,
        "outside": one.outside,
        "blocked": wheel.blocked,
        "play": wheel.play,
        "kept": wheel.residual > 0 or wheel.fallen,
        "broken": one.name in CRACKED,
        "outcome": _outcome(sound.setup, row),
        "patch": patch,
    }


def _outcome(setup: Setup, row: Row) -> dict[str, float | None]:
    """A row's figures; where it cannot be applied, those of the brake let go are still told."""
    figures = {name: float(getattr(row.outcome, name)) for name in OUTCOMES}
    known = {name: value if isfinite(value) else None for name, value in figures.items()}
    return known if row.outcome.reason == Reason.EXISTS else known | _let_go(setup, row)


def _let_go(setup: Setup, row: Row) -> dict[str, float | None]:
    state = held_scene(setup, row.wheel, "released").state
    return {
        "released_angle": state.arm_angle,
        "gap_left": state.left.gap_least,
        "gap_right": state.right.gap_least,
    }


def _patch(sound: Sound, name: str, wheel: Wheel) -> dict[str, Any]:
    brake, condition = felt(wheel)
    own = replace(drawn_setup(sound.setup, wheel), brake=brake)
    table = page_table(brake, condition, own.test.pressure)
    table["found"] = _standing(table["found"], sound.data["table"]["found"] | {"setting": tip_angle(brake)})
    found = {"table": _changed(table, sound.data["table"])}
    outlines = _outlines(sound, brake, condition)
    if table["found"]["setting"] == tip_angle(brake):
        ended = scene_at(own, replace(condition, released_angle=tip_angle(brake)), "released")
        found["facts"] = {"names": names_anew(own, ended.condition, ended.outlines, sound.where, sound.named).data()}
    if outlines is sound.outlines:
        return found
    where = moved_layout(sound.where, brake, outlines)
    facts = brake_facts(own) | drawn_facts(brake, condition, outlines, where)
    if own.brake.chamber != sound.setup.brake.chamber or own.brake.linkage != sound.setup.brake.linkage:
        arms = tuple(outline for outline in outlines if outline.plane == "arm")
        facts["names"] = names_anew(own, condition, arms, where, sound.named).data()
    facts["limit"]["known"] = sound.data["facts"]["limit"]["known"]  # the defect says which chamber it is
    return found | {
        "motion": _motion(brake, sound),
        "facts": _changed(facts, sound.data["facts"]),
        "shapes": _changed(part_paths(outlines), sound.paths),
        "solid": sound.solid.patch(name, brake, condition),
        **_changed({"section": section_data(own, AT_REST)}, {"section": sound.section}),
    }


def moved_layout(sound: Layout, brake: Brake, outlines: tuple[Outline, ...]) -> Layout:
    """The sound brake's layout with the rule over the pin of another one, and what stands by its parking section."""
    where = replace(sound, rule=rule_start(brake, sound.scale, sound.arm))
    housing = next((outline for outline in outlines if outline.name == "parking_housing"), None)
    return where if housing is None else with_parking(where, housing)


def _standing(mine: Mapping[str, float], last: Mapping[str, float]) -> dict[str, float]:
    """Where the sliders stand; an adjuster that cannot follow any more has set the cam where its profile ends."""
    return {name: value if isfinite(value) else last[name] for name, value in mine.items()}


def _outlines(sound: Sound, brake: Brake, condition: Condition) -> tuple[Outline, ...]:
    """The brake's parts; only a plane that looks another is drawn anew. Friction, stiffness, springs are not seen."""
    was = sound.setup.brake
    arms = (brake.chamber, brake.linkage) != (was.chamber, was.linkage)
    formed = (brake.lining.end, brake.shoe.roller_diameter, float(condition.arrays[1]))
    wheels = formed != (was.lining.end, was.shoe.roller_diameter, sound.setup.as_found.drum_diameter)
    if not arms and not wheels:
        return sound.outlines
    old = {plane: tuple(o for o in sound.outlines if o.plane == plane) for plane in ("wheel", "arm")}
    wheel = wheel_outlines(brake, condition) if wheels else old["wheel"]
    return (*wheel, *(arm_outlines(brake, condition, parking=sound.setup.parking is not None) if arms else old["arm"]))


def part_paths(outlines: tuple[Outline, ...]) -> dict[str, str]:
    """Return the forms of the parts that move as bodies, as path data by name."""
    return {o.name.replace("_", "-"): path_data(o) for o in outlines if o.body != "deforms" and o.verb != "rub"}


def _changed(mine: Data, sound: Data) -> dict[str, Any]:
    return {name: value for name, value in mine.items() if value != sound.get(name)}


def _motion(brake: Brake, sound: Sound) -> dict[str, Any]:
    """What differs of the motion, shape by shape."""
    mine, was = motion_data(brake, FRAMES), motion_data(sound.setup.brake, FRAMES)
    shapes = {name: _changed(mine[name], was[name]) for name in ("byStroke", "byCam")}
    return shapes | ({} if mine["roll"] == was["roll"] else {"roll": mine["roll"]})
