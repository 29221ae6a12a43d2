"""`mechviz serve`: the three desks on this machine."""

from typing import Annotated

from cyclopts import Parameter

from apps.commands.options import refused
from apps.terminal import say

EPILOGUE = """Examples:
  mechviz serve
  mechviz serve quarry.toml
  mechviz serve --port 9000 --no-browser
  mechviz serve --host 0.0.0.0     (for phones in the same network)

Ctrl C ends it. Whoever can reach the address can use the desks and
see the jobs in them: open it to a network only if you trust it."""


def serve(
    setup: Annotated[
        str | None, Parameter(name="SETUP", help="A setup file, or the name of a built-in setup, to begin with.")
    ] = None,
    /,
    *,
    port: Annotated[
        int | None, Parameter(metavar="NUMBER", help="Where it listens: 8420 if not given, or a free one.")
    ] = None,
    host: Annotated[
        str, Parameter(metavar="NAME", help="The network name or address to listen on; only this machine if not given.")
    ] = "localhost",
    browser: Annotated[
        bool, Parameter(negative="--no-browser", help="Open the browser, where there is one.", show_default=False)
    ] = True,
) -> int:
    """Serve the instructor's, the mechanic's and the designer's desk in the browser, with nothing from elsewhere."""
    text = None if setup is None else _text(setup)
    if port is not None and not 1 <= port <= 65535:
        raise refused("--port", "is no port", "use 1 to 65535", str(port))
    from apps.web.running import run

    return run(text, port, host, browser, say)


def _text(setup: str) -> str:
    """The text of a setup that can be used. Raises `SetupError`."""
    from pathlib import Path

    from geometry.setup import builtin_names, builtin_text, read_setup
    from geometry.setup.text import read_file

    read_setup(setup, judging=True)
    return builtin_text(setup) if setup in builtin_names() else read_file(Path(setup))
