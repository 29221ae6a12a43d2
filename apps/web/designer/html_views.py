"""The ways to look at a study: the row of tabs, what belongs to each above and below its plot, the tables."""

from collections.abc import Sequence
from html import escape
from math import isfinite

from apps.web.designer.field import Field, limit_words
from apps.web.designer.frontier import MOST, Frontier, listed
from apps.web.designer.html_form import key_name, option
from apps.web.designer.job import Answers
from apps.web.designer.state import VIEWS, DesignerState
from mechviz.report.written import quantity
from mechviz.study import Outcome, Result
from mechviz.study.sensitivity import Sensitivity
from mechviz.study.tolerance import ANY, Blame, Held, Share, Tolerance


def views_html(state: DesignerState, shown: bool, loaded: bool) -> str:
    """Return the tabs, and what is chosen for the view; before the first run, what to do first."""
    if not shown:
        return (
            '<div class="empty"><h2>What to do first</h2><p>A study is ready: <strong>arm length</strong> and '
            "<strong>axis offset</strong>, held against the arm angle where the linings touch, the applied stroke and "
            "the brake torque. Press <strong>Run</strong>, and see where the right angle is lost and what each lever "
            "length costs.</p><p>Or choose other dimensions and outcomes first: any of them, from new to worn and from "
            "cold to hot.</p></div>"
        )
    tabs = "".join(
        f'<button type="button" role="tab" id="tab-{name}" data-act="view" data-key="{name}" aria-selected='
        f'"{str(name == state.view).lower()}" tabindex="{0 if name == state.view else -1}">{words}</button>'
        for name, words in VIEWS.items()
    )
    tools = {"map": _map_tools, "front": _front_tools, "lines": _line_tools}.get(state.view)
    return (
        f'<div role="tablist" aria-label="Ways to look at the study">{tabs}</div>'
        f'<div class="view-tools">{tools(state) if tools else ""}{_exports(state, loaded)}</div>'
    )


def _map_tools(state: DesignerState) -> str:
    across, up = state.axes
    keys = [(key, key_name(key)) for key in state.keys]
    outcomes = [(outcome.key, outcome.words) for outcome in state.asked]
    return (
        _choice("of", "map of", outcomes, state.mapped)
        + _choice("across", "across", keys, across)
        + _choice("up", "up", [one for one in keys if one[0] != across], up)
    )


def _front_tools(state: DesignerState) -> str:
    first, second = state.goals
    outcomes = [(outcome.key, outcome.words) for outcome in state.asked]
    return _choice("best-0", "best in", outcomes, first) + _choice("best-1", "and in", outcomes, second)


def _line_tools(state: DesignerState) -> str:
    off = "" if state.filters else " disabled"
    return f'<button type="button" data-act="unbrush"{off}>Let all ranges go</button>'


def _choice(name: str, words: str, items: Sequence[tuple[str, str]], chosen: str) -> str:
    inside = "".join(option(value, said, value == chosen) for value, said in items)
    return f'<label><span>{words}</span> <select id="{name}" data-set="{name}">{inside}</select></label>'


def _exports(state: DesignerState, loaded: bool) -> str:
    """What can be saved: the picture of this view, and the table of all points."""
    kinds = {"map": ("PNG", "SVG"), "front": ("PNG", "SVG"), "lines": ("PNG",)}.get(state.view, ())
    pictures = "".join(
        f'<button type="button" data-act="{kind.lower()}" aria-label="Save the picture as {kind}">{kind}</button>'
        for kind in kinds
    )
    off = "" if loaded else " disabled"
    tables = "".join(
        f'<button type="button" data-act="{act}"{off} aria-label="Save all points as {word}">{word}</button>'
        for act, word in (("csv", "CSV"), ("parquet", "Parquet"))
    )
    picture = f"<span>save picture</span>{pictures}" if pictures else ""
    return f'<span class="exports">{picture}<span>{"" if picture else "save "}points</span>{tables}</span>'


# below the plots


def map_words(field: Field, held: Sequence[tuple[str, str]]) -> str:
    """Return what stands under the map: what is held, and every limit with its figure and source."""
    rest = ", ".join(f"{name} {value}" for name, value in held)
    kept = f"<p>Held as at this point: {escape(rest)}.</p>" if rest else ""
    key = (
        '<p class="soft">Thick lines are limits, hatched is not allowed or cannot be. Ring with a dot: this point. '
        "Ring: the brake as it is now. Press anywhere on the map to move there.</p>"
    )
    return kept + limits_list(field.result) + key


def limits_list(result: Result) -> str:
    """Return every outcome's limit with its source, and how many of the points keep it."""
    rows = ""
    for outcome in result.study.outcomes:
        limit = result.limits[outcome.key]
        if limit is None:
            rows += f"<li>{escape(outcome.words)}: no limit is published</li>"
            continue
        share = float(limit.holds(result.outcomes[outcome.key]).mean())
        words = limit_words(limit, outcome, result.study.base.system)
        kept = f"{outcome.words} {words}: {_percent(share)} of this map keeps it"
        rows += f"<li>{escape(kept)} <cite>{escape(limit.source)}</cite></li>"
    return f'<ul class="limits">{rows}</ul>'


def _percent(share: float) -> str:
    return (
        "all"
        if share == 1
        else "none"
        if share == 0
        else f"{100 * share:.0f} %"
        if 0.005 < share < 0.995
        else "almost " + ("all" if share > 0.5 else "none")
    )


def front_html(goals: tuple[str, str], result: Result, found: Frontier) -> str:
    """Return the choices that nothing beats as rows, each of which can be made to stand there."""
    if not found.places.size:
        return (
            '<p class="note">No point keeps every limit, so there is no best choice. Widen a range, or look at '
            "“All points” for what stands in the way.</p>"
        )
    study, system = result.study, result.study.base.system
    wanted = [study.outcome(key) for key in dict.fromkeys(goals)]
    head = "".join(f'<th scope="col">{escape(name)}</th>' for name in [
        *(p.name for p in study.parameters), *(goal.words for goal in wanted)
    ])  # fmt: skip
    rows = ""
    for place in listed(found):
        cells = [
            p.text(float(result.values[p.key][place])) or quantity(float(result.values[p.key][place]), p.kind, system)
            for p in study.parameters
        ]
        cells += [quantity(float(result.outcomes[g.key][place]), g.quantity.kind, system) for g in wanted]
        inside = "".join(f"<td>{escape(cell)}</td>" for cell in cells)
        rows += (
            f'<tr>{inside}<td><button type="button" data-act="stand-row" data-place="{place}">Show</button></td></tr>'
        )
    some = (
        f"{len(listed(found))} of them, evenly along the front"
        if found.places.size > len(listed(found))
        else "all of them"
    )
    drawn = (
        f"{MOST:,} of {found.size:,} points are drawn, taken at random, and all of the front"
        if found.size > MOST
        else "every point is drawn"
    )
    words = " and ".join(goal.words for goal in wanted)
    return (
        f"<p><strong>{found.places.size:,}</strong> choices inside all limits are beaten by none in {escape(words)}: "
        f"diamonds, joined by a line. Dots are inside all limits, crosses outside; {drawn}.</p>"
        f'<div class="wide" tabindex="0" role="group" aria-label="Best choices"><table><caption class="soft">Listed: '
        f'{some}</caption><thead><tr>{head}<th scope="col">Take</th></tr></thead><tbody>{rows}</tbody></table></div>'
    )


def follows_html(follows: Sensitivity, outcomes: Sequence[Outcome]) -> str:
    """Return the share of each outcome's spread that goes with each dimension: first order and total, as bars."""
    head = "".join(f'<th scope="col">{escape(key_name(key))}</th>' for key in follows.parameters)
    rows = ""
    for n, outcome in enumerate(outcomes):
        cells = "".join(
            _share_cell(follows.first[n, m], follows.total[n, m], follows.first_error[n, m], outcome.quantity.verb)
            for m in range(len(follows.parameters))
        )
        rows += f'<tr><th scope="row" class="of-{outcome.quantity.verb}">{escape(outcome.words)}</th>{cells}</tr>'
    least = float(follows.used.min()) if follows.used.size else 1.0
    some = f" Points that cannot be built are left out: {100 * (1 - least):.0f} % of the rows." if least < 0.995 else ""
    return (
        "<p>How much of each outcome's spread over the ranges goes with each dimension. Solid bar: the dimension by "
        "itself (first order). Open bar: with all that it does together with others (total). Solid bars of a row add "
        f'to at most 100 %.</p><div class="wide" tabindex="0" role="group" aria-label="What follows what">'
        f'<table class="follows"><caption class="soft">Shares of variance, ± half of a 95 % interval; '
        f'{follows.solved:,} brakes solved.{some}</caption><thead><tr><th scope="col">Outcome</th>{head}</tr></thead>'
        f"<tbody>{rows}</tbody></table></div>"
    )


def _share_cell(first: float, total: float, error: float, verb: str) -> str:
    if not isfinite(first) or not isfinite(total):
        return "<td>does not vary</td>"
    solid, open_ = (min(max(100 * value, 0.0), 100.0) for value in (first, total))
    words = f"{100 * max(first, 0.0):.0f} % ± {100 * error:.0f}; total {100 * max(total, 0.0):.0f} %"
    return (
        f'<td><svg class="share of-{verb}" viewBox="0 0 100 16" preserveAspectRatio="none" aria-hidden="true">'
        f'<rect class="total" x="0.5" y="1" width="{max(open_ - 1, 0):.1f}" height="14"/>'
        f'<rect class="first" x="0" y="4" width="{solid:.1f}" height="8"/></svg>{words}</td>'
    )


def tolerance_html(found: Tolerance | None, stale: bool) -> str:
    """Return the share of brakes that come from production outside a limit, and which dimension is to blame."""
    if found is None:
        return (
            '<p class="note">No dimension has a tolerance. Write one into the field “±” of a dimension, and run '
            "the study again.</p>"
        )
    moved = (
        "<p>These are of the point before; those of this one are being drawn. Where a tolerance has changed, run the "
        "study again.</p>"
        if stale
        else ""
    )
    nominal = ", ".join(
        f"{p.name} {p.text(p.spread.middle) or quantity(p.spread.middle, p.kind, found.drawn.study.base.system)}"
        + (
            f" ± {quantity(3 * deviation, p.kind, found.drawn.study.base.system, 3 if p.kind == 'length' else None)}"
            if (deviation := getattr(p.spread, "deviation", 0.0))
            else ""
        )
        for p in found.drawn.study.parameters
    )
    if len(found.held) == 1:
        return '<p class="note">None of the outcomes that are asked for has a limit: ask for one that has.</p>'
    rows = "".join(_held(one, found) for one in found.held)
    return (
        f"{moved}<p>{found.drawn.size:,} brakes drawn as they come from production: {escape(nominal)} (normally "
        "distributed, the tolerance being three standard deviations).</p>"
        '<div class="wide" tabindex="0" role="group" aria-label="Tolerances"><table class="stacked">'
        '<caption class="soft">Intervals are 95 % (Wilson). “Halved” is the share outside with that tolerance halved.'
        "</caption><thead><tr>"
        '<th scope="col">Limit</th><th scope="col">Outside</th><th scope="col">Which dimension is to blame</th>'
        f"</tr></thead><tbody>{rows}</tbody></table></div>"
    )


def _held(one: Held, found: Tolerance) -> str:
    study = found.drawn.study
    if one.key == ANY or one.limit is None:
        name = "<strong>any of them</strong>"
    else:
        outcome = study.outcome(one.key)
        words = limit_words(one.limit, outcome, study.base.system)
        name = f"{escape(outcome.words)} {escape(words)} <cite>{escape(one.limit.source)}</cite>"
    missing = f"<br>{one.missing:,} of these have no such state" if one.missing else ""
    return (
        f'<tr><th scope="row">{name}</th><td><strong>{share_words(one.outside)}</strong>{missing}</td>'
        f"<td>{_blame(one)}</td></tr>"
    )


def share_words(share: Share) -> str:
    """Return a share with its interval: ``0.4 % (0.3 to 0.5 %)``; where none was found, at most how many there are.

    >>> share_words(Share(0, 20000)), share_words(Share(200, 20000))
    ('none of 20,000 (at most 0.019 %)', '1.0 % (0.87 to 1.1 %)')
    """
    low, high = (100 * end for end in share.interval)
    if share.count == 0:
        return f"none of {share.points:,} (at most {two(high)} %)"
    return f"{two(100 * share.share)} % ({two(low)} to {two(high)} %)"


def two(value: float) -> str:
    """Write a share in percent to two digits; from 10 on without decimals.

    >>> two(1.0), two(0.4321), two(94.36), two(100.0)
    ('1.0', '0.43', '94', '100')
    """
    return f"{value:.0f}" if value >= 9.95 else f"{value:#.2g}"


def _blame(one: Held) -> str:
    if one.outside.count == 0:
        return '<span class="soft">nothing to blame</span>'
    return "<ol>" + "".join(_blamed(blame) for blame in one.blame) + "</ol>"


def _blamed(blame: Blame) -> str:
    if blame.halved is None:
        return f"<li>{escape(key_name(blame.key))}: held, no tolerance</li>"
    part = f"{100 * blame.total:.0f} % of the spread; " if isfinite(blame.total) else ""
    return f"<li>{escape(key_name(blame.key))}: {part}halved: {share_words(blame.halved)}</li>"


def said(found: Answers) -> str:
    """Return what came of a run, in one line."""
    result = found.result
    inside, valid = int(result.inside.sum()), int(result.valid.sum())
    gone = result.size - valid
    cannot = f"; {gone:,} cannot be" if gone else ""
    return f"{result.size:,} brakes in {found.seconds:.1f} s: {inside:,} inside every limit{cannot}."
