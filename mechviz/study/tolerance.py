"""How many brakes come out of production outside a limit, and which dimension is to blame."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from geometry.arrays import Array, Mask
from mechviz.study.limits import Limit
from mechviz.study.plan import Plan
from mechviz.study.running import Progress, Result, Study, solve_at
from mechviz.study.sensitivity import CONFIDENCE, Sensitivity, sensitivity

ANY = "any"
"""The row of brakes that are outside at least one limit."""


@dataclass(frozen=True)
class Share:
    """``count`` of ``points``, as a ``share``, and the ends of its 95 % interval."""

    count: int
    points: int

    @property
    def share(self) -> float:
        """Count over points."""
        return self.count / self.points

    @property
    def interval(self) -> tuple[float, float]:
        """The 95 % interval (Wilson score)."""
        return wilson(self.count, self.points)


def wilson(count: int, points: int, deviations: float = CONFIDENCE) -> tuple[float, float]:
    """Return the score interval of a share, ``count`` of ``points`` independent draws.

    E. B. Wilson, Probable inference, the law of succession, and statistical inference, Journal of the American
    Statistical Association 22 (1927): (p + z2/2n +- z sqrt(p(1-p)/n + z2/4n2)) / (1 + z2/n). It keeps inside 0 and 1
    and is some use even where none was found outside.

    >>> [round(end, 4) for end in wilson(0, 20)]
    [0.0, 0.1611]
    """
    share, squared = count / points, deviations**2 / points
    middle = share + squared / 2
    half = sqrt(squared * (share * (1 - share) + squared / 4))
    low, high = (middle - half) / (1 + squared), (middle + half) / (1 + squared)
    return (0.0 if count == 0 else low), (1.0 if count == points else high)


@dataclass(frozen=True)
class Blame:
    """One dimension's part: its share of the outcome's variance (first order, all of it), and of brakes outside.

    ``halved`` is the share of brakes outside with its tolerance halved, None for a choice that has none; ``variance``
    and ``total`` are NaN for `ANY`.
    """

    key: str
    variance: float
    total: float
    halved: Share | None

    def gain(self, now: Share) -> float:
        """Return by how much the share outside falls when this tolerance is halved."""
        return 0.0 if self.halved is None else now.share - self.halved.share


@dataclass(frozen=True)
class Held:
    """One outcome against its limit: how many brakes are ``outside`` or have no such state (``missing``), and why."""

    key: str
    limit: Limit | None
    outside: Share
    missing: int
    blame: tuple[Blame, ...]


@dataclass(frozen=True)
class Tolerance:
    """Every outcome with a limit, and `ANY` last; the brakes drawn, and what their outcomes follow."""

    held: tuple[Held, ...]
    drawn: Result
    sensitivity: Sensitivity


def tolerance(
    study: Study,
    points: int = 20_000,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
    workers: int | None = None,
) -> Tolerance:
    """Return the tolerance study: brakes drawn independently from the spreads that the parameters are made with.

    With each tolerance halved the same draws are solved again, so that what changes is the tolerance alone. As `run`
    otherwise; (1 + parameters) times ``points`` are solved, and a base sample for the shares of variance.
    """
    study = study.produced
    count = len(study.parameters)
    base = min(1024, points)
    told = _Together(progress, (1 + count) * points + (count + 2) * Plan("sobol", base).size(study.parameters))
    shares = Plan("monte-carlo", points, study.plan.seed).shares(count)
    now = solve_at(study, _values(study, shares), told.part(), cancelled, workers)
    halves = [_halved(study, shares, n, told, cancelled, workers) for n in range(count)]
    follows = sensitivity(study, base, told.part(), cancelled, workers)
    keys = [key for key, limit in now.limits.items() if limit is not None]
    held = [_held(study, key, now, halves, follows) for key in keys]
    return Tolerance((*held, _held(study, ANY, now, halves, follows)), now, follows)


def _values(study: Study, shares: Array) -> dict[str, Array]:
    return {p.key: p.spread.at(share) for p, share in zip(study.parameters, shares, strict=True)}


def _halved(
    study: Study,
    shares: Array,
    place: int,
    told: "_Together",
    cancelled: Callable[[], bool] | None,
    workers: int | None,
) -> Result | None:
    one = study.parameters[place]
    halved = replace(one, spread=one.spread.halved())
    if halved == one:
        told.skip(shares.shape[1])
        return None
    parameters = (*study.parameters[:place], halved, *study.parameters[place + 1 :])
    narrower = replace(study, parameters=parameters)
    return solve_at(narrower, _values(narrower, shares), told.part(), cancelled, workers)


def _held(study: Study, key: str, now: Result, halves: list[Result | None], follows: Sensitivity) -> Held:
    missing = int((~now.valid).sum()) if key == ANY else int(np.isnan(now.outcomes[key]).sum())
    outside = [None if result is None else _share(~_inside(result, key)) for result in halves]
    row = None if key == ANY else follows.outcomes.index(key)
    blame = [
        Blame(
            parameter.key,
            np.nan if row is None else float(follows.first[row, n]),
            np.nan if row is None else float(follows.total[row, n]),
            outside[n],
        )
        for n, parameter in enumerate(study.parameters)
    ]
    share = _share(~_inside(now, key))
    blame.sort(key=lambda one: (-one.gain(share), -np.nan_to_num(one.total)))
    return Held(key, None if key == ANY else now.limits[key], share, missing, tuple(blame))


def _inside(result: Result, key: str) -> Mask:
    limit = None if key == ANY else result.limits[key]
    return result.inside if limit is None else limit.holds(result.outcomes[key])


def _share(which: Mask) -> Share:
    return Share(int(which.sum()), which.size)


class _Together:
    """The progress of several runs as that of one."""

    def __init__(self, progress: Progress | None, size: int) -> None:
        self.progress, self.size, self.before = progress, size, 0

    def skip(self, count: int) -> None:
        """Count points that need not be solved."""
        self.before += count

    def part(self) -> Progress | None:
        """Return what one run calls."""
        progress, before = self.progress, self.before
        if progress is None:
            return None

        def told(done: int, size: int) -> None:
            self.before = before + size
            progress(min(before + done, self.size), self.size)

        return told
