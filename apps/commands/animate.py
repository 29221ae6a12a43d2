"""`mechviz animate`: the animated page, one file that needs no server."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from apps.commands.options import SetupName, Units, output_option, renamed, stem_of
from apps.terminal import say

if TYPE_CHECKING:
    from geometry.setup import Setup

Theme = Literal["auto", "light", "dark"]

SUFFIXES = (".html", ".htm")
OUT = "Where to write the page, NAME.html; in this folder if not given."

EPILOGUE = """Examples:
  mechviz animate worn-drive-16.5x7
  mechviz animate quarry.toml -o quarry.html
  mechviz animate quarry.toml -o quarry.html --theme dark --units metric

The page opens in any browser, from a memory stick too;
it asks for no network. S in it starts the story, ? lists all keys."""


def animate(
    setup: SetupName,
    /,
    *,
    output: Annotated[Path | None, output_option(OUT)] = None,
    theme: Annotated[Theme, Parameter(metavar="THEME", help="Light, dark, or as the reader's system is set.")] = "auto",
    units: Units = None,
) -> int:
    """Write the animated page of a brake: press it, wear it, heat it, and see what happens behind the wheel."""
    from geometry.setup import read_setup

    read = read_setup(setup)
    out = output or Path(f"{stem_of(setup)}.html")
    size = write_page(read, out, units, theme)
    say(f"Written: {out} ({size / 1000:.0f} kB). Open it in a browser: it needs no server and no network.\n")
    return 0


def write_page(read: "Setup", out: Path, units: Units = None, theme: Theme = "auto") -> int:
    """Write a setup's page and return its size in bytes."""
    from apps.files import write_atomically
    from geometry.errors import Fault, MechvizError
    from mechviz.page.html import page_html

    if out.suffix.lower() not in SUFFIXES:
        problem = (
            f"{out.name or out} is no page: animate writes .html so far, no {out.suffix or 'file without a suffix'}"
        )
        raise MechvizError(Fault("--output", problem, f"use {renamed(out, '.html')}", kind="number"))
    page = page_html(read, units, theme).encode("utf-8")
    write_atomically(out, page, "--output")
    return len(page)
