"""How fast the designer's desk answers: ``python -m tests.benchmarks.designer``.

What the server does from a slider's message to the patch that is sent (map, table of the point, their serialization),
for the ready study with one more dimension held and for the most outcomes that can be asked for; and a million points.
Wanted: 60 ms at the 95th percentile. The processor's time is without what else runs on the machine.
"""

import sys
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import panel as pn
from bokeh.core.serialization import Serializer
from bokeh.document import Document
from bokeh.document.events import DocumentPatchedEvent

from apps.web.brakes import Brakes
from apps.web.designer.acts import do
from apps.web.designer.desk import Desk
from apps.web.designer.page import Page
from apps.web.designer.state import DesignerState
from apps.web.designer.varied import sensible
from apps.web.session import Session
from geometry.setup import builtin_text, read_setup
from mechviz.study import run

MOVES = 200
HELD, ACROSS = "linkage.pin_reach", "linkage.arm_length"


class Nothing(Brakes):
    """A store of brakes that makes none: the moving picture waits until the slider stands."""

    def __init__(self) -> None:
        """Begin empty."""

    def name(self, text: str, *_: object) -> str:
        """Name every brake alike."""
        return str(len(text))


def page(asked: int) -> tuple[Desk, Page, Document]:
    """Return a desk with one dimension held, its page, and the document that its models are in."""
    made = Desk(Session(builtin_text("drive-16.5x7")), lambda act: act())
    made.state = DesignerState(ran=True)
    made.state.vary(sensible(read_setup("drive-16.5x7"), HELD))
    if asked > 3:
        do(made, "lifetime", {})
        made.state.change(asked=made.state.asked[:asked])
    shown = Page(made, Nothing())
    document = Document()
    for part in shown.parts.values():
        document.add_root(part.get_root(document))
    return made, shown, document


def moves(key: str, asked: int) -> list[tuple[float, float]]:
    """Return how long (ms) each of many moves of a slider took: the processor, and by the clock."""
    made, _, document = page(asked)
    patches: list[object] = []
    document.on_change(patches.append)
    found: list[tuple[float, float]] = []
    for n in range(MOVES + 10):
        patches.clear()
        began, clock = time.process_time(), time.perf_counter()
        made.slid(key, 140.0 + 12.0 * np.sin(n / 7), end=False)
        sent = serialized(document, patches)
        found.append((1e3 * (time.process_time() - began), 1e3 * (time.perf_counter() - clock)))
        assert sent > 200, "something is drawn anew at each move"
    return found[10:]


def poses() -> list[tuple[float, float]]:
    """Return how long (ms) each of many light answers took that move the brake: the processor, and by the clock."""
    made, shown, _ = page(3)
    view, sent = shown.brake, list[Any]()
    view.loaded, view.answered = view.source, sent.append
    found: list[tuple[float, float]] = []
    for n in range(MOVES // 4 + 3):
        began, clock = time.process_time(), time.perf_counter()
        view.follow(made.text_of(made.pick.moved(ACROSS, 140.0 + 12.0 * np.sin(n / 7))))
        found.append((1e3 * (time.process_time() - began), 1e3 * (time.perf_counter() - clock)))
        assert len(sent) == n + 1, "the brake is told at each move"
    return found[3:]


def serialized(document: Document, patches: list[object]) -> int:
    """Return how many bytes the changes are as they are sent."""
    writer = Serializer(references=document.models.synced_references)
    return len(
        str([writer.encode(one.to_serializable(writer)) for one in patches if isinstance(one, DocumentPatchedEvent)])
    )


def timed(what: Callable[[], object]) -> float:
    """Return how long something takes, s."""
    began = time.perf_counter()
    what()
    return time.perf_counter() - began


def main() -> None:
    """Print the figures."""
    pn.extension()
    print("ms from a slider's message to its patch          processor         by the clock")
    print("                                               median   95 %      median   95 %")
    for words, key, asked in (
        ("held dimension, 3 outcomes (map anew)", HELD, 3),
        ("held dimension, 12 outcomes (map anew)", HELD, 12),
        ("dimension of the map, 3 outcomes (mark)", ACROSS, 3),
    ):
        middle, late = np.quantile(np.array(moves(key, asked)), [0.5, 0.95], axis=0)
        print(f"{words:44}  {middle[0]:6.1f} {late[0]:6.1f}      {middle[1]:6.1f} {late[1]:6.1f}")
    middle, late = np.quantile(np.array(poses()), [0.5, 0.95], axis=0)
    words = "the brake itself (light answer)"
    print(f"{words:44}  {middle[0]:6.1f} {late[0]:6.1f}      {middle[1]:6.1f} {late[1]:6.1f}")
    made, _, _ = page(3)
    made.state.change(points=1_000_000, kind="monte-carlo")
    study = made.question.study
    assert study is not None
    print(f"1,000,000 points, 3 dimensions, 3 outcomes: {timed(lambda: run(study)):.1f} s")


if __name__ == "__main__":
    sys.exit(main())
