"""What every part's constructor checks: numbers that are finite, positive where they must be, and in order."""

from collections.abc import Sequence
from math import isfinite as _isfinite
from typing import Any

from geometry.errors import Fault, FaultList, PartError
from geometry.quantity import KindName


def isfinite(value: Any) -> bool:
    """Tell whether a value is a number and finite; text is not, whatever it says."""
    return isinstance(value, int | float) and _isfinite(value)


class Guard:
    """Collects what is wrong with one part's figures; `done` raises all of it at once.

    ``part`` is the section of the setup file that the figures come from.
    """

    def __init__(self, part: str) -> None:
        self.part = part
        self.found = FaultList()

    def _fault(self, name: str, value: float, kind: KindName, problem: str, fix: str) -> None:
        self.found.faults.append(Fault(f"{self.part}.{name}", problem, fix, value, kind))

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
            if not isfinite(value):
                self._fault(name, value, kind, "is not a number", "write what was measured")
        return self

    def positive(self, kind: KindName, **values: float) -> "Guard":
        """Require numbers above zero."""
        for name, value in values.items():
            if not (isfinite(value) and value > 0):
                self._fault(name, value, kind, "must be more than zero", "write the size as a positive figure")
        return self

    def not_negative(self, kind: KindName, **values: float) -> "Guard":
        """Require numbers of zero or more."""
        for name, value in values.items():
            if not (isfinite(value) and value >= 0):
                self._fault(name, value, kind, "must not be negative", "write zero or a positive figure")
        return self

    def not_more(self, kind: KindName, most: float, **values: float) -> "Guard":
        """Require numbers of ``most`` or less."""
        for name, value in values.items():
            if not (isfinite(value) and value <= most):
                problem, fix = "is more than this part can have", "check the figure"
                self.found.faults.append(Fault(f"{self.part}.{name}", problem, fix, value, kind, most=most))
        return self

    def between(self, kind: KindName, least: float, most: float, **values: float) -> "Guard":
        """Require numbers of ``least`` to ``most``."""
        for name, value in values.items():
            if not (isfinite(value) and least <= value <= most):
                problem, fix = "is outside what this part can have", "check the figure"
                self.found.faults.append(Fault(f"{self.part}.{name}", problem, fix, value, kind, least, most))
        return self

    def less(self, kind: KindName, small: tuple[str, float], large: tuple[str, float], share: str = "") -> "Guard":
        """Require the first named value to be below the second (``share`` says it is ``half the`` second figure)."""
        if isfinite(small[1]) and isfinite(large[1]) and not small[1] < large[1]:
            problem = f"must be less than {share}{large[0]}, which is {{amount}}"
            fix = f"write a smaller {small[0]} or a larger {large[0]}"
            where = f"{self.part}.{small[0]}"
            self.found.faults.append(Fault(where, problem, fix, small[1], kind, amount=large[1]))
        return self

    def done(self) -> None:
        """Raise `PartError` with everything found, or return."""
        if self.found.faults:
            raise PartError(self.found.faults)
