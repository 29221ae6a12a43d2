"""No session outlives its visit: after many open and close, none of its objects is left."""

import gc
import threading
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from time import monotonic

import panel as pn
import pytest
from bokeh.client import pull_session

from apps.web import server as served
from apps.web.draft import Draft
from apps.web.server import free_port, server
from apps.web.session import Session
from geometry.setup import builtin_text

VISITS = 30
GONE = 60.0
"""Seconds in which a server that has much else to do has let go of a session."""


class Running:
    """A server in a thread of this process, so that its objects can be counted."""

    def __init__(self) -> None:
        self.ready, self.address = threading.Event(), ""
        self.thread = threading.Thread(target=self._run, daemon=True)
        self.thread.start()
        assert self.ready.wait(60)

    def _run(self) -> None:
        import asyncio

        asyncio.set_event_loop(asyncio.new_event_loop())
        port = free_port(0)
        self.made, self.brakes = server(builtin_text("drive-16.5x7"), port, forget=300)
        self.made.start()
        self.address = f"http://localhost:{port}"
        self.made.io_loop.add_callback(self.ready.set)
        self.made.io_loop.start()

    def end(self) -> None:
        loop = self.made.io_loop
        loop.add_callback(loop.stop)
        self.thread.join(30)
        self.made.stop(wait=False)
        self.brakes.close()


@pytest.fixture
def running(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    monkeypatch.setenv("MECHVIZ_DATA", str(tmp_path_factory.mktemp("data")))
    found = Running()
    yield found
    found.end()


def live() -> Counter[str]:
    """Objects of sessions that something still holds."""
    gc.collect()
    kinds = (Session, Draft, pn.Template, pn.custom.JSComponent)
    return Counter(type(one).__name__ for one in gc.get_objects() if isinstance(one, kinds))


def visit(address: str, desk: str) -> None:
    """Open a desk as a browser does, and close it; in a thread, as that of a worker may have the browser's loop."""

    def come_and_go() -> None:
        pull_session(url=f"{address}/{desk}").close()

    with ThreadPoolExecutor(1) as pool:
        pool.submit(come_and_go).result()


def left_after(running: Running, desk: str, visits: int) -> Counter[str]:
    """What is left of some visits once the server has had the time to let go."""
    before = live()
    for _ in range(visits):
        visit(running.address, desk)
    end = monotonic() + GONE
    while (left := live() - before) and monotonic() < end:
        threading.Event().wait(0.2)
    return left


@pytest.mark.parametrize("desk", ["", "instructor", "mechanic", "designer"])
def test_nothing_of_a_closed_session_is_left(running: Running, desk: str) -> None:
    left_after(running, desk, 1)  # what is made once, at the first visit, is no session's
    assert left_after(running, desk, VISITS) == Counter()


def test_the_count_finds_a_session_that_something_holds(running: Running, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"{__name__}.GONE", 3.0)
    held: list[object] = []
    framed = served.framed
    monkeypatch.setattr(served, "framed", lambda *parts: held.append(parts) or framed(*parts))
    assert left_after(running, "", 3)["Tools"] == 3
    assert len(held) == 3
