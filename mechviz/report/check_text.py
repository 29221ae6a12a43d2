"""A check for people: what failed first, each verdict on its own small scale, then one sentence and the cautions."""

from collections.abc import Callable, Sequence

from geometry.quantity import System
from mechviz.checks.row import CheckRow
from mechviz.report.cautions import HEADING, cautions
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.reading import reading_words, written
from mechviz.report.scale import scale_of
from mechviz.report.summary import summary
from mechviz.report.verdicts import WORDS, in_order, is_agreement
from mechviz.report.written import quantity

INDENT = "  "
MOST_CELLS = 44
LEGEND = (
    "Scales: - allowed, / not allowed, | the limit, [ ] the reading, as wide as its resolution, # beyond the limit."
)

BRIEF = ("not-evaluated", "not-applicable")
"""Verdicts that say only what is missing: their rows stand close together, without a source where there is no limit."""

Style = Callable[[str], str]


def check_text(
    title: str,
    rows: Sequence[CheckRow],
    system: System,
    width: int,
    found: Sequence[str] = (),
    automatic: bool = False,
    strong: Style = str,
) -> str:
    """Write a check in at most ``width`` columns.

    Parameters
    ----------
    title : str
        The setup's.
    rows : sequence of CheckRow
        As `run_checks` returns them.
    system : str
        Which units stand first: ``inch`` or ``metric``.
    width : int
        Columns of the screen.
    found : sequence of str
        Lines under the title that say how the brake was found.
    automatic : bool
        Whether the adjuster is automatic: it has a caution of its own.
    strong : callable
        What to do to a verdict's word to make it stand out (bold on a screen that can, nothing elsewhere).

    """
    width = fitting(width)
    lines = [line for text in (title, *found, LEGEND) for line in hang(text, width)]
    above = None
    for row in in_order(rows):
        lines += [] if row.result in BRIEF and row.result == above else [""]
        lines += row_lines(row, system, width, strong)
        above = row.result
    lines += ["", *hang(summary(rows), width)]
    return "\n".join([*lines, "", *boxed(HEADING, cautions(rows, automatic), width)]) + "\n"


def row_lines(row: CheckRow, system: System, width: int, strong: Style = str) -> list[str]:
    """Write one row: verdict and name, the figures, the scale, what to do, and the source."""
    figures = reading_words(row, system)
    sourceless = row.result in BRIEF and row.limit is None
    return [
        *_head(row, width, strong),
        *(hang(figures, width, INDENT) if figures else []),
        *_scale_lines(row, system, width),
        *hang(row.advice if sourceless else f"{row.advice} [{row.source}]", width, INDENT),
    ]


def _head(row: CheckRow, width: int, strong: Style) -> list[str]:
    """The verdict's word, which stands out, and the check's name."""
    word = WORDS[row.result]
    first, *rest = hang(row.check.replace("-", " "), width, f"{word}  ", INDENT)
    return [first.replace(word, strong(word), 1), *rest]


def _scale_lines(row: CheckRow, system: System, width: int) -> list[str]:
    """The scale between where it starts and what its line stands for."""
    if row.limit is None:
        return []
    key = f"{'+' if is_agreement(row) and row.value is not None else '|'} = {_short(row.limit, row, system)}"
    room = width - len(INDENT) - len(key) - len(quantity(row.limit, row.kind, system)) - 4
    scale = scale_of(row, min(MOST_CELLS, room))
    if scale is None:
        return []
    start = "0" if scale.start == 0 else quantity(scale.start, row.kind, system)
    return [f"{INDENT}{start} {scale.bar}  {key}"]


def _short(value: float, row: CheckRow, system: System) -> str:
    """The figure in the first unit only."""
    return written(value, row, system).split(" (")[0]
