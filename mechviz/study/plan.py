"""Where a study looks: every combination, or so many points spread over all of them."""

from dataclasses import dataclass
from math import ceil, prod
from typing import Literal

import numpy as np

from geometry.arrays import Array
from mechviz.study.parameter import Parameter

Kind = Literal["grid", "latin-hypercube", "sobol", "monte-carlo"]
KINDS: tuple[Kind, ...] = ("grid", "latin-hypercube", "sobol", "monte-carlo")
MOST_POINTS = 4_000_000


@dataclass(frozen=True)
class Plan:
    """How a study's points are chosen, about so many, from a ``seed``: equal plans give equal points.

    ``grid``: every combination of evenly spaced figures (a list has all of its own). ``latin-hypercube`` and ``sobol``
    fill the space evenly (scipy.stats.qmc; Sobol' points rounded up to a power of two), ``monte-carlo`` at random.
    """

    kind: Kind = "sobol"
    points: int = 4096
    seed: int = 1

    def size(self, parameters: tuple[Parameter, ...]) -> int:
        """Return how many points that will be."""
        if self.kind == "grid":
            return prod(len(axis) for axis in self.axes(parameters))
        return 1 << max(self.points - 1, 0).bit_length() if self.kind == "sobol" else self.points

    def axes(self, parameters: tuple[Parameter, ...]) -> list[Array]:
        """Return the figures of each parameter on a grid."""
        listed = [len(p.spread.grid(2)) for p in parameters if p.spread.words == "list"]
        free = len(parameters) - len(listed)
        each = max(2, ceil((self.points / prod(listed)) ** (1 / free) - 1e-9)) if free else 1
        return [p.spread.grid(each) for p in parameters]

    def values(self, parameters: tuple[Parameter, ...]) -> dict[str, Array]:
        """Return the points: each parameter's values, (points,)."""
        if self.kind == "grid":
            mesh = np.meshgrid(*self.axes(parameters), indexing="ij")
            return {p.key: values.reshape(-1) for p, values in zip(parameters, mesh, strict=True)}
        shares = self.shares(len(parameters))
        return {p.key: p.spread.at(share) for p, share in zip(parameters, shares, strict=True)}

    def shares(self, dimensions: int) -> Array:
        """Return shares between 0 and 1, neither included: (dimensions, points)."""
        if self.kind == "monte-carlo":
            drawn = np.random.default_rng(self.seed).random((dimensions, self.points))
            return np.clip(drawn, 2.0**-54, None)
        from scipy.stats import qmc

        if self.kind == "sobol":
            bits = max(self.points - 1, 0).bit_length()
            found = qmc.Sobol(dimensions, rng=self.seed).random_base2(bits)
        else:
            found = qmc.LatinHypercube(dimensions, rng=self.seed).random(self.points)
        return np.ascontiguousarray(np.clip(found, 2.0**-54, 1 - 2.0**-53).T)
