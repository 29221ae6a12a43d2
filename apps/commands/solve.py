"""`mechviz solve`: the three events of an application, and any stroke or pressure asked for."""

from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from apps.commands.options import Csv, Json, SetupName, Units, one_format
from apps.terminal import complain, on_screen, say, width

if TYPE_CHECKING:
    from geometry.setup import Setup
    from mechviz.report.solution import Asked, Solution

What = Literal["stroke", "pressure"]
ALL_EXIST, SOME_CANNOT_EXIST = 0, 1

EPILOGUE = """Examples:
  mechviz solve drive-16.5x7
  mechviz solve quarry.toml --stroke "2 in" --stroke "44 mm"
  mechviz solve quarry.toml --pressure "60 psi"
  mechviz solve quarry.toml --units metric
  mechviz solve quarry.toml --csv > quarry.csv

Exit code: 0 every state exists, 1 one of them cannot exist,
2 the input could not be used."""


def solve(
    setup: SetupName,
    /,
    *,
    stroke: Annotated[
        tuple[str, ...],
        Parameter(metavar="LENGTH", allow_leading_hyphen=True, help="Also at this stroke, may be repeated."),
    ] = (),
    pressure: Annotated[
        tuple[str, ...],
        Parameter(metavar="PRESSURE", allow_leading_hyphen=True, help="Also at this pressure, may be repeated."),
    ] = (),
    json: Json = False,
    csv: Csv = False,
    units: Units = None,
) -> int:
    """Solve a brake: released, at first contact and applied, and any other stroke or pressure."""
    from geometry.found import condition_of
    from geometry.setup import read_setup
    from mechviz.report.solution import solution

    one_format(json, csv)
    read = read_setup(setup)
    asked = _asked(stroke, pressure)
    solved = solution(read.title, read.brake, condition_of(read), read.test.pressure, asked)
    say(_written(read, solved, json, csv, units))
    if json or csv or not on_screen():  # on a screen the table has just said so
        for fault in solved.refused:
            complain(f"mechviz: {fault.text(units or read.system)}")
    return SOME_CANNOT_EXIST if solved.refused else ALL_EXIST


def _asked(strokes: tuple[str, ...], pressures: tuple[str, ...]) -> "list[Asked]":
    """Read what was typed; every fault in it is reported at once."""
    from geometry.errors import FaultList, MechvizError
    from mechviz.report.solution import Asked

    asked: list[Asked] = []
    wrong = FaultList()
    wanted: tuple[tuple[What, tuple[str, ...]], ...] = (("stroke", strokes), ("pressure", pressures))
    for what, texts in wanted:
        for typed in texts:
            try:
                asked.append(Asked(f"{what} {_tidy(typed)}", **{what: _figure(what, typed)}))
            except MechvizError as error:
                wrong.extend_from(error)
    if wrong.faults:
        raise MechvizError(wrong.faults)
    return asked


def _figure(what: What, typed: str) -> float:
    """A stroke or a pressure, neither of which can be below zero."""
    from geometry.errors import Fault, PartError
    from geometry.units import parse

    kind = "length" if what == "stroke" else "pressure"
    figure = parse(typed, kind, f"--{what}")
    if figure < 0:
        raise PartError(Fault(f"--{what}", "is below zero", "check its sign", _tidy(typed), kind, least=0.0))
    return figure


def _tidy(typed: str) -> str:
    return " ".join(typed.split())


def _written(read: "Setup", solved: "Solution", json: bool, csv: bool, units: Units) -> str:
    from mechviz.report.found import found_lines
    from mechviz.report.solution_json import solution_json, state_data
    from mechviz.report.solution_text import solution_text
    from mechviz.report.table_csv import csv_text

    if json:
        return solution_json(solved) + "\n"
    if csv:
        return csv_text([state_data(state) for state in solved.states], solved.title)
    system = units or read.system
    return solution_text(solved, system, width(), found_lines(read, system))
