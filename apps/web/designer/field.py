"""A map of a study: outcomes over two dimensions, the others held, with the limits across it. Draws nothing."""

import itertools
from dataclasses import dataclass
from textwrap import fill
from typing import Any, cast

import contourpy
import numpy as np
from numpy.typing import NDArray

from apps.web.designer.pick import Pick
from geometry.arrays import Array
from geometry.quantity import KINDS, KindName, System
from geometry.reasons import Reason
from mechviz.chart.frame import round_step
from mechviz.report.written import quantity
from mechviz.study import Outcome, Parameter, Result, Study, solve_at
from mechviz.study.limits import Limit

FINE, COARSE = (73, 55), (41, 31)
"""Points across and up: a map that stands, and one that is solved anew while a slider moves."""
BANDS = 8
NARROW = 26
"""Letters of a line of words on the map."""
Ring = tuple[list[float], list[float]]


@dataclass(frozen=True)
class Axis:
    """One dimension along an edge of the map: its figures as they are shown, and words for those of a list."""

    parameter: Parameter
    inside: Array
    shown: Array
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class Field:
    """Outcomes on a grid, (up, across): those of the map as shown, and how far inside all limits each point is."""

    across: Axis
    up: Axis
    outcome: Outcome
    values: Array
    result: Result

    @property
    def shape(self) -> tuple[int, int]:
        """Rows up and columns across."""
        return self.up.shown.size, self.across.shown.size

    def grid(self, column: NDArray[Any]) -> NDArray[Any]:
        """Return a column of the result as (up, across)."""
        return column.reshape(self.shape)


@dataclass(frozen=True)
class Line:
    """A line of the map with its words, and where these stand best: on its longest piece, away from the edges."""

    pieces: tuple[Ring, ...]
    words: str
    at: tuple[float, float]


@dataclass(frozen=True)
class Area:
    """An area of the map: polygons, each an outer ring and its holes."""

    polygons: tuple[tuple[Ring, ...], ...]
    words: str = ""
    at: tuple[float, float] | None = None


def to_shown(values: Any, kind: KindName, system: System) -> Any:
    """Return figures as they are shown."""
    k = KINDS[kind]
    zero, factor = (k.inch_zero, k.inch_factor) if system == "inch" else (k.metric_zero, k.metric_factor)
    return (values - zero) / factor


def from_shown(value: float, kind: KindName, system: System) -> float:
    """Return a figure that is shown in the unit used inside."""
    k = KINDS[kind]
    zero, factor = (k.inch_zero, k.inch_factor) if system == "inch" else (k.metric_zero, k.metric_factor)
    return value * factor + zero


def field_of(study: Study, axes: tuple[str, str], outcome: str, point: Pick, size: tuple[int, int] = FINE) -> Field:
    """Return the map over two dimensions, the others as they are at a ``point``; every outcome is solved."""
    x, y = (_axis(study, key, count) for key, count in zip(axes, size, strict=True))
    held = point.figures(study.parameters)
    values = {key: np.full(x.inside.size * y.inside.size, figure) for key, figure in held.items()}
    values[axes[0]], values[axes[1]] = np.tile(x.inside, y.inside.size), np.repeat(y.inside, x.inside.size)
    found = solve_at(study, values, workers=1)
    asked = study.outcome(outcome)
    shown = to_shown(found.outcomes[outcome], asked.quantity.kind, study.base.system)
    return Field(x, y, asked, shown.reshape(y.inside.size, x.inside.size), found)


def _axis(study: Study, key: str, count: int) -> Axis:
    parameter = study.parameter(key)
    inside = parameter.spread.grid(count)
    return Axis(parameter, inside, to_shown(inside, parameter.kind, study.base.system), parameter.words)


def levels(values: Array) -> list[float]:
    """Return round figures within the values, some `BANDS` of them; none where nothing varies.

    >>> levels(np.array([90.2, 97.9]))
    [91.0, 92.0, 93.0, 94.0, 95.0, 96.0, 97.0]
    """
    known = values[np.isfinite(values)]
    low, high = (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)
    if not high - low > 1e-9 * max(abs(low), abs(high), 1e-9):
        return []
    step = round_step((high - low) / BANDS)
    return [float(step * n) for n in range(int(np.floor(low / step)) + 1, int(np.ceil(high / step)))]


def bands(field: Field) -> list[tuple[float, Area]]:
    """Return the areas between the levels, each with its share from least to greatest."""
    found = levels(field.values)
    maker = _maker(field, field.values)
    edges = [-np.inf, *found, np.inf]
    each = [_area(maker, low, high) for low, high in itertools.pairwise(edges)]
    return [((n + 0.5) / len(each), area) for n, area in enumerate(each) if area.polygons]


def level_lines(field: Field) -> list[Line]:
    """Return the lines of equal outcome, with the figure of each."""
    maker, system = _maker(field, field.values), field.result.study.base.system
    kind = field.outcome.quantity.kind
    found = levels(field.values)
    made = [_line(maker, level, field, quantity(from_shown(level, kind, system), kind, system)) for level in found]
    return [line for line in made if line]


def limit_lines(field: Field) -> list[tuple[str, Line]]:
    """Return where each limit is met, by its outcome's key, with its figure and source in short."""
    found: list[tuple[str, Line]] = []
    for outcome in field.result.study.outcomes:
        limit = field.result.limits[outcome.key]
        if limit is None:
            continue
        margin = field.grid(limit.margin(field.result.outcomes[outcome.key]))
        line = _line(_maker(field, margin), 0.0, field, label(limit, outcome, field.result.study.base.system))
        found += [(outcome.key, line)] if line else []
    return found


def not_allowed(field: Field) -> Area:
    """Return where something is outside its limit, or no such brake can be."""
    worst = np.full(field.shape, np.inf)
    for outcome in field.result.study.outcomes:
        limit = field.result.limits[outcome.key]
        if limit is not None:
            margin = field.grid(limit.margin(field.result.outcomes[outcome.key]))
            size = np.nanmax(np.abs(margin)) if np.isfinite(margin).any() else 1.0
            worst = np.minimum(worst, margin / (size or 1.0))
    worst = np.where(field.grid(field.result.valid), np.minimum(worst, 1.0), -1e-6)
    return _area(_maker(field, worst), -np.inf, 0.0)


def missing(field: Field) -> Area | None:
    """Return where no such brake can be, with the commonest reason; None where there is none."""
    reasons = field.grid(field.result.reason)
    if not reasons.any():
        return None
    area = _area(_maker(field, np.where(reasons == Reason.EXISTS, 1.0, -1.0)), -np.inf, 0.0)
    codes, counts = np.unique(reasons[reasons != Reason.EXISTS], return_counts=True)
    rows, columns = np.nonzero(reasons)
    near = int(np.argmin(np.hypot(rows - rows.mean(), columns - columns.mean())))
    at = float(field.across.shown[columns[near]]), float(field.up.shown[rows[near]])
    words = fill(f"cannot be: {Reason(int(codes[np.argmax(counts)])).words}", NARROW)
    return Area(area.polygons, words, at)


def limit_words(limit: Limit, outcome: Outcome, system: System) -> str:
    """Return a limit's figures: ``at least 90.0 deg``; ends that differ from point to point are named, not written."""
    kind = outcome.quantity.kind
    said: list[str] = []
    for words, end in (("at least", limit.least), ("at most", limit.most)):
        ends = np.unique(np.ravel(end))
        if np.isfinite(ends).all():
            one = quantity(float(ends[0]), kind, system) if ends.size == 1 else "its chamber's limit"
            said.append(f"{words} {one}")
    return " and ".join(said)


def label(limit: Limit, outcome: Outcome, system: System) -> str:
    """Return what stands at a limit in a plot, in short lines: of what, its figures, its source in short."""
    what = outcome.words.replace(", ", ",\n", 1)
    source = short(limit.source).replace("; ", ";\n")
    return f"{what}\n{limit_words(limit, outcome, system)}\n({source})"


def short(source: str) -> str:
    """Return the beginning of a source, for a label.

    >>> short("mechviz's own rule, no published figure: square should be passed")
    "mechviz's own rule"
    >>> short("49 CFR 393.47(e); the study's own")
    "49 CFR 393.47(e); the study's own"
    """
    return "; ".join(one.partition(",")[0].partition(":")[0] for one in source.split("; "))


def _maker(field: Field, z: Array) -> Any:
    """A contour maker; z may lack (NaN), and a list's two entries are a grid too."""
    masked = np.ma.masked_invalid(z)
    return contourpy.contour_generator(
        field.across.shown, field.up.shown, masked, line_type="Separate", fill_type="OuterOffset"
    )


def _area(maker: Any, low: float, high: float) -> Area:
    points, offsets = maker.filled(low, high)
    return Area(
        tuple(
            tuple(_ring(ring[a:b]) for a, b in itertools.pairwise(cuts))
            for ring, cuts in zip(points, offsets, strict=True)
        )
    )


def _ring(points: Any) -> Ring:
    return cast(list[float], points[:, 0].tolist()), cast(list[float], points[:, 1].tolist())


def _line(maker: Any, level: float, field: Field, words: str) -> Line | None:
    pieces = [piece for piece in maker.lines(level) if len(piece) > 1]
    if not pieces:
        return None
    scale = np.array([np.ptp(field.across.shown) or 1.0, np.ptp(field.up.shown) or 1.0])
    longest = max(pieces, key=lambda piece: float(np.hypot(*(np.diff(piece, axis=0) / scale).T).sum()))
    return Line(tuple(_ring(piece) for piece in pieces), words, _spot(longest))


def _spot(piece: Array) -> tuple[float, float]:
    """Where on a piece its words stand: half-way along it."""
    middle = piece[len(piece) // 2]
    return float(middle[0]), float(middle[1])


def nearest(field: Field, x: float, y: float) -> tuple[float, float]:
    """Return the figures (unit used inside) of a place of the map, within its edges; a list's are its entries."""
    system = field.result.study.base.system
    return _within(field.across, x, system), _within(field.up, y, system)


def _within(axis: Axis, at: float, system: System) -> float:
    low, high = float(axis.shown.min()), float(axis.shown.max())
    if axis.words:
        return float(round(min(max(at, low), high)))
    return from_shown(min(max(at, low), high), axis.parameter.kind, system)
