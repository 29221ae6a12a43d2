"""What a defect is: a part, an amount, what it does inside, and what an inspector would see from outside."""

from collections.abc import Callable
from dataclasses import dataclass

from geometry.defects.wheel import Wheel
from geometry.errors import Fault, PartError
from geometry.quantity import KindName

Does = Callable[[Wheel, float], Wheel]


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

    def on(self, wheel: Wheel, amount: float | None = None) -> Wheel:
        """Return the wheel with this defect; an amount of 0 is no defect and gives the very same wheel back.

        Raises `PartError` for an amount that is negative or more than ``most``.
        """
        size = self.usual if amount is None else amount
        if not 0 <= size <= self.most:
            problem, fix = f"is outside what this defect can be ({self.amount_of})", "leave the amount out"
            raise PartError(Fault(self.name, problem, fix, size, self.kind, least=0.0, most=self.most))
        return wheel if size == 0 else self.does(wheel, size)
