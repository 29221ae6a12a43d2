"""A drive for people: what is driven and with what, what happens on the way, and the application cold and hot."""

from collections.abc import Callable, Sequence
from math import isfinite

import numpy as np

from geometry.arrays import Array
from geometry.heat import HeatEvent, HeatStates
from geometry.heat.sink import INTO_DRUM, MELTING
from geometry.quantity import KindName, System
from geometry.reasons import Reason
from mechviz.heating.study import Study
from mechviz.report.cautions import CHOCKS, ESTIMATE, HEADING
from mechviz.report.clock import clock, span
from mechviz.report.columns import Line, tabled
from mechviz.report.dashes import UNPRESSED, dash_words
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import both, fixed, number, other, pair, quantity, unit_word

JUST = 1e-3
"""s after something ends, at which is seen why."""

ROUGH = "Temperatures are a rough estimate: one lumped drum with the project's constants, not a measurement."
FADE = (
    "Friction is held constant: fade is not modelled, and a hot lining drags less than is shown. The adjuster is taken "
    "to stay as found."
)
HOT = (
    "Brakes that smoke or fade: stop where it is safe, chock the wheels, let them cool. Do not touch a drum after "
    "braking; measure the stroke, and judge it against its limit, with a cold drum only."
)


def heat_text(heated: Study, system: System, width: int) -> str:
    """Write a drive in at most ``width`` columns."""
    width = fitting(width)
    title = f"{heated.setup.title}: {drive_words(heated, system)}"
    lines = [line for text in (title, *_with(heated, system)) for line in hang(text, width)]
    lines += ["", *_happens(heated, system, width), ""]
    heads, states = _columns(heated, system)
    lines += [*tabled(heads, _table(states, system), width), ""]
    lines += [line for text in (*_dashes(states), ROUGH, FADE, *sources()) for line in hang(text, width)]
    return "\n".join([*lines, "", *boxed(HEADING, heat_cautions(), width)]) + "\n"


def _dashes(states: HeatStates) -> list[str]:
    """Why there are dashes."""
    unpressed = np.any(np.isfinite(states.stroke) & np.isnan(states.brake_torque))
    return [*dash_words(states.reason), *([UNPRESSED] if unpressed else [])]


def heat_cautions() -> list[str]:
    """Return the cautions that belong beside a drive."""
    return [HOT, CHOCKS, ESTIMATE]


def drive_words(heated: Study, system: System) -> str:
    """Return what is driven, in a few words: ``10 stops from 60 mph, one every 2 min``."""
    asked = heated.asked
    speed = quantity(asked.driven, "speed", system)
    if asked.kind == "stops":
        down = f" to {quantity(asked.until, 'speed', system)}" if asked.until else ""
        return f"{asked.count} stop{'s' * (asked.count > 1)} from {speed}{down}, one every {span(asked.every)}"
    held = f", {fixed(100 * asked.held, 0)} % held by engine and retarder" if asked.held else ""
    return f"{fixed(100 * asked.grade, 1).removesuffix('.0')} % down at {speed} for {span(asked.duration)}{held}"


def _with(heated: Study, system: System) -> list[str]:
    store = heated.sink
    mass, drum = both(heated.mass, "mass", system), both(store.mass, "mass", system)
    start, air = (both(kelvin, "temperature", system) for kelvin in (_start(heated), store.ambient))
    return [
        f"Setup: {heated.setup.source}. An estimate.",
        f"On this brake {mass} of the vehicle; drum {drum} of iron, {start} at the beginning; air at {air}. "
        f"The application is one at {both(heated.pressure, 'pressure', system)}, whenever it is asked for.",
    ]


def _start(heated: Study) -> float:
    return float(heated.at(0.0).temperature)


def _happens(heated: Study, system: System, width: int) -> list[str]:
    """What happens, in order, and what does not."""
    lines = hang("What happens, in order:", width)
    for event in heated.happening:
        lines += hang(said(event, system), width, "- ", "  ")
    never = [event.words for event in heated.never]
    found = [f"Not on this drive: {'; '.join(never)}."] if never else []
    found += untold(heated)
    return lines + [line for text in (*found, *no_longer_so(heated, system)) for line in hang(text, width)]


def untold(heated: Study) -> list[str]:
    """Return what cannot be told, from when on, and why."""
    found = list[str]()
    for time in sorted({event.unknown_from for event in heated.untold}):
        words = "; ".join(event.words for event in heated.untold if event.unknown_from == time)
        since = "from the beginning" if time == 0 else f"from {clock(time)} on"
        reason = Reason(int(heated.at(time + JUST).reason))
        found.append(f"Not known {since}, as {reason.words}: {words}.")
    return found


def no_longer_so(heated: Study, system: System) -> list[str]:
    """Return what has to be said of temperatures that this brake, or any, cannot come to."""
    found = list[str]()
    if heated.lost:
        since = "From the beginning" if heated.lost.time == 0 else f"From {clock(heated.lost.time)}"
        found.append(
            f"{since} on this brake is no longer good for its share of the drive: temperatures after that are what the "
            "drum would come to if it were."
        )
    if float(heated.at(heated.hottest).temperature) > MELTING:
        found.append(
            f"No drum gets so hot: iron begins to melt at about {both(MELTING, 'temperature', system)} (from memory). "
            "Check what is driven and with what drum."
        )
    return found


def said(event: HeatEvent, system: System) -> str:
    """Return an event as a sentence: when, with the drum how hot, and what."""
    if event.time == 0:
        return f"From the beginning: {event.words}."
    return f"{clock(event.time)}, drum at {both(event.temperature, 'temperature', system)}: {event.words}."


def _columns(heated: Study, system: System) -> tuple[list[str], HeatStates]:
    """The applications that are compared: cold, at the temperature asked for, hottest, at the end."""
    hottest = heated.at([heated.hottest, heated.course.end])
    columns = [("drum cold", heated.cold, 0)]
    if heated.asked.hot is not None:
        at = quantity(heated.asked.hot, "temperature", system)
        columns.append((f"drum at {at}", heated.with_drum_at(heated.asked.hot), 0))
    columns.append((f"hottest, {clock(heated.hottest)}", hottest, 0))
    columns.append((f"end, {clock(heated.course.end)}", hottest, 1))
    picked = {
        name: np.array([np.ravel(getattr(states, name))[row] for _, states, row in columns])
        for name in HeatStates.__dataclass_fields__
    }
    return [head for head, _, _ in columns], HeatStates(**picked)


Of = Callable[[HeatStates], Array]
_ROWS: Sequence[tuple[str, KindName, Of]] = (
    ("drum", "temperature", lambda x: x.temperature),
    ("free stroke", "length", lambda x: x.free_stroke),
    ("stroke", "length", lambda x: x.stroke),
    ("stroke left in the chamber", "length", lambda x: x.reserve),
    ("arm angle applied", "angle", lambda x: x.arm_angle),
    ("chamber force", "force", lambda x: x.chamber_force),
    ("brake torque", "torque", lambda x: x.brake_torque),
)


def _table(states: HeatStates, system: System) -> list[Line]:
    return [Line(name, _units(kind, system), _cells(of(states), kind, system)) for name, kind, of in _ROWS]


def _cells(values: Array, kind: KindName, system: System) -> tuple[str, ...]:
    return tuple(
        pair(float(value), kind, system) if isfinite(value) else number(None, kind, system) for value in values
    )


def _units(kind: KindName, system: System) -> str:
    first, second = unit_word(kind, system), unit_word(kind, other(system))
    return first if first == second else f"{first} ({second})"


def sources() -> list[str]:
    """Return where the constants are from."""
    return [
        "Iron 490 J/(kg K) (a materials table, seen in an excerpt); cooling of a truck brake 13 W/K standing, 22 W/K "
        "at 30 mph, and air at 90 degF: a published rating of downgrades (from memory); "
        f"{fixed(100 * INTO_DRUM, 0)} % of the heat into the drum and 1 % rolling resistance: textbooks' order (from "
        "memory); drum mass, stops at 0.3 g: the project's own. The limit is one for a cold drum; the drum's growth is "
        "known to 600 degF (from memory).",
    ]
