"""A drive as a chart: the drum's temperature, the stroke that grows with it, and the torque that is left."""

from pathlib import Path

import numpy as np

from geometry.heat import HeatEvent, HeatStates
from geometry.heat.events import KNOWN_TO
from geometry.quantity import System, shown
from geometry.reasons import Reason
from mechviz.chart.axis import time_axis
from mechviz.chart.file import chart_bytes, chart_document
from mechviz.chart.frame import LOWER, TOP, round_step, stacked
from mechviz.chart.marks import numbered
from mechviz.chart.panel import Curve, Panel, panel_svg
from mechviz.chart.side import Item, column
from mechviz.drawing.marks import group
from mechviz.drawing.words import bound, figure, length
from mechviz.heating.study import Study
from mechviz.heating.text import drive_words, heat_cautions, no_longer_so
from mechviz.look.colours import ThemeName
from mechviz.report.clock import clock
from mechviz.report.dashes import shortly, why_it_ends


def heat_chart(heated: Study, system: System, theme: ThemeName = "light", *, named: bool = True) -> str:
    """Return the chart as an SVG, 1600 x 900; on a sheet, which says whose it is, it is not ``named`` once more."""
    times = heated.fine
    states, axis = heated.at(times), time_axis(heated.course.end)
    places = stacked(186, 290, 170, top=TOP + LOWER)
    panels = [
        _drum(heated, states, system, *places[0]),
        _stroke(heated, states, system, *places[1]),
        _torque(heated, states, system, *places[2]),
    ]
    plots = [panel_svg(panel, times, axis, system, "heat") for panel in panels]
    marks = group([numbered([axis.x(e.time) for e in _shown(heated)])], "What happens", id="heat-events")
    driven = drive_words(heated, system)
    heading = f"{heated.setup.title}: {driven} (an estimate)" if named else ""
    words = f"Drum temperature, stroke and brake torque over time, an estimate: {driven}."
    inside = [marks, *plots, axis.foot(), _side(heated, system)]
    return chart_document(inside, heading, f"{heated.setup.title}: heat", words, theme)


def _drum(heated: Study, states: HeatStates, system: System, top: float, bottom: float) -> Panel:
    temperature = states.temperature
    highest = shown(float(np.max(temperature)), "temperature", system)[0]
    lowest = min(0.0, shown(float(np.min(temperature)), "temperature", system)[0])
    known = shown(KNOWN_TO, "temperature", system)[0]
    limits = ((known, f"growth known to {figure(KNOWN_TO, 'temperature', system)}"),) if highest > known else ()
    high = highest + 0.15 * (highest - lowest)
    step, curves = round_step((high - lowest) / 4), _drum_curves(heated, states)
    name, keyed = "Drum temperature", len(curves) > 1
    return Panel(name, "rub", "temperature", top, bottom, lowest, high, step, curves, limits, keyed=keyed)


def _drum_curves(heated: Study, states: HeatStates) -> tuple[Curve, ...]:
    """The drum's temperature, and from where this brake no longer holds what it would be if it did."""
    temperature, lost = states.temperature, heated.lost
    if lost is None:
        return (Curve(temperature, "full"),)
    held, after = (np.where(part, temperature, np.nan) for part in (states.time <= lost.time, states.time >= lost.time))
    return (Curve(held, "full", "this brake holding"), Curve(after, "dashed", "if it still did"))


def _stroke(heated: Study, states: HeatStates, system: System, top: float, bottom: float) -> Panel:
    rated, limit = heated.setup.brake.chamber.rated_stroke, heated.limit.limit_mm
    high, marked = shown(rated, "length", system)[0] * 1.1, shown(limit, "length", system)[0]
    return Panel(
        "Stroke",
        "push",
        "length",
        top,
        bottom,
        0.0,
        high,
        0.5 if system == "inch" else 10.0,
        (
            Curve(states.stroke, "full", "applied", why_it_ends(states.reason)),
            Curve(_level(heated, heated.cold.stroke), "dotted", "drum cold"),
        ),
        (
            (marked, f"limit of a cold drum {bound(limit, system)}, {heated.limit.source}"),
            (shown(rated, "length", system)[0], f"chamber bottoms, {bound(rated, system)}"),
        ),
        (shown(rated, "length", system)[0], high),
        keyed=True,
    )


def _torque(heated: Study, states: HeatStates, system: System, top: float, bottom: float) -> Panel:
    cold = _level(heated, heated.cold.brake_torque)
    strongest = float(np.nanmax(np.concatenate([states.brake_torque, cold, [1.0]])))
    most = shown(strongest, "torque", system)[0] * 1.15
    applied = Curve(states.brake_torque, "full", "applied, no fade", why_it_ends(states.reason))
    curves = (applied, Curve(cold, "dotted", "drum cold"))
    step = round_step(most / 4)
    return Panel("Brake torque", "rub", "torque", top, bottom, 0.0, most, step, curves, keyed=True)


def _level(heated: Study, value: np.ndarray) -> np.ndarray:
    return np.full(heated.fine.size, float(np.ravel(value)[0]))


def _shown(heated: Study) -> list[HeatEvent]:
    """Those that come on the way: what is so from the beginning has no place on the chart."""
    return [event for event in heated.happening if event.time > 0]


def _side(heated: Study, system: System) -> str:
    items = [Item(_when(event, system), event.words) for event in _shown(heated)]
    hottest = heated.at(heated.hottest)
    after = (
        f"Hottest after {clock(heated.hottest)}: drum {figure(float(hottest.temperature), 'temperature', system)}, "
        f"{_stroke_words(hottest, system)}."
    )
    already = [event.words for event in heated.happening if event.time == 0]
    texts = [after, f"From the beginning: {'; '.join(already)}." if already else "", *no_longer_so(heated, system)]
    given = [
        f"{figure(heated.mass, 'mass', system)} on this brake; drum {figure(heated.sink.mass, 'mass', system)}, "
        f"air {figure(heated.sink.ambient, 'temperature', system)}.",
        f"Applied at {figure(heated.pressure, 'pressure', system)}; cold stroke "
        f"{length(float(heated.cold.stroke), system)}.",
        "A rough estimate: one lumped drum, the project's constants; friction constant, no fade.",
    ]
    return group([text.svg() for text in column(items, texts, given, 10.0)], "What happens, in order", id="heat-words")


def _stroke_words(states: HeatStates, system: System) -> str:
    reason = Reason(int(states.reason))
    if reason != Reason.EXISTS:
        return shortly(reason)
    return f"stroke {figure(float(states.stroke), 'length', system)}"


def _when(event: HeatEvent, system: System) -> str:
    return f"{clock(event.time)}, drum {figure(event.temperature, 'temperature', system)}"


def chart_file(heated: Study, output: Path, system: System) -> bytes:
    """Return the chart as the bytes of a file of that name. Raises `MechvizError` for a kind that it cannot write."""

    def draw(theme: ThemeName, named: bool) -> str:
        return heat_chart(heated, system, theme, named=named)

    words = f"Heat, an estimate: {drive_words(heated, system)}"
    return chart_bytes(draw, output, heated.setup.title, words, heat_cautions())
