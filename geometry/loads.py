"""From air to drag: chamber force, camshaft torque, roller forces, shoe factors and brake torque in each state."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.applied import Applied, solve_applied, spring_torque
from geometry.arrays import Array
from geometry.brake import SIDES, Brake, Side, turn_sense
from geometry.cam_train import Ride, parameter_at_angle, ride
from geometry.chamber import chamber_force, pressure_for_force
from geometry.condition import Condition, Contact, contact, tip_angle
from geometry.lining import surface_point
from geometry.linkage import turn_state
from geometry.many import in_pieces, plain
from geometry.reasons import Reason
from geometry.shoe import posed, turn_cos_sin
from geometry.shoe_factor import LongShoe, long_shoe, peak_pressure, shoe_factor


@dataclass(frozen=True)
class Loads:
    """Forces (N) and torques (N*mm) of each state; NaN with a `Reason` where it cannot exist.

    ``camshaft_torque`` is what the chamber puts on the camshaft; ``roller_left``, ``roller_right`` press along the
    contact normals; ``factor_*`` are drag at the drum over roller force; ``lining_pressure_*`` the lining's peak
    pressure, MPa. Before contact nothing presses: roller forces and brake torque are 0.
    """

    pressure: Array
    chamber_force: Array
    camshaft_torque: Array
    roller_left: Array
    roller_right: Array
    factor_left: Array
    factor_right: Array
    lining_pressure_left: Array
    lining_pressure_right: Array
    brake_torque: Array
    reason: NDArray[np.int8]


_COLUMNS = 10


def loads_at_pressure(brake: Brake, condition: Condition, pressure: ArrayLike) -> Loads:
    """Return the loads that each chamber pressure (MPa) brings in each condition; shapes broadcast."""
    return loads_of(brake, condition, pressure, solve_applied(brake, condition, pressure))


def loads_of(brake: Brake, condition: Condition, pressure: ArrayLike, applied: Applied) -> Loads:
    """Return the loads of states that were solved already at each chamber pressure (MPa); shapes broadcast."""
    return _loads(brake, condition, pressure, applied.turn, applied.reason)


def loads_at_turn(brake: Brake, condition: Condition, turn: ArrayLike, reason: NDArray[np.int8]) -> Loads:
    """Return the loads, and the pressure that holds them, at each arm turn (rad) past contact."""
    return _loads(brake, condition, np.nan, turn, reason)


def _loads(brake: Brake, condition: Condition, pressure: ArrayLike, turn: ArrayLike, reason: NDArray[np.int8]) -> Loads:
    types = [np.float64] * _COLUMNS + [np.int8]
    inputs = [*condition.arrays, pressure, turn, reason]
    return Loads(*in_pieces(brake, _loads_piece, inputs, types))


def _loads_piece(brake: Brake, *inputs: Array) -> list[NDArray[Any]]:
    thickness, diameter, temperature, released, pressure, turn, reason = inputs
    return loads_piece(brake, contact(brake, thickness, diameter, temperature), released, pressure, turn, reason)


def loads_piece(
    brake: Brake, at: Contact, released: Array, pressure: Array, turn: Array, reason: Array
) -> list[NDArray[Any]]:
    """Return the columns of `Loads` for a piece of the inputs whose contact is known already."""
    stroke, lever, _ = turn_state(brake.linkage, turn)
    force = chamber_force(brake.chamber, stroke, pressure)
    unknown = np.isnan(pressure)
    if unknown.any():  # what holds the state is asked for
        useful = brake.windup_stiffness * np.maximum(turn - (at.first - released), 0.0)
        held = (useful + spring_torque(brake, np.fmin(released + turn, at.first))) / lever
        force = np.where(unknown, held, force)
        pressure = np.where(unknown, pressure_for_force(brake.chamber, stroke, held), pressure)
    left, right, drag, codes = shoe_drag(brake, at, released, turn, reason)
    width, friction = brake.lining.width, brake.lining.friction
    peaks = [peak_pressure(p.long_shoe, friction, width, drag) for p in (left, right)]
    columns = [pressure + 0 * turn, force, force * lever, drag / left.factor, drag / right.factor]
    columns += [left.factor, right.factor, *peaks, 2 * drag * at.radius]
    return [*(np.where(codes == Reason.EXISTS, c, np.nan) for c in columns), codes]


def shoe_drag(
    brake: Brake, at: Contact, released: Array, turn: Array, reason: Array
) -> tuple["Push", "Push", Array, NDArray[np.int8]]:
    """Return left and right push, the drag of each shoe on the drum (N, the same on both), and the reasons.

    Brake torque is twice the drag times the drum's radius.
    """
    start = at.first - released
    useful = brake.windup_stiffness * np.maximum(turn - start, 0.0)
    # a seat beyond the tip by rounding alone is on it: off the profile no push is known
    head = np.minimum(np.fmin(released + turn, at.seat), tip_angle(brake))
    left, right = (push(brake, at, side, head) for side in SIDES)
    # equal wear asks for equal drag on both shoes: drag / factor is each roller's force
    drag = brake.efficiency * useful / (left.moment_arm / left.factor + right.moment_arm / right.factor)
    drag = np.where(turn > start, drag, 0.0 * turn)  # nothing presses before contact, not even a shoe that would lock
    codes = np.where((reason == Reason.EXISTS) & np.isnan(drag) & np.isfinite(turn), Reason.SHOE_LOCKS, reason)
    return left, right, drag, codes.astype(np.int8)


@dataclass(frozen=True)
class Push:
    """How a roller's push reaches its lining.

    ``factor`` is the shoe factor, ``moment_arm`` the push's arm on the cam, mm, ``lever`` its arm about the anchor, mm,
    and ``long_shoe`` the shoe as the long-shoe theory sees it.
    """

    factor: Array
    moment_arm: Array
    lever: Array
    long_shoe: LongShoe


def push(brake: Brake, at: Contact, side: Side, cam_angle: Array) -> Push:
    """Return the push of one side at each cam angle (rad), the shoe standing as the cam holds it."""
    parameter = parameter_at_angle(brake.profile, brake.shoe, side, cam_angle)
    riding = ride(brake.profile, brake.shoe, side, parameter)
    lever = _lever(brake, side, riding)
    shape = _long_shoe(brake, at, riding)
    factor = shoe_factor(shape, brake.lining.friction, lever, leading=side == brake.leading_side)
    return Push(factor, riding.pitch.moment_arm, lever, shape)


def _lever(brake: Brake, side: Side, riding: Ride) -> Array:
    """Distance from the anchor to the contact normal, mm: the roller's push opens the shoe with this lever."""
    place, anchor, pitch = riding.place, brake.shoe.anchor, riding.pitch
    # the ray to the roller's centre turned by the normal's lean, without a trigonometric call per element
    forward, aside = -pitch.distance * pitch.angle_slope, turn_sense(side) * pitch.distance_slope
    length = pitch.distance * np.sqrt(forward * forward + aside * aside)
    up, out = place.y + brake.shoe.cam_distance - anchor[1], place.x - anchor[0]
    return (up * (place.x * forward - place.y * aside) - out * (place.y * forward + place.x * aside)) / length


def _long_shoe(brake: Brake, at: Contact, riding: Ride) -> LongShoe:
    """The lining's arc as it stands on the drum, seen from the line between drum centre and anchor."""
    cosine, sine = turn_cos_sin(brake.shoe, riding.place)
    x, y = brake.shoe.anchor
    anchor_at = plain(np.arctan2(x, -y))
    ends: list[Array] = []
    for psi in (brake.lining.start, brake.lining.end):
        px, py = posed(brake.shoe, cosine, sine, *surface_point(at.surface, psi))
        ends.append(np.arctan2(px, -py) - anchor_at)
    return long_shoe(at.radius, plain(np.hypot(x, y)), ends[0], ends[1])
