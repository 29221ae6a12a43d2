"""A parameter of a study: a key of the setup file, and how its figure is spread."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from geometry.arrays import Array, floats
from geometry.errors import PartError
from geometry.quantity import KindName
from geometry.setup import Setup
from geometry.setup.many import check_varied, varied_keys
from geometry.setup.words import file_fault
from geometry.tables import nominal_rated_stroke, sizes
from geometry.tables.chambers import effective_area_in2
from geometry.tables.reader import SQUARE_INCH, millimetres
from mechviz.study.spread import Listed, Spread

SIZE = "chamber.size"
AREA, RATED = "chamber.effective_area", "chamber.rated_stroke"


@dataclass(frozen=True)
class Parameter:
    """One key of the setup file and its spread, in the unit used inside.

    ``chamber.size`` is a list of sizes: ``words`` are these, and its figure is the place in that list. ``made`` is how
    the figure comes from production, where that is another spread than the one that is studied.
    """

    key: str
    spread: Spread
    words: tuple[str, ...] = ()
    made: Spread | None = None

    @property
    def kind(self) -> KindName:
        """What kind of quantity it is."""
        return "number" if self.words else varied_keys()[self.key]

    @property
    def name(self) -> str:
        """The key in words: ``arm length``.

        >>> from mechviz.study.spread import Uniform
        >>> Parameter("linkage.arm_length", Uniform(100.0, 150.0)).name
        'arm length'
        """
        section, name = self.key.split(".")
        said = "chamber size" if self.key == SIZE else name.replace("_", " ")
        new = self.key in ("foundation.lining_thickness", "foundation.drum_diameter")
        return f"new {said}" if new else f"{said} as found" if section == "condition" and "lining" in name else said

    def figures(self, setup: Setup, values: Array) -> dict[str, Array]:
        """Return what its values make of the setup's figures, by key; a size is a rated stroke and an area."""
        if not self.words:
            return {self.key: values}
        return {key: floats(by_size)[values.astype(np.intp)] for key, by_size in self._sizes(setup).items()}

    @property
    def produced(self) -> "Parameter":
        """The same as it comes from production."""
        return self if self.made is None else replace(self, spread=self.made, made=None)

    def text(self, value: float) -> str | None:
        """Return the word that a value stands for; None where it is a figure."""
        return self.words[int(value)] if self.words else None

    def _sizes(self, setup: Setup) -> dict[str, list[float]]:
        style = setup.brake.chamber.style
        known = [(nominal_rated_stroke(style, size), effective_area_in2(style, size)) for size in self.words]
        found: dict[str, list[float]] = {RATED: [], AREA: []}
        for size, (rated, area) in zip(self.words, known, strict=True):
            if rated is None or area is None:
                problem = f"has no published stroke and area for the style {style}"
                raise PartError(file_fault(SIZE, problem, f"one of {', '.join(sizes(style))}", size))
            found[RATED].append(millimetres(rated))
            found[AREA].append(area * SQUARE_INCH)
        return found


def size_parameter(words: tuple[str, ...]) -> Parameter:
    """Return the parameter of a chamber's size."""
    return Parameter(SIZE, Listed(tuple(float(n) for n in range(len(words)))), words)


@dataclass(frozen=True)
class Parameters:
    """The parameters of a study over one setup."""

    setup: Setup
    every: tuple[Parameter, ...]

    def __post_init__(self) -> None:
        twice = [p.key for n, p in enumerate(self.every) if p.key in {q.key for q in self.every[:n]}]
        faults = [file_fault(key, "is varied twice", "keep one of them") for key in twice]
        if self.sized and {RATED, AREA} & {p.key for p in self.every}:
            faults.append(file_fault(SIZE, "sets rated stroke and area, which are varied too", "keep one of them"))
        if faults:
            raise PartError(faults)
        values = {p.key: floats(p.spread.middle)[np.newaxis] for p in self.every}
        check_varied(self.setup, self.figures(values))

    @cached_property
    def sized(self) -> Parameter | None:
        """The chamber's size, where that is a parameter."""
        return next((p for p in self.every if p.key == SIZE), None)

    def figures(self, values: Mapping[str, Array]) -> dict[str, Array]:
        """Return the figures by key of the setup file that go with the parameters' values."""
        found: dict[str, Array] = {}
        for parameter in self.every:
            found |= parameter.figures(self.setup, values[parameter.key])
        return found
