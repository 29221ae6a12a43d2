"""The desk's form: every field with its picture, in the order of the hands, for both wheels, before and after."""

from collections.abc import Iterable
from functools import cache
from html import escape
from itertools import groupby

from geometry.setup import builtin_names, read_setup
from mechviz.job import fields as f
from mechviz.job.fields import PHASES, SIDES, Field, Phase, Place, Step
from mechviz.job.model import ABOUT, longest
from mechviz.job.pictures import alt_of

TRIANGLE = '<svg viewBox="0 0 22 20" aria-hidden="true"><path d="M11 2L20 18H2Z"/></svg>'
PHASE_WORDS: dict[Phase, str] = {"before": "before adjusting", "after": "after adjusting"}
SIDE_WORDS: dict[Place, str] = {"left": "Left", "right": "Right", "axle": "This axle"}
ABOUT_WORDS = {
    "vehicle": "Vehicle, unit number",
    "axle": "Axle",
    "mechanic": "Mechanic",
    "note": "Note for the job sheet",
}


FIRST = "release"
"""The caution that stands above everything: it is about the whole of the work."""


@cache
def form_html() -> str:
    """Return the form; what stands in its fields the script puts there."""
    steps = "".join(_step(n, name, title) for n, (name, title) in enumerate(f.STEPS.items(), 1))
    first = f'<p class="note caution">{TRIANGLE} <strong>First of all</strong> {escape(f.CAUTIONS[FIRST])}</p>'
    return f"{first}{_about()}{_choices()}{steps}{_told()}"


def entry_id(place: Place, phase: Phase, key: str) -> str:
    """Return the name of an entry in the page: ``left|before|measured.stroke``."""
    return f"{place}|{phase}|{key}"


def _about() -> str:
    lines = "".join(
        f"<label>{ABOUT_WORDS[name]}"
        f'<input type="text" data-about="{name}" maxlength="{most}" autocomplete="off"></label>'
        for name, most in ABOUT.items()
        if name != "note"
    )
    brakes = "".join(f'<option value="{name}">{escape(read_setup(name).title)}</option>' for name in builtin_names())
    base = (
        f'<label class="base">Most like this brake<select data-base>{brakes}</select>'
        "<small>Stands in for what nobody measures: cam, rollers, shoes.</small></label>"
    )
    return f'<details class="about"><summary>What this job is</summary><div>{lines}{base}</div></details>'


def _choices() -> str:
    """Units and phase."""
    units = _radios("units", "Units", (("inch", "Inches, fractions"), ("metric", "Millimetres")))
    phase = _radios("phase", "Readings", (("before", "Before adjusting"), ("after", "After adjusting")))
    held = (
        '<label class="held"><input type="checkbox" data-show-held> Parts were changed too: show every reading</label>'
    )
    return f'<section class="choices" aria-label="How it is read">{units}{phase}{held}</section>'


def _radios(name: str, legend: str, options: Iterable[tuple[str, str]]) -> str:
    buttons = "".join(
        f'<label><input type="radio" name="{name}" value="{value}"><span>{words}</span></label>'
        for value, words in options
    )
    return f'<fieldset class="switch"><legend>{legend}</legend>{buttons}</fieldset>'


def _step(number: int, name: Step, title: str) -> str:
    """One part of the walk, folded away where all of it is only for a new adjuster."""
    of_step = [one for one in f.fields() if one.step == name]
    told = _cautions(of_step)
    parts = "".join(
        _folded(fold, "".join(told[one.key] + _field(one) for one in group)) for fold, group in _by_fold(of_step)
    )
    head = f'<span class="number">{number}</span> {title}'
    inside = f'<h2 id="step-{name}">{head}</h2>{parts}'
    if all(one.extra for one in of_step):
        inside = f'<details><summary id="step-{name}">{head}</summary>{parts}</details>'
    return f'<section class="step" data-step="{name}" aria-labelledby="step-{name}">{inside}</section>'


def _told() -> str:
    """What is said after an adjustment, and is no reading."""
    rows = "".join(_field(one, ("after",)) for one in f.told())
    return (
        f'<section class="step" data-step="told" aria-labelledby="step-told"><h2 id="step-told">Why it was out</h2>'
        f"{rows}</section>"
    )


def _cautions(of_step: list[Field]) -> dict[str, str]:
    """The caution that stands before each field: the first that it is about, before and again after the adjustment."""
    found = dict.fromkeys((one.key for one in of_step), "")
    for phase in PHASES:
        told = set[str]()
        for one in of_step:
            shown = phase == "before" or not one.holds
            if one.caution not in ("", FIRST) and shown and one.caution not in told:
                told.add(one.caution)
                found[one.key] += _caution(f.CAUTIONS[one.caution], phase)
    return found


def _by_fold(of_step: list[Field]) -> list[tuple[str, list[Field]]]:
    return [(fold, list(group)) for fold, group in groupby(of_step, lambda one: one.fold)]


def _folded(fold: str, inside: str) -> str:
    return f'<details class="fold"><summary>{escape(fold)}</summary>{inside}</details>' if fold else inside


def _caution(words: str, phase: Phase) -> str:
    return f'<p class="note caution told-{phase}">{TRIANGLE} <strong>Caution</strong> {escape(words)}</p>'


def _field(one: Field, phases: Iterable[Phase] = PHASES) -> str:
    alt = escape(alt_of(one.picture)) if one.picture else ""
    picture = (
        f'<img data-picture="{one.picture}" alt="{alt}" width="320" height="240" loading="lazy">'
        if one.picture
        else "<span></span>"
    )
    places: tuple[Place, ...] = ("axle",) if one.place == "axle" else SIDES
    entries = "".join(_entry(one, place, phase) for place in places for phase in phases)
    holds = " holds" if one.holds else ""
    return (
        f'<div class="field{holds} of-{one.place}" data-field="{one.key}">{picture}'
        f'<div class="what"><h3>{escape(one.label)}</h3><p>{escape(one.how)}</p>'
        f'<p class="with">With: {escape(one.instrument)}</p></div><div class="taken">{entries}</div></div>'
    )


def _entry(one: Field, place: Place, phase: Phase) -> str:
    """One place to write: its label, the input, and room for what was before, what it means and what is wrong."""
    name = entry_id(place, phase, one.key)
    said = f"{one.label}, {SIDE_WORDS[place].lower()}{' wheel' if place != 'axle' else ''}, {PHASE_WORDS[phase]}"
    told = f'aria-label="{escape(said)}" aria-describedby="{name}-said" data-entry="{name}"'
    return (
        f'<div class="one side-{place} phase-{phase}"><span class="side">{SIDE_WORDS[place]}</span>'
        f'<span class="write">{_input(one, told)}<span class="unit" data-unit="{one.kind}"></span></span>'
        f'<span class="was" data-was="{name}"></span>'
        f'<span class="said" id="{name}-said"><span class="meant" data-meant="{name}"></span>'
        f'<span class="wrong" data-wrong="{name}"></span></span></div>'
    )


def _input(one: Field, told: str) -> str:
    if one.choices:
        options = "".join(f'<option value="{escape(value)}">{escape(said)}</option>' for value, said in one.choices)
        return f'<select {told}><option value="">{escape(one.unset)}</option>{options}</select>'
    return (
        f'<input type="text" inputmode="text" autocomplete="off" autocapitalize="off" spellcheck="false" '
        f'enterkeyhint="next" maxlength="{longest(one.key)}" {told} data-kind="{one.kind}" '
        f'data-inch="{escape(one.shown("inch"))}" data-metric="{escape(one.shown("metric"))}">'
    )
