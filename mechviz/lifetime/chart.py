"""The life as a chart: stroke, arm angle and brake torque against the lining that is left, thick to thin."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from geometry.arrays import Array
from geometry.life import Event, Life
from geometry.quantity import System, shown
from mechviz.chart.axis import Axis
from mechviz.chart.file import chart_bytes, chart_document
from mechviz.chart.frame import BOTTOM, LOWER, TOP, decimals, round_step, stacked
from mechviz.chart.marks import numbered
from mechviz.chart.panel import Curve, Panel, panel_svg
from mechviz.chart.side import Item, column
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import group, line
from mechviz.drawing.words import bound, figure, length
from mechviz.lifetime.study import FINE, Study
from mechviz.lifetime.text import adjuster_words, beyond_known, ending, life_cautions
from mechviz.look.colours import ThemeName
from mechviz.report.dashes import why_it_ends


def life_chart(lived: Study, system: System, theme: ThemeName = "light", *, named: bool = True) -> str:
    """Return the chart as an SVG, 1600 x 900; on a sheet, which says whose it is, it is not ``named`` once more."""
    wear = np.unique(np.concatenate([np.linspace(0.0, lived.end, FINE), lived.upkeep.moves]))
    wear = wear[wear <= lived.end]
    stuck = lived.service.brake.adjuster.state == "stuck"
    life, stopped = lived.at(wear), None if stuck else lived.stopped().at(wear)
    axis = _axis(lived, system)
    plots = [panel_svg(panel, wear, axis, system, "life") for panel in _panels(lived, life, stopped, system)]
    inside = [_events(lived, axis), *plots, axis.foot(), _side(lived, system)]
    with_adjuster = f"adjuster {adjuster_words(lived)}"
    heading = f"{lived.setup.title}: working life, {with_adjuster}" if named else ""
    words = f"Stroke, arm angle and brake torque from new linings to worn out; {with_adjuster}."
    return chart_document(inside, heading, f"{lived.setup.title}: working life", words, theme)


def _axis(lived: Study, system: System) -> Axis:
    """The lining that is left, thick on the left, with ticks at round thicknesses."""
    new = lived.service.brake.lining.thickness
    thick, thin = (shown(t, "length", system)[0] for t in (new, new - lived.end))
    step = round_step((thick - thin) / 6)
    rounds = [n * step for n in range(int(thin / step) + 1, int(thick / step + 1e-9) + 1)]
    factor, unit = (25.4, "in") if system == "inch" else (1.0, "mm")
    ticks = tuple((new - value * factor, f"{value:.{decimals(step)}f}") for value in rounds)
    return Axis(lived.end, ticks, f"lining left, {unit}", "rub")


def _panels(lived: Study, life: Life, stopped: Life | None, system: System) -> list[Panel]:
    places = stacked(330 - LOWER, 170, 170, top=TOP + LOWER)
    return [
        _stroke(lived, life, stopped, system, *places[0]),
        _angle(life, stopped, *places[1]),
        _torque(life, stopped, system, *places[2]),
    ]


def _dotted_line(values: Array | None, why: str | None = None) -> tuple[Curve, ...]:
    return () if values is None else (Curve(values, "dotted", why=why or ""),)


def _hot_ends(life: Life) -> str:
    """Why the hot lines end where they do, in few words."""
    why = why_it_ends(life.hot.reason)
    return f"hot: {why}" if why else ""


def _stroke(lived: Study, life: Life, stopped: Life | None, system: System, top: float, bottom: float) -> Panel:
    rated, limit = lived.service.brake.chamber.rated_stroke, lived.limit.limit_mm
    high, marked = shown(rated, "length", system)[0] * 1.08, shown(limit, "length", system)[0]
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
            Curve(life.cold.stroke, "full", "cold"),
            Curve(life.hot.stroke, "dashed", "hot", _hot_ends(life)),
            *_dotted_line(stopped and stopped.cold.stroke, stopped and why_it_ends(stopped.cold.reason)),
        ),
        (
            (marked, f"limit {bound(limit, system)}, {lived.limit.source}"),
            (shown(rated, "length", system)[0], f"chamber bottoms, {bound(rated, system)}"),
        ),
        (marked, high),
    )


def _angle(life: Life, stopped: Life | None, top: float, bottom: float) -> Panel:
    low, high = _span(np.append(life.contact_angle, life.cold.arm_angle))
    return Panel(
        "Arm angle",
        "turn",
        "angle",
        top,
        bottom,
        low,
        max(high, _span(life.contact_angle)[1]),
        10.0,
        (
            Curve(life.contact_angle, "dashed", "at contact"),
            Curve(life.cold.arm_angle, "full", "applied"),
            *_dotted_line(stopped and stopped.contact_angle),
        ),
        ((90.0, "square"),),
    )


def _torque(life: Life, stopped: Life | None, system: System, top: float, bottom: float) -> Panel:
    strongest = float(np.nanmax(np.append(life.cold.brake_torque, 1.0)))
    most = shown(strongest, "torque", system)[0] * 1.15
    return Panel(
        "Brake torque",
        "rub",
        "torque",
        top,
        bottom,
        0.0,
        most,
        round_step(most / 4),
        (
            Curve(life.cold.brake_torque, "full", "cold"),
            Curve(life.hot.brake_torque, "dashed", "hot", _hot_ends(life)),
            *_dotted_line(stopped and stopped.cold.brake_torque),
        ),
    )


def _span(angles: Array) -> tuple[float, float]:
    """The range of angles (rad) in degrees, with a right angle in it and some room."""
    values = np.append(np.degrees(angles), [85.0, 95.0])
    return float(np.nanmin(values)) - 3, float(np.nanmax(values)) + 3


def _events(lived: Study, axis: Axis) -> str:
    """The numbered events, and where the linings as found stand."""
    marks = numbered([axis.x(event.wear) for event in _shown(lived)])
    if lived.found is not None and 0 <= lived.found <= lived.end:
        x = axis.x(lived.found)
        marks += line([(x, TOP), (x, BOTTOM)], "mv-between")
        marks += Text("as found", x + 6, BOTTOM - 10, "note", rank="soft").svg()
    return group([marks], "What happens on the way", id="life-events")


def _shown(lived: Study) -> Sequence[Event]:
    """Those that come on the way: what is so from new on has no place on the chart."""
    return [event for event in lived.happening if event.wear > 0]


def _side(lived: Study, system: System) -> str:
    """The key, what happens in order, and with what it was worked out."""
    one = lived.service
    new = one.brake.lining.thickness
    items = [
        Item(f"{length(new - event.wear, system)} left, {_worn(event.wear, system)} worn", event.words)
        for event in _shown(lived)
    ]
    pressure, hot = figure(one.pressure, "pressure", system), figure(one.hot, "temperature", system)
    given = [
        f"New lining {bound(new, system)}, drum {length(one.drum_diameter, system)}.",
        f"Adjusted to {bound(one.free_stroke, system)} of free stroke.",
        f"Applied at {pressure}; hot: drum at {hot}{beyond_known(lived, system)}.",
    ]
    after = [_from_new(lived), ending(lived, system) if lived.ends_early else "", _dotted(lived, system)]
    texts = column(items, after, given)
    return group([text.svg() for text in texts], "What happens, in order", id="life-words")


def _from_new(lived: Study) -> str:
    already = [event.words for event in lived.happening if event.wear == 0]
    return f"From new linings on: {'; '.join(already)}." if already else ""


def _dotted(lived: Study, system: System) -> str:
    """What the dotted lines are; nothing where the adjuster is stuck itself."""
    state, stopped = lived.service.brake.adjuster.state, lived.stopped().event("stroke-limit")
    if state == "stuck":
        return ""
    if state == "working" and stopped.happens:
        return f"Dotted: the adjuster stops when new. The limit is met after {_worn(stopped.wear, system)} of wear."
    return "Dotted: the adjuster stops when new."


def _worn(wear: float, system: System) -> str:
    return f"{wear / 25.4:.3f} in" if system == "inch" else f"{wear:.2f} mm"


def chart_file(lived: Study, output: Path, system: System) -> bytes:
    """Return the chart as the bytes of a file of that name. Raises `MechvizError` for a kind that it cannot write."""

    def draw(theme: ThemeName, named: bool) -> str:
        return life_chart(lived, system, theme, named=named)

    words = f"Working life, adjuster {adjuster_words(lived)}"
    return chart_bytes(draw, output, lived.setup.title, words, life_cautions(lived))
