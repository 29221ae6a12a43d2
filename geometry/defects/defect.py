"""What a defect is: a part, an amount, what it does inside, and what an inspector would see from outside."""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf

from geometry.defects.wheel import Wheel
from geometry.errors import Fault, PartError
from geometry.quantity import KindName

Does = Callable[[Wheel, float], Wheel]
Left = Callable[[Wheel], float]

SPARED = 1.0
"""mm: a usual case leaves so much of what it takes away, or half of what is there (the project's own figure)."""


def nothing(_: Wheel) -> float:
    """Return that no wheel needs more than the usual amount for a defect to be what its name says."""
    return 0.0


def endless(_: Wheel) -> float:
    """Return that a defect takes nothing away that could come to an end."""
    return inf


@dataclass(frozen=True)
class Defect:
    """A defect as a parameter.

    Parameters
    ----------
    name : str
        As it is written on a command line: ``adjuster-stuck``.
    title : str
        In a few words.
    part : str
        The outline that it belongs to (`geometry.outlines`).
    kind : str
        Of its amount: a length, an angle, or a plain number.
    amount_of : str
        What the amount is, in words.
    usual : float
        A plain case of it, in the units used inside (the project's own figure).
    most : float
        The greatest amount that it is looked at with.
    inside : str
        What it does, in a sentence.
    outside : str
        What an inspector sees with the wheel on.
    does : callable
        A wheel and an amount to the wheel with the defect.
    left : callable
        A wheel to how much it has left of what the defect takes away, which has to be more than the amount.
    named : callable
        A wheel to the amount that a plain case of it needs for the defect's words to be true of this wheel (a lining
        is too thin below its limit); less than that is the defect on its way.

    """

    name: str
    title: str
    part: str
    kind: KindName
    amount_of: str
    usual: float
    most: float
    inside: str
    outside: str
    does: Does
    left: Left = endless
    named: Left = nothing

    def plain(self, wheel: Wheel) -> float:
        """Return the amount of a plain case on a wheel: the usual one, or what it takes to be called this, if it can.

        What is named for a limit ends beyond it by no more than it has to, and never takes all that is left.
        """
        left = self.left(wheel)
        return min(self.named(wheel) or self.usual, max(left - SPARED, 0.5 * left))

    def on(self, wheel: Wheel, amount: float | None = None) -> Wheel:
        """Return the wheel with this defect; an amount of 0 is no defect and gives the very same wheel back.

        Raises `PartError` for an amount that is negative, more than ``most`` and than a plain case of it, or
        more than this wheel has left.
        """
        left, plain = self.left(wheel), self.plain(wheel)
        size, most = plain if amount is None else amount, max(self.most, plain)
        if not 0 <= size <= most:
            problem, fix = f"is outside what this defect can be ({self.amount_of})", "leave the amount out"
            raise PartError(Fault(self.name, problem, fix, size, self.kind, least=0.0, most=most))
        if not size < left:
            problem, fix = f"is more than there is left ({self.amount_of})", "leave the amount out"
            raise PartError(Fault(self.name, problem, fix, size, self.kind, most=left))
        return wheel if size == 0 else self.does(wheel, size)
