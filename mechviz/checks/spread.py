"""How much the readings leave open: every solved figure again, with each reading one step of its resolution worse.

All readings of one brake are solved together, as arrays; only a length of the linkage makes a brake of its own.
Where a reading one step worse leaves no such state, it is kept which reading that was, and why there is none. Where
there is none as read, what counts is whether there is one with every reading a step better.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import isfinite, nan

import numpy as np

from geometry.applied import last_turn, solve_applied
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition, contact, heel_angle
from geometry.found import released_angle
from geometry.kinematics import free_stroke, solve_poses
from geometry.linkage import arm_state, stroke_at_right_angle, stroke_at_turn
from geometry.loads import loads_of
from geometry.reasons import Reason
from geometry.setup import Setup

Pair = tuple[float, float]

FEELER = 0.001 * 25.4
"""How finely a lining clearance is set by feeler, 0.001 in (the project's figure)."""


LENGTHS = ("arm_length", "pin_reach", "face_distance", "axis_offset")
"""Of the linkage, what has to be measured on a vehicle for the arm's angle to be worked out."""


@dataclass(frozen=True)
class Open:
    """One figure as found, and how much of it the readings leave open (mm or rad).

    ``value`` is NaN where there is no such state, and ``why`` says why. ``amount`` has no bound where a reading a step
    worse leaves no state: ``lost_by`` is the key of that reading, empty for none, ``reason`` why there is none then.
    ``back`` is the same amount for readings a step better, which has a bound: that a worse brake has no such state
    at all absolves nothing that is outside by more.

    ``best`` is the figure with every reading a step better at once, ``slop`` what the linkage's lengths leave open of
    it, ``best_why`` why there is none even then. They are known where the figure, or one a step worse, is not.
    """

    value: float
    amount: float
    why: Reason = Reason.EXISTS
    lost_by: str = ""
    reason: Reason = Reason.EXISTS
    back: float = 0.0
    best: float = nan
    slop: float = 0.0
    best_why: Reason = Reason.EXISTS

    @property
    def words(self) -> str:
        """What to say of a figure without bound, as a sentence; nothing of one that has a bound."""
        if not self.lost_by:
            return ""
        step = f"With {self.lost_by} one step of its reading worse there is no such state ({self.reason.words})"
        return f"{step}: measure that again, and more finely."

    @property
    def exists(self) -> bool:
        """Whether there is such a state as found."""
        return isfinite(self.value)

    @property
    def exists_at_best(self) -> bool:
        """Whether there is one only with readings a step better: as read there is none, and nobody can tell."""
        return not self.exists and isfinite(self.best)

    @property
    def past_tip(self) -> bool:
        """Whether the cam passes its tip as read."""
        return not self.exists and self.why == Reason.CAM_PAST_TIP

    @property
    def surely_past_tip(self) -> bool:
        """Whether it does so with every reading a step better too."""
        return self.past_tip and self.best_why == Reason.CAM_PAST_TIP


@dataclass(frozen=True)
class Spread:
    """How much of each figure the readings leave open: strokes in mm, angles in rad.

    ``applied`` is at the test's pressure, ``full`` at that of a full application, ``slack_stroke`` so with the drum as
    it was when the slack was read; ``cam_*`` are the cam's own angles. ``cam_contact`` is where the first lining
    touches, whatever the slack. ``cam_full`` is the furthest that the cam turns fully applied, the whole of the arm's
    turn counted, with the slack found or any less: a chamber that runs out of stroke turns the cam less far, and is no
    better for it; ``cam_cold`` and ``cam_hot`` are the same on a cold and on a hot drum. ``cam_stroke`` is the stroke
    there. ``touch`` is the free stroke with the drum as it was when the slack was read. ``square`` is the stroke of the
    right angle, ``past_contact`` from first touch to it.
    """

    applied_stroke: Open
    full_stroke: Open
    cold_stroke: Open
    hot_stroke: Open
    slack_stroke: Open
    touch: Open
    square: Open
    past_contact: Open
    angle_released: Open
    angle_contact: Open
    angle_applied: Open
    angle_full: Open
    cam_contact: Open
    cam_full: Open
    cam_cold: Open
    cam_hot: Open
    cam_stroke: Open


@dataclass(frozen=True)
class _Readings:
    """What was read, each (readings,) with the one as found first; mm, MPa."""

    lining_thickness: Array
    drum_diameter: Array
    free_stroke: Array
    lining_clearance: Array
    pressure: Array


def spread_of(setup: Setup, full: Pair, temperatures: Pair) -> Spread:
    """Return the spread of a setup's figures, from every reading that the file itself gives.

    ``full`` (MPa) are the ends of the pressures of a full application; ``temperatures`` a cold and a hot drum's, K.
    """
    figures, reasons = _every(setup, full, temperatures)
    keys = (*_steps(setup), *_lengths(setup))
    found = [_open(keys, *row) for row in zip(figures, reasons, strict=True)]
    if any(one.lost_by or not one.exists for one in found):
        best, why = _best(setup, full, temperatures)
        found = [_with_best(*one) for one in zip(found, best, why, strict=True)]
    return Spread(*found)


def _every(setup: Setup, full: Pair, temperatures: Pair) -> tuple[Array, Array]:
    """As `_figures`: as found, and with each reading and each length a step worse."""
    here = _readings(setup, once=True)
    solved = [_figures(setup, setup.brake, _readings(setup), full, temperatures)]
    solved += [_figures(setup, brake, here, full, temperatures) for brake in _lengths(setup).values()]
    figures, reasons = (np.concatenate(columns, axis=1) for columns in zip(*solved, strict=True))
    return figures, reasons


def _best(setup: Setup, full: Pair, temperatures: Pair) -> tuple[Array, Array]:
    """As `_figures`, with every reading a step better at once: of the brake, and with each length a step shorter.

    Where so little wear leaves no such state, with slack and pressure a step better only.
    """
    brakes = (setup.brake, *_lengths(setup, way=-1).values())
    solved = [_figures(setup, brake, _better(setup), full, temperatures) for brake in brakes]
    figures, reasons = (np.stack(columns, axis=2) for columns in zip(*solved, strict=True))
    use = np.where(np.isnan(figures[:, 1, 0]) & np.isfinite(figures[:, 2, 0]), 2, 1)
    every = np.arange(len(use))
    return figures[every, use], reasons[every, use]


def _open(keys: Sequence[str], figure: Array, reasons: Array) -> Open:
    """One figure as found and, in the order of ``keys``, with each reading a step worse; what does not exist is 0."""
    if np.isnan(figure[0]):
        return Open(nan, 0.0, Reason(int(reasons[0])))
    value, off = float(figure[0]), np.abs(figure[1:] - figure[0])
    lost = np.flatnonzero(np.isnan(off))
    if lost.size:
        first = int(lost[0])
        return Open(value, np.inf, lost_by=keys[first], reason=Reason(int(reasons[1 + first])))
    return Open(value, float(off.sum()), back=float(off.sum()))


def _with_best(one: Open, figure: Array, reasons: Array) -> Open:
    """The same figure with what it is at best: of the brake first, then with each of its lengths a step shorter."""
    slop = float(np.nansum(np.abs(figure[1:] - figure[0])))
    best, why = float(figure[0]), Reason(int(reasons[0]))
    back = one.back
    if one.lost_by:  # nothing is known of a better one where even that has no such state
        back = abs(one.value - best) + slop if isfinite(best) else np.inf
    return replace(one, best=best, slop=slop, best_why=why if np.isnan(best) else Reason.EXISTS, back=back)


def _better(setup: Setup) -> _Readings:
    """As found, with every reading a step better at once, and slack and pressure only; no slack is less than none."""
    rows = np.tile(_as_found(setup), (3, 1))
    for place, step in _steps(setup).values():
        rows[1, place] -= step
    rows[1:] = np.maximum(rows[1:], np.minimum(rows[0], 0.0))
    rows[2, 2:] = rows[1, 2:]
    return _Readings(*rows.T)


def _readings(setup: Setup, once: bool = False) -> _Readings:
    """As found, and (but for ``once``) once more for each of the file's own readings, that one being a step worse."""
    steps = {} if once else _steps(setup)
    rows = np.tile(_as_found(setup), (1 + len(steps), 1))
    for row, (place, step) in enumerate(steps.values(), start=1):
        rows[row, place] += step
    return _Readings(*rows.T)


def _as_found(setup: Setup) -> Array:
    found = setup.as_found
    slack = (found.free_stroke, found.lining_clearance)
    return np.array([found.lining_thickness, found.drum_diameter, *slack, setup.test.pressure], dtype=np.float64)


def _steps(setup: Setup) -> dict[str, tuple[int, float]]:
    """By key of what the file states: the place in `_Readings`, and the step (mm, MPa) that makes the brake worse."""
    found, test = setup.as_found, setup.test
    pressure = "test.pressure" if "test.pressure" in setup.stated else "test.reservoir_pressure"
    steps = {
        "condition.lining_thickness": (0, -found.lining_resolution),
        "condition.drum_diameter": (1, found.drum_resolution),
        "condition.free_stroke": (2, setup.measured.resolution),
        "condition.lining_clearance": (3, FEELER),
        pressure: (4, test.pressure_resolution),
    }
    return {key: step for key, step in steps.items() if key in setup.stated}


def _lengths(setup: Setup, way: int = 1) -> dict[str, Brake]:
    """By key, the brake with each length of the linkage that the file gives one step of the tape longer (-1 shorter).

    A length shorter than the tape's step is halved: less than nothing is none.
    """
    linkage, step = setup.brake.linkage, way * setup.measured.resolution
    keys = [key for name in LENGTHS for key in (f"measured.{name}", f"linkage.{name}") if key in setup.stated]
    read = {key.rpartition(".")[2]: key for key in reversed(keys)}
    off = {key: max(was + step, was / 2) for name, key in read.items() for was in [getattr(linkage, name)]}
    names = {key: name for name, key in read.items()}
    return {key: replace(setup.brake, linkage=replace(linkage, **{names[key]: one})) for key, one in off.items()}


def _figures(
    setup: Setup, brake: Brake, read: _Readings, full_pressures: Pair, temperatures: Pair
) -> tuple[Array, Array]:
    """The figures of `Spread`, (figures, readings), NaN where there is no such state; and why there is none."""
    found, worn = setup.as_found, (read.lining_thickness, read.drum_diameter)
    released = released_angle(brake, *worn, found.slack_temperature, read.free_stroke, read.lining_clearance)
    full = np.clip(read.pressure[0], *full_pressures) + (read.pressure - read.pressure[0])
    now = found.drum_temperature
    temperature = np.array([now, now, *temperatures, found.slack_temperature])[:, np.newaxis]
    press = np.stack([read.pressure, full, full, full, full])
    pressed = Condition(*worn, temperature, released)
    applied = solve_applied(brake, pressed, press)
    loaded = loads_of(brake, pressed, press, applied).reason
    held = solve_poses(brake, pressed, np.where(loaded != Reason.EXISTS, np.nan, applied.stroke))
    as_found = Condition(*worn, now, released)
    touch = free_stroke(brake, as_found)
    unpressed = solve_poses(brake, as_found, np.stack([np.zeros_like(touch), touch]))
    touches = np.isfinite(applied.contact_turn[0])
    at_contact = np.where(touches, floats(unpressed.reason[1]), applied.reason[0])
    why = np.where(loaded != Reason.EXISTS, floats(loaded), held.reason)
    at = contact(brake, *worn, floats(temperature[1:5]))
    slack = stroke_at_turn(brake.linkage, at.first[3] - released)
    then = Condition(*worn, temperature[1:4], released)
    cam, cam_stroke, cam_why = _furthest(brake, then, floats(at.first[:3]), full)
    square = stroke_at_right_angle(brake.linkage)
    figures = np.stack(
        [
            *held.stroke,
            slack,
            np.full_like(touch, square),
            square - np.where(touches, unpressed.stroke[1], np.nan),
            np.full_like(touch, arm_state(brake.linkage, 0.0).arm_angle),
            np.where(touches, unpressed.arm_angle[1], np.nan),
            held.arm_angle[0],
            held.arm_angle[1],
            floats(at.first)[0],
            *cam,
            cam_stroke[0],
        ]
    )
    at_rest = np.full_like(touch, Reason.LINKAGE_OPEN)  # nothing else leaves no angle there
    touch_why = np.broadcast_to(floats(at.reason), at.first.shape)
    of_arm = [touch_why[3], at_rest, at_contact, at_rest, at_contact]
    of_cam = [touch_why[0], *cam_why, cam_why[0]]
    return figures, np.stack([*why, *of_arm, why[0], why[1], *of_cam])


def _furthest(brake: Brake, condition: Condition, first: Array, pressure: Array) -> tuple[Array, Array, Array]:
    """The furthest cam angle (rad) fully applied with the slack found or any less, the stroke (mm) there, and why not.

    All (temperatures, readings). ``first`` is where the first lining touches, rad. Where the setting is not known there
    is as much slack as the chamber has stroke for.
    """
    worn, temperature, released = condition.arrays[:2], condition.arrays[2], condition.arrays[3]
    most = np.maximum(first - last_turn(brake), heel_angle(brake))
    slack = first - np.fmax(np.where(np.isnan(released), most, released), most)
    turns = np.minimum(np.linspace(0.0, last_turn(brake), LESS_SLACK)[:, np.newaxis, np.newaxis], slack)
    applied = solve_applied(brake, Condition(*worn, temperature, first - turns), pressure)
    angle = first - turns + applied.turn
    past = (applied.reason == Reason.CAM_PAST_TIP).any(axis=0)
    furthest = np.where(np.isnan(angle), -np.inf, angle).argmax(axis=0)[np.newaxis]
    angle, stroke = (np.take_along_axis(a, furthest, axis=0)[0] for a in (angle, applied.stroke))
    angle, stroke = (np.where(past, np.nan, a) for a in (angle, stroke))
    return angle, stroke, np.where(past, floats(Reason.CAM_PAST_TIP), floats(applied.reason[0]))


LESS_SLACK = 25
"""Settings from no slack to the whole of the arm's turn among which the furthest is looked for."""
