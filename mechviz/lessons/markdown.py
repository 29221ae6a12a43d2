"""A step's Markdown read into blocks: its text, its question and answer, the speaker's notes, the caution.

Only what a lesson needs is Markdown here: paragraphs, lists, tables, strong and slanted words. HTML, pictures and links
are letters like any others, so that a lesson carries no script and asks for no other host.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from markdown_it import MarkdownIt
from markdown_it.token import Token

from geometry.errors import Fault
from mechviz.lessons.blocks import Block, Run, Runs, Text
from mechviz.lessons.faults import Spot, fault

Section = Literal["text", "question", "answer", "notes", "caution"]
SECTIONS: tuple[Section, ...] = ("question", "answer", "notes", "caution")
"""What may stand below a heading ``## Question`` and so on; what stands before the first is the step's text."""


@dataclass(frozen=True)
class Placed:
    """A block and the line of the file on which it begins."""

    block: Block
    line: int


Body = dict[Section, list[Placed]]


@cache
def _reader() -> MarkdownIt:
    reader = MarkdownIt("commonmark", {"html": False}).enable("table")
    return reader.disable(["html_block", "html_inline", "image", "link", "autolink", "reference", "lheading", "hr"])


def read_body(body: str, step: int, first_line: int) -> tuple[Body, list[Fault]]:
    """Return the sections of a step's Markdown, and what is wrong with it; ``first_line`` is where it begins."""
    found: Body = {"text": []}
    faults: list[Fault] = []
    section: Section | None = "text"
    tokens = _reader().parse(body)
    for start, end in _top(tokens):
        token = tokens[start]
        spot = Spot(step, first_line + (token.map[0] if token.map else 0))
        if token.type == "heading_open":
            section, wrong = _section(tokens[start + 1].content, token.tag, spot, found)
            faults += wrong
            continue
        block, wrong = _block(tokens[start:end], spot)
        faults += wrong
        if block is not None and section is not None:
            found.setdefault(section, []).append(Placed(block, spot.line))
    return found, faults


def _top(tokens: Sequence[Token]) -> Iterator[tuple[int, int]]:
    """Where each block of the outermost level begins and ends."""
    start = 0
    for n, token in enumerate(tokens):
        if token.level == 0 and token.nesting >= 0:
            start = n
        if token.level == 0 and token.nesting <= 0:
            yield start, n + 1


def _section(title: str, tag: str, spot: Spot, found: Body) -> tuple[Section | None, list[Fault]]:
    known: Section | None = next((name for name in SECTIONS if name == title.strip().lower()), None)
    if known is None or tag != "h2":
        fix = "write ## Question, ## Answer, ## Notes or ## Caution, or make it a paragraph"
        fix = fix if known is None else f"write ## {known.capitalize()}"
        return known, [fault(spot, "heading", "is no part of a step", fix, title)]
    if known in found:
        return known, [fault(spot, "heading", "stands twice in a step", "make one of the two", title)]
    found[known] = []
    return known, []


def _block(tokens: Sequence[Token], spot: Spot) -> tuple[Block | None, list[Fault]]:
    kind = tokens[0].type
    if kind == "paragraph_open":
        return Block("paragraph", ((_runs(tokens[1]),),)), []
    if kind in ("bullet_list_open", "ordered_list_open"):
        return _listed(tokens, spot)
    if kind == "table_open":
        return _table(tokens), []
    what = {"blockquote_open": "a quotation", "fence": "a block of code", "code_block": "an indented block"}
    fix = "write a paragraph, a list or a table"
    return None, [fault(spot, "text", f"has {what.get(kind, 'something')} that a lesson cannot show", fix)]


def _listed(tokens: Sequence[Token], spot: Spot) -> tuple[Block, list[Fault]]:
    inside = tokens[1:-1]
    faults: list[Fault] = []
    if any(token.type.endswith("list_open") for token in inside):
        faults.append(fault(spot, "text", "has a list within a list", "make one list of it"))
    items: list[tuple[Runs, ...]] = []
    for n, token in enumerate(inside):
        if token.type == "list_item_open" and token.level == 1:
            items.append(((),))
        if token.type == "inline" and items:
            before = items[-1][0]
            gap = (Run(" "),) if before else ()
            items[-1] = ((*before, *gap, *_runs(inside[n])),)
    kind = "bullets" if tokens[0].type == "bullet_list_open" else "numbers"
    return Block(kind, tuple(items)), faults


def _table(tokens: Sequence[Token]) -> Block:
    rows: list[list[Runs]] = []
    for token in tokens:
        if token.type == "tr_open":
            rows.append([])
        elif token.type == "inline":
            rows[-1].append(_runs(token))
    return Block("table", tuple(tuple(row) for row in rows))


def _runs(inline: Token) -> Runs:
    """The letters of a line with their weight and slope."""
    found: list[Run] = []
    strong = slanted = 0
    for token in inline.children or []:
        match token.type:
            case "strong_open" | "strong_close":
                strong += token.nesting
            case "em_open" | "em_close":
                slanted += token.nesting
            case "softbreak":
                found.append(Run(" ", strong > 0, slanted > 0))
            case "hardbreak":
                found.append(Run("\n", strong > 0, slanted > 0))
            case _:
                found.append(Run(token.content, strong > 0, slanted > 0))
    return _joined(found)


def _joined(runs: Sequence[Run]) -> Runs:
    """Runs that look alike as one, so that a name in braces is never in two of them."""
    found: list[Run] = []
    for run in runs:
        last = found[-1] if found else None
        if last and (last.strong, last.slanted) == (run.strong, run.slanted):
            found[-1] = Run(last.text + run.text, run.strong, run.slanted)
        else:
            found.append(run)
    return tuple(run for run in found if run.text)


def text_of(placed: Sequence[Placed]) -> Text:
    """Return the blocks without their places."""
    return tuple(one.block for one in placed)
