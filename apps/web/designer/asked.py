"""An outcome that a designer asks for: the quantity and its condition, and limits of one's own as they were typed."""

from dataclasses import dataclass, replace

from apps.web.designer.varied import LONGEST, Wrong, figure, said
from geometry.errors import MechvizError
from geometry.quantity import System
from mechviz.study import Outcome, Quantity
from mechviz.study.piece import Heat, Wear

ENDS = ("least", "most")


@dataclass(frozen=True)
class Asked:
    """A quantity by name in a condition; ``least`` and ``most`` are limits beside the published one, as typed."""

    name: str
    wear: Wear = "found"
    heat: Heat = "found"
    least: str = ""
    most: str = ""

    def __post_init__(self) -> None:
        for name in ENDS:
            object.__setattr__(self, name, getattr(self, name)[:LONGEST].strip())
        _ = self.bare

    @property
    def bare(self) -> Outcome:
        """The outcome without limits of one's own. Raises `PartError` for a name that there is not."""
        return Outcome(self.name, self.wear, self.heat)

    @property
    def key(self) -> str:
        """How it is called in tables and in the address."""
        return self.bare.key

    @property
    def words(self) -> str:
        """How it is called by people."""
        return self.bare.words

    @property
    def quantity(self) -> Quantity:
        """What it is."""
        return self.bare.quantity

    def read(self, system: System) -> tuple[Outcome, list[Wrong]]:
        """Return the outcome with those of its limits that can be read, and what is wrong with the others."""
        wrong, ends = list[Wrong](), dict[str, float | None]()
        for name in ENDS:
            typed = getattr(self, name)
            try:
                ends[name] = figure(typed, self.quantity.kind, f"{self.key}.{name}") if typed else None
            except MechvizError as error:
                wrong.append(Wrong(name, said(error, system)))
        least, most = ends.get("least"), ends.get("most")
        if least is not None and most is not None and least > most:
            wrong.append(Wrong("most", "is less than the least: nothing could be inside"))
            most = None
        return replace(self.bare, least=least, most=most), wrong
