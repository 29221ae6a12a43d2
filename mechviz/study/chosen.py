"""One point of a study as a brake of its own: a setup, and the file that reads back to it."""

from collections.abc import Mapping

import numpy as np

from geometry.arrays import Array
from geometry.quantity import System
from geometry.setup import Setup, read_setup_text
from geometry.setup.many import one_setup_figures, one_setup_values
from geometry.setup.write import setup_text
from mechviz.report.written import quantity
from mechviz.study.parameter import SIZE
from mechviz.study.running import Result, Study


def chosen_text(study: Study, values: Mapping[str, float], system: System | None = None) -> str:
    """Return the setup file of a point, given by its parameters' values in the units used inside.

    `mechviz.checks` makes of it what the study did. As found it is worn and set as its base is.
    """
    units = system or study.base.system
    columns: dict[str, Array] = {p.key: np.array([values[p.key]]) for p in study.parameters}
    figures = one_setup_figures(study.varied.figures(columns), 0)
    words = {p.key: text for p in study.parameters if (text := p.text(values[p.key])) is not None}
    file = one_setup_values(study.base, figures) | words
    told = [f"{p.name} {p.text(values[p.key]) or quantity(values[p.key], p.kind, units)}" for p in study.parameters]
    if SIZE in words:
        file.pop("chamber.marked_limit", None)
    title = study.title or study.base.title
    remarks = [f"One point of a study of {study.base.title}:", *(f"  {line}" for line in told)]
    return setup_text(file, f"{title}: chosen point"[:120], units, remarks)


def chosen_setup(study: Study, values: Mapping[str, float]) -> Setup:
    """Return a point as a setup. Raises `SetupError` with what is wrong where such a brake cannot be."""
    return read_setup_text(chosen_text(study, values), "chosen point")


def point(result: Result, index: int) -> dict[str, float]:
    """Return the values of the parameters at a point of a result, in the units used inside."""
    return {key: float(column[index]) for key, column in result.values.items()}
