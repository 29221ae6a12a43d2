"""A verdict on its own small scale: the value against its limit, the mark as wide as the reading's resolution.

Plain characters, so that any terminal, printer or mail shows it: ``-`` is allowed, ``/`` is not, ``|`` is the limit,
``[=o=]`` a reading inside it, ``[###]`` one beyond, ``(?)`` one that is missing, ``+`` a figure to agree with. Where
nothing is judged neither side is told: dots.
"""

from dataclasses import dataclass
from math import floor, isfinite

from mechviz.checks.row import CheckRow
from mechviz.report.verdicts import MARKS, is_agreement

NEAR = 0.1
"""A margin below this share of the limit is looked at closely: the scale then starts near the limit, not at 0."""

ROOM = 0.2
"""Share of the scale left free beyond what has to be shown."""


@dataclass(frozen=True)
class Scale:
    """The bar, and the value at its left end (in the unit used inside)."""

    start: float
    bar: str


@dataclass(frozen=True)
class Axis:
    """A line of ``cells`` characters from ``start`` to ``end``."""

    start: float
    end: float
    cells: int

    def cell(self, value: float) -> int:
        """Return the character in which a value falls."""
        share = (value - self.start) / (self.end - self.start)
        return min(self.cells - 1, max(0, floor(share * self.cells)))


def scale_of(row: CheckRow, cells: int) -> Scale | None:
    """Draw a row's scale in ``cells`` characters, or None where there is no limit to draw it against."""
    if row.limit is None or not isfinite(row.limit) or row.limit < 0:
        return None
    if row.value is None or not isfinite(row.value):
        drawn = row.result == "not-evaluated" and not is_agreement(row)
        return _missing(row.limit, cells) if drawn else None
    if is_agreement(row):
        return _agreement(row, row.value, row.limit, cells) if row.allowance else None
    return _against_limit(row, row.value, row.limit, cells)


def _missing(limit: float, cells: int) -> Scale:
    line = ["."] * cells
    line[Axis(0.0, limit * (1 + ROOM) or 1.0, cells).cell(limit)] = "|"
    middle = cells // 2 - 1
    line[middle : middle + 3] = "(?)"
    return Scale(0.0, "".join(line))


def _against_limit(row: CheckRow, value: float, limit: float, cells: int) -> Scale:
    axis = _axis(row, value, limit, cells)
    outside = row.result == "fail" or (row.margin is not None and row.margin < 0)
    upper = (value > limit) == outside
    judged = row.result != "not-evaluated"
    line = ["-" if judged else "."] * cells
    at = axis.cell(limit)
    if judged and value != limit:
        line[at:] = "/" * (cells - at) if upper else line[at:]
        line[:at] = line[:at] if upper else "/" * at
    centre = _mark(line, axis, row, value, row.resolution)
    at = max(at, centre + 1) if value <= limit else min(at, centre - 1)
    line[at] = "|"
    return Scale(axis.start, "".join(line))


def _axis(row: CheckRow, value: float, limit: float, cells: int) -> Axis:
    """From 0, where the trade starts counting, unless the margin would be too small to see; an arm's angle never."""
    apart = abs(value - limit)
    if value >= 0 and limit > 0 and apart >= NEAR * limit and not row.check.startswith("arm-angle"):
        return Axis(0.0, max(value + row.resolution, limit) * (1 + ROOM), cells)
    reach = max(apart + row.resolution, 2 * row.resolution, 0.02 * limit, 1e-6) * (1 + ROOM)
    return Axis(limit - reach, limit + reach, cells)


def _mark(line: list[str], axis: Axis, row: CheckRow, value: float, half: float) -> int:
    """Draw the reading as wide as its resolution, at least three characters, and return where its middle is."""
    centre = min(len(line) - 2, max(1, axis.cell(value)))
    low, high = min(axis.cell(value - half), centre - 1), max(axis.cell(value + half), centre + 1)
    fill = "#" if row.result == "fail" else "="
    line[low : high + 1] = ["[", *fill * (high - low - 1), "]"]
    line[centre] = MARKS[row.result]
    return centre


def _agreement(row: CheckRow, value: float, expected: float, cells: int) -> Scale:
    """A band round the expected figure, its ends being the limits; the reading is a point on it."""
    reach = max(abs(value - expected), row.allowance, 1e-6) * (1 + ROOM)
    axis = Axis(expected - reach, expected + reach, cells)
    low, high = axis.cell(expected - row.allowance), axis.cell(expected + row.allowance)
    line = ["/" if not low < n < high else "-" for n in range(cells)]
    line[low] = line[high] = "|"
    line[axis.cell(expected)] = "+"
    _mark(line, axis, row, value, 0.0)
    return Scale(axis.start, "".join(line))
