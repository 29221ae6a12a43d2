"""Everything that is told of a study: its points, the best of them, what the outcomes follow, and its tolerances."""

from collections.abc import Callable
from dataclasses import dataclass

from mechviz.study.best import Best, best
from mechviz.study.running import Progress, Result, Study, run
from mechviz.study.sensitivity import Sensitivity, sensitivity
from mechviz.study.tolerance import Tolerance, tolerance

BASE = 1024
"""Points of the base sample with which it is looked what the outcomes follow."""


@dataclass(frozen=True)
class Worked:
    """A study worked out; without a ``tolerance`` where none is asked for."""

    result: Result
    best: Best
    sensitivity: Sensitivity
    tolerance: Tolerance | None

    @property
    def study(self) -> Study:
        """The study."""
        return self.result.study


def work(
    study: Study,
    count: int = 5,
    progress: Callable[[str], Progress] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Worked:
    """Return a study worked out, with up to ``count`` best points.

    ``progress`` is called with what is being done, and gives what is told how far that is. As `run` otherwise.
    """

    def told(what: str) -> Progress | None:
        return None if progress is None else progress(what)

    result = run(study, told("points"), cancelled)
    follows = sensitivity(study, BASE, told("what follows what"), cancelled)
    drawn = tolerance(study, study.brakes, told("tolerances"), cancelled) if study.brakes else None
    return Worked(result, best(result, count), follows, drawn)
