"""What every part's constructor checks: numbers that are finite, positive where they must be, and in order.

A figure may be an array of many brakes' figures. All of them must hold then; but inside `marking` nothing is raised,
and which of the brakes do not hold is marked.
"""

from collections.abc import Callable, Generator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from math import isfinite as _isfinite
from typing import Any, cast

import numpy as np

from geometry.arrays import Array, Mask, floats
from geometry.errors import Fault, FaultList, PartError
from geometry.quantity import KindName


def isfinite(value: Any) -> bool:
    """Tell whether a value is a number and finite (an array: all of it); text is not, whatever it says."""
    if isinstance(value, np.ndarray):
        return bool(np.all(np.isfinite(floats(cast(Array, value)))))
    return isinstance(value, int | float) and _isfinite(value)


def _holds(value: Any, test: Callable[[Any], Any]) -> Any:
    """Whether a figure, or which of many, is a finite number that stands a test."""
    if isinstance(value, np.ndarray):
        return np.isfinite(floats(cast(Array, value))) & test(value)
    return isfinite(value) and test(value)


@dataclass
class Marks:
    """Which of many brakes have a part that cannot be."""

    wrong: Mask = field(default_factory=lambda: np.array(False))


_marks: ContextVar[Marks | None] = ContextVar("marks", default=None)


@contextmanager
def marking() -> Generator[Marks]:
    """Mark the brakes whose figures do not hold, where these are arrays, in place of raising an error."""
    marks = Marks()
    token = _marks.set(marks)
    try:
        yield marks
    finally:
        _marks.reset(token)


class Guard:
    """Collects what is wrong with one part's figures; `done` raises all of it at once.

    ``part`` is the section of the setup file that the figures come from.
    """

    def __init__(self, part: str) -> None:
        self.part = part
        self.found = FaultList()

    def hold(self, good: Mask | bool, fault: Fault) -> "Guard":
        """Keep a fault unless all is good; its figures are those of the first brake that is not."""
        if np.all(good):
            return self
        marks = _marks.get()
        if marks is not None and isinstance(good, np.ndarray):
            marks.wrong = marks.wrong | ~good
        else:
            self.found.faults.append(_of_first(fault, np.asarray(good)))
        return self

    def _require(self, name: str, value: Any, good: Mask | bool, kind: KindName, problem: str, fix: str) -> None:
        self.hold(good, Fault(f"{self.part}.{name}", problem, fix, value, kind))

    def one_of(self, words: Sequence[str], **values: str) -> "Guard":
        """Require one of a few words."""
        for name, value in values.items():
            if value not in words:
                problem, fix = f"is not one of {', '.join(words)}", f"write {words[0]}"
                self.found.faults.append(Fault(f"{self.part}.{name}", problem, fix, str(value)))
        return self

    def finite(self, kind: KindName, **values: float) -> "Guard":
        """Require numbers."""
        for name, value in values.items():
            self._require(
                name, value, _holds(value, lambda _: True), kind, "is not a number", "write what was measured"
            )
        return self

    def positive(self, kind: KindName, **values: float) -> "Guard":
        """Require numbers above zero."""
        for name, value in values.items():
            good = _holds(value, lambda v: v > 0)
            problem, fix = "must be more than zero", "write the size as a positive figure"
            self._require(name, value, good, kind, problem, fix)
        return self

    def not_negative(self, kind: KindName, **values: float) -> "Guard":
        """Require numbers of zero or more."""
        for name, value in values.items():
            good = _holds(value, lambda v: v >= 0)
            self._require(name, value, good, kind, "must not be negative", "write zero or a positive figure")
        return self

    def not_more(self, kind: KindName, most: float, **values: float) -> "Guard":
        """Require numbers of ``most`` or less."""
        for name, value in values.items():
            problem, fix = "is more than this part can have", "check the figure"
            fault = Fault(f"{self.part}.{name}", problem, fix, value, kind, most=most)
            self.hold(_holds(value, lambda v: v <= most), fault)
        return self

    def between(self, kind: KindName, least: float, most: float, **values: float) -> "Guard":
        """Require numbers of ``least`` to ``most``."""
        for name, value in values.items():
            problem, fix = "is outside what this part can have", "check the figure"
            fault = Fault(f"{self.part}.{name}", problem, fix, value, kind, least, most)
            self.hold(_holds(value, lambda v: (v >= least) & (v <= most)), fault)
        return self

    def less(
        self, kind: KindName, small: tuple[str, float], large: tuple[str, float], share: str = "", equal: bool = False
    ) -> "Guard":
        """Require the first named value to be below the second (``share`` says it is ``half the`` second figure).

        With ``equal`` it may be the same. Where one of them is no number that is another fault.
        """
        problem = f"must be less than {share}{large[0]}, which is {{amount}}"
        fix = f"write a smaller {small[0]} or a larger {large[0]}"
        fault = Fault(f"{self.part}.{small[0]}", problem, fix, small[1], kind, amount=large[1])
        known = _holds(small[1], lambda _: True) & _holds(large[1], lambda _: True)
        if np.any(known):
            self.hold((small[1] <= large[1] if equal else small[1] < large[1]) | np.logical_not(known), fault)
        return self

    def done(self) -> None:
        """Raise `PartError` with everything found, or return."""
        if self.found.faults:
            raise PartError(self.found.faults)


def _of_first(fault: Fault, good: Mask) -> Fault:
    """A fault of many brakes with the figures of the first that is not good."""
    first = int(np.argmin(good))
    of_one = {
        name: float(np.broadcast_to(floats(cast(Array, value)), good.shape).flat[first])
        for name in ("given", "least", "most", "amount")
        for value in [getattr(fault, name)]
        if isinstance(value, np.ndarray)
    }
    return replace(fault, **of_one)
