"""A normal distribution as a few narrower ones: nodes to solve at, and what each stands for around itself."""

from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array, floats

BLUR = 0.6
"""Standard deviation of each narrow distribution over that of the whole: wide enough to leave no gaps between them."""


@dataclass(frozen=True)
class Nodes:
    """Where to solve, with which weight (sum 1), and the sd around each."""

    at: Array
    weight: Array
    sd: float


def normal_nodes(mean: float, sd: float, count: int) -> Nodes:
    """Return nodes whose mixture of normals has the mean and sd asked for, and the higher moments as far as it goes.

    Gauss-Hermite nodes of what the blur leaves of the variance.

    >>> nodes = normal_nodes(10.0, 2.0, 5)
    >>> round(float(nodes.weight @ nodes.at), 6), round(float(nodes.weight @ nodes.at**2 + nodes.sd**2), 6)
    (10.0, 104.0)
    """
    x, weight = np.polynomial.hermite_e.hermegauss(count)
    return Nodes(floats(mean + sd * np.sqrt(1 - BLUR**2) * x), floats(weight / weight.sum()), BLUR * sd)
