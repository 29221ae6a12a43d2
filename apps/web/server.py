"""The server: three desks and what they are made of, on this machine, with nothing from anywhere else."""

import socket
from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

import panel as pn
from bokeh.server.server import Server
from panel.io.server import get_server
from tornado.web import StaticFileHandler

from apps.web.brakes import Brakes
from apps.web.designer.page import designer_desk
from apps.web.files import PAGE_MODULE, MadeData, MadeFile, Module, Picture
from apps.web.folders import own_folder
from apps.web.frame import framed
from apps.web.instructor.desk import instructor_page
from apps.web.mechanic.desk import mechanic_page
from apps.web.mechanic.served import JobSheetPdf, TapePicture
from apps.web.mechanic.store import JobStore
from apps.web.session import Session, visiting
from apps.web.start import START, start_html
from apps.web.tools import Tools
from apps.web.visit import Visit

HOST = "localhost"
PORT = 8420
MOST_MESSAGE = 2 * 1024 * 1024
"""Bytes of one message from a browser: a setup file is bounded far below, a list of readings too."""

FORGET = 15_000
"""Milliseconds for which a visit is kept whose browser has gone: it may come back from a dead spot."""

DeskPage = Callable[[Session, Brakes], pn.Template]


def start_page(session: Session, _: Brakes) -> pn.Template:
    """Return the first page."""
    return framed(START, Tools(session.draft), {}, start_html())


def pages(store: JobStore) -> dict[str, DeskPage]:
    """Return what stands where; ``store`` keeps the mechanic's jobs."""
    return {
        "/": start_page,
        "/instructor": instructor_page,
        "/mechanic": partial(mechanic_page, store=store),
        "/designer": designer_desk,
    }


def free_port(wanted: int, host: str = HOST) -> int:
    """Return the port that is wanted if nobody has it, else one that is free."""
    with socket.socket() as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((host, wanted))
        except OSError:
            trial.bind((host, 0))
        return int(trial.getsockname()[1])


def server(
    first: str, port: int, host: str = HOST, origins: Sequence[str] = (), forget: int = FORGET
) -> tuple[Server, Brakes]:
    """Return a server that listens but does not run yet, and the store of brakes to close after it.

    ``first`` is the text of the setup that every desk begins with where the address names none; ``origins`` are the
    names under which browsers may call it; ``forget`` is how long (ms) a visit is kept whose browser has gone.
    """
    brakes, store = Brakes(), JobStore()
    pn.extension()
    served: dict[str, Any] = {slug: _served(build, first, brakes) for slug, build in pages(store).items()}
    own = [
        (rf"/{PAGE_MODULE}", Module),
        (r"/pictures/([\w.-]+)\.svg", Picture),
        (r"/films/([\w-]+\.mp4)", StaticFileHandler, {"path": str(own_folder("films"))}),
        (r"/tape/(light|dark)/([\w-]+)\.svg", TapePicture),
        (r"/jobs/([0-9a-f]{12})\.pdf", JobSheetPdf, {"brakes": brakes, "store": store}),
        (r"/made/([0-9a-f]+)\.json", MadeData, {"brakes": brakes}),
        (r"/made/([0-9a-f]+)/([\w.-]+)\.(html|pdf)", MadeFile, {"brakes": brakes}),
    ]
    made = get_server(
        served,
        port=port,
        address=host,
        websocket_origin=[f"{name}:{port}" for name in dict.fromkeys(["localhost", "127.0.0.1", host, *origins])],
        extra_patterns=own,
        websocket_max_message_size=MOST_MESSAGE,
        unused_session_lifetime_milliseconds=forget,
        check_unused_sessions_milliseconds=forget,
        title="mechviz",
    )
    return made, brakes


def _served(build: DeskPage, first: str, brakes: Brakes) -> Callable[[], pn.Template]:
    """What Panel calls for each visit: it takes a function, and no other callable."""

    def visit() -> pn.Template:
        session = visiting(first)
        page = build(session, brakes)
        page.add_panel("visit", Visit(session))
        return page

    return visit
