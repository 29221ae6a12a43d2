"""A study and its run: points by the million, solved in pieces that stay in cache, on every core that there is."""

import os
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from geometry.arrays import Array, Mask
from geometry.errors import PartError
from geometry.misfit import misfits
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.setup.many import many_setups, rows_of
from geometry.setup.words import file_fault
from mechviz.study.limits import Limit, drum_growth, least_lining, stroke_limit_of, with_own
from mechviz.study.outcome import Outcome
from mechviz.study.parameter import Parameter, Parameters
from mechviz.study.piece import Piece
from mechviz.study.plan import Plan
from mechviz.study.quantities import why_missing

PIECE = 16384
"""Points solved at once: the arrays of a piece stay in cache, and Python's own work on it does not count."""

Progress = Callable[[int, int], None]
"""Called with how many points are done, and how many there are."""
Values = Mapping[str, Array]
"""Points: the values of each parameter by its key, (points,), in the unit used inside."""


class CancelledError(Exception):
    """The run was told to stop."""


@dataclass(frozen=True)
class Study:
    """A base setup, what is varied of it, what is asked of it, and where it is looked at.

    ``map_of`` are the two parameters and the outcome of its picture, by key, and ``best_by`` the outcomes that its best
    points are best in; the first ones unless given. ``brakes`` is how many are drawn for its tolerances, 0 for none.
    Raises `PartError` for parameters that this setup has not, for what is named twice, and where nothing is asked.
    """

    base: Setup
    parameters: tuple[Parameter, ...]
    outcomes: tuple[Outcome, ...]
    plan: Plan = field(default_factory=Plan)
    title: str = ""
    map_of: tuple[str, str, str] | None = None
    best_by: tuple[str, ...] = ()
    brakes: int = 0

    def __post_init__(self) -> None:
        faults = [] if self.parameters else [file_fault("parameters", "are missing", "vary at least one figure")]
        faults += [] if self.outcomes else [file_fault("outcomes", "are missing", "ask for at least one")]
        keys = [outcome.key for outcome in self.outcomes]
        twice = [key for n, key in enumerate(keys) if key in keys[:n]]
        faults += [file_fault("outcomes", "has the same outcome twice", "keep one of them", key) for key in twice]
        if faults:
            raise PartError(faults)
        _ = self.varied

    @cached_property
    def varied(self) -> Parameters:
        """Its parameters, checked against the setup."""
        return Parameters(self.base, self.parameters)

    @cached_property
    def produced(self) -> "Study":
        """The study of brakes as they come from production."""
        if all(p.made is None for p in self.parameters):
            return self
        return replace(self, parameters=tuple(p.produced for p in self.parameters))

    def parameter(self, key: str) -> Parameter:
        """Return a parameter by its key. Raises `KeyError`."""
        return next(p for p in self.parameters if p.key == key)

    def outcome(self, key: str) -> Outcome:
        """Return an outcome by its key."""
        return next(o for o in self.outcomes if o.key == key)

    @cached_property
    def least_lining(self) -> float:
        """To what the lining is worn when it is worn out, mm."""
        return float(least_lining(self.base).least)

    @cached_property
    def most_growth(self) -> float:
        """By how much the drum has worn then, mm, where it has no limit of its own."""
        return drum_growth()[0]


@dataclass(frozen=True)
class Result:
    """What came of a study: columns of numbers, one row for each point.

    ``values`` by parameter's key and ``outcomes`` by outcome's key, in the units used inside, (points,); an outcome
    that does not exist is NaN, and ``why`` has the `Reason` of each, (points,), by outcome's key.
    """

    study: Study
    values: dict[str, Array]
    outcomes: dict[str, Array]
    why: dict[str, NDArray[np.int8]]

    @property
    def size(self) -> int:
        """How many points there are."""
        return next(iter(self.values.values())).size

    @cached_property
    def reason(self) -> NDArray[np.int8]:
        """The first reason that any outcome has for lacking, 0 where there is none."""
        first = np.zeros(self.size, dtype=np.int8)
        for codes in self.why.values():
            np.copyto(first, codes, where=first == 0)
        return first

    @property
    def valid(self) -> Mask:
        """Where every outcome exists."""
        return self.reason == Reason.EXISTS

    @cached_property
    def limits(self) -> dict[str, Limit | None]:
        """The limit of each outcome, None where there is none; its ends are arrays where they go with the chamber."""
        found: dict[str, Limit | None] = {}
        for outcome in self.study.outcomes:
            quantity = outcome.quantity
            found[outcome.key] = quantity.limit(self.study.base)
            if quantity.cold and outcome.condition[1] == "hot":
                found[outcome.key] = None
            elif quantity.by_stroke == "most":
                found[outcome.key] = self._stroke_limit
            elif quantity.by_stroke == "left":
                found[outcome.key] = Limit(self._stroke_limit.source, least=0.0)
            found[outcome.key] = with_own(found[outcome.key], outcome.least, outcome.most)
        return found

    @cached_property
    def _stroke_limit(self) -> Limit:
        return chamber_limit(self.study, self.values)

    @cached_property
    def inside(self) -> Mask:
        """Where every outcome exists and is inside its limit."""
        good = np.array(self.valid)
        for key, limit in self.limits.items():
            if limit is not None:
                good &= limit.holds(self.outcomes[key])
        return good

    def rows(self, which: Mask | Sequence[int] | NDArray[np.intp]) -> "Result":
        """Return the same with some of its points."""
        values = {key: column[which] for key, column in self.values.items()}
        outcomes = {key: column[which] for key, column in self.outcomes.items()}
        return Result(self.study, values, outcomes, {key: column[which] for key, column in self.why.items()})


def run(
    study: Study,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
    workers: int | None = None,
) -> Result:
    """Return a study solved at every point of its plan.

    ``progress`` is called now and then with (points done, points in all), ``cancelled`` is asked as often whether to
    stop; both from the thread that called. ``workers`` is the number of threads, one a core unless given. A point that
    cannot be built, or has no such state, is NaN with a reason. Raises `CancelledError` when told to stop.
    """
    return solve_at(study, study.plan.values(study.parameters), progress, cancelled, workers)


def solve_at(
    study: Study,
    values: Values,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
    workers: int | None = None,
) -> Result:
    """Return a study solved at points of one's own, as `run` does at those of its plan."""
    held = {p.key: np.ascontiguousarray(values[p.key], dtype=np.float64) for p in study.parameters}
    size = next(iter(held.values())).size
    outcomes = {o.key: np.full(size, np.nan) for o in study.outcomes}
    why = {o.key: np.zeros(size, dtype=np.int8) for o in study.outcomes}

    def solve(start: int) -> int:
        part = slice(start, min(start + PIECE, size))
        found = _solved(study, {key: column[part] for key, column in held.items()})
        for key, (figures, codes) in found.items():
            outcomes[key][part], why[key][part] = figures, codes
        return part.stop - part.start

    _in_threads(solve, range(0, size, PIECE), size, progress, cancelled, workers or os.cpu_count() or 1)
    _left_to_the_limit(study, held, outcomes)
    return Result(study, held, outcomes, why)


def _in_threads(
    solve: Callable[[int], int],
    starts: range,
    size: int,
    progress: Progress | None,
    cancelled: Callable[[], bool] | None,
    workers: int,
) -> None:
    """Solve every piece, a few more than there are threads being under way at any time, so that all can be stopped."""
    left, done = iter(starts), 0
    with ThreadPoolExecutor(workers) as pool:
        waiting: set[Future[int]] = {pool.submit(solve, start) for start in islice(left, 2 * workers)}
        try:
            while waiting:
                if cancelled is not None and cancelled():
                    raise CancelledError
                finished, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                done += sum(one.result() for one in finished)
                waiting |= {pool.submit(solve, start) for start in islice(left, len(finished))}
                if progress is not None:
                    progress(done, size)
        except BaseException:
            pool.shutdown(cancel_futures=True)
            raise


def _solved(study: Study, values: Values) -> dict[str, tuple[Array, NDArray[np.int8]]]:
    """The outcomes of a piece and the reasons for their lacking, by key."""
    size = next(iter(values.values())).size
    figures = study.varied.figures(values)
    with np.errstate(all="ignore"):  # what cannot exist is NaN in the end
        many = many_setups(study.base, figures)
        design = np.where(many.wrong, Reason.PART_IMPOSSIBLE, Reason.EXISTS).astype(np.int8)
        design = np.array(np.broadcast_to(design, size))
        sound = design == Reason.EXISTS
        if not sound.all():
            figures = rows_of(figures, sound)
            many = many_setups(study.base, figures)
        codes = np.broadcast_to(misfits(many.brake), int(sound.sum()))
        design[sound] = codes
        if codes.any():
            many = many_setups(study.base, rows_of(figures, codes == Reason.EXISTS))
        return _outcomes(study, Piece(many, study.least_lining, study.most_growth), design)


def _outcomes(study: Study, piece: Piece, design: NDArray[np.int8]) -> dict[str, tuple[Array, NDArray[np.int8]]]:
    sound = design == Reason.EXISTS
    found: dict[str, tuple[Array, NDArray[np.int8]]] = {}
    for outcome in study.outcomes:
        values, reasons = np.full(design.size, np.nan), np.array(design)
        if sound.any():
            values[sound] = outcome.quantity.find(piece, outcome.condition)
            reasons[sound] = why_missing(outcome.quantity, piece, outcome.condition)
        lacking = np.isnan(values)
        reasons[~lacking] = Reason.EXISTS
        reasons[lacking & (reasons == Reason.EXISTS)] = Reason.OUT_OF_REACH  # such as a square that is never reached
        found[outcome.key] = values, reasons
    return found


def chamber_limit(study: Study, values: Values) -> Limit:
    """Return the readjustment limit (mm) of each point's chamber."""
    sized = study.varied.sized
    size = None if sized is None else values[sized.key]
    return stroke_limit_of(study.base, study.varied.figures(values), sized, size)


def _left_to_the_limit(study: Study, values: Values, outcomes: dict[str, Array]) -> None:
    """Turn the strokes of what is asked for as a reserve into what they leave to the limit."""
    left = [o.key for o in study.outcomes if o.quantity.by_stroke == "left"]
    if left:
        limit = chamber_limit(study, values)
        for key in left:
            outcomes[key] = limit.most - outcomes[key]
