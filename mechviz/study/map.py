"""A map: one outcome over two parameters, the others held, with the lines at which limits are met."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Any

import numpy as np

from geometry.arrays import Array, Mask
from mechviz.study.limits import Limit
from mechviz.study.outcome import Outcome
from mechviz.study.parameter import SIZE, Parameter
from mechviz.study.running import Progress, Result, Study, solve_at

ACROSS, UP = 161, 121
"""Points of a map: fine enough that lines between them show no corners."""
Path = Array
"""(points, 2): x and y in the units used inside."""


@dataclass(frozen=True)
class Map:
    """A study's outcomes on a grid of two parameters: every array is (``up``, ``across``).

    ``x`` and ``y`` are the parameters, ``outcome`` the one that is shown, ``across`` and ``up`` the figures along the
    axes, ``held`` the values of all others.
    """

    x: Parameter
    y: Parameter
    outcome: Outcome
    across: Array
    up: Array
    held: dict[str, float]
    result: Result

    def grid(self, column: Array) -> Array:
        """Return a column of the result as the map's grid."""
        return column.reshape(self.up.size, self.across.size)

    @cached_property
    def values(self) -> Array:
        """The outcome, NaN where it does not exist."""
        return self.grid(self.result.outcomes[self.outcome.key])

    @cached_property
    def inside(self) -> Mask:
        """Where all outcomes exist and are inside their limits."""
        return self.result.inside.reshape(self.up.size, self.across.size)

    def margin(self, key: str) -> Array:
        """Return how far inside its limit an outcome is, over the grid."""
        limit = self.result.limits[key]
        assert limit is not None, f"{key} has no limit"
        return self.grid(limit.margin(self.result.outcomes[key]))

    @property
    def limited(self) -> list[tuple[Outcome, Limit]]:
        """The outcomes that have a limit."""
        found = ((o, self.result.limits[o.key]) for o in self.result.study.outcomes)
        return [(outcome, limit) for outcome, limit in found if limit is not None]

    def lines(self, level: float) -> list[Path]:
        """Return the lines along which the outcome has a value."""
        return lines_of(self.across, self.up, self.values, level)

    def limit_lines(self, key: str) -> list[Path]:
        """Return the lines along which an outcome is at its limit."""
        return lines_of(self.across, self.up, self.margin(key), 0.0)


def map_of(
    study: Study,
    x: str,
    y: str,
    outcome: str,
    held: Mapping[str, float] | None = None,
    size: tuple[int, int] = (ACROSS, UP),
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Map:
    """Return the map of an outcome (its key) over two parameters (their keys), from end to end of their spreads.

    All others are ``held``: at the values given, else at the base's own figure where their spread has it, else at the
    spread's middle. ``size`` is how many points across and up. Raises `KeyError` for a key that the study has not.
    """
    across, up = study.parameter(x), study.parameter(y)
    at = {p.key: usual_value(study, p) for p in study.parameters if p.key not in (x, y)} | dict(held or {})
    at = {key: value for key, value in at.items() if key not in (x, y)}
    xs, ys = across.spread.grid(size[0]), up.spread.grid(size[1])
    mesh = np.meshgrid(xs, ys)
    values = {x: mesh[0].reshape(-1), y: mesh[1].reshape(-1)}
    values |= {key: np.full(xs.size * ys.size, value) for key, value in at.items()}
    result = solve_at(study, values, progress, cancelled)
    return Map(across, up, study.outcome(outcome), xs, ys, at, result)


def usual_value(study: Study, parameter: Parameter) -> float:
    """Return the base's own figure of a parameter where its spread has that, else the spread's middle."""
    low, high = parameter.spread.ends
    own: Any = study.base.values.get(parameter.key)
    if parameter.key == SIZE:
        return float(parameter.words.index(own)) if own in parameter.words else parameter.spread.middle
    return float(own) if isinstance(own, float) and low <= own <= high else parameter.spread.middle


def lines_of(across: Array, up: Array, values: Array, level: float) -> list[Path]:
    """Return the contour lines of a grid at a level, longest first; none where a value is missing."""
    lines: list[Path] = list(_contours(across, up, values).lines(level))
    return sorted(lines, key=lambda line: -len(line))


def areas_of(across: Array, up: Array, values: Array, low: float, high: float) -> list[list[Path]]:
    """Return the areas of a grid between two levels: each an outer ring and the rings of its holes."""
    points, offsets = _contours(across, up, values).filled(low, high)
    return [[ring[start:end] for start, end in pairwise(of.tolist())] for ring, of in zip(points, offsets, strict=True)]


def _contours(across: Array, up: Array, values: Array) -> Any:
    import contourpy

    masked = np.ma.masked_invalid(values)
    return contourpy.contour_generator(
        across,
        up,
        masked,
        corner_mask=True,
        line_type=contourpy.LineType.Separate,
        fill_type=contourpy.FillType.OuterOffset,
    )


def with_ends(study: Study, key: str, low: float, high: float) -> Study:
    """Return a study with a parameter spread evenly between other ends, as a map that is zoomed needs it."""
    from mechviz.study.spread import Uniform

    other = tuple(replace(p, spread=Uniform(low, high)) if p.key == key else p for p in study.parameters)
    return replace(study, parameters=other)
