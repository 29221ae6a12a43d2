"""`mechviz diagnose`: what is probably wrong with a brake, from whatever was measured, and what to measure next."""

from typing import Annotated

from cyclopts import Parameter

from apps.commands.options import Csv, Json, SetupName, Units, one_format
from apps.terminal import say, width

EPILOGUE = """Examples:
  mechviz diagnose quarry.toml
  mechviz diagnose worn-drive-16.5x7
  mechviz diagnose quarry.toml --clearance "0.004 in"
  mechviz diagnose quarry.toml --json > quarry.json

Only what the file itself states is taken for measured: any
of [measured], and lining, drum and slack in [condition]. A
file states free stroke or lining clearance; where both were
read, give the other one here.

Exit code: 0 it was worked out, 2 the input could not be
used."""


def diagnose(
    setup: SetupName,
    /,
    *,
    clearance: Annotated[
        str | None,
        Parameter(metavar="LENGTH", allow_leading_hyphen=True, help="A feeler's reading beside the free stroke."),
    ] = None,
    free_stroke: Annotated[
        str | None,
        Parameter(metavar="LENGTH", allow_leading_hyphen=True, help="Read beside the file's lining clearance."),
    ] = None,
    json: Json = False,
    csv: Csv = False,
    units: Units = None,
) -> int:
    """Rank what may be wrong by probability, from whatever was measured, and say what to measure next."""
    from geometry.setup import read_setup
    from mechviz.diagnosis.data import diagnosis_json, records
    from mechviz.diagnosis.study import study
    from mechviz.diagnosis.text import diagnosis_text
    from mechviz.report.table_csv import csv_text

    one_format(json, csv)
    read = read_setup(setup, judging=True)
    found = study(read, _beside(clearance, free_stroke))
    if json:
        say(diagnosis_json(found) + "\n")
    elif csv:
        say(csv_text(records(found), read.title))
    else:
        say(diagnosis_text(found, units or read.system, width()))
    return 0


def _beside(clearance: str | None, free_stroke: str | None) -> dict[str, float]:
    from geometry.units import parse
    from mechviz.diagnosis.study import OPTIONS

    given = {"lining_clearance": clearance, "free_stroke": free_stroke}
    return {name: parse(text, "length", OPTIONS[name]) for name, text in given.items() if text is not None}
