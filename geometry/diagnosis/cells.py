"""One cause as cells: a normal distribution over the readings around each node that it was solved at."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array, Mask, floats
from geometry.defects import Wheel
from geometry.diagnosis.causes import Cause, Grid
from geometry.diagnosis.meant import Meant
from geometry.diagnosis.priors import ALWAYS_BEYOND, MARKS_MISSED, MODEL
from geometry.diagnosis.readings import BLOCK
from geometry.diagnosis.slopes import FREE, GAP, PUSHED, RING, STROKE, along, block_read, dead_at, over_linings, slopes
from geometry.diagnosis.tape import Tape
from geometry.lining import lining_surface, thickness_at
from geometry.linkage import arm_state

LOOSE = (STROKE, FREE, GAP, PUSHED)
"""Places of the readings that a brake which does not work leaves open."""
WIDE_GAP = 4.0
"""mm: a gap on a brake that does not work is anything up to about this."""
RING_OFF = 2.0
"""By how much a clamp ring differs from its table, 1 sd in mm."""


@dataclass(frozen=True)
class Cells:
    """The columns of `geometry.diagnosis.predict.Predictions` for one cause."""

    mean: Array
    covariance: Array
    lining_weight: Array
    lining: Array
    lining_sd: Array
    drum: Array
    drum_sd: Array
    marks: Array
    rated: Array
    works: Mask


def cells_of(meant: Meant, grid: Grid, cause: Cause, tapes: Sequence[Tape], gaps: Sequence[Array]) -> Cells | None:
    """Return the cells of a cause, those that work first; None where this brake cannot have it at all.

    ``tapes`` are those of ``cause.wheels``, row by row, then of ``cause.stretched``; ``gaps`` those of each row.
    """
    rows = _rows(grid, cause, tapes)
    read = floats([_read(*each) for each in zip(rows, cause.wheels, gaps, strict=True)])
    dead = np.array([[dead_at(tape) for tape in row] for row in rows])
    mean = over_linings(read, dead)
    nodes, size = mean.shape[:3], len(BLOCK)
    moved = slopes(meant, grid, cause, read, mean, tapes[nodes[0] * nodes[1] :])
    covariance = np.einsum("...ik,...jk->...ij", moved, moved) + np.diag(_own() ** 2)
    worn = _worn(grid, cause)
    works, broken = _weights(grid, cause, worn.weight, dead)
    if works.sum() + broken.sum() <= 0:
        return None
    each = worn.lining, worn.lining_sd, worn.drum, worn.drum_sd, _marks(meant, cause), _rated(cause)
    columns = [_spread(column, nodes) for column in each]
    flat = mean.reshape(-1, size), covariance.reshape(-1, size, size)
    total = float(works.sum() + broken.sum())
    alive = _kept(*flat, works / total, columns, works=True)
    return _both(alive, _kept(*_lost(cause.wheels[0][0], *flat), broken / total, columns, works=False))


def _rows(grid: Grid, cause: Cause, tapes: Sequence[Tape]) -> list[Sequence[Tape]]:
    """Tapes by amount, then by wind-up."""
    each = len(grid.compliance.at)
    return [tapes[n * each : (n + 1) * each] for n in range(len(cause.amounts))]


def _read(tapes: Sequence[Tape], wheels: Sequence[Wheel], gap: Array) -> list[Array]:
    return [block_read(tape, wheel, gap) for tape, wheel in zip(tapes, wheels, strict=True)]


def _weights(grid: Grid, cause: Cause, worn: Array, dead: Mask) -> tuple[Array, Array]:
    """Weights of working and of broken nodes, (amount, wind-up, slack, lining)."""
    each = grid.compliance.weight[:, None, None] * grid.slack.weight[:, None] * worn[:, None, None, :]
    each = each / len(cause.amounts)
    works = 0.0 * each if cause.name in ALWAYS_BEYOND else np.where(dead, 0.0, each)
    return works, np.where(dead, each, 0.0)


def _spread(column: Array, nodes: tuple[int, ...]) -> Array:
    """What goes by amount, given to every node."""
    rest = column.shape[1:]
    return np.broadcast_to(column[:, None, None], (*nodes, *rest)).reshape(-1, *rest)


def _kept(mean: Array, covariance: Array, weight: Array, columns: Sequence[Array], *, works: bool) -> Cells:
    """The cells that have any weight."""
    flat = weight.reshape(len(mean), -1)
    keep = flat.sum(-1) > 0
    kept = (column[keep] for column in columns)
    return Cells(mean[keep], covariance[keep], flat[keep], *kept, works=np.full(int(keep.sum()), works))


def _both(one: Cells, other: Cells) -> Cells:
    pairs = zip(vars(one).values(), vars(other).values(), strict=True)
    return Cells(*(np.concatenate(pair) for pair in pairs))


def _own() -> Array:
    """What the model leaves out of each reading, 1 sd."""
    own = floats([MODEL.get(name, 0.0) for name in BLOCK])
    own[RING] = RING_OFF
    return own


@dataclass(frozen=True)
class _Worn:
    """Linings and drum of a cause by amount: weight (A, L), stretches (A, L, 2) and (A, 2), and their blurs (A,)."""

    weight: Array
    lining: Array
    lining_sd: Array
    drum: Array
    drum_sd: Array


def _worn(grid: Grid, cause: Cause) -> _Worn:
    """Sound linings and drums shifted by what the cause takes off them, and cut to where the cause may be."""
    room, edges = cause.room, grid.lining
    thickness, diameter = 0.5 * (edges[1:] + edges[:-1])[:, None], 0.5 * sum(room.sound_drum)
    thinner = floats([np.mean(_thickness(row[0], cause.psi) - thickness) for row in cause.wheels])
    wider = floats([np.mean(row[0].condition.arrays[1] - diameter) for row in cause.wheels])
    lining = np.stack([edges[:-1], edges[1:]], axis=-1) + thinner[:, None, None]
    drum = floats(room.sound_drum) + wider[:, None]
    kept_lining, kept_drum = np.clip(lining, *room.lining), np.clip(drum, *room.drum)
    share = np.diff(kept_lining)[..., 0] / np.diff(lining)[..., 0] / (len(edges) - 1)
    weight = share * np.diff(kept_drum) / np.diff(drum)
    blurs = [np.abs(along(shift, cause.amounts, 0)) * cause.amount_sd for shift in (thinner, wider)]
    return _Worn(weight, kept_lining, blurs[0], kept_drum, blurs[1])


def _thickness(wheel: Wheel, psi: float) -> Array:
    """Lining thickness at the shoe's middle, mm, wherever the lining still ends."""
    brake, (thickness, diameter, *_) = wheel.brake, wheel.condition.arrays
    surface = lining_surface(brake.shoe, brake.lining, brake.new_radius, thickness, 0.5 * diameter)
    return thickness_at(brake.lining, surface, brake.new_radius, psi)


def _marks(meant: Meant, cause: Cause) -> Array:
    """Probability that the marks of a long-stroke chamber are seen, by amount."""
    styles = [row[0].brake.chamber.style for row in cause.wheels]
    seen = {"clamp": MARKS_MISSED, "clamp-long-stroke": 1 - MARKS_MISSED}
    sure = floats([seen.get(style, np.nan) for style in styles])
    return 0.5 + 0.0 * sure if meant.chamber_off else sure


def _rated(cause: Cause) -> Array:
    """The chamber's rated stroke, mm, by amount."""
    return floats([row[0].brake.chamber.rated_stroke for row in cause.wheels])


def _lost(wheel: Wheel, mean: Array, covariance: Array) -> tuple[Array, Array]:
    """The same cells where the brake does not work: what moves may be read anywhere, what stands still as before.

    Anywhere that a rod can be: its stroke S lies evenly up to the rated one R, and the arm stands where S puts it. The
    free stroke lies evenly up to S, which gives mean R/4 and variance 7/144 R**2; that it hangs together with S is left
    out, so that a stroke at the end of the chamber does not pass for one.
    """
    rated, linkage = wheel.brake.chamber.rated_stroke, wheel.brake.linkage
    angles = floats([float(arm_state(linkage, s).arm_angle) for s in (0.0, rated)])
    turned, own = float(angles[1] - angles[0]), _own()
    size = floats([rated, rated, WIDE_GAP, turned])
    along = [12, 0, 0, 12]
    share = floats([along, [0, 7, 0, 0], [0, 0, 12, 0], along]) / 144
    lost_mean, lost = np.array(mean), np.array(covariance)
    lost_mean[:, LOOSE] = floats([0.5 * rated, 0.25 * rated, 0.5 * WIDE_GAP, 0.5 * angles.sum()])
    lost[:, LOOSE, :] = 0.0
    lost[:, :, LOOSE] = 0.0
    lost[:, [[place] for place in LOOSE], LOOSE] = share * np.outer(size, size) + np.diag(own[list(LOOSE)] ** 2)
    return lost_mean, lost
