"""Readings that cannot all be true of one brake, whatever is wrong with it.

A brake may be worn, loose or broken: but while its rod moves the arm goes with it, and applied it moves at least as
far as a hand can pull it. What breaks that was misread, or was read with no air in the chamber.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import acos, cos, degrees, inf, isfinite

import numpy as np

from geometry.arrays import floats
from geometry.condition import contact
from geometry.diagnosis import Readings
from geometry.diagnosis.meant import meant_by, slack_temperature
from geometry.errors import MechvizError
from geometry.found import condition_of
from geometry.kinematics import free_stroke
from geometry.linkage import Linkage
from geometry.quantity import System
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.states import at_pressure
from mechviz.checks.agreement import ANGLE_ALLOWANCE
from mechviz.checks.case import STROKE_ALLOWANCE, WARM
from mechviz.checks.judge import ROUNDING
from mechviz.report.written import both, gap_text, quantity, taped

INCH = 25.4
HARDLY = INCH / 8
"""Stroke, mm, up to which the rod hardly moved, whatever presses on it."""
LOST = 0.5 * INCH
"""Stroke, mm, that worn joints or a loose chamber can take up before the arm moves (the most of that defect)."""
ARM = 1.0 * INCH
"""By how much an arm that was not measured may be another one than the file says, mm (the most of that defect)."""
SHARE = 0.2
"""By how much another arm or lining may change the free stroke of a clearance, as a share (the project's figure)."""


@dataclass(frozen=True)
class Contradiction:
    """Readings that cannot all be true: a name, which they are (the names of `READINGS`), and words for people."""

    name: str
    readings: tuple[str, ...]
    words: str


Rule = Callable[[Setup, Readings, System], Contradiction | None]


def contradictions(setup: Setup, readings: Readings, system: System) -> list[Contradiction]:
    """Return the readings of a setup that cannot all be true, in words of ``system``."""
    found = [rule(setup, readings, system) for rule in (_no_stroke, _free_over_stroke, _clearance, _angles)]
    return [one for one in found if one is not None]


def _no_stroke(setup: Setup, readings: Readings, system: System) -> Contradiction | None:
    """A rod that does not move under a pressure that would move a sound brake's."""
    stroke, tape = readings.values.get("stroke"), setup.measured.resolution
    if stroke is None or stroke > max(tape, HARDLY) + ROUNDING or (stroke > tape + ROUNDING and _tight(setup, stroke)):
        return None
    moved = at_pressure(setup.brake, condition_of(setup), setup.test.pressure, "").stroke
    if moved is not None and moved < 3 * tape:
        return None
    pressure = both(setup.test.pressure, "pressure", system)
    moves = "did not move" if stroke <= tape + ROUNDING else "hardly moved"
    words = (
        f"An applied stroke of {taped(stroke, system)} at {pressure}: the rod {moves}. No air reached the chamber "
        "(line, valve or hose shut or open, the spring brake not released first), or the mark was misread. See that "
        "air arrives and measure again, before any cause below is believed."
    )
    return Contradiction("no-stroke", ("stroke",), words)


def _tight(setup: Setup, stroke: float) -> bool:
    """Whether a slack was read that so small a stroke would close."""
    found = setup.as_found
    slack = not setup.stated.isdisjoint({"condition.free_stroke", "condition.lining_clearance"})
    free = found.free_stroke if found.free_stroke is not None else _free_stroke_of(setup, found.lining_clearance or 0.0)
    return slack and free <= stroke + setup.measured.resolution + ROUNDING


def _free_over_stroke(setup: Setup, readings: Readings, system: System) -> Contradiction | None:
    """More stroke by hand than under air, by more than the tape leaves open; slack read hotter may well be more."""
    stroke, free = (readings.values.get(name) for name in ("stroke", "free_stroke"))
    if stroke is None or free is None or free <= stroke + setup.measured.resolution + ROUNDING:
        return None
    if _hotter(setup) or not _presses(setup):
        return None
    words = (
        f"Free stroke {taped(free, system)} is more than the applied stroke {taped(stroke, system)}: applied, the rod "
        "goes at least as far as by hand. One of the two was misread, or hardly any air reached the chamber. See that "
        "air arrives and measure both again, before any cause below is believed."
    )
    return Contradiction("free-stroke-over-stroke", ("stroke", "free_stroke"), words)


def _presses(setup: Setup) -> bool:
    """Whether the test pressure would bring the linings to the drum, as far as that can be solved."""
    state = at_pressure(setup.brake, condition_of(setup), setup.test.pressure, "")
    return state.stroke is None or bool(state.brake_torque)


def _hotter(setup: Setup) -> bool:
    return slack_temperature(setup) > setup.as_found.drum_temperature + WARM


def _clearance(setup: Setup, readings: Readings, system: System) -> Contradiction | None:
    """A clearance that takes more stroke to close than the rod made; beyond the cam's room it takes all there is."""
    stroke, gap = (readings.values.get(name) for name in ("stroke", "lining_clearance"))
    if gap is None or _hotter(setup):
        return None
    if stroke is None:
        return _clearance_alone(setup, gap, system)
    if not _presses(setup):
        return None
    rated = setup.brake.chamber.rated_stroke
    takes = min(_free_stroke_of(setup, gap), rated)
    if takes * (1 - SHARE) <= stroke + setup.measured.resolution + STROKE_ALLOWANCE:
        return None
    words = (
        f"A lining clearance of {gap_text(gap, system)} takes about {taped(takes, system)} of stroke to close, and the "
        f"applied stroke is {taped(stroke, system)}: one of the two was misread (0.020 in for 0.2 in?). Measure both "
        "again, before any cause below is believed."
    )
    return Contradiction("clearance-over-stroke", ("stroke", "lining_clearance"), words)


def _clearance_alone(setup: Setup, gap: float, system: System) -> Contradiction | None:
    """A clearance that takes more stroke to close than the chamber has."""
    rated = setup.brake.chamber.rated_stroke
    if _free_stroke_of(setup, gap) * (1 - SHARE) <= rated:
        return None
    words = (
        f"A lining clearance of {gap_text(gap, system)} takes more stroke to close than the chamber's rated "
        f"{taped(rated, system)}: it was misread (0.020 in for 0.2 in?), or the chamber bottoms before the linings "
        "touch, and the brake does not brake at all. Measure again, before any cause below is believed."
    )
    return Contradiction("clearance-over-rated", ("lining_clearance",), words)


def _free_stroke_of(setup: Setup, gap: float) -> float:
    """The free stroke of a clearance on the brake as written, mm; endless where the cam has no such setting.

    0 where the cam brings linings and drum together in no setting at all: that is not the clearance's doing.
    """
    worn = setup.as_found
    at = contact(setup.brake, floats(worn.lining_thickness), floats(worn.drum_diameter), floats(worn.slack_temperature))
    if at.reason != Reason.EXISTS:
        return 0.0
    found = replace(setup.as_found, lining_clearance=gap, free_stroke=None)
    try:
        free = float(free_stroke(setup.brake, condition_of(replace(setup, as_found=found))))
    except MechvizError:
        free = float("nan")
    return free if isfinite(free) else inf


def _angles(setup: Setup, readings: Readings, system: System) -> Contradiction | None:
    """An arm that turned by more, or by less, than the rod's stroke can turn it, whichever arm it is."""
    names = ("stroke", "arm_angle_released", "arm_angle_applied")
    if any(name not in readings.values for name in names):
        return None
    stroke, released, applied = (readings.values[name] for name in names)
    least, most = _closed(setup, readings, stroke, released)
    spare = 2 * (ANGLE_ALLOWANCE + setup.measured.angle_resolution)
    turned = released - applied
    if not (turned < least - spare or turned > most + spare):
        return None
    ends = f"{degrees(max(least, 0.0)):.0f} to {degrees(most):.0f} deg"
    words = (
        f"From {quantity(released, 'angle', system, 0)} released to {quantity(applied, 'angle', system, 0)} applied "
        f"the angle closed by {degrees(turned):.0f} deg, where a stroke of {taped(stroke, system)} closes it by "
        f"{ends}, whatever is worn: one of the three was misread. Measure them again, before any cause below is "
        "believed."
    )
    return Contradiction("angles-against-stroke", names, words)


def _closed(setup: Setup, readings: Readings, stroke: float, released: float) -> tuple[float, float]:
    """The least and the most by which a stroke (mm) closes an arm that stands at an angle (rad) released, rad."""
    linkage, tape = meant_by(setup).brake.linkage, setup.measured.resolution
    measured = readings.values.get("arm_length")
    arm, off = (linkage.arm_length, ARM) if measured is None else (measured, tape)
    strokes = max(stroke - tape - LOST, 0.0), stroke + tape
    closings = [_closing(linkage, length, released, s) for length in (arm - off, arm, arm + off) for s in strokes]
    known = [one for one in closings if isfinite(one)]
    return (min(known), max(known)) if len(known) == len(closings) else (-np.inf, np.inf)


def _closing(linkage: Linkage, arm: float, released: float, stroke: float) -> float:
    """By how much (rad) a stroke closes an arm (mm) whose rod is as long as the angle released says; NaN if open."""
    away = float(np.hypot(linkage.pivot_start, linkage.axis_offset))
    across = away**2 - (arm * float(np.sin(released))) ** 2
    rod = arm * cos(released) + float(np.sqrt(max(across, 0.0)))
    nearer = float(np.hypot(linkage.pivot_start + stroke, linkage.axis_offset))
    cosine = (arm**2 + rod**2 - nearer**2) / (2 * arm * rod) if rod > 0 else np.inf
    return released - acos(cosine) if abs(cosine) <= 1 else float("nan")
