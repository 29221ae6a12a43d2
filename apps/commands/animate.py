"""`mechviz animate`: the animated page, one file that needs no server, or a film of the brake as a solid."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from apps.commands.looks import Cut, Drum, Look, View, Wheel
from apps.commands.options import SetupName, Units, output_option, refused, renamed, stem_of
from apps.terminal import progress, say

if TYPE_CHECKING:
    from geometry.setup import Setup
    from mechviz.solid.take import Take

Theme = Literal["auto", "light", "dark"]

FilmName = Literal["story", "press", "apart"]

PAGES, FILMS = (".html", ".htm"), (".mp4", ".gif")
OUT = "Where to write it: a page NAME.html, or a film NAME.mp4 or NAME.gif. A page in this folder if not given."

EPILOGUE = """Examples:
  mechviz animate worn-drive-16.5x7
  mechviz animate quarry.toml -o quarry.html
  mechviz animate quarry.toml -o quarry.html --theme dark --units metric
  mechviz animate quarry.toml -o story.mp4
  mechviz animate quarry.toml -o cut.gif --film press --cut

The page opens in any browser, from a memory stick too;
it asks for no network. S in it starts the story, ? lists all keys.
A film is drawn picture by picture, which takes some minutes."""


def animate(
    setup: SetupName,
    /,
    *,
    output: Annotated[Path | None, output_option(OUT)] = None,
    theme: Annotated[Theme, Parameter(metavar="THEME", help="Light, dark, or as the reader's system is set.")] = "auto",
    film: Annotated[
        FilmName | None,
        Parameter(
            metavar="WHAT",
            help="Film: a brake's whole story, one application as found, or how it is taken apart. Default: story.",
        ),
    ] = None,
    view: View = None,
    drum: Drum = None,
    wheel: Wheel = False,
    cut: Cut = False,
    units: Units = None,
) -> int:
    """Write the animated page of a brake, or a film of it as a solid."""
    from dataclasses import replace

    from geometry.setup import read_setup

    read = read_setup(setup)
    out = output or Path(f"{stem_of(setup)}.html")
    look = Look(view, drum, wheel, cut)
    if out.suffix.lower() not in FILMS:
        _only_films(film, look)
        size = write_page(read, out, units, theme)
        say(f"Written: {out} ({size / 1000:.0f} kB). Open it in a browser: it needs no server and no network.\n")
        return 0
    if film in (None, "story") and look.asked:
        problem = "the story has views of its own"
        raise refused(look.asked, problem, "leave it out, or add --film press or --film apart")
    write_film(read if units is None else replace(read, system=units), out, Filmed(film or "story", look, theme))
    say(f"Written: {out} ({out.stat().st_size / 1e6:.1f} MB).\n")
    return 0


def _only_films(film: FilmName | None, look: Look) -> None:
    used = "--film" if film else look.asked
    if used:
        raise refused(used, "only a film is made like that", "name a film: -o film.mp4")


def write_page(read: "Setup", out: Path, units: Units = None, theme: Theme = "auto") -> int:
    """Write a setup's page and return its size in bytes."""
    from apps.files import write_atomically
    from mechviz.page.html import page_html

    if out.suffix.lower() not in PAGES:
        problem = f"{out.name or out} is nothing that this can write"
        raise refused("--output", problem, f"use {renamed(out, '.html')}, {renamed(out, '.mp4')} or .gif")
    page = page_html(read, units, theme).encode("utf-8")
    write_atomically(out, page, "--output")
    return len(page)


@dataclass(frozen=True)
class Filmed:
    """What a film shows, how it is looked at, and on which ground; ``auto`` is light."""

    film: FilmName
    look: Look
    theme: Theme = "light"


def write_film(read: "Setup", out: Path, asked: Filmed) -> None:
    """Write a setup's film, telling how far it is; a film that is not finished leaves no file."""
    from apps.files import replaced_atomically
    from mechviz.solid.alone import film
    from mechviz.solid.story import FPS

    takes = _takes(read, asked)
    total = sum(take.frames for take in takes)
    with replaced_atomically(out, "--output") as beside, progress(f"{out.name}: ", total) as told:
        for count in film(read, takes, beside, FPS):
            told(count)


def _takes(read: "Setup", asked: Filmed) -> "list[Take]":
    from geometry.found import condition_of
    from mechviz.solid.story import apart_film, full_story, press_film

    theme = "dark" if asked.theme == "dark" else "light"
    if asked.film == "story":
        return full_story(read, theme)
    shot, condition = asked.look.shot(theme), condition_of(read)
    return press_film(read, condition, shot) if asked.film == "press" else apart_film(condition, shot)
