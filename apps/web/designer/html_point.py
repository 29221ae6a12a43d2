"""The point that stands there: a slider for each dimension, its outcomes with verdicts, and up to four side by side."""

from collections.abc import Sequence
from html import escape
from math import isfinite

import numpy as np

from apps.web.designer.field import to_shown
from apps.web.designer.html_form import key_name, option
from apps.web.designer.judged import Judged, Point
from apps.web.designer.pick import LETTERS
from apps.web.designer.state import MOST_PICKS, DesignerState
from geometry.quantity import KindName, System
from mechviz.chart.frame import decimals, round_step
from mechviz.drawing.overlaid import DASHES
from mechviz.report.written import quantity, unit_word
from mechviz.study import Outcome, Parameter

WIDE, HIGH = 132, 30
STEPS = 100
"""Steps of a slider, about."""


def names_of(keys: Sequence[str]) -> list[tuple[str, str, KindName]]:
    """Return key, name and kind of dimensions."""
    from apps.web.designer.varied import Varied

    return [(key, key_name(key), Varied(key).kind) for key in keys]


def sliders(parameters: Sequence[Parameter], point: Point, system: System) -> str:
    """Return a slider for each dimension, at the point; a list of sizes is a choice."""
    found = point.pick.by_key
    return "".join(_slider(p, found[p.key], system) for p in parameters if p.key in found)


def _slider(parameter: Parameter, value: float | str, system: System) -> str:
    key, name = escape(parameter.key), escape(parameter.name)
    if parameter.words:
        inside = "".join(option(word, word, word == value) for word in parameter.words)
        return (
            f'<label class="slider"><span>{name}</span><select id="s-{key}" data-set="size" data-key="{key}" '
            f'aria-label="{name} of the point">{inside}</select></label>'
        )
    low, high = (float(to_shown(end, parameter.kind, system)) for end in parameter.spread.ends)
    step = round_step((high - low) / STEPS)
    digits, unit = decimals(step), unit_word(parameter.kind, system)
    at = float(to_shown(float(value), parameter.kind, system))
    return (
        f'<label class="slider"><span>{name}</span><output for="s-{key}" id="out-{key}">{at:.{digits}f} {escape(unit)}'
        f'</output><input type="range" id="s-{key}" data-set="slide" data-key="{key}" data-unit="{escape(unit)}" '
        f'data-digits="{digits}" min="{low:.6g}" max="{high:.6g}" step="{step:g}" value="{at:.{digits}f}" '
        f'aria-label="{name} of the point" aria-valuetext="{at:.{digits}f} {escape(unit)}"></label>'
    )


def point_html(state: DesignerState, parameters: Sequence[Parameter], point: Point, system: System) -> str:
    """Return the point that stands there."""
    full, kept = len(state.picks) >= MOST_PICKS, state.point in state.picks
    off = " disabled" if full or kept or not point.pick.values else ""
    why = "four are kept: let one go first" if full else "kept already" if kept else ""
    rows = "".join(_row(one, system) for one in point.outcomes)
    fault = f'<p class="wrong">{escape(point.fault)}</p>' if point.fault else ""
    return (
        '<h2>This point</h2><p class="soft">Move a slider, press on a plot, or take a row: the brake is this one.</p>'
        f'<div class="sliders">{sliders(parameters, point, system)}</div>{fault}'
        f'<table class="verdicts"><caption class="unseen">Outcomes of this point</caption><thead><tr><th scope="col">'
        f'Outcome</th><th scope="col">Here</th><th scope="col">Verdict</th><th scope="col">Against its limit</th></tr>'
        f"</thead><tbody>{rows}</tbody></table>"
        f'<div class="acts"><button type="button" class="keep" id="keep" data-act="keep"{off}>Keep to compare</button>'
        f'<button type="button" data-act="use">Use this point</button>'
        f'<button type="button" data-act="save-point">Save as setup file</button>'
        f'<button type="button" data-act="back">Back to the brake as it is</button>'
        f"{f'<span class=soft>{why}</span>' if why else ''}</div>"
    )


def _row(one: Judged, system: System) -> str:
    return (
        f'<tr><th scope="row" class="of-{one.outcome.quantity.verb}">{escape(one.outcome.words)}</th>'
        f"<td>{_value(one, system)}</td><td>{_verdict(one)}</td>"
        f"<td>{gauge(one, system)} {_against(one, system)}</td></tr>"
    )


def _value(one: Judged, system: System) -> str:
    return f"<strong>{escape(one.text(system))}</strong>" if isfinite(one.value) else "-"


def _verdict(one: Judged) -> str:
    return f'<span class="v-{one.verdict.replace(" ", "-")}">{one.verdict}</span>'


def _against(one: Judged, system: System) -> str:
    if one.why:
        return escape(one.why)
    if one.limit is None:
        return '<span class="soft">none is published</span>'
    margin = one.margin_text(system)
    near = (
        ' <span class="soft">Closer than readings (a step of tape and gauge) and model can tell.</span>'
        if one.verdict == "close"
        else ""
    )
    return (
        escape(f"{one.limit_text(system)}{f': {margin}' if margin else ''}")
        + f" <cite>{escape(one.limit.source)}</cite>{near}"
    )


def gauge(one: Judged, system: System) -> str:
    """Return a value on its own small scale, what is not allowed hatched; nothing where there is no limit or value.

    A ring inside, a solid block beyond the limit.
    """
    if one.limit is None or not isfinite(one.value):
        return ""
    ends = [float(end) for end in (one.limit.least, one.limit.most) if isfinite(end)]
    values = [*ends, one.value]
    room = 0.45 * (max(values) - min(values) or 0.05 * max(abs(v) for v in values) or 1.0)
    low, high = min(values) - room, max(values) + room

    def x(value: float) -> float:
        return WIDE * (float(np.clip(value, low, high)) - low) / (high - low)

    bars = ""
    for end, beyond in ((one.limit.least, 0.0), (one.limit.most, float(WIDE))):
        if isfinite(end):
            at, far = x(float(end)), beyond
            lines = "".join(f"M{n} 22l8 -14" for n in range(int(min(at, far)), int(max(at, far)) - 6, 7))
            bars += f'<path class="hatch" d="{lines}"/><path class="stop" d="M{at:.1f} 4V26"/>'
    at = x(one.value)
    mark = (
        f'<rect class="block" x="{at - 7:.1f}" y="8" width="14" height="14"/>'
        if one.margin < 0
        else f'<circle class="ring" cx="{at:.1f}" cy="15" r="7"/>'
    )
    words = f"{one.outcome.words}: {one.verdict}, {one.limit_text(system)}, {one.margin_text(system)}"
    return (
        f'<svg class="gauge" viewBox="0 0 {WIDE} {HIGH}" role="img" aria-label="{escape(words)}">'
        f'<path class="base" d="M0 15H{WIDE}"/>{bars}{mark}</svg>'
    )


def compare_html(points: Sequence[Point], picture: str, outcomes: Sequence[Outcome], system: System) -> str:
    """Return the kept points side by side: figures, outcomes with verdicts, and all in one drawing."""
    if not points:
        return (
            '<h2>Compare</h2><p class="soft">Keep a point, and it stands here; up to four are held side by side, in a '
            "table and over one another in one drawing.</p>"
        )
    keys = list(dict.fromkeys(key for one in points for key in one.pick.by_key))
    head = "".join(
        f'<th scope="col">{_sample(n)}<strong>{LETTERS[n]}</strong>'
        f'<button type="button" class="out" data-act="drop" data-place="{n}" '
        f'aria-label="Let {LETTERS[n]} go">×</button></th>'
        for n in range(len(points))
    )
    figures = "".join(_figures(key, name, kind, points, system) for key, name, kind in names_of(keys))
    rows = "".join(_compared(outcome, points, system) for outcome in outcomes)
    acts = "".join(
        f'<td><button type="button" data-act="stand" data-place="{n}" aria-label="Show {LETTERS[n]}">Show</button> '
        f'<button type="button" data-act="use-pick" data-place="{n}" aria-label="Use {LETTERS[n]}">Use</button> '
        f'<button type="button" data-act="save-pick" data-place="{n}" aria-label="Save {LETTERS[n]} as setup file">'
        "Save</button></td>"
        for n in range(len(points))
    )
    shown = f'<figure class="overlaid">{picture}</figure>' if picture else ""
    saves = (
        '<div class="acts"><button type="button" data-act="overlay-svg">Save drawing (SVG)</button>'
        '<button type="button" data-act="overlay-png">Save drawing (PNG)</button></div>'
        if picture
        else ""
    )
    return (
        '<h2>Compare</h2><div class="compared"><div class="wide" tabindex="0" role="group" aria-label="Kept points">'
        '<table class="compare">'
        '<caption class="unseen">Kept points side by side</caption>'
        f'<thead><tr><th scope="col">Kept</th>{head}</tr></thead>'
        f'<tbody>{figures}{rows}<tr><th scope="row">This one</th>{acts}</tr></tbody></table></div>'
        f"<div>{shown}{saves}</div></div>"
    )


def _sample(place: int) -> str:
    dash = f' stroke-dasharray="{DASHES[place]}"' if DASHES[place] else ""
    return f'<svg class="sample" viewBox="0 0 60 10" aria-hidden="true"><path d="M2 5H58"{dash}/></svg>'


def _figures(key: str, name: str, kind: KindName, points: Sequence[Point], system: System) -> str:
    cells = ""
    for one in points:
        value = one.pick.by_key.get(key)
        said = "as it is" if value is None else value if isinstance(value, str) else quantity(value, kind, system)
        cells += f"<td>{escape(said)}</td>"
    return f'<tr><th scope="row">{escape(name)}</th>{cells}</tr>'


def _compared(outcome: Outcome, points: Sequence[Point], system: System) -> str:
    cells = ""
    for point in points:
        one = next((row for row in point.outcomes if row.outcome.key == outcome.key), None)
        if one is None:
            cells += f'<td class="wrong">{escape(point.fault)}</td>'
        else:
            more = f'<span class="soft">{escape(one.why or one.margin_text(system))}</span>'
            cells += f"<td>{_value(one, system)} {_verdict(one)} {more}{gauge(one, system)}</td>"
    return f'<tr><th scope="row" class="of-{outcome.quantity.verb}">{escape(outcome.words)}</th>{cells}</tr>'
