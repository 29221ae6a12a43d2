"""The worst of a rod's figures from new linings to worn ones, and what it is worth where one of them is missing."""

from dataclasses import dataclass
from math import inf

import numpy as np

from geometry.arrays import Array
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import Result
from mechviz.pushrod.study import CASES


@dataclass(frozen=True)
class Worst:
    """A figure with the least margin.

    ``figures`` are value, limit and margin; ``at`` says with which linings; ``lacking`` with which there is no figure.
    """

    result: Result
    figures: tuple[float | None, float | None, float | None]
    at: str
    lacking: str


def worst(values: Array, allowed: Band) -> Worst:
    """Return the worst of a figure in each of `CASES`.

    One that fails, fails, whatever the others are; a pass needs all of them: where one does not exist, what is left is
    not evaluated.
    """
    absent = [case for case, value in zip(CASES, values, strict=True) if value != value]
    lacking = f" No figure with linings {' or '.join(absent)}." if absent else ""
    margins = [allowed.margin(float(value)) if value == value else inf for value in values]
    place = int(np.argmin(margins))
    value = float(values[place])
    if value != value:
        return Worst("not-evaluated", (None, None, None), f"linings {CASES[place]}", lacking)
    result = judge(value, allowed)
    held = "not-evaluated" if absent and result != "fail" else result
    return Worst(held, (value, allowed.nearest(value), margins[place]), f"linings {CASES[place]}", lacking)
