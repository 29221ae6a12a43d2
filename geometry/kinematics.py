"""Every pose of the brake from the stroke: arm, cam, both shoes and their gaps. Array in, array out.

From released to first contact arm and cam turn together and both rollers ride the cam. Past first contact the cam's
head goes on until the second lining touches too; the rest of the arm's turn is wind-up, taken between arm and head.
Between the two contacts the first lining is squeezed by a few thousandths of an inch: its gap is negative there.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.arrays import Array
from geometry.brake import SIDES, Brake, Side
from geometry.cam_train import parameter_at_angle
from geometry.condition import SPARE, Condition, Contact, contact, heel_angle, tip_angle
from geometry.lining import gaps
from geometry.linkage import arm_state, released_direction, stroke_at_turn
from geometry.many import in_pieces
from geometry.reasons import Reason, first_reason
from geometry.shoe import roller_at_distance, turn_cos_sin


@dataclass(frozen=True)
class ShoePoses:
    """One shoe in each state: turn beta (rad), its roller's centre (mm, outward frame, drum centre), gaps (mm)."""

    turn: Array
    roller_x: Array
    roller_y: Array
    gap_anchor_end: Array
    gap_middle: Array
    gap_cam_end: Array
    gap_least: Array


@dataclass(frozen=True)
class Poses:
    """Every part's pose in each state; all arrays of one shape, NaN with a `Reason` where the state cannot exist.

    ``arm_turn``, ``cam_turn`` count from released (rad); ``cam_angle`` is the cam's own angle, the same for both
    shoes; ``lever`` is d(stroke)/d(turn), mm; ``clevis_x``, ``clevis_y`` the pin in the arm plane, mm.
    """

    stroke: Array
    arm_turn: Array
    arm_angle: Array
    pushrod_tilt: Array
    lever: Array
    clevis_x: Array
    clevis_y: Array
    cam_turn: Array
    cam_angle: Array
    left: ShoePoses
    right: ShoePoses
    reason: NDArray[np.int8]


_ARM = 9
_SHOE = len(fields(ShoePoses))


def solve_poses(brake: Brake, condition: Condition, stroke: ArrayLike) -> Poses:
    """Return the poses of a brake at each stroke (mm) in each condition; shapes broadcast, nothing is changed.

    A stroke that cannot exist is NaN throughout, with its `Reason`. Raises `AssemblyError` only for a brake that has
    no poses at all.
    """
    types = [np.float64] * (_ARM + 2 * _SHOE) + [np.int8]
    columns = in_pieces(brake, _poses, [*condition.arrays, stroke], types)
    return as_poses(columns)


def as_poses(columns: Sequence[NDArray[Any]]) -> Poses:
    """Return the columns of `poses_piece` by name."""
    left = ShoePoses(*columns[_ARM : _ARM + _SHOE])
    right = ShoePoses(*columns[_ARM + _SHOE : -1])
    return Poses(*columns[:_ARM], left=left, right=right, reason=columns[-1])


def _poses(brake: Brake, *inputs: Array) -> list[NDArray[Any]]:
    thickness, diameter, temperature, _, _ = inputs
    return poses_piece(brake, contact(brake, thickness, diameter, temperature), *inputs)


def poses_piece(brake: Brake, at: Contact, *inputs: Array) -> list[NDArray[Any]]:
    """Return the columns of `Poses`, shoe by shoe, for a piece of the inputs whose contact is known already."""
    _, _, _, released, stroke = inputs
    arm = arm_state(brake.linkage, stroke)
    turn = released_direction(brake.linkage) - arm.direction
    head = np.fmin(released + turn, np.where(np.isfinite(at.seat), at.seat, np.inf))
    reason = pose_reasons(brake, at, inputs, turn, head)
    head = np.where(reason == Reason.EXISTS, head, np.nan)
    shoes = [column for side in SIDES for column in _shoe(brake, at, side, head)]
    arms = [stroke, turn, arm.arm_angle, arm.tilt, arm.lever, arm.pin_x, arm.pin_y, head - released, head]
    blank = reason != Reason.EXISTS
    if blank.any():
        arms = [np.where(blank, np.nan, a) for a in arms]
    return [*arms, *shoes, reason]


def _shoe(brake: Brake, at: Contact, side: Side, head: Array) -> list[Array]:
    parameter = parameter_at_angle(brake.profile, brake.shoe, side, head)
    place = roller_at_distance(brake.shoe, brake.profile.pitch(parameter, brake.shoe.roller_radius).distance)
    cosine, sine = turn_cos_sin(brake.shoe, place)
    gap = gaps(brake.shoe, brake.lining, at.surface, at.radius, cosine, sine)
    y = place.y + brake.shoe.cam_distance
    return [np.arctan2(sine, cosine), place.x, y, gap.anchor_end, gap.middle, gap.cam_end, gap.least]


def pose_reasons(brake: Brake, at: Contact, inputs: tuple[Array, ...], turn: Array, head: Array) -> NDArray[np.int8]:
    """Return the first thing in the chain of motion that makes each state impossible.

    ``inputs`` are those of `poses_piece`, ``turn`` the arm's from released and ``head`` the cam's angle, rad.
    """
    thickness, diameter, temperature, released, stroke = inputs
    with np.errstate(invalid="ignore"):
        tests = [
            (~np.isfinite(thickness + diameter + temperature + stroke), Reason.INPUT_MISSING),
            (temperature < 0, Reason.BELOW_ABSOLUTE_ZERO),
            ((thickness <= 0) | (diameter <= 0), Reason.NOT_POSITIVE),
            (np.isnan(released) & (at.reason != Reason.EXISTS), at.reason),
            (np.isnan(released), Reason.INPUT_MISSING),
            (at.reason == Reason.CAM_CANNOT_SPREAD, Reason.CAM_CANNOT_SPREAD),
            (stroke < -SPARE, Reason.BEHIND_RELEASED),
            (stroke > brake.chamber.rated_stroke + SPARE, Reason.BEYOND_RATED_STROKE),
            (np.isnan(turn), Reason.LINKAGE_OPEN),
            (at.reason == Reason.LINING_TOO_THICK, Reason.LINING_TOO_THICK),
            (np.isnan(at.surface.centre_x), at.reason),
            (released < heel_angle(brake) - SPARE, Reason.CAM_BELOW_HEEL),
            (released > at.first + SPARE, Reason.ADJUSTED_TOO_TIGHT),
            (head > tip_angle(brake) + SPARE, Reason.CAM_PAST_TIP),
        ]
    return first_reason(tests)


def released_poses(brake: Brake, condition: Condition) -> Poses:
    """Return the poses with the brake released: stroke 0."""
    return solve_poses(brake, condition, 0.0)


def free_stroke(brake: Brake, condition: Condition) -> Array:
    """Return the stroke (mm) at which the first lining touches; NaN where there is no such stroke."""
    thickness, diameter, temperature, released = condition.arrays
    turn = contact(brake, thickness, diameter, temperature).first - released
    return np.where(turn >= -SPARE, stroke_at_turn(brake.linkage, turn), np.nan)
