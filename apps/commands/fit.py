"""`mechviz fit`: the pushrod to cut and the setting of a slack adjuster that is fitted anew."""

from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from apps.commands.options import Csv, Json, SetupName, Units, one_format
from apps.terminal import say, strong, width

if TYPE_CHECKING:
    from mechviz.pushrod.study import Asked, Fitting

CUT_IT, DO_NOT_CUT = 0, 1

EPILOGUE = """Examples:
  mechviz fit quarry.toml
  mechviz fit quarry.toml --angle "92 deg"
  mechviz fit quarry.toml --clearance "0.030 in"
  mechviz fit quarry.toml --json > fit.json

Exit code: 0 there is a length to cut, 1 there is none: an
example only, because arm, mounting or chamber are not the
file's own, or something failed; 2 the input could not be
used. A rod that will do as it is counts as 0."""


def fit(
    setup: SetupName,
    /,
    *,
    angle: Annotated[
        str | None,
        Parameter(metavar="ANGLE", allow_leading_hyphen=True, help="Wanted at full application; 90 deg."),
    ] = None,
    clearance: Annotated[
        str | None,
        Parameter(metavar="LENGTH", allow_leading_hyphen=True, help="Lining to drum; if none, 5/8 in of free stroke."),
    ] = None,
    json: Json = False,
    csv: Csv = False,
    units: Units = None,
) -> int:
    """Fit a slack adjuster: the pushrod to cut, the hole to use, what a sixteenth does, the worm's setting."""
    from geometry.setup import read_setup
    from mechviz.checks import any_failed
    from mechviz.pushrod.study import fitting
    from mechviz.pushrod.verdicts import fit_rows

    one_format(json, csv)
    asked = _asked(angle, clearance)
    read = read_setup(setup, judging=True, fitting=True)
    fitted = fitting(read, asked, units or read.system)
    say(_written(fitted, json, csv))
    rows = fit_rows(fitted)
    return DO_NOT_CUT if fitted.example or not rows or any_failed(rows) else CUT_IT


def _asked(angle: str | None, clearance: str | None) -> "Asked":
    from geometry.units import parse
    from mechviz.pushrod.study import Asked

    usual = Asked()
    return Asked(
        usual.angle if angle is None else parse(angle, "angle", "--angle"),
        usual.clearance if clearance is None else parse(clearance, "length", "--clearance"),
    )


def _written(fitted: "Fitting", json: bool, csv: bool) -> str:
    from mechviz.pushrod.data import fit_json, records
    from mechviz.pushrod.text import fit_text
    from mechviz.report.table_csv import csv_text

    if json:
        return fit_json(fitted) + "\n"
    if csv:
        return csv_text(records(fitted), fitted.setup.title)
    return fit_text(fitted, width(), strong())
