"""A life for people: what happens first, then a table, a column a lining thickness."""

from collections.abc import Callable, Sequence
from math import isfinite

import numpy as np

from geometry.arrays import Array
from geometry.life import Event, Life
from geometry.life.events import reached
from geometry.quantity import KindName, System
from mechviz.lifetime.study import Study
from mechviz.report.cautions import AUTOMATIC, ESTIMATE, HEADING
from mechviz.report.columns import Line, tabled
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import NOTHING, both, fixed, other, pair, taped, unit_word

FOOT = "Computed from the setup's figures, not measured. A dash: there is no such figure at that wear."


def life_text(lived: Study, life: Life, system: System, width: int) -> str:
    """Write a life in at most ``width`` columns."""
    width = fitting(width)
    lines = [line for text in (lived.setup.title, *_with(lived, system)) for line in hang(text, width)]
    lines += ["", *_happens(lived, system, width), ""]
    heads = [_head(float(t), system) for t in np.ravel(life.thickness)]
    lines += [*tabled(heads, _table(life, system), width), "", *hang(FOOT, width), ""]
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
        f"{both(one.pressure, 'pressure', system)}; hot is a drum at {hot}.",
    ]


def adjuster_words(lived: Study) -> str:
    """Return the adjuster in a few words: ``automatic, senses clearance``."""
    adjuster = lived.service.brake.adjuster
    kind = adjuster.kind + (f", senses {adjuster.senses}" if adjuster.senses else "")
    stuck = "stuck" if adjuster.kind == "automatic" else "never adjusted again"
    return kind + {"working": "", "stuck": f", {stuck}", "backing-off": ", backing off"}[adjuster.state]


def _happens(lived: Study, system: System, width: int) -> list[str]:
    """What happens, in order, what does not, and what would if the adjuster stopped."""
    lines = hang("What happens, in order:", width)
    lines += [line for e in reached(lived.events) for line in hang(said(e, lived, system), width, "- ", "  ")]
    never = [event.words for event in lived.events if not event.happens]
    found = [f"Not in this life: {'; '.join(never)}."] if never else []
    if lived.service.brake.adjuster.state == "working":
        stroke = lived.stopped().event("stroke-limit")
        if stroke.happens:
            worn = small_wear(stroke.wear, system)
            found.append(f"Were the adjuster to stop when new, the stroke would be at its limit after {worn} of wear.")
    return [*lines, *(line for text in found for line in hang(text, width))]


def said(event: Event, lived: Study, system: System) -> str:
    """Return an event as a sentence: where in the lining's life, and what."""
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
