"""`mechviz lesson`: a lesson for a class, as one file without a server, a handout to print, or a film."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from apps.commands.options import Units, output_option, refused, renamed
from apps.terminal import progress, say

if TYPE_CHECKING:
    from geometry.setup import Setup
    from mechviz.lessons import Built, Lesson

Theme = Literal["auto", "light", "dark"]
Page = Literal["a4", "letter"]

PAGES, SHEETS, FILMS = (".html", ".htm"), (".pdf",), (".mp4", ".gif")
OUT = "Where to write it: a page NAME.html, a handout NAME.pdf or a film NAME.mp4. A page in this folder if not given."

EPILOGUE = """Examples:
  mechviz lesson
  mechviz lesson 01-behind-the-wheel
  mechviz lesson 01-behind-the-wheel -o handout.pdf
  mechviz lesson 05-wear --setup quarry.toml -o wear.html
  mechviz lesson --starter > my-lesson.md
  mechviz lesson my-lesson.md --check
  mechviz lesson my-lesson.md -o my-lesson.mp4

The page opens in any browser, from a memory stick too; it asks
for no network. In it ? lists the keys; S opens speaker notes."""


def lesson(
    lesson: Annotated[str | None, Parameter(name="LESSON", help="A lesson file, or the name of a shipped one.")] = None,
    /,
    *,
    output: Annotated[Path | None, output_option(OUT)] = None,
    setup: Annotated[
        str | None, Parameter(metavar="SETUP", help="Run it on another brake: a setup file or a built-in name.")
    ] = None,
    check: Annotated[
        bool, Parameter(help="Only say whether the file holds for every brake that it names.", show_default=False)
    ] = False,
    starter: Annotated[bool, Parameter(help="Print a lesson file to start from.", show_default=False)] = False,
    theme: Annotated[Theme, Parameter(metavar="THEME", help="Light, dark, or as the reader's system is set.")] = "auto",
    page: Annotated[Page | None, Parameter(metavar="PAPER", help="Paper of a handout; a4 if not given.")] = None,
    units: Units = None,
) -> int:
    """Write a lesson for a class: steps with questions on the moving brake. Without a name: list the shipped ones."""
    from mechviz.lessons import load_lesson, starter_text

    if starter:
        say(starter_text())
        return 0
    if lesson is None:
        if output is not None or check or setup is not None:
            raise refused("LESSON", "is missing", "name a lesson; mechviz lesson lists the shipped ones")
        say(_listed())
        return 0
    read = load_lesson(lesson)
    if check:
        return _checked(read, setup)
    out = output or Path(f"{read.name}.html")
    _refuse_mixtures(out, page)
    _write(read, _setup(setup), Asked(out, theme, page or "a4", units))
    return 0


@dataclass(frozen=True)
class Asked:
    """Where a lesson is written to, and how it is to look."""

    out: Path
    theme: Theme
    page: Page
    units: Units

    @property
    def suffix(self) -> str:
        """What kind of file."""
        return self.out.suffix.lower()


def _setup(name: str | None) -> "Setup | None":
    from geometry.setup import read_setup

    return None if name is None else read_setup(name)


def _listed() -> str:
    """The shipped lessons, one a line."""
    from mechviz.lessons import load_lesson, shipped_names

    rows = [(name, load_lesson(name)) for name in shipped_names()]
    wide = max(len(name) for name, _ in rows)
    lines = [f"  {name:{wide}}  {one.title} ({len(one.steps)} steps, {one.keys.minutes} min)" for name, one in rows]
    return "\n".join(
        ["Shipped lessons:", *lines, "", "mechviz lesson NAME writes one as a page; --help says more.", ""]
    )


def _checked(read: "Lesson", setup: str | None) -> int:
    from mechviz.lessons import LessonError, check_lesson

    other = _setup(setup)
    faults = check_lesson(read, () if other is None else (other,))
    if faults:
        raise LessonError(list(dict.fromkeys(faults)))
    brakes = ", ".join((*read.brakes, *(() if setup is None else (setup,))))
    steps = "1 step" if len(read.steps) == 1 else f"{len(read.steps)} steps"
    say(f"{read.title}: {steps}, nothing wrong on {brakes}.\n")
    return 0


def _refuse_mixtures(out: Path, page: Page | None) -> None:
    suffix = out.suffix.lower()
    if suffix not in (*PAGES, *SHEETS, *FILMS):
        problem = f"{out.name or out} is nothing that this can write"
        names = f"{renamed(out, '.html')}, {renamed(out, '.pdf')} or {renamed(out, '.mp4')}"
        raise refused("--output", problem, f"use {names}")
    if not out.parent.is_dir():
        raise refused("--output", f"there is no folder {out.parent}", "make it first, or name another one")
    if page is not None and suffix not in SHEETS:
        raise refused("--page", f"only a handout has a paper size, {out.name} has none", "leave it out, or write a PDF")


def _write(read: "Lesson", setup: "Setup | None", asked: Asked) -> None:
    from apps.files import write_atomically
    from mechviz.lessons import build_lesson

    out = asked.out
    built = build_lesson(read, setup, asked.units)
    if asked.suffix in FILMS:
        _film(built, asked)
        say(f"Written: {out} ({out.stat().st_size / 1e6:.1f} MB).\n")
        return
    if asked.suffix in SHEETS:
        from mechviz.lessons.handout import lesson_handout

        content, what = (
            lesson_handout(built, asked.page),
            "Print it, a copy for each: the answers are on the last page.",
        )
    else:
        from mechviz.lessons.data import built_data
        from mechviz.lessons.html import lesson_file

        content = lesson_file(built_data(built, asked.theme)).encode("utf-8")
        what = "Open it in a browser: it needs no server and no network."
    write_atomically(out, content, "--output")
    say(f"Written: {out} ({len(content) / 1000:.0f} kB). {what}\n")


def _film(built: "Built", asked: Asked) -> None:
    from apps.files import replaced_atomically
    from mechviz.lessons.film import lesson_film

    film = lesson_film(built, "dark" if asked.theme == "dark" else "light", asked.suffix)
    with replaced_atomically(asked.out, "--output") as beside, progress(f"{asked.out.name}: ", film.frames) as told:
        for count in film.write(beside):
            told(count)
