"""What the desk says of a wheel, as HTML: the verdict with its scale, the findings, both wheels side by side."""

from collections.abc import Sequence
from html import escape

from mechviz.checks.row import CheckRow, Result
from mechviz.job.axle import Finding
from mechviz.job.fields import PHASES, Phase, Side
from mechviz.job.headline import RESULT_WORDS, STROKE, Headline, headline, of_check
from mechviz.job.look import Look, in_labels, look
from mechviz.job.model import Job
from mechviz.look import fractions
from mechviz.report.reading import reading_words
from mechviz.report.verdicts import in_order

PHASE_TITLES: dict[Phase, str] = {"before": "Before", "after": "After"}
WIDE, NARROW, HEIGHT, LINE = 320.0, 170.0, 64.0, 40.0
"""Of the scale of a stroke, in its own units: alone, beside another one; and where its line stands."""


def wheel_html(job: Job, side: Side, phase: Phase) -> str:
    """Return one wheel's verdict in the phase that is being read; before and after beside each other where both are."""
    shown: list[Phase] = [one for one in PHASES if one == phase or job.begun(side, one)]
    verdicts = "".join(_verdict(look(job, side, one), several=len(shown) > 1) for one in shown)
    now = look(job, side, phase)
    return (
        f'<h2>{side.capitalize()} wheel</h2><div class="phases{" two" if len(shown) > 1 else ""}">{verdicts}</div>'
        f"{_next(headline(now), side)}{_findings(now, headline(now))}"
    )


def _verdict(one: Look, several: bool) -> str:
    found = headline(one)
    when = f" <small>{escape(one.taken)}</small>" if one.taken else ""
    title = f"<h3>{PHASE_TITLES[one.phase]}{when}</h3>" if several or one.taken else ""
    figures = [("Stroke", found.margin), ("Arm", found.angle), ("Reserve", found.reserve)]
    rows = "".join(f"<dt>{name}</dt><dd>{_text(value)}</dd>" for name, value in figures if value)
    return (
        f'<section class="verdict {found.result}">{title}<p class="word">{mark(found.result)} {escape(found.word)}</p>'
        f"{_scale(one, NARROW if several else WIDE)}{f'<dl>{rows}</dl>' if rows else ''}</section>"
    )


def _next(found: Headline, side: Side) -> str:
    if not found.next_step:
        return ""
    button = (
        f'<button type="button" data-go="{found.next_key}" data-side="{side}">Show me</button>'
        if found.next_key
        else ""
    )
    return f'<div class="next"><p><strong>Next</strong> {_text(found.next_step)}</p>{button}</div>'


def _findings(one: Look, found: Headline) -> str:
    """What failed or is close, in the open, without the advice that stands above already; the rest folded away."""
    if not one.begun:
        return ""
    rows = in_order(one.rows)
    wrong = [row for row in rows if row.result in ("fail", "close")]
    rest = [row for row in rows if row.result not in ("fail", "close")]
    passed = sum(row.result == "pass" for row in rest)
    told = (
        f'<ul class="findings">{"".join(_row(row, one, said=row in found.reasons[:1]) for row in wrong)}</ul>'
        if wrong
        else ""
    )
    more = f"{passed} passed, {len(rest) - passed} could not be judged"
    listed = "".join(_row(row, one, said=False) for row in rest)
    return f'{told}<details><summary>{more}</summary><ul class="findings">{listed}</ul></details>'


def _row(row: CheckRow, one: Look, *, said: bool) -> str:
    words, name = reading_words(row, one.job.system), row.check.replace("-", " ")
    figures = f"<br>{_text(words)}" if words and row.result != "not-evaluated" else ""
    source = f' <small class="source">[{escape(row.source)}]</small>'
    advice = "" if said else f"<br>{_text(in_labels(row.advice))}"
    return (
        f"<li>{mark(row.result)} <strong>{escape(f'{name[0].upper()}{name[1:]}')}</strong>: "
        f"{RESULT_WORDS[row.result].lower()}{figures}{advice}{source}</li>"
    )


def both_html(found: Sequence[Finding]) -> str:
    """Return what both wheels show together; nothing where one of them was not read."""
    if not found:
        return ""
    rows = "".join(
        f"<li>{mark(one.result)} <strong>{escape(one.title)}</strong>: {_text(one.words)} "
        f'<small class="source">[{escape(one.source)}]</small></li>'
        for one in found
    )
    return f'<h2>Both wheels</h2><ul class="findings">{rows}</ul>'


def axle_html(found: Sequence[Finding]) -> str:
    """Return what fails of the axle as a whole, to stand above both wheels; nothing where nothing does."""
    wrong = [one for one in found if one.result == "fail"]
    return "".join(
        f"<p>{mark(one.result)} <strong>{escape(one.title)} differ</strong>: {_text(one.words)}</p>" for one in wrong
    )


MARKS: dict[Result, str] = {
    "pass": '<path d="M25 3V17"/><circle cx="11" cy="10" r="6"/>',
    "close": '<path d="M25 3V17"/><circle cx="18" cy="10" r="6"/>',
    "fail": '<path d="M7 3V17"/><rect x="13" y="4" width="12" height="12" class="full"/>',
    "not-evaluated": '<circle cx="15" cy="10" r="6" stroke-dasharray="2.5 3"/>',
    "not-applicable": "",
}
"""A ring inside its limit, a ring on it, a block beyond it, a dotted ring."""


def mark(result: Result) -> str:
    """Return a verdict's mark; its word stands beside it."""
    drawn = MARKS[result]
    return f'<svg class="mark" viewBox="0 0 30 20" aria-hidden="true">{drawn}</svg>' if drawn else ""


def _scale(one: Look, width: float) -> str:
    """The stroke on its own small scale: where it is, how wide the tape's mark, where the limit; nothing unread."""
    row = next((r for r in of_check(one.rows, STROKE) if r.value is not None and r.limit is not None), None)
    if row is None or row.value is None or row.limit is None or row.result == "not-evaluated":
        return ""
    full = max(1.3 * row.limit, 1.1 * row.value)

    def at(value: float) -> float:
        return round(8 + (width - 16) * min(max(value, 0.0), full) / full, 1)

    stop, here = at(row.limit), at(row.value)
    wide = max(at(row.value + row.resolution) - at(row.value - row.resolution), 8.0)
    limit = reading_words(CheckRow(row.check, row.result, "", "", None, row.limit), one.job.system).split(" (")[0]
    name = _text(limit)
    body = f'<rect class="full" x="{here - wide / 2:.1f}" y="{LINE - 8}" width="{wide:.1f}" height="16"/>'
    ring = f'<rect x="{here - wide / 2:.1f}" y="{LINE - 8}" width="{wide:.1f}" height="16" rx="8"/>'
    return (
        f'<svg class="scale" viewBox="0 0 {width:g} {HEIGHT:g}" role="img" aria-label="Stroke against its limit">'
        f'<path class="beyond" d="M{stop} {LINE}H{width - 8:g}"/><path d="M8 {LINE}H{stop}"/>'
        f'<path class="stop" d="M{stop} {LINE - 16}V{LINE + 14}"/>{body if row.result == "fail" else ring}'
        f'<text x="{min(stop, width - 50):.1f}" y="16" text-anchor="middle">{name}</text>'
        f'<text x="8" y="{HEIGHT - 2}">0</text></svg>'
    )


def _text(words: str) -> str:
    """Words for the page, their tape fractions set as fractions."""
    return escape(fractions(words))
