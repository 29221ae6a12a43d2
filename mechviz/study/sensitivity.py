"""Which parameter an outcome follows: variance-based sensitivity, Sobol' indices of first and total order.

The first-order index is the share of an outcome's variance that goes when one parameter is held, the total one the
share that stays when all others are. Estimators: first order, A. Saltelli and others, Variance based sensitivity
analysis of model output, Computer Physics Communications 181 (2010), table 2 (b); total order, M. J. W. Jansen,
Analysis of variance designs for model output, Computer Physics Communications 117 (1999), there (f). Formulas from
memory; held against the closed form of the Ishigami function and against `scipy.stats.sobol_indices`.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array
from mechviz.study.plan import Plan
from mechviz.study.running import Progress, Result, Study, solve_at

RESAMPLES, CONFIDENCE = 100, 1.959964
"""Of the bootstrap; and standard deviations to either side that 95 % lie within."""


@dataclass(frozen=True)
class Sensitivity:
    """Indices of every outcome to every parameter, (outcomes, parameters), in the study's order.

    ``first_error`` and ``total_error`` are half the width of a 95 % interval (bootstrap). ``variance`` and ``mean`` of
    each outcome are in the units used inside. ``used`` is the share of the rows that exist all along: where points
    cannot be built, indices are those of the rest. NaN where an outcome does not vary.
    """

    outcomes: tuple[str, ...]
    parameters: tuple[str, ...]
    first: Array
    total: Array
    first_error: Array
    total_error: Array
    mean: Array
    variance: Array
    used: Array
    solved: int


def sensitivity(
    study: Study,
    points: int = 2048,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
    workers: int | None = None,
) -> Sensitivity:
    """Return the sensitivity of a study's outcomes over the spreads of its parameters, which count as independent.

    ``points`` is the base sample, a power of two; (parameters + 2) times as many are solved. As `run` otherwise.
    """
    count = len(study.parameters)
    shares = Plan("sobol", points, study.plan.seed).shares(2 * count)
    first, second = shares[:count], shares[count:]
    rows = [first, second]
    for n in range(count):
        mixed = first.copy()
        mixed[n] = second[n]
        rows.append(mixed)
    every = np.concatenate(rows, axis=1)
    values = {p.key: p.spread.at(share) for p, share in zip(study.parameters, every, strict=True)}
    result = solve_at(study, values, progress, cancelled, workers)
    return _of_result(study, result, count)


def _of_result(study: Study, result: Result, count: int) -> Sensitivity:
    keys = tuple(outcome.key for outcome in study.outcomes)
    found = [_of_outcome(result.outcomes[key].reshape(count + 2, -1)) for key in keys]
    columns = [np.array(column) for column in zip(*found, strict=True)]
    names = tuple(p.key for p in study.parameters)
    return Sensitivity(keys, names, *columns, solved=result.size)


def _of_outcome(rows: Array) -> tuple[Array, Array, Array, Array, float, float, float]:
    """Indices, their errors, mean, variance and share used, of f at A, B and each AB: (2 + parameters, points)."""
    exist = np.isfinite(rows).all(axis=0)
    kept = rows[:, exist]
    used, count = float(exist.mean()), len(rows) - 2
    nothing = np.full(count, np.nan)
    if kept.shape[1] < 2 or not np.ptp(kept[:2]) > FLAT * np.max(np.abs(kept[:2])):
        return nothing, nothing, nothing, nothing, float(np.mean(kept)) if kept.size else np.nan, 0.0, used
    first, total = indices(kept[0], kept[1], kept[2:])
    errors = _errors(kept)
    return first, total, *errors, float(np.mean(kept[:2])), float(np.var(kept[:2])), used


FLAT = 1e-12
"""An outcome that varies by no more of itself than this does so by rounding alone."""


def indices(at_a: Array, at_b: Array, at_ab: Array) -> tuple[Array, Array]:
    """Return first and total order indices, (parameters,).

    ``at_a`` and ``at_b`` are a function's values over two independent samples, (points,); ``at_ab`` those over the
    first sample with one parameter after the other taken from the second, (parameters, points). Values are taken from
    their mean, which lessens the error and changes no index.
    """
    mean, variance = np.mean([at_a, at_b]), np.var([at_a, at_b])
    a, b, ab = at_a - mean, at_b - mean, at_ab - mean
    return np.mean(b * (ab - a), axis=-1) / variance, 0.5 * np.mean((a - ab) ** 2, axis=-1) / variance


def _errors(rows: Array) -> tuple[Array, Array]:
    """Half the width of the 95 % intervals, by the bootstrap: the spread over resampled points."""
    draw = np.random.default_rng(0)
    again = [rows[:, draw.integers(rows.shape[1], size=rows.shape[1])] for _ in range(RESAMPLES)]
    both = np.array([indices(one[0], one[1], one[2:]) for one in again])
    first, total = CONFIDENCE * np.std(both, axis=0, ddof=1)
    return first, total
