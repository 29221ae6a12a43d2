"""What a tape, a gauge and a feeler read on many wheels: those that share a brake are solved in one go."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import isfinite
from typing import Any

import numpy as np
from numpy.typing import NDArray

from geometry.applied import solve_applied
from geometry.arrays import Array, Mask, floats
from geometry.brake import Brake
from geometry.condition import Condition, contact
from geometry.defects import Wheel, felt
from geometry.kinematics import released_poses
from geometry.linkage import arm_state, stroke_at_turn
from geometry.reasons import Reason


@dataclass(frozen=True)
class Tape:
    """Stroke, free stroke (mm), arm angles (rad) of one wheel in its conditions, and where it does not work at all.

    A chamber that bottoms is read at its rated stroke. Where the state cannot be for another reason, ``dead`` is set
    and what is read could be anything.
    """

    stroke: Array
    free_stroke: Array
    released_angle: Array
    applied_angle: Array
    dead: Mask


def taped(wheels: Sequence[Wheel], shape: tuple[int, ...]) -> list[Tape]:
    """Return what is read on each wheel; the arrays of their conditions broadcast to ``shape``."""
    found: list[Tape | None] = [None] * len(wheels)
    for places in _alike(wheels):
        like = [wheels[n] for n in places]
        for n, tape in zip(places, _solved_together(like, shape), strict=True):
            found[n] = tape
    return [tape for tape in found if tape is not None]


def _alike(wheels: Sequence[Wheel]) -> list[list[int]]:
    """Places of wheels that differ in condition and pressure only; friction moves no pushrod."""
    groups = dict[Any, list[int]]()
    for n, wheel in enumerate(wheels):
        key = (without_friction(wheel.brake), wheel.play, wheel.blocked)
        groups.setdefault(key, []).append(n)
    return list(groups.values())


def without_friction(brake: Brake) -> Brake:
    """Return the brake with a friction that is the same for all."""
    return replace(brake, lining=replace(brake.lining, friction=0.3))


def _solved_together(wheels: Sequence[Wheel], shape: tuple[int, ...]) -> list[Tape]:
    """Wheels of one brake, stacked: as `geometry.defects.solve_wheel`, without forces and torques."""
    columns = zip(*[(*wheel.condition.arrays, floats(wheel.pressure)) for wheel in wheels], strict=True)
    stacked = [np.stack([np.broadcast_to(a, shape) for a in column]) for column in columns]
    first, condition = wheels[0], Condition(*stacked[:4])
    pressed = replace(first, condition=condition, pressure=stacked[4])
    tape = _solved(pressed)
    return [Tape(*(part[n] for part in vars(tape).values())) for n in range(len(wheels))]


def _solved(wheel: Wheel) -> Tape:
    brake, condition = felt(wheel)
    thickness, diameter, temperature, released = condition.arrays
    if wheel.blocked:
        released = contact(brake, thickness, diameter, temperature).first + 0.0 * released
    applied = solve_applied(brake, Condition(thickness, diameter, temperature, released), wheel.pressure)
    turn = applied.contact_turn
    free = wheel.play + 0.0 * turn if wheel.blocked else stroke_at_turn(brake.linkage, turn)
    bottomed, rated = applied.reason == Reason.BOTTOMED, brake.chamber.rated_stroke
    stroke = np.where(bottomed, rated, applied.stroke)
    standing = float(arm_state(wheel.brake.linkage, 0.0).arm_angle)
    return Tape(
        stroke,
        np.where(bottomed, rated, free),
        np.full(stroke.shape, standing),
        arm_state(brake.linkage, stroke).arm_angle,
        ~np.isfinite(stroke) | (not isfinite(standing)),
    )


def cleared(wheels: Sequence[Wheel], shape: tuple[int, ...]) -> list[Array]:
    """Return the smaller gap at mid arc of each wheel, released, mm; 0 where a shoe stays or lies on the drum."""
    groups = dict[Any, list[int]]()
    for n, wheel in enumerate(wheels):
        brake = without_friction(wheel.brake)
        groups.setdefault((brake.profile, brake.shoe, brake.lining, brake.drum), []).append(n)
    found: list[Array] = [floats(np.nan)] * len(wheels)
    for places in groups.values():
        for n, gap in zip(places, _gaps([wheels[n] for n in places], shape), strict=True):
            found[n] = gap
    return found


def _gaps(wheels: Sequence[Wheel], shape: tuple[int, ...]) -> list[NDArray[np.float64]]:
    columns = zip(*[wheel.condition.arrays for wheel in wheels], strict=True)
    stacked = [np.stack([np.broadcast_to(a, shape) for a in column]) for column in columns]
    poses = released_poses(wheels[0].brake, Condition(*stacked))
    gaps = np.minimum(poses.left.gap_middle, poses.right.gap_middle)
    on_the_drum = [wheel.fallen or wheel.residual > 0 for wheel in wheels]
    return [np.zeros(shape) if on else gap for on, gap in zip(on_the_drum, gaps, strict=True)]
