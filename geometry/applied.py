"""The applied state: how far the brake turns at a pressure, where chamber torque meets what holds it.

Past first contact the structure winds up: torque on the camshaft = windup_stiffness x (turn past contact) + the shoe
return spring's torque at contact. The chamber's torque is its force times d(stroke)/d(turn). One root per state,
found in the arm's turn, where everything but the fall of the chamber's force is in closed form.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import reduce
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.arrays import Array, Mask, floats
from geometry.brake import SIDES, Brake
from geometry.cam_train import parameter_at_angle, ride
from geometry.chamber import force_and_slope
from geometry.condition import SPARE, Condition, Contact, contact, heel_angle, tip_angle
from geometry.linkage import arm_turn, closing_strokes, turn_state
from geometry.many import filled, in_pieces, plain, taken
from geometry.reasons import Reason, first_reason
from geometry.root import bracketed_newton

TURN_TOLERANCE = 1e-9
"""Newton's last step, rad: its error is about the square of this."""


@dataclass(frozen=True)
class Applied:
    """Stroke (mm) and arm turn (rad) at each pressure, and the turn of first contact; NaN with a `Reason`."""

    stroke: Array
    turn: Array
    contact_turn: Array
    reason: NDArray[np.int8]


def solve_applied(brake: Brake, condition: Condition, pressure: ArrayLike) -> Applied:
    """Return the state that each chamber pressure (MPa) holds in each condition; shapes broadcast.

    A pressure too low to lift the return springs leaves the brake released (stroke 0); one too low to bring the
    linings to the drum stops before contact. A chamber that bottoms before contact is `Reason.BOTTOMED`.
    """
    types = [np.float64, np.float64, np.float64, np.int8]
    columns = in_pieces(brake, _applied, [*condition.arrays, pressure], types)
    return Applied(*columns)


def _applied(brake: Brake, *inputs: Array) -> list[NDArray[Any]]:
    thickness, diameter, temperature, _, _ = inputs
    return applied_piece(brake, contact(brake, thickness, diameter, temperature), *inputs)


PushTorque = Callable[..., tuple[Array, Array]]
"""(brake, arm turn, what presses ...) -> torque on the camshaft (N*mm) and its slope."""


def applied_piece(brake: Brake, at: Contact, *inputs: Array, push: PushTorque | None = None) -> list[NDArray[Any]]:
    """Return the columns of `Applied` for a piece of the inputs whose contact is known already.

    What presses is a chamber at the last of the inputs (MPa), or whatever ``push`` makes of all inputs from there on.
    """
    released, press = inputs[3], inputs[4:]
    start = at.first - released
    push = chamber_torque if push is None else push
    end = last_turn(brake)
    reason = _reasons(brake, at.reason, inputs, start, end)
    start = np.where(reason == Reason.EXISTS, start, np.nan)
    spring = spring_torque(brake, at.first)
    at_start = push(brake, start, *press)[0]
    turn = _pressed(brake, push, press, start, end, spring, at_start)
    short = np.broadcast_to(at_start < spring, turn.shape)
    if short.any():
        turn = filled(brake, turn)
        short = np.broadcast_to(short, turn.shape)
        few = [np.broadcast_to(a, turn.shape)[short] for a in (released, start, *press)]
        turn[short] = _not_pressed(taken(brake, short), push, *few)
    if push is not chamber_torque:  # air alone never reaches the stop: no force is left there
        turn = np.where(_at_its_stop(brake, push, press, start, end, spring), end, turn)
    start = np.where(reason == Reason.EXISTS, start, np.nan)
    past = np.minimum(released + turn, at.seat) > tip_angle(brake) + SPARE
    reason = np.where(past, Reason.CAM_PAST_TIP, reason)
    # no balance up to where pushrod and arm part: the linkage opens before the chamber's force is spent
    reason = np.where(np.isnan(turn) & (reason == Reason.EXISTS), Reason.LINKAGE_OPEN, reason)
    turn = np.where(past, np.nan, turn)
    return [turn_state(brake.linkage, turn)[0], turn, start, reason]


def last_turn(brake: Brake) -> float:
    """Return the arm's turn (rad) at the rated stroke, or where the linkage opens before it."""
    last = np.minimum(brake.chamber.rated_stroke, closing_strokes(brake.linkage)[1] - 1e-6)
    return plain(arm_turn(brake.linkage, last))


def chamber_torque(brake: Brake, turn: Array, pressure: Array) -> tuple[Array, Array]:
    """Return the chamber's torque on the camshaft (N*mm) and its slope, at each arm turn (rad) and pressure (MPa)."""
    stroke, lever, change = turn_state(brake.linkage, turn)
    stroke = np.minimum(stroke, brake.chamber.rated_stroke)
    force, slope = force_and_slope(brake.chamber, stroke, pressure)
    return force * lever, np.where(np.isfinite(slope), slope, -1e12) * lever**2 + force * change


def _at_its_stop(
    brake: Brake, push: PushTorque, press: tuple[Array, ...], start: Array, end: float, spring: Array
) -> Mask:
    """Where something still pushes at the rated stroke, as a spring does: the plate stands on its stop."""
    has_stop = np.asarray(closing_strokes(brake.linkage)[1] > brake.chamber.rated_stroke)
    held = brake.windup_stiffness * (end - start) + spring
    return has_stop & (push(brake, floats(end), *press)[0] > held)


def _pressed(
    brake: Brake,
    push: PushTorque,
    press: tuple[Array, ...],
    start: Array,
    end: float,
    spring: Array,
    at_start: Array,
) -> Array:
    """The turn past contact at which wind-up and return spring hold the torque of what presses; NaN where none does.

    The bracket is proven by the torque at contact, which is at hand, and by that at the end, which is one for all.
    """

    def shortfall(turn: Array) -> tuple[Array, Array]:
        torque, slope = push(brake, turn, *press)
        held = brake.windup_stiffness * (turn - start) + spring
        return held - torque, brake.windup_stiffness - slope

    at_end = push(brake, floats(end), *press)[0]
    with np.errstate(invalid="ignore"):
        proven = (at_start >= spring) & (brake.windup_stiffness * (end - start) + spring >= at_end)
    guess = start + (at_start - spring) / brake.windup_stiffness
    low, high = np.where(proven, start, np.nan), np.where(proven, end, np.nan)
    return bracketed_newton(shortfall, low, high, np.clip(guess, low, high), TURN_TOLERANCE, proven=True)


def spring_torque(brake: Brake, cam_angle: Array) -> Array:
    """Return the torque of the shoe return spring on the camshaft, N*mm, by virtual work on the rollers' spread."""
    spread, rate = _spread(brake, cam_angle)
    stretch = spread - brake.shoe.roller_spread
    return (brake.shoe.return_spring_force + brake.shoe.return_spring_rate * stretch) * rate


def _spread(brake: Brake, cam_angle: Array) -> tuple[Array, Array]:
    """The rollers' spread, mm, and its growth with the cam's angle, mm/rad."""
    spread = rate = floats(0.0)
    for side in SIDES:
        at = ride(brake.profile, brake.shoe, side, parameter_at_angle(brake.profile, brake.shoe, side, cam_angle))
        height = at.place.y + brake.shoe.cam_distance - brake.shoe.anchor[1]
        spread = spread + at.place.x
        rate = rate + height * at.place.turn_slope * at.pitch.distance_slope / at.angle_slope
    return spread, rate


def _not_pressed(brake: Brake, push: PushTorque, released: Array, start: Array, *press: Array) -> Array:
    """The turn before contact at which the shoe return spring alone holds what presses; 0 where nothing moves."""

    def shortfall(turn: Array) -> tuple[Array, Array]:
        torque, slope = push(brake, turn, *press)
        angle = released + turn
        spring, ahead = spring_torque(brake, np.stack([angle, angle + NUDGE]))
        # off the cam's end there is no slope to see: the bracket is halved there
        return spring - torque, (ahead - spring) / NUDGE - slope

    low = np.zeros_like(start)
    held = shortfall(low)[0] >= 0
    if held.all():
        return low
    # from the far end: the nearer the end of its stroke, the faster the push falls, so that no step goes too far
    turn = bracketed_newton(shortfall, low, start, start, SETTLED)
    return np.where(held, 0.0, turn)


NUDGE = 1e-7
"""Turn, rad, over which the spring's slope is taken; only the steps depend on it, not the root."""
SETTLED = 1e-14
"""The last step, rad: with a slope taken so, steps shrink by some millions each."""


def _reasons(brake: Brake, at_contact: Array, inputs: tuple[Array, ...], start: Array, end: float) -> NDArray[np.int8]:
    thickness, diameter, temperature, released, *press = inputs
    least = reduce(np.minimum, press)
    with np.errstate(invalid="ignore"):
        tests = [
            (~np.isfinite(thickness + diameter + temperature + least), Reason.INPUT_MISSING),
            (temperature < 0, Reason.BELOW_ABSOLUTE_ZERO),
            ((thickness <= 0) | (diameter <= 0) | (least < 0), Reason.NOT_POSITIVE),
            (np.isnan(end), Reason.LINKAGE_OPEN),
            ((at_contact == Reason.CAM_PAST_TIP) & (released + end < tip_angle(brake)), Reason.BOTTOMED),
            (at_contact != Reason.EXISTS, at_contact),
            (np.isnan(released), Reason.INPUT_MISSING),
            (released < heel_angle(brake) - SPARE, Reason.CAM_BELOW_HEEL),
            (start < -SPARE, Reason.ADJUSTED_TOO_TIGHT),
            (start > end, Reason.BOTTOMED),
        ]
    return first_reason(tests)
