"""A lesson's text as plain data: paragraphs, lists and tables of runs, the same for the page, the handout and the film.

A run is letters with at most a weight and a slope. Nothing of what was typed is ever markup again: the page escapes it,
the handout sets it as values.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from html import escape
from typing import Literal

from mechviz.look import fractions

_TORN = re.compile(
    r"(?<=[0-9\u00bc-\u00be\u2044\u2150-\u215e]) (?=[0-9\u00bc-\u00be\u2150-\u215e]|in\b|mm\b|psi|kPa|lbf|N\b|%|\u00b0)"
)


def glued(text: str) -> str:
    """Return a text with its tape fractions set as fractions, and no figure torn from its unit at a line's end."""
    return _TORN.sub("\N{NO-BREAK SPACE}", fractions(text))


@dataclass(frozen=True)
class Run:
    """Letters that look alike."""

    text: str
    strong: bool = False
    slanted: bool = False


Runs = tuple[Run, ...]


@dataclass(frozen=True)
class Block:
    """A paragraph (one row), a list (a row an item) or a table (the first row its head); rows of cells of runs."""

    kind: Literal["paragraph", "bullets", "numbers", "table"]
    rows: tuple[tuple[Runs, ...], ...]

    @property
    def words(self) -> str:
        """All of its letters, in reading order."""
        return " ".join("".join(run.text for run in cell) for row in self.rows for cell in row)

    def told(self, say: Callable[[str], str]) -> "Block":
        """Return the block with every run's text put through ``say``."""
        rows = tuple(tuple(_told(cell, say) for cell in row) for row in self.rows)
        return replace(self, rows=rows)


def _told(cell: Runs, say: Callable[[str], str]) -> Runs:
    return tuple(replace(run, text=say(run.text)) for run in cell)


Text = tuple[Block, ...]


def words_of(text: Text) -> str:
    """Return a text's letters alone."""
    return " ".join(block.words for block in text)


def html_of(text: Text) -> str:
    """Return a text as HTML, every letter of it escaped."""
    return "".join(_BLOCKS[block.kind](block) for block in text)


def data_of(text: Text) -> list[dict[str, object]]:
    """Return a text as values for the handout's template."""
    return [
        {
            "kind": block.kind,
            "rows": [
                [[{"text": glued(r.text), "strong": r.strong, "slanted": r.slanted} for r in cell] for cell in row]
                for row in block.rows
            ],
        }
        for block in text
    ]


def _run(run: Run) -> str:
    inside = escape(glued(run.text)).replace("\n", "<br>")
    inside = f"<em>{inside}</em>" if run.slanted else inside
    return f"<strong>{inside}</strong>" if run.strong else inside


def _cell(cell: Runs) -> str:
    return "".join(_run(run) for run in cell)


def _list(tag: str) -> Callable[[Block], str]:
    return lambda block: f"<{tag}>" + "".join(f"<li>{_cell(row[0])}</li>" for row in block.rows) + f"</{tag}>"


def _table(block: Block) -> str:
    head, *rows = block.rows
    first = "".join(f"<th scope=col>{_cell(cell)}</th>" for cell in head)
    rest = "".join("<tr>" + "".join(f"<td>{_cell(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f"<table><thead><tr>{first}</tr></thead><tbody>{rest}</tbody></table>"


_BLOCKS: dict[str, Callable[[Block], str]] = {
    "paragraph": lambda block: f"<p>{_cell(block.rows[0][0])}</p>",
    "bullets": _list("ul"),
    "numbers": _list("ol"),
    "table": _table,
}
