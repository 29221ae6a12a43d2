"""How each unknown of a brake moves each reading, taken from the nodes that a cause was solved at."""

from collections.abc import Sequence

import numpy as np

from geometry.arrays import Array, Mask, floats
from geometry.defects import Wheel, solve_wheel
from geometry.diagnosis.causes import STEP_HEAT, STEP_LENGTH, STEP_PRESSURE, Cause, Grid
from geometry.diagnosis.meant import Meant
from geometry.diagnosis.readings import BLOCK
from geometry.diagnosis.tape import Tape
from geometry.tables import limits_for

STROKE, FREE, GAP, STANDING, PUSHED, ARM, REACH, RING = range(len(BLOCK))
"""Places in `BLOCK`."""
STILL = (STANDING, ARM, REACH, RING)
"""Readings that a brake gives whether it works or not."""


def block_read(tape: Tape, wheel: Wheel, gap: Array) -> Array:
    """Return the readings of one wheel, (slack, lining, asked, 8); free stroke and gap where the slack was read."""
    ring = _ring(wheel.brake.chamber.style, wheel.brake.chamber.size)
    lengths = wheel.brake.linkage.arm_length, wheel.brake.linkage.pin_reach
    columns = [tape.stroke, tape.free_stroke, gap, tape.released_angle, tape.applied_angle, *lengths, ring]
    return np.stack([np.broadcast_to(column, tape.stroke.shape) for column in columns], axis=-1)


def _ring(style: str, size: str) -> float:
    """The outside diameter of a chamber's clamp ring, mm; 0 where it has none or no table has it."""
    rows = [row for row in limits_for(style) if row.size == size] if style.startswith("clamp") else []
    inches = next((row.outside_diameter_in for row in rows if row.outside_diameter_in is not None), 0)
    return 25.4 * float(inches)


def dead_at(tape: Tape) -> Mask:
    """Tell where the wheel does not work, (slack, lining): as tested or as slackened."""
    return tape.dead[..., 0] | tape.dead[..., 3]


def _at_each(read: Array) -> Array:
    """Each reading as it was asked for: the stroke as tested, the slack as slackened."""
    picked = np.array([0, 3, 3, 0, 0, 0, 0, 0])
    return np.take_along_axis(read, np.broadcast_to(picked, (*read.shape[:-2], 1, len(BLOCK))), axis=-2)[..., 0, :]


def over_linings(read: Array, dead: Mask) -> Array:
    """Return the mean over the linings with which the brake works: they hardly move the pushrod's readings."""
    at = _at_each(read)
    works = (~dead[..., None] | np.isin(np.arange(len(BLOCK)), STILL)) & np.isfinite(at)
    count = np.maximum(works.sum(-2), 1)
    return np.where(works.any(-2), np.where(works, at, 0.0).sum(-2) / count, np.nan)


def slopes(meant: Meant, grid: Grid, cause: Cause, read: Array, mean: Array, stretched: Sequence[Tape]) -> Array:
    """Return by how much each unknown moves each reading, times its sd: (amount, wind-up, slack, 8, unknowns)."""
    columns = [
        along(mean, cause.amounts, 0) * cause.amount_sd[:, None, None, None],
        along(mean, grid.compliance.at, 1) * grid.compliance.sd,
        along(mean, grid.slack.at, 2) * grid.slack.sd,
        *_tested(meant, read),
        *_stretched(meant, grid, cause, mean, stretched),
        _out_of_round(cause, mean),
    ]
    return np.nan_to_num(np.stack(columns, axis=-1))


def along(mean: Array, at: Array, axis: int) -> Array:
    """Return the slope along one axis of nodes; 0 where there is but one node."""
    return floats(np.gradient(mean, at, axis=axis)) if len(at) > 1 else 0.0 * mean


def _tested(meant: Meant, read: Array) -> list[Array]:
    """Pressure, area of the chamber (half as much in its ring's diameter), heat of the test and of the slack.

    One heat where both were read at once.
    """
    middle = read[..., read.shape[-3] // 2, :, :]
    pressed = (middle[..., 1, :] - middle[..., 0, :]) / STEP_PRESSURE
    heated = (middle[..., 2, :] - middle[..., 0, :]) / STEP_HEAT * meant.hot_off
    slackened = (middle[..., 4, :] - middle[..., 3, :]) / STEP_HEAT * meant.slack_hot_off
    of_slack = np.isin(np.arange(len(BLOCK)), (FREE, GAP))
    pressed, heated = (np.where(of_slack, 0.0, column) for column in (pressed, heated))
    slackened = np.where(of_slack, slackened, 0.0)
    larger = pressed + np.where(np.arange(len(BLOCK)) == RING, 0.5 * middle[..., 0, :], 0.0)
    heats = [heated + slackened] if meant.same_heat else [heated, slackened]
    return [pressed * meant.pressure_off, larger * meant.chamber_off, *heats]


def _stretched(meant: Meant, grid: Grid, cause: Cause, mean: Array, tapes: Sequence[Tape]) -> list[Array]:
    """The four lengths, taken at the middle of everything else."""
    here = mean[cause.middle, len(grid.compliance.at) // 2, len(grid.slack.at) // 2]
    found = list[Array]()
    for off, wheel, tape in zip(meant.lengths, cause.stretched, tapes, strict=True):
        read = block_read(tape, wheel, floats(here[GAP]))[None, None]
        there = over_linings(read, dead_at(tape)[None, None])[0, 0, len(grid.slack.at) // 2]
        found.append(np.broadcast_to((there - here) / STEP_LENGTH * off, mean.shape))
    return found


def _out_of_round(cause: Cause, mean: Array) -> Array:
    """An oval drum: stroke and free stroke are read at any place of the wheel, along a sine of this swing."""
    found = np.zeros_like(mean)
    for n, row in enumerate(cause.wheels):
        if row[0].ovality > 0:
            swing = float(np.nanmean(solve_wheel(row[len(row) // 2]).swing))
            found[n, ..., [STROKE, FREE]] = swing / np.sqrt(8)
    return found
