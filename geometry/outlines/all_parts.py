"""All outlines of a brake, back to front."""

from functools import lru_cache

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.kinematics import released_poses
from geometry.outlines import adjuster, bracket, cam, chamber, pushrod, spider
from geometry.outlines.deforming import deforming
from geometry.outlines.drum import drum
from geometry.outlines.lining import linings
from geometry.outlines.outline import Outline
from geometry.outlines.parking import parking_section
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.roller import rollers
from geometry.outlines.shoe import shoes

DRAWING = 0.03
"""Chord tolerance for drawings, mm."""

KEPT = 32
"""How many brakes' parts are kept: one brake is drawn in many conditions."""

Parts = tuple[Outline, ...]


def brake_outlines(
    brake: Brake,
    condition: Condition,
    *,
    parking: bool = False,
    detail: float = DRAWING,
    proportions: Proportions = PROPORTIONS,
) -> tuple[Outline, ...]:
    """Return every outline of a brake in one condition, in the order in which to draw them: back to front.

    The wheel plane comes first, then the arm plane. Deforming shapes stand as released. ``parking`` adds a parking
    section behind the service chamber. ``detail`` is the greatest distance (mm) between a true curve and its chords.
    Raises `AssemblyError` where a part cannot be made.
    """
    return (
        *wheel_outlines(brake, condition, detail, proportions),
        *arm_outlines(brake, condition, detail, parking, proportions),
    )


def wheel_outlines(
    brake: Brake, condition: Condition, detail: float = DRAWING, proportions: Proportions = PROPORTIONS
) -> tuple[Outline, ...]:
    """Return the outlines of the wheel plane, back to front. The drum comes after the linings that press on it."""
    lines = deforming(brake, released_poses(brake, condition), proportions=proportions)
    behind, front = _wheel_parts(brake, detail, proportions)
    worn = (*linings(brake, condition, detail), drum(brake, condition, detail, proportions))
    return (*behind, *worn, lines["shoe_return_spring"], *front)


@lru_cache(maxsize=KEPT)
def _wheel_parts(brake: Brake, detail: float, proportions: Proportions) -> tuple[Parts, Parts]:
    """What no condition changes of the wheel plane: behind linings, drum and spring, and before them."""
    behind = (
        spider.spider(brake, detail, proportions),
        spider.spindle(brake, detail, proportions),
        cam.camshaft(brake, detail, proportions),
        *shoes(brake, detail, proportions),
    )
    front = (
        cam.s_cam(brake, detail, proportions),
        *rollers(brake, detail, proportions),
        *spider.anchor_pins(brake, detail, proportions),
    )
    return behind, front


def arm_outlines(
    brake: Brake,
    condition: Condition,
    detail: float = DRAWING,
    parking: bool = False,
    proportions: Proportions = PROPORTIONS,
) -> tuple[Outline, ...]:
    """Return the outlines of the arm plane, back to front."""
    lines = deforming(brake, released_poses(brake, condition), proportions=proportions)
    behind, between, front = _arm_parts(brake, detail, parking, proportions)
    return (*behind, lines["chamber_return_spring"], *between, lines["diaphragm"], *front)


def arm_bodies(
    brake: Brake, parking: bool = False, detail: float = DRAWING, proportions: Proportions = PROPORTIONS
) -> tuple[Outline, ...]:
    """Return the outlines of the arm plane that keep their form while it moves, back to front."""
    behind, between, front = _arm_parts(brake, detail, parking, proportions)
    return (*behind, *between, *front)


@lru_cache(maxsize=KEPT)
def _arm_parts(brake: Brake, detail: float, parking: bool, proportions: Proportions) -> tuple[Parts, Parts, Parts]:
    """What no condition changes of the arm plane: behind the spring, between it and the diaphragm, and before that."""
    behind = (
        bracket.axle_tube(brake, detail, proportions),
        bracket.bracket(brake, detail, proportions),
        *(parking_section(brake, detail, proportions) if parking else ()),
        chamber.studs(brake, detail, proportions),
    )
    between = (chamber.push_plate(brake, detail, proportions), pushrod.pushrod(brake, detail, proportions))
    front = (
        chamber.air_port(brake, parking, proportions),
        chamber.non_pressure_half(brake, detail, proportions),
        chamber.pressure_half(brake, detail, parking, proportions),
        chamber.clamp_ring(brake, detail, proportions),
        adjuster.slack_adjuster(brake, detail, proportions),
        adjuster.camshaft_end(brake, detail, proportions),
        pushrod.clevis(brake, detail, proportions),
        pushrod.clevis_pin(brake, detail, proportions),
    )
    return behind, between, front
