"""A life for people: what happens first, then a table, a column a lining thickness."""

from collections.abc import Callable, Sequence
from math import isfinite

import numpy as np

from geometry.arrays import Array
from geometry.heat.events import KNOWN_TO
from geometry.life import Event, Life
from geometry.life.events import JUST
from geometry.quantity import KindName, System
from geometry.reasons import Reason
from mechviz.lifetime.study import Study
from mechviz.report.cautions import AUTOMATIC, ESTIMATE, HEADING
from mechviz.report.columns import Line, tabled
from mechviz.report.dashes import UNPRESSED, dash_words
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import NOTHING, both, fixed, other, pair, taped, unit_word

FOOT = "Computed from the setup's figures, not measured."


def life_text(lived: Study, life: Life, system: System, width: int) -> str:
    """Write a life in at most ``width`` columns."""
    width = fitting(width)
    lines = [line for text in (lived.setup.title, *_with(lived, system)) for line in hang(text, width)]
    lines += ["", *_happens(lived, system, width), ""]
    heads = [_head(float(t), system) for t in np.ravel(life.thickness)]
    lines += [*tabled(heads, _table(life, system), width), ""]
    lines += [line for text in (*_dashes(life), FOOT) for line in hang(text, width)] + [""]
    return "\n".join([*lines, *boxed(HEADING, life_cautions(lived), width)]) + "\n"


def life_cautions(lived: Study) -> list[str]:
    """Return the cautions that belong beside a life."""
    return [*([AUTOMATIC] if lived.service.brake.adjuster.kind == "automatic" else []), ESTIMATE]


def _with(lived: Study, system: System) -> list[str]:
    one = lived.service
    hot = both(one.hot, "temperature", system)
    return [
        f"Setup: {lived.setup.source}. Adjuster: {adjuster_words(lived)}.",
        f"New linings {taped(one.brake.lining.thickness, system)}, drum {both(one.drum_diameter, 'length', system)}, "
        f"adjusted to a free stroke of {taped(one.free_stroke, system)}, applied at "
        f"{both(one.pressure, 'pressure', system)}; hot is a drum at {hot}{beyond_known(lived, system)}.",
    ]


def beyond_known(lived: Study, system: System) -> str:
    """Return what has to be said of a drum that is hotter than its growth is known for, nothing otherwise."""
    if lived.service.hot <= KNOWN_TO * (1 + 1e-12):
        return ""
    return f", and its growth is known to {both(KNOWN_TO, 'temperature', system)} only"


def _dashes(life: Life) -> list[str]:
    """Why there are dashes, cold and hot."""
    unpressed = any(np.any(np.isfinite(one.stroke) & np.isnan(one.brake_torque)) for one in (life.cold, life.hot))
    found = [*dash_words(life.cold.reason, "A dash, cold"), *dash_words(life.hot.reason, "A dash, hot")]
    return [*found, *([UNPRESSED] if unpressed else [])]


def adjuster_words(lived: Study) -> str:
    """Return the adjuster in a few words: ``automatic, senses clearance``."""
    adjuster = lived.service.brake.adjuster
    kind = adjuster.kind + (f", senses {adjuster.senses}" if adjuster.senses else "")
    stuck = "stuck" if adjuster.kind == "automatic" else "never adjusted again"
    return kind + {"working": "", "stuck": f", {stuck}", "backing-off": ", backing off"}[adjuster.state]


def _happens(lived: Study, system: System, width: int) -> list[str]:
    """What happens, in order, what does not, what cannot be told, and what would come if the adjuster stopped."""
    lines = hang("What happens, in order:", width)
    lines += [line for e in lived.happening for line in hang(said(e, lived, system), width, "- ", "  ")]
    found = [ending(lived, system)] if lived.ends_early else []
    never = [event.words for event in lived.never]
    found += [f"Not in this life: {'; '.join(never)}."] if never else []
    found += [untold(event, lived, system) for event in lived.untold]
    if lived.service.brake.adjuster.state == "working":
        stroke = lived.stopped().event("stroke-limit")
        if stroke.happens:
            worn = small_wear(stroke.wear, system)
            found.append(f"Were the adjuster to stop when new, the stroke would be at its limit after {worn} of wear.")
    return [*lines, *(line for text in found for line in hang(text, width))]


def ending(lived: Study, system: System) -> str:
    """Return where a life ends for want of a cold application, and why: linings that press no more wear no more."""
    left = lived.service.brake.lining.thickness - lived.last.wear
    return f"The life ends at {both(left, 'length', system)} of lining left, where {lived.last.reason.words}."


def untold(event: Event, lived: Study, system: System) -> str:
    """Return what cannot be told, from where on and why; only what is asked of a hot brake can be missing in a life."""
    left = lived.service.brake.lining.thickness - event.unknown_from
    reason = Reason(int(lived.at(event.unknown_from + JUST).hot.reason))
    return f"Not known from {both(left, 'length', system)} of lining left on, where hot {reason.words}: {event.words}."


def said(event: Event, lived: Study, system: System) -> str:
    """Return an event as a sentence: where in the lining's life, and what."""
    if event.wear == 0:
        return f"From new linings on: {event.words}."
    left = lived.service.brake.lining.thickness - event.wear
    return f"{both(left, 'length', system)} of lining left, {small_wear(event.wear, system)} worn: {event.words}."


def small_wear(wear: float, system: System) -> str:
    """Write a wear: thousandths of an inch or hundredths of a millimetre, the other unit in brackets."""
    inches, millimetres = f"{fixed(wear / 25.4, 3)} in", f"{fixed(wear, 2)} mm"
    return f"{inches} ({millimetres})" if system == "inch" else f"{millimetres} ({inches})"


def _head(thickness: float, system: System) -> str:
    return f"lining {fixed(thickness / 25.4, 2)} in" if system == "inch" else f"lining {fixed(thickness, 1)} mm"


Of = Callable[[Life], Array]


def _table(life: Life, system: System) -> list[Line]:
    def line(name: str, kind: KindName, of: Of) -> Line:
        return Line(f"  {name}", _units(kind, system), _cells(of(life), kind, system))

    return [
        Line("COLD"),
        line("free stroke", "length", lambda x: x.free_stroke),
        line("stroke", "length", lambda x: x.cold.stroke),
        line("stroke left in the chamber", "length", lambda x: x.cold.reserve),
        line("arm angle at contact", "angle", lambda x: x.contact_angle),
        line("arm angle applied", "angle", lambda x: x.cold.arm_angle),
        line("chamber force", "force", lambda x: x.cold.chamber_force),
        line("brake torque", "torque", lambda x: x.cold.brake_torque),
        Line("HOT"),
        line("stroke", "length", lambda x: x.hot.stroke),
        line("stroke left in the chamber", "length", lambda x: x.hot.reserve),
        line("arm angle applied", "angle", lambda x: x.hot.arm_angle),
        line("brake torque", "torque", lambda x: x.hot.brake_torque),
        Line("CAM"),
        line("turned, linings touching", "angle", lambda x: x.cam_turn),
        line("profile left, applied", "angle", lambda x: x.cold.profile_left),
        Line("GAP, RELEASED"),
        *(_gap(name, of(life), system) for name, of in _GAPS),
    ]


_GAPS: Sequence[tuple[str, Of]] = (
    ("anchor end", lambda x: x.gap_anchor_end),
    ("middle", lambda x: x.gap_middle),
    ("cam end", lambda x: x.gap_cam_end),
    ("least", lambda x: x.gap_least),
)


def _gap(name: str, gaps: Array, system: System) -> Line:
    bare = (small_wear(float(gap), system).replace(" in", "").replace(" mm", "") for gap in gaps)
    cells = tuple(words if isfinite(gap) else NOTHING for words, gap in zip(bare, gaps, strict=True))
    return Line(f"  {name}", _units("length", system), cells)


def _cells(values: Array, kind: KindName, system: System) -> tuple[str, ...]:
    return tuple(pair(float(value), kind, system) for value in values)


def _units(kind: KindName, system: System) -> str:
    first, second = unit_word(kind, system), unit_word(kind, other(system))
    return first if first == second else f"{first} ({second})"
