"""Air over time as a chart: the three pressures, the stroke that follows, and what pushes the pushrod."""

from pathlib import Path

import numpy as np

from geometry.air import AirStates, Happening
from geometry.parking import hold_off_pressure
from geometry.quantity import System, shown
from geometry.tables import air_mark
from mechviz.air.study import Study
from mechviz.air.text import air_cautions, kind_words
from mechviz.chart.axis import time_axis
from mechviz.chart.file import chart_bytes, chart_document
from mechviz.chart.frame import LOWER, TOP, round_step, stacked
from mechviz.chart.marks import numbered
from mechviz.chart.panel import Curve, Panel, panel_svg
from mechviz.chart.side import Item, column
from mechviz.drawing.marks import group
from mechviz.drawing.words import bound, figure
from mechviz.look.colours import ThemeName
from mechviz.report.clock import clock
from mechviz.report.dashes import why_it_ends


def air_chart(told: Study, system: System, theme: ThemeName = "light", *, named: bool = True) -> str:
    """Return the chart as an SVG, 1600 x 900; on a sheet, which says whose it is, it is not ``named`` once more."""
    times = np.unique(np.concatenate([told.fine, [one.time for one in told.happenings], [told.course.end]]))
    states, axis = told.at(times), time_axis(told.course.end)
    places = stacked(240, 203, 203, top=TOP + LOWER)
    panels = [
        _pressures(told, states, system, *places[0]),
        _stroke(told, states, system, *places[1]),
        _push(told, states, system, *places[2]),
    ]
    plots = [panel_svg(panel, times, axis, system, "air") for panel in panels]
    marks = group([numbered([axis.x(one.time) for one in _shown(told)])], "What happens", id="air-events")
    heading = f"{told.setup.title}: {told.scenario.title}" if named else ""
    words = f"Air pressures, stroke and pushrod force over time: {told.scenario.title}."
    inside = [marks, *plots, axis.foot(), _side(told, system)]
    return chart_document(inside, heading, f"{told.setup.title}: air", words, theme)


def _pressures(told: Study, states: AirStates, system: System, top: float, bottom: float) -> Panel:
    warning = air_mark("low-pressure-warning").high
    most = shown(max(float(np.max(states.reservoir)), warning), "pressure", system)[0] * 1.12
    limits = [(shown(warning, "pressure", system)[0], f"warning below {figure(warning, 'pressure', system)}")]
    curves = [Curve(states.service, "full", "service chamber"), Curve(states.reservoir, "dotted", "reservoir")]
    if told.setup.parking:
        curves.append(Curve(states.hold_off, "dashed", "spring-brake line"))
    return Panel(
        "Air pressure",
        "push",
        "pressure",
        top,
        bottom,
        0.0,
        most,
        round_step(most / 5),
        tuple(curves),
        tuple(limits),
        stops=False,
        keyed=True,
    )


def _stroke(told: Study, states: AirStates, system: System, top: float, bottom: float) -> Panel:
    rated = told.setup.brake.chamber.rated_stroke
    touch = float(np.ravel(states.brake.contact_stroke)[0])
    limits = [(shown(rated, "length", system)[0], f"end of the stroke, {bound(rated, system)}")]
    if np.isfinite(touch):
        limits.append((shown(touch, "length", system)[0], "linings touch"))
    high = shown(rated, "length", system)[0] * 1.1
    step = 0.5 if system == "inch" else 20.0
    curves = (Curve(np.maximum(states.brake.stroke, 0.0), "full", why=why_it_ends(states.brake.reason)),)
    return Panel("Stroke", "push", "length", top, bottom, 0.0, high, step, curves, tuple(limits), stops=False)


def _push(told: Study, states: AirStates, system: System, top: float, bottom: float) -> Panel:
    """What reaches the pushrod, and what of it is the spring's, where it pushes at all."""
    full = told.full_air
    most = max(full, float(np.nanmax(np.append(states.brake.pushrod_force, 0.0))))
    high = shown(most, "force", system)[0] * 1.15
    curves = [Curve(states.brake.pushrod_force, "full", "in all")]
    if told.setup.parking:
        curves.append(Curve(states.brake.spring_force, "dashed", "spring"))
    limits = ((shown(full, "force", system)[0], "the reservoir's air alone"),)
    return Panel(
        "Pushrod force",
        "push",
        "force",
        top,
        bottom,
        0.0,
        high,
        round_step(high / 4),
        tuple(curves),
        limits,
        stops=False,
        keyed=True,
    )


def _shown(told: Study) -> list[Happening]:
    """What is worth a number, but for the beginning, which is at hand."""
    return [one for one in told.happenings if one.short and one.time > 0]


def _side(told: Study, system: System) -> str:
    items = [Item(f"{clock(one.time)}  {one.short}") for one in _shown(told)]
    hardest = told.hardest
    force = figure(float(hardest.brake.pushrod_force), "force", system)
    after = f"Pushed hardest: {force} after {clock(float(hardest.time))}."
    after = after if float(hardest.brake.pushrod_force) > 0 else "The pushrod is not pushed at all."
    texts = column(items, [_from_the_beginning(told), after], _given(told, system), 8.0)
    return group([text.svg() for text in texts], "What happens, in order", id="air-words")


def _from_the_beginning(told: Study) -> str:
    """What is so when it begins, where it is not what is expected: enough air and nothing pushing."""
    so = [one.words for one in told.happenings if one.time == 0]
    return f"From the beginning: {'; '.join(so)}." if len(so) > 1 else ""


def _given(told: Study, system: System) -> list[str]:
    parking, times = told.setup.parking, told.course.times
    given = [
        f"Fills to 60 % in {times.apply:.2f} s, empties to 5 % in {times.release:.2f} s: {kind_words(times.vehicle)}."
    ]
    if parking is None:
        return ["No parking section is fitted.", *given]
    held = figure(float(hold_off_pressure(parking)), "pressure", system)
    spring = figure(parking.spring_force, "force", system)
    return [
        f"Spring {spring}, held all the way back at {held}.",
        *given,
        "Never compound: release the parking brake before a heavy service application.",
    ]


def chart_file(told: Study, output: Path, system: System) -> bytes:
    """Return the chart as the bytes of a file of that name. Raises `MechvizError` for a kind that it cannot write."""

    def draw(theme: ThemeName, named: bool) -> str:
        return air_chart(told, system, theme, named=named)

    return chart_bytes(draw, output, told.setup.title, f"Air: {told.scenario.title}", air_cautions(told))
