"""`mechviz life`: a brake from new linings to worn out, under its adjuster or one that has stopped."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from apps.commands.options import (
    Csv,
    Json,
    SetupName,
    Units,
    as_typed,
    counted,
    one_format,
    quantity_option,
    typed_figure,
)
from apps.terminal import complain, say, width

if TYPE_CHECKING:
    from mechviz.lifetime.study import Study

MOST_POINTS = 10_000

EPILOGUE = """Examples:
  mechviz life drive-16.5x7
  mechviz life drive-16.5x7 --adjuster stuck
  mechviz life quarry.toml --hot "400 degF" -o life.pdf
  mechviz life quarry.toml --points 200 --csv > life.csv

Exit code: 0 it was worked out, 2 the input could not be
used."""

State = Literal["working", "stuck", "backing-off"]
OPTIONS = {"life.free_stroke": "--free-stroke", "life.pressure": "--pressure", "life.hot": "--hot"}
REFUSED = 2


def life(
    setup: SetupName,
    /,
    *,
    adjuster: Annotated[
        State | None,
        Parameter(metavar="STATE", help="working, stuck (never moves) or backing-off; the setup's own if not given."),
    ] = None,
    free_stroke: Annotated[
        str | None, quantity_option("free-stroke", "LENGTH", "Adjusted to this when new; the trade's middle, 5/8 in.")
    ] = None,
    pressure: Annotated[
        str | None, quantity_option("pressure", "PRESSURE", "Chamber pressure of an application; the setup's own.")
    ] = None,
    hot: Annotated[
        str | None,
        quantity_option("hot", "TEMPERATURE", "Drum of a hot application, 70 degF or more; 600 degF."),
    ] = None,
    points: Annotated[int, Parameter(metavar="COUNT", help="How many lining thicknesses are listed.")] = 4,
    output: Annotated[
        Path | None, Parameter(name=("--output", "-o"), metavar="FILE", help="Also draw it: .svg, .png or .pdf.")
    ] = None,
    json: Json = False,
    csv: Csv = False,
    units: Units = None,
) -> int:
    """Follow a brake from new to worn out: stroke cold and hot, angle, gap, cam, force, torque, and what goes first."""
    from geometry.setup import read_setup
    from mechviz.lifetime.start import start_faults
    from mechviz.lifetime.study import Asked, study

    one_format(json, csv)
    counted(points, MOST_POINTS, "lining thicknesses")
    read = read_setup(setup, judging=True)
    asked = Asked(
        adjuster,
        typed_figure(free_stroke, "length", "--free-stroke"),
        typed_figure(pressure, "pressure", "--pressure"),
        typed_figure(hot, "temperature", "--hot"),
    )
    with as_typed(OPTIONS):
        lived = study(read, asked)
        faults = start_faults(lived)
    for fault in faults:
        complain(f"mechviz: {fault.text(units or read.system)}")
    if faults:
        return REFUSED
    if output is not None:
        _draw(lived, output, units)
    say(_written(lived, points, json, csv, units))
    return 0


def _draw(lived: "Study", output: Path, units: Units) -> None:
    from apps.files import write_atomically
    from mechviz.lifetime.chart import chart_file

    write_atomically(output, chart_file(lived, output, units or lived.setup.system), "--output")


def _written(lived: "Study", points: int, json: bool, csv: bool, units: Units) -> str:
    from mechviz.lifetime.data import life_json, records
    from mechviz.lifetime.study import tabled_wears
    from mechviz.lifetime.text import life_text
    from mechviz.report.table_csv import csv_text

    shown = lived.at(tabled_wears(lived, points))
    if json:
        return life_json(lived, shown) + "\n"
    if csv:
        return csv_text(records(shown), lived.setup.title)
    return life_text(lived, shown, units or lived.setup.system, width())
