"""`mechviz study`: many brakes at once, any figures against any outcomes, from a study file."""

from collections.abc import Callable, Generator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from apps.commands.options import Json, Units, output_option, refused, renamed
from apps.terminal import progress, say, width

if TYPE_CHECKING:
    from mechviz.study import Study
    from mechviz.study.running import Progress
    from mechviz.study.worked import Worked

EPILOGUE = """Examples:
  mechviz study --starter > mine.toml
  mechviz study arm-and-rod
  mechviz study mine.toml --points 1000000 -o mine.parquet
  mechviz study mine.toml -o map.png -o best.toml
  mechviz check best.toml

Exit code: 0 it was worked out, 2 the input could not be
used."""

MOST_BEST = 50
TABLES, PICTURES, SETUP = (".csv", ".parquet"), (".png", ".pdf", ".svg"), ".toml"
KINDS = (*TABLES, *PICTURES, SETUP)


def study(
    file: Annotated[
        str | None, Parameter(name="FILE", help="A study file, or a built-in study: arm-and-rod or tolerances.")
    ] = None,
    /,
    *,
    points: Annotated[
        int | None, Parameter(name="--points", metavar="COUNT", help="How many points; those of the file's plan.")
    ] = None,
    output: Annotated[
        list[Path] | None,
        output_option(
            "Also write a file, by its ending: the table as .csv or .parquet, the map as .png, .pdf or .svg, the best "
            "point as a setup file, .toml. May be given several times."
        ),
    ] = None,
    best: Annotated[int, Parameter(name="--best", metavar="COUNT", help="How many best points are listed.")] = 4,
    starter: Annotated[
        bool, Parameter(name="--starter", help="Print a study file to start from.", show_default=False)
    ] = False,
    json: Json = False,
    units: Units = None,
) -> int:
    """Study a brake's figures: which can be, which keep every limit, the best, and which tolerance is to blame."""
    from mechviz.study.file import STARTER, read_study, study_names, study_text

    if starter:
        if file not in (None, *study_names()):
            raise refused("FILE", "is no built-in study", f"use {' or '.join(study_names())}", file)
        say(study_text(file or STARTER))
        return 0
    outputs = output or []
    for one in outputs:
        _writable(one)
    if file is None:
        raise refused("FILE", "is missing", "name a study file, or print one to start from with --starter")
    if not 1 <= best <= MOST_BEST:
        raise refused("--best", "is no count of points", f"use 1 to {MOST_BEST}", str(best))
    asked = _with_points(read_study(file), points)
    worked = _work(asked, best)
    for one in outputs:
        _write(worked, one, units)
    say(_written(worked, json, units))
    return 0


def _writable(output: Path) -> None:
    """Refuse an ending that is none of ours before anything is worked out."""
    if output.suffix.lower() not in KINDS:
        fix = f"use one of {', '.join(KINDS)}, for example {renamed(output, '.csv')}"
        raise refused("--output", f"{output.name} is nothing that this can write", fix)


def _with_points(asked: "Study", points: int | None) -> "Study":
    from dataclasses import replace

    from mechviz.study.plan import MOST_POINTS

    if points is None:
        return asked
    if not 1 <= points <= MOST_POINTS:
        raise refused("--points", "is no count of points", f"use 1 to {MOST_POINTS}", str(points))
    return replace(asked, plan=replace(asked.plan, points=points))


def _work(asked: "Study", best: int) -> "Worked":
    from mechviz.study.worked import work

    with _bars() as bar:
        return work(asked, best, bar)


@contextmanager
def _bars() -> Generator[Callable[[str], "Progress"]]:
    """Give a progress bar for one thing after the other."""
    with ExitStack() as open_bars:

        def bar(what: str) -> "Progress":
            open_bars.close()
            shown: list[Callable[[int], None]] = []

            def told(done: int, size: int) -> None:
                if not shown:
                    shown.append(open_bars.enter_context(progress(f"{what[0].upper()}{what[1:]} ", size)))
                shown[0](done)

            return told

        yield bar


def _write(worked: "Worked", output: Path, units: Units) -> None:
    from apps.files import write_atomically

    suffix, system = output.suffix.lower(), units or worked.study.base.system
    if suffix in TABLES:
        from mechviz.study.table import csv_bytes, parquet_bytes

        content = csv_bytes(worked.result) if suffix == ".csv" else parquet_bytes(worked.result)
    elif suffix == SETUP:
        content = _best_setup(worked, units).encode("utf-8")
    else:
        from mechviz.study.map import map_of
        from mechviz.study.map_chart import map_file

        if worked.study.map_of is None:
            raise refused("--output", "is a map, which needs two parameters", "vary another figure, or write a table")
        content = map_file(map_of(worked.study, *worked.study.map_of), output, system)
    write_atomically(output, content, "--output")


def _best_setup(worked: "Worked", units: Units) -> str:
    from geometry.setup import read_setup_text
    from mechviz.study.chosen import chosen_text, point

    if not worked.best.points.size:
        raise refused("--output", "no point is inside every limit, so that there is no best one", "widen a range")
    text = chosen_text(worked.study, point(worked.result, int(worked.best.points[0])), units)
    read_setup_text(text, "best point")  # as found it may be one that cannot be: then its faults are told
    return text


def _written(worked: "Worked", json: bool, units: Units) -> str:
    from mechviz.study.data import study_json
    from mechviz.study.text import study_text

    return study_json(worked) + "\n" if json else study_text(worked, units or worked.study.base.system, width())
