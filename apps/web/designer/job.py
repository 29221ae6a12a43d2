"""A study worked out beside the session: how far it is, its end, and the way to stop it."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from threading import Event

from mechviz.study import CancelledError, Result, Study, run
from mechviz.study.sensitivity import Sensitivity, sensitivity
from mechviz.study.tolerance import Tolerance, tolerance

FOLLOWS, DRAWN = 1024, 20_000
"""Base sample of the sensitivities, and brakes drawn for the tolerances."""
EVERY = 0.1
"""Seconds between two words on how far it is."""

Later = Callable[[Callable[[], None]], None]
"""Has something done in the session's own turn."""


@dataclass(frozen=True)
class Answers:
    """What came of a study, and how long its points took, s."""

    study: Study
    result: Result
    follows: Sensitivity
    tolerance: Tolerance | None
    seconds: float


def answers(
    study: Study,
    produced: Study | None,
    progress: Callable[[float], None],
    cancelled: Callable[[], bool],
) -> Answers:
    """Return everything that is shown of a study. ``progress`` is told the share done; raises `CancelledError`."""
    count, size = len(study.parameters), study.plan.size(study.parameters)
    parts = [size, FOLLOWS * (count + 2), (1 + count) * DRAWN + FOLLOWS * (count + 2) if produced else 0]
    whole = sum(parts)

    def told(before: int) -> Callable[[int, int], None]:
        return lambda done, _: progress(min((before + done) / whole, 1.0))

    began = time.perf_counter()
    result = run(study, told(0), cancelled)
    seconds = time.perf_counter() - began
    follows = sensitivity(study, FOLLOWS, told(parts[0]), cancelled)
    drawn = tolerance(produced, DRAWN, told(parts[0] + parts[1]), cancelled) if produced else None
    return Answers(study, result, follows, drawn, seconds)


class Job:
    """One study under way. What it has to say it says ``later``, in the session's turn, and not once it is stopped."""

    def __init__(
        self,
        study: Study,
        produced: Study | None,
        later: Later,
        told: Callable[[float], None],
        done: Callable[[Answers], None],
        failed: Callable[[Exception], None],
    ) -> None:
        self._stop = Event()
        self._later, self._told, self._done, self._failed = later, told, done, failed
        self._said = 0.0
        self._of = study, produced

    def cancel(self) -> None:
        """Stop as soon as the piece under way is done."""
        self._stop.set()

    def work(self) -> None:
        """Do it; whoever starts it gives it a thread."""
        try:
            found = answers(*self._of, self._progress, self._stop.is_set)
        except CancelledError:
            return
        except Exception as error:
            failed = error
            self._say(lambda: self._failed(failed))
        else:
            self._say(lambda: self._done(found))

    def _progress(self, share: float) -> None:
        now = time.monotonic()
        if now - self._said >= EVERY:
            self._said = now
            self._say(lambda: self._told(share))

    def _say(self, act: Callable[[], None]) -> None:
        """Have something done unless it was stopped meanwhile; a session that has ended needs nothing."""
        self._later(lambda: None if self._stop.is_set() else act())
