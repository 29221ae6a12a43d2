"""`mechviz faults`: what each defect does to a brake, and what shows of it from outside."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from apps.commands.options import Csv, Json, SetupName, Units, one_format, output_option
from apps.terminal import say, width

if TYPE_CHECKING:
    from geometry.setup import Setup
    from mechviz.faults.study import Row

SUFFIXES = (".svg", ".png", ".pdf")
PIXELS = 1920

EPILOGUE = """Examples:
  mechviz faults drive-16.5x7
  mechviz faults quarry.toml --fault adjuster-stuck
  mechviz faults quarry.toml --fault "play=1/8 in" --fault diaphragm-leak=0.4
  mechviz faults quarry.toml --fault loose-bracket -o loose.png
  mechviz faults left.toml --other right.toml

Exit code: 0 it was worked out, 2 the input could not be
used."""


def faults(
    setup: SetupName,
    /,
    *,
    fault: Annotated[
        tuple[str, ...],
        Parameter(
            metavar="NAME[=AMOUNT]",
            help="Add this one, in its usual amount or the one given; may be repeated. Each alone if not given.",
        ),
    ] = (),
    other: Annotated[
        str | None,
        Parameter(metavar="SETUP", help="The wheel at the other end of the axle, to be held against this one."),
    ] = None,
    output: Annotated[Path | None, output_option("Also draw the faults asked for: .svg, .png or .pdf.")] = None,
    json: Json = False,
    csv: Csv = False,
    units: Units = None,
) -> int:
    """Show what a fault does to stroke, angle, gap, force, torque and drag, and what an inspector would see of it."""
    from dataclasses import replace

    from geometry.setup import read_setup
    from mechviz.faults.study import combined_row, every_row, read_amounts, sound_row

    one_format(json, csv)
    read = read_setup(setup)
    read = read if units is None else replace(read, system=units)
    amounts, paired = read_amounts(fault), bool(fault) or other is not None
    rows = [combined_row(read, amounts)] if paired else every_row(read)
    sound = sound_row(read) if other is None else _other(other)
    if output is not None:
        _draw(read, sound, rows if paired else [], output)
    say(_written(read, sound, rows, combined=paired, json=json, csv=csv))
    return 0


def _other(name: str) -> "Row":
    from geometry.setup import read_setup
    from mechviz.faults.study import sound_row

    setup = read_setup(name)
    return sound_row(setup, f"The other wheel: {setup.title}")


def _draw(read: "Setup", sound: "Row", rows: "list[Row]", output: Path) -> None:
    from apps.files import write_atomically

    if not rows:
        raise _refused("needs a fault or another wheel to draw", "add --fault NAME, or --other SETUP")
    if output.suffix.lower() not in SUFFIXES:
        raise _refused(f"{output.name} is no picture that this can write", "use .svg, .png or .pdf")
    write_atomically(output, _picture(read, sound, rows[0], output.suffix.lower()), "--output")


def _refused(problem: str, fix: str) -> Exception:
    from geometry.errors import Fault, MechvizError

    return MechvizError(Fault("--output", problem, fix, kind="number"))


def _picture(read: "Setup", sound: "Row", sick: "Row", suffix: str) -> bytes:
    from mechviz.export import Sheet, print_sheet, svg_to_png
    from mechviz.faults.picture import faults_picture
    from mechviz.faults.text import fault_cautions
    from mechviz.look.colours import PRINT

    if suffix == ".pdf":
        drawn = faults_picture(read, sound, sick, PRINT, named=False)
        words = Sheet(title=read.title, subtitle=sick.title, cautions=fault_cautions(), unit_mm=1 / drawn.scale)
        return print_sheet(drawn.svg, words, "a4")
    svg = faults_picture(read, sound, sick).svg
    return svg.encode("utf-8") if suffix == ".svg" else svg_to_png(svg, PIXELS, "light")


def _written(read: "Setup", sound: "Row", rows: "list[Row]", *, combined: bool, json: bool, csv: bool) -> str:
    from mechviz.faults.data import faults_json, record
    from mechviz.faults.text import combined_text, faults_text
    from mechviz.report.table_csv import csv_text

    if json:
        return faults_json(read.title, sound, rows) + "\n"
    if csv:
        return csv_text([record(row) for row in (sound, *rows)], read.title)
    if combined:
        return combined_text(read.title, sound, rows[0], read.system, width())
    return faults_text(read.title, sound, rows, read.system, width())
