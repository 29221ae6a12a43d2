"""What takes longer than a key press: likely causes, the fit of a new adjuster, the drawing, the printed sheet.

It is worked out in a process of its own, from the job's text, so that nobody's typing waits for it.
"""

import logging
from base64 import b64encode
from collections.abc import Callable
from html import escape

from apps.web.mechanic.form import TRIANGLE
from apps.web.mechanic.verdict_html import mark
from mechviz.export.pages import PageName
from mechviz.job import fields as f
from mechviz.job.brought_in import only_brought_in
from mechviz.job.causes import Causes, causes
from mechviz.job.drawn import wheel_drawing
from mechviz.job.fields import SIDES, Phase, Side
from mechviz.job.file import read_job_text
from mechviz.job.fit import Fit, fit_of
from mechviz.job.look import Look, look
from mechviz.job.pictures import with_font
from mechviz.job.sheet import job_sheet
from mechviz.look import fractions
from mechviz.report.reading import reading_words

Thoughts = dict[Side, dict[str, str]]
Think = Callable[[str, Phase], Thoughts]
PARTS = {"causes": "Likely causes", "fit": "The fit of a new adjuster", "drawing": "The drawing"}
log = logging.getLogger(__name__)


def first_thoughts(text: str, phase: Phase) -> Thoughts:
    """Return the drawing and the fit of each wheel of a job as HTML: a tenth of a second's work."""
    job = read_job_text(text)
    return {side: _first(look(job, side, phase)) for side in SIDES}


def _first(one: Look) -> dict[str, str]:
    return {
        "fit": _or_told("fit", lambda: fit_html(fit_of(one), one)),
        "drawing": _or_told("drawing", lambda: drawing_html(one)),
    }


def _or_told(part: str, make: Callable[[], str]) -> str:
    """One part's HTML; where it cannot be worked out, that in words, so that it takes no other part with it."""
    try:
        return make()
    except Exception:  # a fault of ours, whatever it is: the other parts and the readings stand
        log.exception("%s of a wheel could not be worked out", part)
        return failed_html(part)


def failed_html(part: str) -> str:
    """Return the words that stand where a part could not be worked out."""
    return (
        f'<p class="note">{PARTS[part]} could not be worked out from these readings. The verdict above stands; please '
        "report this with the job.</p>"
    )


def second_thoughts(text: str, phase: Phase) -> Thoughts:
    """Return the likely causes of each wheel as HTML: for a brake that is new here a second's work or two."""
    job = read_job_text(text)
    return {side: _second(look(job, side, phase)) for side in SIDES}


def _second(one: Look) -> dict[str, str]:
    return {"causes": _or_told("causes", lambda: causes_html(causes(_blamed(one)), one.side))}


def _blamed(one: Look) -> Look:
    """The readings that causes are looked for in: those of before where the stroke was only brought in."""
    return look(one.job, one.side, "before") if only_brought_in(one) else one


def sheet_pdf(text: str, page: PageName) -> bytes:
    """Return the job sheet of a job's text as a PDF."""
    return job_sheet(read_job_text(text), page)


def drawing_html(one: Look) -> str:
    """Return the wheel as it was read, in both themes; nothing where there is nothing to be drawn."""
    light, dark = (wheel_drawing(one, theme) for theme in ("light", "dark"))
    if not light:
        return ""
    # Each stands in an image of its own: its style sheet is for its own scale.
    pictures = "".join(
        f'<img class="only-{theme}" alt="The wheel as it was read" src="{_address(svg)}">'
        for theme, svg in (("light", light), ("dark", dark))
    )
    words = "To scale, at the stroke read; dashed: released. A question mark: worked out, not read."
    return f"<figure>{pictures}<figcaption>{words}</figcaption></figure>"


def _address(svg: str) -> str:
    """A picture as an address that carries it."""
    return f"data:image/svg+xml;base64,{b64encode(with_font(svg).encode()).decode('ascii')}"


def causes_html(found: Causes | None, side: Side) -> str:
    """Return the likely causes in order, and the reading worth taking next."""
    if found is None:
        return ""
    above = "".join(f'<p class="note">{_text(words)}</p>' for words in found.above)
    listed = "".join(
        f"<li><strong>{_text(one.title)}</strong>: {_text(one.weight)}"
        + "".join(f'<br><span class="look">Look for: {_text(words)}</span>' for words in one.look_for)
        + "</li>"
        for one in found.likely
    )
    go = (
        f'<button type="button" data-go="{found.next_key}" data-side="{side}">Show me</button>'
        if found.next_key
        else ""
    )
    measure = f'<div class="next"><p><strong>Would tell most</strong> {_text(found.next_words)}</p>{go}</div>'
    return f"{above}<ol>{listed}</ol>{measure}"


def _go(key: str, side: Side) -> str:
    return f'<button type="button" data-go="{key}" data-side="{side}">Show me</button>'


def fit_html(found: Fit | None, one: Look) -> str:
    """Return the fit of a new adjuster: the length to cut, what has to be measured first, the setting."""
    if found is None:
        return ""
    failed = "".join(
        f"<li>{mark(row.result)} {_text(reading_words(row, one.job.system))} {_text(row.advice)}</li>"
        for row in found.failed
    )
    listed = f'<ul class="findings">{failed}</ul>' if failed else ""
    first = _to_measure(found, one.side)
    lengths = f"{_lengths(found)}{listed}{_setting(found)}"
    if first:
        lengths = f"<details><summary>As it would be on the built-in brake</summary>{lengths}</details>"
    return f'<p class="word">{escape(found.heading)}</p>{first}{_care(found)}{lengths}'


def _lengths(found: Fit) -> str:
    """The lengths to cut by, each with what it is."""
    rows = "".join(f"<tr><td>{_text(figure)}</td><td>{_text(what)}</td></tr>" for figure, what in found.rows)
    return f"{f'<table class=cut>{rows}</table>' if rows else ''}<p>{_text(found.why)}</p>"


def _to_measure(found: Fit, side: Side) -> str:
    """What has to be this vehicle's own before anything is cut; nothing where it is."""
    rows = "".join(
        f"<li><strong>{escape(f.field(key).label if f.known(key) else key)}</strong>: {_text(how)}"
        f"{_go(key, side) if f.known(key) else ''}</li>"
        for key, how in found.missing
    )
    return f"<p>A rod is cut by this vehicle's own figures. Measure first:</p><ul>{rows}</ul>" if rows else ""


def _setting(found: Fit) -> str:
    steps = "".join(f"<li>{_text(words)}</li>" for words in found.steps)
    return f"<details><summary>Set the adjuster</summary><ol>{steps}</ol></details>" if steps else ""


def _care(found: Fit) -> str:
    rows = "".join(f"<li>{_text(words)}</li>" for words in found.cautions[:CAUTIONS])
    return f'<div class="note caution">{TRIANGLE} <strong>Caution</strong><ul>{rows}</ul></div>' if rows else ""


CAUTIONS = 3
"""Of a fit those that are about the work itself: chocks and cage, spring, turning by hand."""


def _text(words: str) -> str:
    return escape(fractions(words))
