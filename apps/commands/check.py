"""`mechviz check`: every check that a setup allows."""

from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from apps.commands.options import Csv, Json, RuleSet, SetupName, Units, one_format
from apps.terminal import say, strong, width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.setup import Setup
    from mechviz.checks.row import CheckRow

NOTHING_FAILED, SOMETHING_FAILED = 0, 1

EPILOGUE = """Examples:
  mechviz check drive-16.5x7
  mechviz check quarry.toml --rules us --rules quebec
  mechviz check quarry.toml --json > quarry.json

Exit code: 0 nothing failed, 1 something failed,
2 the input could not be used."""


def check(
    setup: SetupName,
    /,
    *,
    json: Json = False,
    csv: Csv = False,
    units: Units = None,
    rules: Annotated[
        tuple[RuleSet, ...],
        Parameter(
            metavar="RULES", help="Judge under this rule set, may be repeated; those that the setup names if not given."
        ),
    ] = (),
) -> int:
    """Judge a brake: stroke, angles, linings, drum, cam; what failed stands first."""
    from geometry.setup import read_setup
    from mechviz.checks import any_failed, run_checks

    one_format(json, csv)
    read = read_setup(setup, judging=True)
    rows = run_checks(read, tuple(dict.fromkeys(rules)) or None)
    say(_written(read, rows, json, csv, units))
    return SOMETHING_FAILED if any_failed(rows) else NOTHING_FAILED


def _written(read: "Setup", rows: "Sequence[CheckRow]", json: bool, csv: bool, units: Units) -> str:
    from mechviz.report.check_json import check_json, row_data
    from mechviz.report.check_text import check_text
    from mechviz.report.found import found_lines
    from mechviz.report.table_csv import csv_text

    if json:
        return check_json(read.title, rows) + "\n"
    if csv:
        return csv_text([row_data(row) for row in rows], read.title)
    system = units or read.system
    automatic = read.brake.adjuster.kind == "automatic"
    return check_text(read.title, rows, system, width(), found_lines(read, system), automatic, strong())
