"""A solution for people: one table, a column a state, as many columns side by side as the screen has room for."""

from collections.abc import Sequence
from textwrap import wrap

from geometry.quantity import System
from geometry.reasons import Reason
from geometry.states import State
from mechviz.report.layout import fitting, hang
from mechviz.report.solution import Solution
from mechviz.report.solution_rows import Row, rows

LABELS = 20
"""Columns for the names of the rows."""

FOOT = "Computed from the setup's figures, not measured. A dash: there is no such figure in that state."


def solution_text(solved: Solution, system: System, width: int, found: Sequence[str] = ()) -> str:
    """Write a solution in at most ``width`` columns, under its title and the lines that say how it was ``found``."""
    width = fitting(width)
    lines = [line for text in (solved.title, *found) for line in hang(text, width)]
    for block in _blocks(solved.states, width):
        lines += ["", *_table(block, rows(system, solved.leading))]
    for state in solved.impossible:
        lines += ["", *hang(f"{state.name} cannot exist: {state.reason.words}.", width)]
    return "\n".join([*lines, "", *hang(FOOT, width)]) + "\n"


def _blocks(states: Sequence[State], width: int) -> list[Sequence[State]]:
    """As many states as fit side by side, then the rest under them."""
    each = max(1, (width - LABELS) // (COLUMN + 1))
    return [states[n : n + each] for n in range(0, len(states), each)]


COLUMN = 12
"""Columns for a state's figures: ``9870 (13400)``."""


def _table(states: Sequence[State], lines: Sequence[Row]) -> list[str]:
    heads = [wrap(state.name, COLUMN) for state in states]
    height = max(len(head) for head in heads)
    top = [[*[""] * (height - len(head)), *head] for head in heads]
    written = [_line("", [head[n] for head in top]) for n in range(height)]
    if any(state.reason != Reason.EXISTS for state in states):
        written.append(_line("", ["" if s.reason == Reason.EXISTS else "cannot exist" for s in states]))
    for row in lines:
        written += _row_lines(row, states)
    return written


def _row_lines(row: Row, states: Sequence[State]) -> list[str]:
    if row.cell is None:
        return [row.label] if row.label.isupper() else [f"  {row.label}"]
    label = wrap(row.label, LABELS - 2, initial_indent="  ", subsequent_indent="      ")
    return [*label[:-1], _line(label[-1], [row.cell(state) for state in states])]


def _line(label: str, cells: Sequence[str]) -> str:
    return (f"{label:<{LABELS}}" + "".join(f" {cell:>{COLUMN}}" for cell in cells)).rstrip()
