"""`mechviz draw`: a picture of a brake in one state, or of several side by side, as SVG, PNG or a sheet to print."""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from apps.commands.looks import Apart, Cut, Drum, Look, View, Wheel
from apps.commands.options import SetupName, Units, output_option, refused, renamed, stem_of
from apps.terminal import say

if TYPE_CHECKING:
    from geometry.setup import Setup
    from mechviz.drawing.scene import Scene

Comparison = Literal["events", "life"]
Theme = Literal["light", "dark"]
Page = Literal["a4", "letter"]
Labels = Literal["all", "few", "none"]

EVENTS = ("released", "contact", "applied")
SUFFIXES = (".svg", ".png", ".pdf")
PIXELS = 1920
NO_LOOK = Look()
OUT = "An SVG named after the setup in this folder if not given."

EPILOGUE = """Examples:
  mechviz draw worn-drive-16.5x7
  mechviz draw quarry.toml -o quarry.png --at released --labels all
  mechviz draw quarry.toml -o quarry.svg --at "1 3/4 in"
  mechviz draw quarry.toml -o quarry.pdf --at "60 psi" --page letter
  mechviz draw quarry.toml -o life.png --compare life --theme dark
  mechviz draw quarry.toml --solid --view wheel-side
  mechviz draw quarry.toml --solid --cut -o cut.png
  mechviz draw quarry.toml --solid --apart 1 -o apart.png

SVG opens in any browser, PNG goes on a slide, PDF is a sheet
to print: true to scale, with the key figures and the cautions."""


def draw(
    setup: SetupName,
    /,
    *,
    output: Annotated[Path | None, output_option(f"Where to write it: .svg, .png or .pdf. {OUT}")] = None,
    at: Annotated[
        str | None,
        Parameter(
            metavar="STATE",
            allow_leading_hyphen=True,
            help='released, contact, applied, a stroke ("1 3/4 in") or a pressure ("60 psi"). Default: applied.',
        ),
    ] = None,
    compare: Annotated[
        Comparison | None,
        Parameter(
            metavar="WHAT",
            help="Three states side by side: events (released, contact, applied) or life (new, as found, drum at "
            "600 degF).",
        ),
    ] = None,
    theme: Annotated[Theme, Parameter(metavar="THEME", help="Light or dark ground; a PDF is always white.")] = "light",
    page: Annotated[Page | None, Parameter(metavar="PAPER", help="Paper of a PDF; a4 if not given.")] = None,
    labels: Annotated[
        Labels | None, Parameter(metavar="WHICH", help="How many parts are named; few if not given.")
    ] = None,
    solid: Annotated[
        bool,
        Parameter(help="Draw the brake as a solid, in perspective, instead of in its two planes.", show_default=False),
    ] = False,
    view: View = None,
    drum: Drum = None,
    wheel: Wheel = False,
    cut: Cut = False,
    apart: Apart = None,
    units: Units = None,
) -> int:
    """Draw a brake true to scale: what pushes what, the stroke against its limit, the arm's angle, the gaps."""
    asked = Asked(at, compare, theme, page, labels, Look(view, drum, wheel, cut, apart), solid)
    default = ".png" if solid else ".svg"
    out = output or Path(f"{stem_of(setup)}-{_slug(compare or at or 'applied')}{'-solid' if solid else ''}{default}")
    _refuse_mixtures(asked, out)
    size = write_picture(_read(setup, units), asked, out)
    say(f"Written: {out} ({size / 1000:.0f} kB). {_what_it_is(out, solid)}\n")
    return 0


@dataclass(frozen=True)
class Asked:
    """What was asked for, None where nothing was."""

    at: str | None = None
    compare: Comparison | None = None
    theme: Theme = "light"
    page: Page | None = None
    labels: Labels | None = None
    look: Look = NO_LOOK
    solid: bool = False


def write_picture(read: "Setup", asked: Asked, out: Path) -> int:
    """Write a setup's picture and return its size in bytes."""
    from apps.files import write_atomically

    content = _compared(read, asked, out) if asked.compare else _one_state(read, asked, out)
    write_atomically(out, content, "--output")
    return len(content)


def _read(setup: str, units: Units) -> "Setup":
    from dataclasses import replace

    from geometry.setup import read_setup

    read = read_setup(setup)
    return read if units is None else replace(read, system=units)


def _one_state(read: "Setup", asked: Asked, out: Path) -> bytes:
    from geometry.found import condition_of
    from mechviz.drawing.picture import picture
    from mechviz.drawing.scene import scene_at

    event, kind = _state(asked.at or "applied")
    scene = scene_at(read, condition_of(read), event, kind, asked=_tidy(asked.at or ""))
    if not scene.exists:
        raise refused("--at", f"the state cannot exist: {scene.state.reason.words}", NEARER, asked.at or "applied")
    if asked.solid:
        return _solid(scene, asked, out)
    if out.suffix.lower() == ".pdf":
        from mechviz.drawing.printed import sheet

        return sheet(scene, asked.page or "a4", asked.labels or "few")
    return _rendered(picture(scene, asked.theme, asked.labels or "few").svg, asked, out)


def _solid(scene: "Scene", asked: Asked, out: Path) -> bytes:
    """The brake as a solid, on one page where it is printed."""
    from mechviz.export import svg_to_pdf
    from mechviz.solid.alone import still_svg

    printed = out.suffix.lower() == ".pdf"
    svg = still_svg(scene, asked.look.shot("print" if printed else asked.theme), asked.labels or "few")
    return svg_to_pdf(svg, asked.page or "a4") if printed else _rendered(svg, asked, out)


NEARER = "ask for a state nearer to released, or see what mechviz check says of the brake"


def _compared(read: "Setup", asked: Asked, out: Path) -> bytes:
    from mechviz.drawing.compare import comparison

    assert asked.compare is not None
    at = asked.at or "applied"
    if out.suffix.lower() == ".pdf":
        from mechviz.drawing.printed import compared_sheet

        return compared_sheet(read, asked.compare, at, asked.page or "a4")
    return _rendered(comparison(read, asked.compare, at, asked.theme).svg, asked, out)


def _rendered(svg: str, asked: Asked, out: Path) -> bytes:
    if out.suffix.lower() == ".svg":
        return svg.encode("utf-8")
    from mechviz.export import svg_to_png

    return svg_to_png(svg, PIXELS, asked.theme)


def _state(typed: str) -> tuple[str | float, str]:
    """What was typed as a state: an event's name, a stroke in mm or a pressure in MPa, and which it is."""
    from geometry.errors import PartError
    from geometry.units import parse, typed_system

    name = typed.strip().lower()
    if name in EVENTS:
        return name, "event"
    if typed_system(typed) is not None:
        return parse(typed, "length", "--at"), "stroke"
    try:
        return parse(typed, "pressure", "--at"), "pressure"
    except PartError:
        fix = 'use released, contact, applied, a stroke such as "1 3/4 in" or a pressure such as "60 psi"'
        raise refused("--at", "is no state that this can draw", fix, typed) from None


def _refuse_mixtures(asked: Asked, out: Path) -> None:
    """Refuse what does not go together, instead of leaving a part of it out without a word."""
    suffix = out.suffix.lower()
    if suffix not in SUFFIXES:
        problem = f"{out.name or out} is no picture that this can write"
        raise refused("--output", problem, f"use .svg, .png or .pdf: {renamed(out, '.svg')}")
    if not out.parent.is_dir():
        raise refused("--output", f"there is no folder {out.parent}", "make it first, or name another one")
    if suffix == ".pdf" and asked.theme == "dark":
        raise refused("--theme", "a PDF is always printed on white", "leave it out, or write a PNG", "dark")
    if suffix != ".pdf" and asked.page is not None:
        raise refused("--page", f"only a PDF has a paper size, {out.name} has none", "leave it out, or write a PDF")
    if not asked.solid and asked.look.asked:
        raise refused(asked.look.asked, "only the solid brake is looked at like that", "add --solid")
    if asked.solid and asked.compare:
        raise refused("--compare", "solids are not drawn side by side", "leave it or --solid out", asked.compare)
    if asked.compare and asked.labels:
        raise refused("--labels", "parts are not named side by side", "leave it out, or draw one state")
    if asked.compare == "events" and asked.at:
        raise refused("--at", "events are three states already", "leave one of the two out", asked.at)
    if asked.compare == "life" and asked.at and asked.at not in EVENTS:
        raise refused("--at", "a brake's life is drawn at an event", "use released, contact or applied", asked.at)


def _slug(typed: str) -> str:
    """What was typed, fit for a file's name: ``1-3-4-in``."""
    return re.sub(r"[^0-9a-z.]+", "-", typed.strip().lower()).strip("-.") or "state"


def _tidy(typed: str) -> str:
    return " ".join(typed.split())


def _what_it_is(out: Path, solid: bool) -> str:
    return {
        ".svg": "Open it in a browser; it needs nothing else.",
        ".png": f"{PIXELS} pixels wide.",
        ".pdf": "A page to print, in perspective: no length can be taken from it."
        if solid
        else "Print it at 100 %: the bar on it tells whether the scale was kept.",
    }[out.suffix.lower()]
