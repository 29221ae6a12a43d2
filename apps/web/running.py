"""Run the server until somebody ends it."""

import asyncio
import signal
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from typing import Any

from tornado.ioloop import IOLoop
from tornado.iostream import StreamClosedError
from tornado.websocket import WebSocketClosedError

from apps.web.server import PORT, free_port, server
from geometry.errors import Fault, MechvizError
from geometry.setup import builtin_names, builtin_text

ANYWHERE = ("0.0.0.0", "::", "")


def run(text: str | None, port: int | None, host: str, browser: bool, say: Callable[[str], None]) -> int:
    """Serve until Ctrl C or a request to end, and return the exit code.

    ``port`` None means the usual one, or a free one where somebody has that. Raises `MechvizError` for a host or a port
    that cannot be listened on.
    """
    chosen = _port(port, host)
    names = _names() if host in ANYWHERE else [host]
    first = text or builtin_text(builtin_names()[0])
    made, brakes = server(first, chosen, host, names)
    made.io_loop.add_callback(brakes.warm, first)
    made.io_loop.add_callback(_told_of_faults_only)
    try:
        made.start()
        say(_announced(chosen, port, host, names))
        loop = made.io_loop
        for ending in (signal.SIGINT, signal.SIGTERM):
            signal.signal(ending, _stopping(loop))
        if browser:
            loop.add_callback(_opened, f"http://localhost:{chosen}/")
        loop.start()
    finally:
        made.stop(wait=False)
        brakes.close()
    say("Stopped.\n")
    return 0


def _told_of_faults_only() -> None:
    """Keep the terminal for what is wrong: a browser that goes while something is sent to it is not."""
    asyncio.get_running_loop().set_exception_handler(_unless_gone)


def _unless_gone(loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
    if not isinstance(context.get("exception"), WebSocketClosedError | StreamClosedError):
        loop.default_exception_handler(context)


def _stopping(loop: IOLoop) -> Callable[[int, object], None]:
    def stop(_: int, __: object) -> None:
        loop.add_callback_from_signal(loop.stop)

    return stop


def _port(port: int | None, host: str) -> int:
    wanted = port or PORT
    try:
        found = free_port(wanted, host)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise MechvizError(
            Fault(
                "--host", f"cannot be listened on: {reason}", "use localhost, or 0.0.0.0 for a network", host, "number"
            )
        ) from None
    if port and found != port:
        raise MechvizError(Fault("--port", "is taken", f"use another, such as {found}", str(port), "number"))
    return found


def _announced(port: int, wanted: int | None, host: str, names: list[str]) -> str:
    """What is said when it runs: where to look, and how to end it."""
    taken = "" if wanted or port == PORT else f"Port {PORT} is taken, so it is another one.\n"
    others = "".join(f"  http://{name}:{port}/\n" for name in names if host in ANYWHERE)
    network = f"From the same network:\n{others}" if others else ""
    return f"{taken}The desks are at\n  http://localhost:{port}/\n{network}Ctrl C ends it.\n"


def _names() -> list[str]:
    """The names under which this machine may be called from its network."""
    import socket

    names = [socket.gethostname()]
    with suppress(OSError):
        names += [str(found[4][0]) for found in socket.getaddrinfo(names[0], None, socket.AF_INET)]
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(
            ("192.0.2.1", 9)
        )  # a documentation address (RFC 5737): nothing is sent, it only picks the way out
        names.append(str(probe.getsockname()[0]))
    return [name for name in dict.fromkeys(names) if name]


def _opened(address: str) -> None:
    """Open the browser where there is one; where there is none, the address stands on the screen."""
    with suppress(webbrowser.Error):
        webbrowser.get().open(address)
