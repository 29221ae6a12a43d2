"""`mechviz air`: what the air does over time, and what the brake makes of it: pressed, parked, leaking, lost."""

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
from apps.terminal import say, width

if TYPE_CHECKING:
    from mechviz.air.study import Study

MOST_POINTS = 100_000

EPILOGUE = """Examples:
  mechviz air drive-16.5x7
  mechviz air drive-16.5x7 --scenario compound
  mechviz air trailer-16.5x7 --scenario slow-leak -o leak.png
  mechviz air quarry.toml --reservoir "110 psi" --csv > air.csv

Exit code: 0 it was worked out, 2 the input could not be
used."""

ScenarioName = Literal["story", "press", "park", "compound", "slow-leak", "sudden-loss", "loss-while-braking"]


def air(
    setup: SetupName,
    /,
    *,
    scenario: Annotated[ScenarioName, Parameter(metavar="NAME", help="What is done to the air.")] = "story",
    reservoir: Annotated[
        str | None, quantity_option("reservoir", "PRESSURE", "In the reservoir at the beginning; 100 psi.")
    ] = None,
    points: Annotated[int, Parameter(metavar="COUNT", help="How many times JSON and CSV list.")] = 101,
    output: Annotated[
        Path | None, Parameter(name=("--output", "-o"), metavar="FILE", help="Also draw it: .svg, .png or .pdf.")
    ] = None,
    json: Json = False,
    csv: Csv = False,
    units: Units = None,
) -> int:
    """Follow the air through a scenario: reservoir, spring-brake line and chamber, and stroke, spring and push."""
    from geometry.setup import read_setup
    from mechviz.air.study import study

    one_format(json, csv)
    counted(points, MOST_POINTS, "times")
    read = read_setup(setup, judging=True)
    with as_typed({"air.reservoir": "--reservoir"}):
        told = study(read, scenario, typed_figure(reservoir, "pressure", "--reservoir"))
    if output is not None:
        _draw(told, output, units)
    say(_written(told, points, json, csv, units))
    return 0


def _draw(told: "Study", output: Path, units: Units) -> None:
    from apps.files import write_atomically
    from mechviz.air.chart import chart_file

    write_atomically(output, chart_file(told, output, units or told.setup.system), "--output")


def _written(told: "Study", points: int, json: bool, csv: bool, units: Units) -> str:
    from mechviz.air.data import air_json, records
    from mechviz.air.study import listed_times
    from mechviz.air.text import air_text
    from mechviz.report.table_csv import csv_text

    if json or csv:
        states = told.at(listed_times(told, points))
        return air_json(told, states) + "\n" if json else csv_text(records(states), told.setup.title)
    return air_text(told, units or told.setup.system, width())
