"""A table for a narrow screen: as many columns side by side as there is room for, the rest in further blocks."""

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap

LEAST_LABEL, MOST_LABEL = 18, 33
"""Columns for the names of the rows."""

GAP = 1


@dataclass(frozen=True)
class Line:
    """One line of a table: its name, the unit written after it, and a cell for each column; a heading has none."""

    name: str
    unit: str = ""
    cells: tuple[str, ...] = ()


def tabled(heads: Sequence[str], lines: Sequence[Line], width: int) -> list[str]:
    """Write a table in at most ``width`` characters, in blocks parted by an empty line."""
    written: list[str] = []
    done = 0
    while done < len(heads):
        count = _fitting(lines, done, len(heads), width)
        written += ["", *_block(heads, lines, slice(done, done + count), width)]
        done += count
    return written[1:]


def _fitting(lines: Sequence[Line], start: int, end: int, width: int) -> int:
    """How many columns from ``start`` leave room for the names."""
    for count in range(end - start, 1, -1):
        if width - count * (_widest(lines, slice(start, start + count)) + GAP) >= LEAST_LABEL:
            return count
    return 1


def _widest(lines: Sequence[Line], part: slice) -> int:
    return max([12, *(len(cell) for line in lines for cell in line.cells[part])])


def _block(heads: Sequence[str], lines: Sequence[Line], part: slice, width: int) -> list[str]:
    column = _widest(lines, part)
    count = len(heads[part])
    label = max(LEAST_LABEL, min(MOST_LABEL, width - count * (column + GAP)))
    split = [_head(head, column) for head in heads[part]]
    height = max(len(head) for head in split)
    raised = [[*[""] * (height - len(head)), *head] for head in split]
    written = [_line("", [head[n] for head in raised], label, column) for n in range(height)]
    for line in lines:
        if not line.name and not any(line.cells[part]):
            continue
        *above, name = _names(line, label)
        written += [*above, _line(name, line.cells[part], label, column)]
    return written


def _head(head: str, column: int) -> list[str]:
    """A head too long for its column breaks after its first word: ``stroke`` above ``1 3/4 in``."""
    return [head] if len(head) <= column else [part for words in head.split(" ", 1) for part in wrap(words, column)]


def _names(line: Line, label: int) -> list[str]:
    """The name and its unit on one line, or the unit below where there is no room."""
    whole = f"{line.name}, {line.unit}" if line.unit else line.name
    return [whole] if len(whole) <= label or not line.cells else [line.name, f"      {line.unit}"]


def _line(name: str, cells: Sequence[str], label: int, column: int) -> str:
    return (f"{name:<{label}}" + "".join(f"{cell:>{column + GAP}}" for cell in cells)).rstrip()
