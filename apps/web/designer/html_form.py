"""The study as a form: what is varied, what is asked for, how many points, and the one main button."""

from dataclasses import dataclass
from html import escape

from apps.web.designer.asked import ENDS, Asked
from apps.web.designer.question import Question
from apps.web.designer.state import MOST_ASKED, MOST_POINTS, MOST_VARIED, DesignerState
from apps.web.designer.varied import SECTIONS, Varied, choices, present_words, published
from geometry.setup import Setup
from mechviz.study import QUANTITIES, Parameter, Uniform
from mechviz.study.outcome import HEAT_WORDS, WEAR_WORDS
from mechviz.study.plan import KINDS

KIND_WORDS = {
    "sobol": "evenly spread (Sobol)",
    "latin-hypercube": "evenly spread (Latin hypercube)",
    "grid": "grid, every combination",
    "monte-carlo": "at random (Monte Carlo)",
}
COUNTS = (1024, 4096, 16_384, 65_536, 262_144, 1_000_000)


WHOSE = {"chamber.return_spring_rate": "chamber", "foundation.return_spring_rate": "shoe"}
"""Names that two parts share, and whose each is."""


@dataclass(frozen=True)
class Running:
    """How far a study is: None while none runs; ``said`` is what came of the last one."""

    share: float | None = None
    said: str = ""


def option(value: str, words: str, chosen: bool) -> str:
    """Return an option of a list."""
    return f'<option value="{escape(value)}"{" selected" if chosen else ""}>{escape(words)}</option>'


def key_name(key: str) -> str:
    """Return a dimension's name.

    >>> key_name("linkage.arm_length"), key_name("chamber.size")
    ('arm length', 'chamber size')
    """
    name = Parameter(key, Uniform(0.0, 1.0)).name
    return f"{WHOSE[key]} {name}" if key in WHOSE else name


def form(state: DesignerState, setup: Setup, asked: Question, running: Running, stale: bool) -> str:
    """Return the form."""
    rows = "".join(_dimension(n, one, setup, asked.wrong) for n, one in enumerate(state.varied))
    outcomes = "".join(_outcome(n, one, asked.wrong) for n, one in enumerate(state.asked))
    faults = "".join(f"<li>{escape(fault)}</li>" for fault in asked.faults)
    told = f'<ul class="wrong" role="alert">{faults}</ul>' if faults else ""
    head = f'<div class="head"><h1>Study</h1><span class="soft">{escape(setup.title)}</span>{_steps(state)}</div>'
    vary = (
        '<section aria-labelledby="vary"><h2 id="vary">Vary</h2><p class="soft">From, to, and the tolerance that it is '
        f"made with. Fractions or decimals, with a unit.</p>{rows}{_more(state, setup)}</section>"
    )
    ask = f'<section aria-labelledby="ask"><h2 id="ask">Ask for</h2>{outcomes}{_ask_more(state)}</section>'
    fields = f'<div class="study-fields">{vary}{ask}{_plan(state, asked)}</div>'
    return f'<div class="study">{head}{fields}{told}{_run(asked, running, stale, state.ran)}</div>'


def _steps(state: DesignerState) -> str:
    undo, redo = ("" if can else " disabled" for can in (state.can_undo, state.can_redo))
    return (
        f'<span class="steps"><button type="button" data-act="undo"{undo} aria-label="Undo the last change">'
        f'Undo</button><button type="button" data-act="redo"{redo} aria-label="Redo the last change">Redo'
        "</button></span>"
    )


def _dimension(place: int, varied: Varied, setup: Setup, wrong: dict[tuple[str, str], str]) -> str:
    name = key_name(varied.key)
    out = (
        f'<button type="button" class="out" data-act="leave-out" data-place="{place}" '
        f'aria-label="Leave out {escape(name)}">×</button>'
    )
    head = (
        f'<legend><strong>{escape(name)}</strong> <span class="soft">now {escape(present_words(setup, varied.key))}'
        f"</span></legend>{out}"
    )
    fields = [("low", "sizes", f"Sizes of {name}, with commas")] if varied.sized else [
        ("low", "from", f"{name}, from"),
        ("high", "to", f"{name}, to"),
        ("tolerance", "±", f"{name}, tolerance to either side"),
    ]  # fmt: skip
    body = "".join(_field(place, varied, *one, wrong.get((varied.key, one[0]), "")) for one in fields)
    hint = f'<p class="soft">Published: {", ".join(published(setup))}</p>' if varied.sized else ""
    told = "".join(
        f'<p class="wrong" id="why-{place}-{field}">{escape(why)}</p>'
        for field, *_ in fields
        if (why := wrong.get((varied.key, field)))
    )
    inside = f'{head}<div class="fields">{body}</div>{hint}{told}'
    return f'<fieldset class="dimension" id="v-{escape(varied.key)}">{inside}</fieldset>'


def _field(place: int, varied: Varied, field: str, label: str, name: str, why: str) -> str:
    bad = f' aria-invalid="true" aria-describedby="why-{place}-{field}"' if why else ""
    return (
        f'<label class="field-{field}"><span>{label}</span><input type="text" data-set="retype" data-place="{place}" '
        f'data-key="{field}" id="f-{escape(varied.key)}-{field}" value="{escape(getattr(varied, field))}" '
        f'aria-label="{escape(name)}" autocomplete="off" spellcheck="false" maxlength="60"{bad}></label>'
    )


def _more(state: DesignerState, setup: Setup) -> str:
    if len(state.varied) >= MOST_VARIED:
        return f'<p class="soft">{MOST_VARIED} dimensions are the most at once.</p>'
    groups = ""
    for words in SECTIONS.values():
        keys = [key for key in choices(setup).get(words, []) if key not in state.keys]
        inside = "".join(option(key, key_name(key), False) for key in keys)
        groups += f'<optgroup label="{escape(words)}">{inside}</optgroup>' if keys else ""
    return (
        f'<select class="more" id="more-varied" data-set="vary" aria-label="Vary one more dimension">'
        f'<option value="" selected>Vary one more …</option>{groups}</select>'
    )


def _outcome(place: int, outcome: Asked, wrong: dict[tuple[str, str], str]) -> str:
    names = "".join(option(name, q.words, name == outcome.name) for name, q in QUANTITIES.items())
    wears = "".join(option(w, words or "worn as found", w == outcome.wear) for w, words in WEAR_WORDS.items())
    heats = "".join(option(h, words or "heat as found", h == outcome.heat) for h, words in HEAT_WORDS.items())
    which = escape(outcome.words)
    return (
        f'<div class="outcome of-{outcome.quantity.verb}" id="o-{place}">'
        f'<select data-set="ask-name" data-place="{place}" aria-label="Outcome {place + 1}">{names}</select>'
        f'<button type="button" class="out" data-act="ask-no-more" data-place="{place}" '
        f'aria-label="Leave out {which}">×</button>'
        f'<select class="when" data-set="ask-wear" data-place="{place}" aria-label="Wear for {which}">{wears}</select>'
        f'<select class="when" data-set="ask-heat" data-place="{place}" aria-label="Heat for {which}">{heats}</select>'
        f"{_own_limits(place, outcome, wrong)}</div>"
    )


def _own_limits(place: int, outcome: Asked, wrong: dict[tuple[str, str], str]) -> str:
    """Limits of one's own beside the published one, folded away while there are none."""
    fields, told = "", ""
    for end in ENDS:
        why = wrong.get((outcome.key, end), "")
        name = f"own-{place}-{end}"
        bad = f' aria-invalid="true" aria-describedby="{name}-why"' if why else ""
        fields += (
            f'<label><span>at {end}</span><input type="text" id="{name}" data-set="ask-{end}" data-place="{place}" '
            f'value="{escape(getattr(outcome, end))}" aria-label="{escape(outcome.words)}, own limit: at {end}" '
            f'autocomplete="off" spellcheck="false" maxlength="60"{bad}></label>'
        )
        told += f'<p class="wrong" id="{name}-why">{escape(why)}</p>' if why else ""
    opened = " open" if outcome.least or outcome.most else ""
    return (
        f'<details class="own"{opened}><summary>own limit</summary><div class="fields">{fields}</div>{told}</details>'
    )


def _ask_more(state: DesignerState) -> str:
    if len(state.asked) >= MOST_ASKED:
        return f'<p class="soft">{MOST_ASKED} outcomes are the most at once.</p>'
    inside = "".join(option(name, q.words, False) for name, q in QUANTITIES.items())
    return (
        '<select class="more" id="more-asked" data-set="ask" aria-label="Ask for one more outcome">'
        f'<option value="" selected>Ask for one more …</option>{inside}</select>'
        '<button type="button" data-act="lifetime">Add new to worn, cold to hot</button>'
    )


def _plan(state: DesignerState, asked: Question) -> str:
    off = "" if asked.study else " disabled"
    kinds = "".join(option(kind, KIND_WORDS[kind], kind == state.kind) for kind in KINDS)
    counts = "".join(f'<option value="{count}">' for count in COUNTS)
    return (
        '<section class="plan"><h2>Points</h2><div class="fields">'
        f'<label class="kind"><span>laid out</span><select data-set="kind" aria-label="How points are laid out">{kinds}'
        "</select></label>"
        f'<label class="count"><span>about</span><input type="number" id="points" data-set="points" min="2" '
        f'max="{MOST_POINTS}" step="1" list="counts" value="{state.points}" aria-label="About how many points">'
        f'<datalist id="counts">{counts}</datalist></label></div>'
        f'<button type="button" data-act="study-file"{off}>Save the study as a file</button></section>'
    )


def _run(asked: Question, running: Running, stale: bool, ran: bool) -> str:
    if running.share is not None:
        percent = round(100 * running.share)
        return (
            f'<div class="run"><progress value="{percent}" max="100" aria-label="How far the study is">{percent} %'
            f"</progress><span>{percent} %</span>"
            '<button type="button" id="cancel" data-act="cancel">Cancel</button></div>'
        )
    size = f" {asked.size:,} points" if asked.study else ""
    off = "" if asked.can_run else " disabled"
    if not asked.can_run:
        running = Running(None, "Put right what is marked above, and it can run.")
    said = "The study has changed: run it again." if stale and ran and not running.said else running.said
    return (
        f'<div class="run"><button type="button" class="main" id="run" data-act="run"{off}>Run{size}</button>'
        f'<p role="status">{escape(said)}</p></div>'
    )
