"""`mechviz heat`: the same application cold and with the drum as hot as stops or a descent make it."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from apps.commands.options import Csv, Json, SetupName, Units, as_typed, counted, one_format, typed_figure
from apps.commands.options import quantity_option as _option
from apps.terminal import say, width

if TYPE_CHECKING:
    from mechviz.heating.study import Study

MOST_POINTS, MOST_STOPS = 100_000, 500

EPILOGUE = """Examples:
  mechviz heat drive-16.5x7
  mechviz heat drive-16.5x7 --stops 20 --from "60 mph" --every "2 min"
  mechviz heat quarry.toml --descent "6 %" --speed "30 mph" --for "10 min"
  mechviz heat quarry.toml --hot "400 degF" -o heat.pdf

Temperatures are estimates, and fade is not modelled.
Exit code: 0 it was worked out, 2 the input could not be
used."""


OPTIONS = {
    "heat.until": "--to",
    "heat.every": "--every",
    "heat.grade": "--descent",
    "heat.duration": "--for",
    "heat.held": "--engine",
    "heat.mass": "--mass",
    "heat.drum_mass": "--drum-mass",
    "heat.pressure": "--pressure",
}
"""What each figure of a drive is typed as; its speed is two options."""


def heat(
    setup: SetupName,
    /,
    *,
    stops: Annotated[
        int | None,
        Parameter(name="--stops", metavar="COUNT", help="Stop so many times; 10 if no descent is asked for."),
    ] = None,
    from_speed: Annotated[str | None, _option("from", "SPEED", "Stop from this speed; 60 mph.")] = None,
    to_speed: Annotated[str | None, _option("to", "SPEED", "Brake down to this speed; to a standstill.")] = None,
    every: Annotated[str | None, _option("every", "TIME", "One stop in this time; 2 min.")] = None,
    descent: Annotated[str | None, _option("descent", "GRADE", "Go down a grade instead, as 6 %.")] = None,
    speed: Annotated[str | None, _option("speed", "SPEED", "Down the grade at this speed; 30 mph.")] = None,
    duration: Annotated[str | None, _option("for", "TIME", "Down the grade for this time; 10 min.")] = None,
    engine: Annotated[
        str | None, _option("engine", "SHARE", "What engine and retarder hold of the descent; 0 %.")
    ] = None,
    mass: Annotated[
        str | None, _option("mass", "MASS", "What of the vehicle is on this brake; 8500 lb, steering 6000 lb.")
    ] = None,
    drum_mass: Annotated[
        str | None, _option("drum-mass", "MASS", "The drum's iron; 110 lb for a 16.5 x 7 in drum.")
    ] = None,
    ambient: Annotated[str | None, _option("ambient", "TEMPERATURE", "The air; 90 degF.")] = None,
    start: Annotated[str | None, _option("start", "TEMPERATURE", "The drum at the beginning; the setup's own.")] = None,
    hot: Annotated[
        str | None, _option("hot", "TEMPERATURE", "Also show the application with the drum at this.")
    ] = None,
    pressure: Annotated[
        str | None, _option("pressure", "PRESSURE", "Chamber pressure of the application; the setup's own.")
    ] = None,
    points: Annotated[int, Parameter(metavar="COUNT", help="How many times JSON and CSV list.")] = 101,
    output: Annotated[
        Path | None, Parameter(name=("--output", "-o"), metavar="FILE", help="Also draw it: .svg, .png or .pdf.")
    ] = None,
    json: Json = False,
    csv: Csv = False,
    units: Units = None,
) -> int:
    """Estimate the drum's heat over stops or a descent: stroke, arm angle, force, torque and what is left follow it."""
    # long for its options alone: each is read by one line
    from geometry.setup import read_setup
    from mechviz.heating.study import Asked, study

    one_format(json, csv)
    counted(points, MOST_POINTS, "times")
    of_stops = {"--stops": stops, "--from": from_speed, "--to": to_speed, "--every": every}
    of_descent = {"--speed": speed, "--for": duration, "--engine": engine}
    _one_drive(descent is not None, of_stops, of_descent)
    read = read_setup(setup, judging=True)
    speed_option = "--from" if descent is None else "--speed"
    asked = Asked(
        kind="stops" if descent is None else "descent",
        count=_stops(stops),
        speed=typed_figure(from_speed if descent is None else speed, "speed", speed_option),
        until=typed_figure(to_speed, "speed", "--to") or 0.0,
        every=_or(typed_figure(every, "time", "--every"), 120.0),
        grade=_or(typed_figure(descent, "share", "--descent"), 0.06),
        duration=_or(typed_figure(duration, "time", "--for"), 600.0),
        held=_or(typed_figure(engine, "share", "--engine"), 0.0),
        mass=typed_figure(mass, "mass", "--mass"),
        drum_mass=typed_figure(drum_mass, "mass", "--drum-mass"),
        ambient=typed_figure(ambient, "temperature", "--ambient"),
        start=typed_figure(start, "temperature", "--start"),
        pressure=typed_figure(pressure, "pressure", "--pressure"),
        hot=typed_figure(hot, "temperature", "--hot"),
    )
    with as_typed(OPTIONS | {"heat.speed": speed_option}):
        heated = study(read, asked)
    if output is not None:
        _draw(heated, output, units)
    say(_written(heated, points, json, csv, units))
    return 0


def _one_drive(down: bool, of_stops: dict[str, int | str | None], of_descent: dict[str, str | None]) -> None:
    """Refuse what belongs to the drive that is not asked for."""
    from geometry.errors import Fault, MechvizError

    wrong = [name for name, value in (of_stops if down else of_descent).items() if value is not None]
    if wrong:
        problem = "belongs to stops, and a descent is asked for" if down else "belongs to a descent"
        fix = "leave out --descent" if down else 'add --descent "6 %"'
        raise MechvizError(Fault(wrong[0], problem, f"leave it out, or {fix}", kind="number"))


def _stops(count: int | None) -> int:
    from geometry.errors import Fault, MechvizError

    if count is not None and not 1 <= count <= MOST_STOPS:
        raise MechvizError(Fault("--stops", "is no count of stops", f"use 1 to {MOST_STOPS}", str(count), "number"))
    return 10 if count is None else count


def _or(value: float | None, usual: float) -> float:
    return usual if value is None else value


def _draw(heated: "Study", output: Path, units: Units) -> None:
    from apps.files import write_atomically
    from mechviz.heating.chart import chart_file

    write_atomically(output, chart_file(heated, output, units or heated.setup.system), "--output")


def _written(heated: "Study", points: int, json: bool, csv: bool, units: Units) -> str:
    from mechviz.heating.data import heat_json, records
    from mechviz.heating.study import listed_times
    from mechviz.heating.text import heat_text
    from mechviz.report.table_csv import csv_text

    if json or csv:
        states = heated.at(listed_times(heated, points))
        return heat_json(heated, states) + "\n" if json else csv_text(records(states), heated.setup.title)
    return heat_text(heated, units or heated.setup.system, width())
