"""The one error tree: each error says where, what was given, why it cannot be, what would be possible, and the fix."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import isfinite

from geometry.quantity import KindName, System, rounded, text


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong with the input.

    ``given``, ``least``, ``most`` and ``amount`` are in the units used inside (``kind`` says of what), so that each
    reader gets them in the units of the file; ``given`` may also be the text that was typed. ``{amount}`` in
    ``problem`` and ``{least}``, ``{most}`` in ``fix`` are filled in when the fault is written out. ``system`` is that
    of the figure's own unit where it is known: a length or a temperature is answered in the unit it was typed in.
    """

    where: str
    problem: str
    fix: str
    given: float | str | None = None
    kind: KindName = "length"
    least: float | None = None
    most: float | None = None
    amount: float | None = None
    system: System | None = None

    def _number(self, value: float | str | None, system: System) -> str:
        if isinstance(value, int | float) and isfinite(value):
            return text(value, self.kind, system)
        return str(value)

    def _bound(self, value: float | None, up: bool, system: System) -> str | None:
        """A bound in the digits that are shown, rounded towards what is possible, so that it can be typed."""
        if value is None or not isfinite(value):
            return None
        return text(rounded(value, self.kind, system, up), self.kind, system)

    def possible(self, system: System = "metric") -> str:
        """Say which values would do: ``3.520 in to 10.500 in``, ``at least 3 mm``, or nothing."""
        least, most = (self._bound(value, up, system) for value, up in ((self.least, True), (self.most, False)))
        if least and most:
            return least if least == most else f"{least} to {most}"
        return f"at least {least}" if least else f"at most {most}" if most else ""

    def said(self, system: System = "metric") -> str:
        """Return the problem with its figure in the units of ``system``."""
        return self.problem.replace("{amount}", self._number(self.amount, system))

    def text(self, system: System = "metric") -> str:
        """Write the fault as one line, its figures in the units of ``system``, or of the figure's own where known."""
        system = self.system or system
        given = "" if self.given is None else f" = {self._number(self.given, system)}"
        possible = self.possible(system)
        fix = self.fix.replace("{amount}", self._number(self.amount, system))
        return f"{self.where}{given}: {self.said(system)}; " + (f"use {possible}, or {fix}" if possible else fix)

    def __str__(self) -> str:
        return self.text()


class MechvizError(Exception):
    """Anything that the person at the keyboard can put right. ``faults`` holds at least one `Fault`."""

    def __init__(self, faults: Fault | Sequence[Fault]) -> None:
        self.faults: tuple[Fault, ...] = (faults,) if isinstance(faults, Fault) else tuple(faults)
        super().__init__("\n".join(str(f) for f in self.faults))


class PartError(MechvizError, ValueError):
    """A part whose own figures cannot be (not a number, negative, out of order)."""


class AssemblyError(MechvizError):
    """Parts that are fine by themselves and do not go together, or a state that this brake cannot reach."""


class SetupError(MechvizError):
    """A setup file that cannot be used. Carries every fault in it."""


@dataclass
class FaultList:
    """Collects faults, so that all of them are reported at once."""

    faults: list[Fault] = field(default_factory=list[Fault])

    def extend_from(self, error: MechvizError) -> None:
        """Add the faults of an error that was caught."""
        self.faults.extend(error.faults)
