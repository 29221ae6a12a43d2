"""All points of a study as lines across parallel axes: a component of our own, and the figures that it draws."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

import numpy as np
import param
from numpy.typing import NDArray
from panel.custom import JSComponent

from apps.web.assets import script, sheets
from apps.web.designer.field import limit_words, short, to_shown
from apps.web.designer.frontier import sample
from geometry.arrays import Array, Mask
from geometry.quantity import KindName
from mechviz.chart.frame import decimals, round_step
from mechviz.report.written import unit_word
from mechviz.study import Result
from mechviz.study.limits import Limit

MOST = 2500
"""Lines that are drawn: a browser draws so many at once while a range is brushed."""
STEPS = 1000
"""Steps of an axis in which figures are sent."""
TICKS = 5
Filters = Mapping[str, tuple[float, float]]


@dataclass(frozen=True)
class Scale:
    """One axis: its ends as shown and inside, and everything that the component writes along it."""

    key: str
    kind: KindName
    inside: tuple[float, float]
    data: dict[str, Any]
    words: tuple[str, ...] = ()

    def counted(self, value: float | str) -> float:
        """Return a figure as the axis counts it: a word is its place in the list."""
        if not self.words:
            return float(value)
        return float(self.words.index(str(value))) if value in self.words else float("nan")

    def share(self, values: Any) -> Any:
        """Return how far up the axis figures (unit used inside) stand, 0 to 1."""
        low, high = self.inside
        return (values - low) / (high - low)

    def figure(self, share: float) -> float:
        """Return the figure that so far up stands."""
        low, high = self.inside
        return low + share * (high - low)


def scales(result: Result) -> list[Scale]:
    """Return an axis for each dimension and each outcome that exists anywhere."""
    study, found = result.study, list[Scale]()
    for p in study.parameters:
        made = _scale(result, p.key, p.name, p.kind, result.values[p.key], "", p.words)
        found += [made] if made else []
    for o in study.outcomes:
        made = _scale(result, o.key, o.words, o.quantity.kind, result.outcomes[o.key], o.quantity.verb, ())
        found += [made] if made else []
    return found


def _scale(
    result: Result, key: str, name: str, kind: KindName, values: Array, verb: str, words: tuple[str, ...]
) -> Scale | None:
    known = values[np.isfinite(values)]
    if not known.size:
        return None
    low, high = float(known.min()), float(known.max())
    if not high > low:
        low, high = low - 0.5 * (abs(low) or 1.0), high + 0.5 * (abs(high) or 1.0)
    system = result.study.base.system
    ends = to_shown(low, kind, system), to_shown(high, kind, system)
    step = round_step((ends[1] - ends[0]) / TICKS)
    digits = min(decimals(step) + 1, 4)
    data: dict[str, Any] = {
        "key": key,
        "name": name,
        "unit": unit_word(kind, system),
        "verb": verb,
        "low": ends[0],
        "high": ends[1],
        "digits": digits,
        "ticks": _ticks(ends, step, words),
        "limit": None,
    }
    limit = result.limits.get(key)
    if limit is not None:
        words_of = limit_words(limit, result.study.outcome(key), system)
        data["limit"] = _limit(limit, low, high) | {"words": f"{words_of} ({short(limit.source)})"}
    return Scale(key, kind, (low, high), data, words)


def _ticks(ends: tuple[float, float], step: float, words: tuple[str, ...]) -> list[list[Any]]:
    width = ends[1] - ends[0]
    if words:
        return [[(n - ends[0]) / width, word] for n, word in enumerate(words)]
    first, last = int(np.ceil(ends[0] / step - 1e-9)), int(np.floor(ends[1] / step + 1e-9))
    return [[(n * step - ends[0]) / width, f"{n * step:.{decimals(step)}f}"] for n in range(first, last + 1)]


def _limit(limit: Limit, low: float, high: float) -> dict[str, Any]:
    """Shares of the axis from and to which it is allowed; None where that end is not on it, or differs by point."""
    found: dict[str, Any] = {"least": None, "most": None}
    for name, end in (("least", limit.least), ("most", limit.most)):
        each = np.unique(np.ravel(end))
        share = (float(each[0]) - low) / (high - low) if each.size == 1 and np.isfinite(each).all() else np.nan
        found[name] = share if 0 < share < 1 else None
    return found


def within(result: Result, filters: Filters) -> Mask:
    """Return which points exist and lie within all brushed ranges."""
    good = np.array(result.valid)
    for key, (low, high) in filters.items():
        values = result.values.get(key, result.outcomes.get(key))
        if values is not None:
            good &= (values >= low) & (values <= high)
    return good


@dataclass(frozen=True)
class Drawn:
    """What is drawn: places in the result, their figures as steps up each axis row by row, which are in and allowed.

    ``matching`` of ``size`` points lie within the brushed ranges.
    """

    places: NDArray[np.intp]
    steps: list[int]
    matching: int
    size: int
    inside: list[int]
    brushed: bool = False

    @property
    def words(self) -> str:
        """How many there are and how many are drawn."""
        some = self.places.size
        drawn = (
            f"{some:,} of {self.size:,} lines drawn, taken at random"
            if some < self.size
            else f"all {self.size:,} drawn"
        )
        of = (
            f"{self.matching:,} of {self.size:,} points within the brushed ranges"
            if self.brushed
            else "No range brushed"
        )
        return f"{of}; {drawn}."


def drawn(result: Result, axes: Sequence[Scale], filters: Filters, most: int = MOST) -> Drawn:
    """Return the points to draw: of those within the brushed ranges as many as fit half, the rest from all others."""
    among = np.flatnonzero(result.valid)
    good = within(result, filters)
    matching = np.flatnonzero(good)
    if among.size > most and filters:
        first = sample(matching, most // 2)
        rest = sample(among[~good[among]], most - first.size)
        some = np.concatenate([rest, first])
    else:
        some = sample(among, most)
    columns = [_steps(axis, result, some) for axis in axes]
    steps = np.stack(columns, axis=1).ravel().tolist() if columns else []
    return Drawn(
        some, steps, int(matching.size), int(among.size), result.inside[some].astype(int).tolist(), bool(filters)
    )


def _steps(axis: Scale, result: Result, places: NDArray[np.intp]) -> NDArray[np.int64]:
    values = result.values.get(axis.key, result.outcomes.get(axis.key))
    assert values is not None  # an axis is made of one of the two
    return np.clip(np.round(STEPS * axis.share(values[places])), 0, STEPS).astype(np.int64)


Heard = Callable[[Mapping[str, Any]], None]


class Lines(JSComponent):
    """Parallel axes: ranges are brushed by mouse, finger or keyboard, a line is picked, the rest stands back."""

    axes = param.List(default=[], doc="The axes, as `Scale` has them.")
    steps = param.List(default=[], doc="How far up each axis each line stands, row by row.")
    inside = param.List(default=[], doc="1 for each line that is inside all limits.")
    brushed = param.Dict(default={}, doc="Brushed shares of each axis by key.")
    chosen = param.List(default=[], doc="The point that stands there: steps up each axis, and its words.")
    words = param.String(doc="How many are drawn of how many.")

    _esm = script("lines.js")
    _stylesheets: ClassVar[list[str]] = sheets("controls.css", "designer.css")

    def __init__(self, heard: Heard, **given: Any) -> None:
        super().__init__(sizing_mode="stretch_width", **given)
        self._heard = heard

    def _handle_msg(self, data: Any) -> None:
        match data:
            case {"act": "brush" | "pick" | "clear"}:
                self._heard(data)
            case _:
                pass

    def draw(self, result: Result, axes: Sequence[Scale], filters: Filters) -> Drawn:
        """Show a result under its brushed ranges, and return what is drawn."""
        found = drawn(result, axes, filters)
        shares = {a.key: [a.share(end) for end in filters[a.key]] for a in axes if a.key in filters}
        self.param.update(
            axes=[axis.data for axis in axes],
            steps=found.steps,
            inside=found.inside,
            brushed=shares,
            words=found.words,
        )
        return found
