"""Every state of a brake's life at any wear: stroke cold and hot, angles, gaps, what is left of cam and chamber."""

import os
from dataclasses import dataclass, fields
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.applied import applied_piece
from geometry.arrays import Array, floats, in_chunks
from geometry.chamber import chamber_force
from geometry.condition import Contact, heel_angle, tip_angle
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.kinematics import as_poses, poses_piece
from geometry.life.service import Service
from geometry.life.upkeep import Upkeep
from geometry.linkage import arm_state, stroke_at_turn
from geometry.loads import shoe_drag
from geometry.reasons import Reason

WORKERS = os.cpu_count() or 1


@dataclass(frozen=True)
class Applications:
    """An application at each wear: stroke (mm) and arm angle (rad), force (N) and brake torque (N*mm).

    ``reserve`` is the stroke left to the rated one, mm; ``profile_left`` the cam's turn left to its tip, rad;
    ``reason`` a `geometry.reasons.Reason` where the state cannot exist and everything else is NaN.
    """

    stroke: Array
    arm_angle: Array
    chamber_force: Array
    brake_torque: Array
    reserve: Array
    profile_left: Array
    reason: NDArray[np.int8]


@dataclass(frozen=True)
class Life:
    """A brake's life at each ``wear`` (mm of lining, any shape); lengths mm, angles rad.

    ``free_stroke``, ``contact_angle`` (the arm's angle at first touch) and the gaps (released, the lesser of the two
    shoes) are those of a cold drum; ``cam_turn`` is how far the cam stands from the rollers' lowest place when both
    linings touch. ``cold`` and ``hot`` are applications at the service's pressure.
    """

    wear: Array
    thickness: Array
    released_angle: Array
    free_stroke: Array
    contact_angle: Array
    cam_turn: Array
    gap_anchor_end: Array
    gap_middle: Array
    gap_cam_end: Array
    gap_least: Array
    cold: Applications
    hot: Applications


_OWN = len(fields(Life)) - 2
_EACH = len(fields(Applications))


def life_states(service: Service, upkeep: Upkeep, wear: ArrayLike) -> Life:
    """Return the states at each wear (mm); what cannot exist is NaN, and `Applications.reason` says why."""
    each = [*[np.float64] * (_EACH - 1), np.int8]
    types = [*[np.float64] * _OWN, *each, *each]
    columns = in_chunks(partial(_piece, service, upkeep), [wear], types, WORKERS)
    cold, hot = columns[_OWN : _OWN + _EACH], columns[_OWN + _EACH :]
    return Life(*columns[:_OWN], cold=Applications(*cold), hot=Applications(*hot))


def _piece(service: Service, upkeep: Upkeep, wear: Array) -> list[NDArray[Any]]:
    released, at = upkeep.at(wear), service.contact(wear)
    turn = at.first - released
    with np.errstate(invalid="ignore"):
        free = np.where(turn >= 0, stroke_at_turn(service.brake.linkage, turn), np.nan)
        free = np.where(free <= service.brake.chamber.rated_stroke, free, np.nan)  # else it bottoms before touching
    contact_angle = arm_state(service.brake.linkage, free).arm_angle
    own = [wear, service.thickness(wear), released, free, contact_angle, at.seat - heel_angle(service.brake)]
    return [
        *own,
        *_gaps(service, at, wear, released),
        *_applications(service, at, wear, released, REFERENCE_TEMPERATURE),
        *_applications(service, service.contact(wear, service.hot, at.surface), wear, released, service.hot),
    ]


def _inputs(service: Service, wear: Array, temperature: float) -> tuple[Array, Array, Array]:
    return service.thickness(wear), floats(service.drum_diameter), floats(temperature)


def _gaps(service: Service, at: Contact, wear: Array, released: Array) -> list[Array]:
    """The gaps of the released brake, anchor end to cam end and the least, of whichever shoe has less."""
    state = *_inputs(service, wear, REFERENCE_TEMPERATURE), released, floats(0.0)
    poses = as_poses(poses_piece(service.brake, at, *state))
    names = ("gap_anchor_end", "gap_middle", "gap_cam_end", "gap_least")
    return [np.minimum(getattr(poses.left, name), getattr(poses.right, name)) for name in names]


def _applications(
    service: Service, at: Contact, wear: Array, released: Array, temperature: float
) -> list[NDArray[Any]]:
    """The columns of `Applications` with the drum at a temperature (K)."""
    brake, pressure = service.brake, floats(service.pressure)
    state = *_inputs(service, wear, temperature), released, pressure
    stroke, turn, start, reason = applied_piece(brake, at, *state)
    _, _, drag, codes = shoe_drag(brake, at, released, turn, reason)
    exists = codes == Reason.EXISTS
    # what is not pushed has no force, and what does not press no torque
    force = np.where(exists & (turn > 0), chamber_force(brake.chamber, stroke, pressure), np.nan)
    torque = np.where(exists & (turn > start), 2 * drag * at.radius, np.nan)
    angle = arm_state(brake.linkage, stroke).arm_angle
    left = tip_angle(brake) - np.minimum(released + turn, at.seat)
    reserve = brake.chamber.rated_stroke - stroke
    return [stroke, angle, force, torque, reserve, left, codes]
