"""`mechviz diagnose`: what is probably wrong with a brake, from whatever was measured, and what to measure next."""

from apps.commands.options import Csv, Json, SetupName, Units, one_format
from apps.terminal import say, width

EPILOGUE = """Examples:
  mechviz diagnose quarry.toml
  mechviz diagnose worn-drive-16.5x7
  mechviz diagnose quarry.toml --json > quarry.json

Only what the file itself states is taken for measured: any
of [measured], and lining, drum and slack in [condition].

Exit code: 0 it was worked out, 2 the input could not be
used."""


def diagnose(
    setup: SetupName,
    /,
    *,
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
    found = study(read)
    if json:
        say(diagnosis_json(found) + "\n")
    elif csv:
        say(csv_text(records(found), read.title))
    else:
        say(diagnosis_text(found, units or read.system, width()))
    return 0
