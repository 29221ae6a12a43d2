"""Whether the parts of a brake go together, and with what was found on the vehicle: a list of findings, empty if so.

Each finding says what would be possible. Numbers that bound what is possible are found on the same functions that
solve the brake, so that a figure named here is one that the solver takes.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot, isfinite, sqrt
from typing import TYPE_CHECKING

import numpy as np

from geometry.applied import last_turn
from geometry.arrays import Array, Mask, floats
from geometry.brake import Brake
from geometry.cam_train import ride_table
from geometry.condition import SPARE, Condition, Contact, contact, heel_angle, tip_angle
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.edge import edges
from geometry.errors import AssemblyError, Fault
from geometry.kinematics import released_poses
from geometry.linkage import closes, closing_reaches, stroke_at_turn
from geometry.loads import push
from geometry.many import plain
from geometry.reasons import Reason

if TYPE_CHECKING:
    from geometry.setup.model import AsFound, Measured


def linkage_findings(brake: Brake) -> list[Fault]:
    """Say by how much the released pushrod misses the arm."""
    linkage = brake.linkage
    if bool(closes(linkage, 0.0)):
        return []
    least, most = closing_reaches(linkage)
    distance = hypot(linkage.pivot_start, linkage.axis_offset)
    if linkage.pin_reach > most:
        problem, amount = "the pushrod is too long to meet the arm (by {amount})", linkage.pin_reach - most
        fix = "a longer face_distance"
    else:
        problem, amount = "the pushrod cannot meet the arm (short by {amount})", least - linkage.pin_reach
        fix = "a shorter face_distance" if distance > linkage.arm_length else "a shorter arm_length"
    return [Fault("linkage.pin_reach", problem, fix, linkage.pin_reach, "length", least, most, amount)]


def stays_short(brake: Brake) -> Mask:
    """Tell whether the pushrod's pivot stays short of the camshaft through the chamber's whole stroke."""
    return np.asarray(brake.linkage.pivot_start + brake.chamber.rated_stroke < -1e-3)


def reach_findings(brake: Brake) -> list[Fault]:
    """Say how far from the camshaft the chamber's face must be for the pushrod's pivot to stay short of it."""
    linkage, rated = brake.linkage, brake.chamber.rated_stroke
    if stays_short(brake):
        return []
    problem, fix = "the pushrod would run past the camshaft within the chamber's stroke", "a smaller rated_stroke"
    least = rated - linkage.pivot_depth + 0.01
    return [Fault("linkage.face_distance", problem, fix, linkage.face_distance, "length", least=least)]


def cam_findings(brake: Brake) -> list[Fault]:
    """Say where a roller cannot follow the cam's profile."""
    try:
        for side in ("left", "right"):
            ride_table(brake.profile, brake.shoe, side)
    except AssemblyError as error:
        return list(error.faults)
    return []


def fits_new(brake: Brake) -> Mask:
    """Tell whether new linings meet a new drum with both rollers on the working profile."""
    return _fits(brake, brake.lining.thickness, brake.drum.diameter, REFERENCE_TEMPERATURE)


def new_lining_findings(brake: Brake) -> list[Fault]:
    """Say where the rollers would have to stand so that new linings on a new drum are within the cam's profile."""
    if bool(fits_new(brake)):
        return []
    shoe, profile = brake.shoe, brake.profile
    ends = profile.pitch(np.array(profile.working), shoe.roller_radius).distance
    least, most = (_spread(float(d), shoe.roller_distance - shoe.cam_distance) for d in ends)
    problem = "the cam's profile, heel to tip, does not reach the rollers where new linings sit on a new drum"
    known = brake.lining.arc_radius is None and least < most
    limits = (least, most) if known and not least <= shoe.roller_spread <= most else (None, None)
    fix = "another heel_radius, tip_radius or roller_diameter"
    return [Fault("foundation.roller_spread", problem, fix, shoe.roller_spread, "length", *limits)]


def _spread(distance: float, rise: float) -> float:
    squared = distance**2 - rise**2
    return 2 * sqrt(squared) if squared > 0 else 0.0


def _anchor_at(brake: Brake) -> float:
    """Where the anchor pin is, seen from the drum's centre, as positions along the lining are told: rad."""
    x, y = brake.shoe.anchor
    return plain(np.arctan2(x, -y))


def clears_anchor(brake: Brake) -> Mask:
    """Tell whether the lining begins on the cam's side of the anchor pin."""
    return np.asarray(brake.lining.start >= _anchor_at(brake))


def arc_findings(brake: Brake) -> list[Fault]:
    """Say where the lining would have to begin so as to clear the line to the anchor, where its pressure ends."""
    anchor_at = _anchor_at(brake)
    if clears_anchor(brake):
        return []
    problem = "the lining begins on the far side of the anchor pin, where the drum would push it off"
    fix = "a smaller anchor_spacing"
    return [Fault("foundation.lining_start", problem, fix, brake.lining.start, "angle", least=anchor_at)]


def room_findings(brake: Brake, found: "AsFound") -> list[Fault]:
    """Say how thick the present lining may be, or how large the drum, for the cam to work within its profile."""
    thickness, diameter, hot = found.lining_thickness, found.drum_diameter, found.drum_temperature
    if bool(_fits(brake, thickness, diameter, hot)):
        return []
    room = _range(lambda t: _fits(brake, t, diameter, hot), 1e-3, 3 * brake.lining.thickness)
    if room and room[0] <= brake.lining.thickness:
        return [_thickness_fault(thickness, room)]
    sizes = _range(lambda d: _fits(brake, thickness, d, hot), 0.5 * brake.drum.diameter, 1.5 * brake.drum.diameter)
    problem = "the cam cannot bring this lining to this drum, however thick it is"
    fix = "check drum and lining thickness together"
    return [Fault("condition.drum_diameter", problem, fix, diameter, "length", *(sizes or (None, None)))]


def _thickness_fault(thickness: float, room: tuple[float, float]) -> Fault:
    where = "condition.lining_thickness"
    if thickness > room[0]:
        problem = "the lining is thicker than the room between shoe and drum"
        fix = "a larger drum_diameter, or rollers and heel of the cam closer together"
        return Fault(where, problem, fix, thickness, "length", most=room[1])
    problem = "the cam would turn past its tip before the linings touch: it can wedge or turn over"
    return Fault(where, problem, "new linings, or a drum that is less worn", thickness, "length", least=room[0])


def _fits(brake: Brake, thickness: Array | float, diameter: Array | float, temperature: float) -> Mask:
    """Whether both linings meet the drum with both rollers on the working profile."""
    at = contact(brake, floats(thickness), floats(diameter), floats(temperature))
    low, high = heel_angle(brake) - SPARE, tip_angle(brake) + SPARE
    return np.asarray((at.reason == Reason.EXISTS) & (at.first >= low) & (at.seat <= high))


def _range(fits: Callable[[Array], Mask], low: float, high: float) -> tuple[float, float] | None:
    """The least and greatest figure that fits, each between a neighbour that fits and one that does not."""
    grid = np.linspace(low, high, 513)
    good = np.flatnonzero(fits(grid))
    if good.size == 0:
        return None
    first, last = int(good[0]), int(good[-1])
    outer = grid[[max(first - 1, 0), min(last + 1, grid.size - 1)]]
    least, most = edges(fits, grid[[first, last]], outer)
    return float(least), float(most)


def play_findings(brake: Brake, found: "AsFound") -> list[Fault]:
    """Say how much free stroke, or clearance, the released brake can have."""
    at = contact(brake, *(floats(v) for v in (found.lining_thickness, found.drum_diameter, found.slack_temperature)))
    below_heel, last = float(at.first) - heel_angle(brake), last_turn(brake)
    turn = max(min(below_heel, last), 0.0)
    problem = "the cam would stand below its heel when released"
    if last < below_heel:
        bottomed = isfinite(last) and stroke_at_turn(brake.linkage, last) >= brake.chamber.rated_stroke - 1e-3
        part = "the pushrod and the arm come apart before the linings touch"
        problem = "the chamber bottoms before the linings touch" if bottomed else part
    if found.lining_clearance is not None:
        return _clearance_fault(brake, found, at, turn, problem)
    most = float(stroke_at_turn(brake.linkage, turn))
    if found.free_stroke is None or found.free_stroke <= most + SPARE:
        return []
    fix = "an adjustment that leaves less play"
    return [Fault("condition.free_stroke", problem, fix, found.free_stroke, "length", most=most)]


def _clearance_fault(brake: Brake, found: "AsFound", at: Contact, turn: float, problem: str) -> list[Fault]:
    """The same for a clearance; a machined arc touches at its ends and keeps some gap at mid arc even then."""
    where, clearance, fix = (
        "condition.lining_clearance",
        found.lining_clearance or 0.0,
        "an adjustment that leaves less play",
    )
    least, most = (_gap(brake, found, float(at.first) - t) for t in (0.0, turn))
    if clearance > most + SPARE:
        return [Fault(where, problem, fix, clearance, "length", most=most)]
    if clearance < least - SPARE:
        problem = "the lining touches at an end of its arc before its middle comes this close"
        return [Fault(where, problem, "state free_stroke instead", clearance, "length", least=least)]
    return []


def _gap(brake: Brake, found: "AsFound", released: float) -> float:
    """The smaller of the two shoes' gaps at mid arc, mm."""
    poses = released_poses(
        brake, Condition(found.lining_thickness, found.drum_diameter, found.slack_temperature, released)
    )
    return float(np.minimum(poses.left.gap_middle, poses.right.gap_middle))


def friction_findings(brake: Brake, found: "AsFound") -> list[Fault]:
    """Say at what friction the leading shoe would lock on the drum by itself."""
    at = contact(brake, *(floats(v) for v in (found.lining_thickness, found.drum_diameter, found.drum_temperature)))
    leading = push(brake, at, brake.leading_side, at.seat)
    if bool(np.isfinite(leading.factor)):
        return []
    shape = leading.long_shoe
    most = float(shape.normal / shape.rubbing)
    problem = "the leading shoe would lock on the drum by itself"
    fix = "a shorter lining, or another anchor_distance"
    return [Fault("foundation.friction", problem, fix, brake.lining.friction, "number", most=most)]


def measured_findings(brake: Brake, measured: "Measured") -> list[Fault]:
    """Say where a measured stroke is beyond what the chamber has."""
    rated = brake.chamber.rated_stroke
    if measured.stroke is None or measured.stroke <= rated + SPARE:
        return []
    problem, fix = "is beyond the chamber's rated stroke", "measure again and check the chamber's rated_stroke"
    return [Fault("measured.stroke", problem, fix, measured.stroke, "length", most=rated)]


@dataclass(frozen=True)
class _Finding:
    """``needs`` are the parts that must be sound for ``find`` to make sense; what it finds wrong spoils ``spoils``."""

    needs: frozenset[str]
    spoils: str
    find: Callable[[Brake, "AsFound", "Measured"], list[Fault]]


_CAM = frozenset({"profile", "shoe"})
_FOUNDATION = _CAM | {"lining", "drum"}
_FOUND = _FOUNDATION | {"condition"}
_FINDINGS = (
    _Finding(frozenset({"linkage"}), "linkage", lambda b, _f, _m: linkage_findings(b)),
    _Finding(frozenset({"linkage", "chamber"}), "linkage", lambda b, _f, _m: reach_findings(b)),
    _Finding(frozenset({"shoe", "lining"}), "arc", lambda b, _f, _m: arc_findings(b)),
    _Finding(_CAM, "profile", lambda b, _f, _m: cam_findings(b)),
    _Finding(_FOUNDATION, "profile", lambda b, _f, _m: new_lining_findings(b)),
    _Finding(_FOUND, "condition", lambda b, f, _m: room_findings(b, f)),
    _Finding(_FOUND | {"arc"}, "friction", lambda b, f, _m: friction_findings(b, f)),
    _Finding(_FOUND | {"linkage", "chamber"}, "condition", lambda b, f, _m: play_findings(b, f)),
    _Finding(frozenset({"chamber", "measured"}), "measured", lambda b, _f, m: measured_findings(b, m)),
)


def fit_findings(
    brake: Brake, found: "AsFound", measured: "Measured", unsound: frozenset[str] = frozenset()
) -> list[Fault]:
    """Return everything about a brake and its condition that cannot be, in the order of the chain of motion.

    ``unsound`` names parts (chamber, linkage, profile, shoe, lining, drum, condition, measured) that stand in for
    broken ones: findings that need them are left out. A finding that rests on one that failed is left out too.
    """
    faults: list[Fault] = []
    with np.errstate(all="ignore"):
        for finding in _FINDINGS:
            new = [] if finding.needs & unsound else finding.find(brake, found, measured)
            faults += new
            unsound |= {finding.spoils} if new else frozenset()
    return faults
