"""Where a brake stands in a step: pressure, lining, drum temperature and the adjuster's setting, from typed words.

Beside figures with a unit a lesson may write words, so that it holds for any brake: ``new`` and ``limit`` for a lining,
``hot`` and ``cold`` for a drum, ``healthy`` for a free stroke, ``found`` for all of them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from geometry.arrays import floats
from geometry.condition import Condition
from geometry.errors import Fault, PartError
from geometry.found import condition_of, released_angle
from geometry.kinematics import free_stroke
from geometry.setup import Setup
from geometry.states import State, at_contact, at_pressure, at_stroke
from geometry.tables import test_pressure_band
from geometry.units import UnitKind, parse, typed_system
from mechviz.checks.case import COLD, HOT, Case

KINDS: Mapping[str, UnitKind] = {
    "pressure": "pressure",
    "lining": "length",
    "temperature": "temperature",
    "free_stroke": "length",
}
WORDS: Mapping[str, tuple[str, ...]] = {
    "pressure": ("found", "test"),
    "lining": ("found", "new", "limit", "past limit"),
    "temperature": ("found", "cold", "hot"),
    "free_stroke": ("found", "healthy"),
}
"""Words that may stand for a figure."""

HEALTHY, PAST = 12.7, 25.4 / 8 + 0.05
"""mm: a free stroke well inside the trade's band, and how far past its limit a stroke goes: 1/8 in and a hair, so that
no two roundings of it differ (the project's figures)."""
SHY = 0.02
"""mm: how far inside its limit a stroke at the limit stays, so that it is not told over it by rounding."""
ROOM = 0.97
"""Of the chamber's stroke: farther than that no stroke is asked to go."""
HALVINGS = 48
EVENTS = ("released", "contact", "applied")


@dataclass(frozen=True)
class Stand:
    """Chamber pressure MPa, lining mm, drum temperature K, the cam's released angle rad."""

    pressure: float
    lining: float
    temperature: float
    setting: float

    def condition(self, setup: Setup) -> Condition:
        """Return it as a condition of a setup's brake, with the drum as found."""
        return Condition(self.lining, setup.as_found.drum_diameter, self.temperature, self.setting)

    def values(self) -> dict[str, float]:
        """Return it as the page's script has it."""
        return {
            "pressure": self.pressure,
            "lining": self.lining,
            "temperature": self.temperature,
            "setting": self.setting,
        }


@dataclass(frozen=True)
class At:
    """A place in the application: an event, a stroke (mm) or a pressure (MPa), and what was typed."""

    kind: str
    value: float
    typed: str

    def state(self, setup: Setup, stand: Stand) -> State:
        """Return the state there."""
        condition = stand.condition(setup)
        if self.kind == "stroke":
            return at_stroke(setup.brake, condition, self.value, "stroke")
        if self.kind == "pressure":
            return at_pressure(setup.brake, condition, self.value, "pressure")
        if self.typed == "released":
            return at_stroke(setup.brake, condition, 0.0, "released")
        if self.typed == "contact":
            return at_contact(setup.brake, condition)
        return at_pressure(setup.brake, condition, stand.pressure, "applied")


def read_at(typed: str, where: str) -> At:
    """Return the place in the application that was typed. Raises `PartError`."""
    name = " ".join(typed.strip().lower().split())
    if name in EVENTS:
        return At("event", 0.0, name)
    if typed_system(typed) is not None:
        return At("stroke", parse(typed, "length", where), typed)
    try:
        return At("pressure", parse(typed, "pressure", where), typed)
    except PartError:
        fix = 'write released, contact, applied, a stroke such as "1 3/4 in" or a pressure such as "60 psi"'
        raise PartError(Fault(where, "is no place in an application", fix, typed[:40] or '""', "number")) from None


def found_stand(setup: Setup) -> Stand:
    """Return where a setup's brake stands as found."""
    thickness, _, temperature, setting = (float(value) for value in condition_of(setup).arrays)
    return Stand(setup.test.pressure, thickness, temperature, setting)


def stand_of(setup: Setup, typed: Mapping[str, str | None], where: Mapping[str, str]) -> Stand:
    """Return where typed words put a brake; None is as found. Raises `PartError` with the key from ``where``.

    An adjuster that is set to a free stroke is set with the lining that is typed; with a lining that is worn until the
    stroke meets its limit it is set with new ones, and stays.
    """
    found = found_stand(setup)
    pressure = _figure(setup, "pressure", typed, where, found.pressure)
    temperature = _figure(setup, "temperature", typed, where, found.temperature)
    word = _word("lining", typed)
    new = setup.brake.lining.thickness
    worn = word in ("limit", "past limit")
    lining = new if word == "new" or worn else _figure(setup, "lining", typed, where, found.lining)
    start = Stand(pressure, lining, COLD, found.setting)
    slack = typed.get("free_stroke")
    if slack is not None and _word("free_stroke", typed) != "found":
        start = _adjusted(setup, start, typed, where)
    stand = replace(start, temperature=temperature)
    return replace(stand, lining=worn_to(setup, stand, word == "past limit", where["lining"])) if worn else stand


def moved(setup: Setup, begin: Stand, what: str, typed: str, where: str, follows: bool) -> Stand:
    """Return where one typed figure puts a brake that stood at ``begin``; everything else stays, as an adjuster does.

    With ``follows`` it takes up what a lining wears.
    """
    asked, places = {what: typed}, {what: where}
    word = _word(what, asked)
    if what == "free_stroke":
        return replace(_adjusted(setup, replace(begin, temperature=COLD), asked, places), temperature=begin.temperature)
    if what == "lining" and word in ("limit", "past limit"):
        return replace(begin, lining=worn_to(setup, begin, word == "past limit", where))
    if what == "lining":
        new, found = setup.brake.lining.thickness, found_stand(setup).lining
        lining = new if word == "new" else _figure(setup, what, asked, places, found)
        return _followed(setup, begin, lining) if follows else replace(begin, lining=lining)
    default = getattr(found_stand(setup), what)
    return replace(begin, **{what: _figure(setup, what, asked, places, default)})


def worn_to(setup: Setup, stand: Stand, past: bool, where: str) -> float:
    """Return the lining (mm) with which a cold stroke meets its limit, or is past it, the adjuster staying as it is."""
    brake, limit = setup.brake, Case(setup, setup.test.rules).limit.limit_mm
    rated = brake.chamber.rated_stroke
    wanted = min(limit + PAST, ROOM * rated) if past else limit - SHY

    def stroke(lining: float) -> float | None:
        trial = replace(stand, lining=lining, temperature=COLD)
        return at_pressure(brake, trial.condition(setup), stand.pressure, "applied").stroke

    high, low = brake.lining.thickness, 0.02 * brake.lining.thickness
    begin = stroke(high)
    if begin is None or begin > wanted:
        problem = "cannot be reached by wear: with new linings the stroke is already longer, or cannot be"
        raise PartError(Fault(where, problem, 'write free_stroke = "healthy" beside it', kind="number"))
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        now = stroke(middle)
        low, high = (low, middle) if now is not None and now < wanted else (middle, high)
    if high < 0.03 * brake.lining.thickness:
        raise PartError(Fault(where, "is never reached by wear on this brake", "write a lining", kind="number"))
    return high


def free_stroke_of(setup: Setup, stand: Stand) -> float:
    """Return the free stroke (mm) where a brake stands."""
    return float(free_stroke(setup.brake, stand.condition(setup)))


def _adjusted(setup: Setup, stand: Stand, typed: Mapping[str, str | None], where: Mapping[str, str]) -> Stand:
    """The adjuster set to a typed free stroke, cold; ``healthy`` leaves the stroke well inside its limit."""
    if _word("free_stroke", typed) == "found":
        return _set_to(setup, stand, free_stroke_of(setup, replace(found_stand(setup), temperature=COLD)))
    if _word("free_stroke", typed) != "healthy":
        return _set_to(setup, stand, _figure(setup, "free_stroke", typed, where, 0.0))
    limit = Case(setup, setup.test.rules).limit.limit_mm
    free = HEALTHY
    for _ in range(5):
        one = _set_to(setup, stand, free)
        stroke = at_pressure(setup.brake, one.condition(setup), _full(setup), "applied").stroke
        if stroke is not None and stroke < 0.85 * limit:
            return one
        free *= 0.7
    return _set_to(setup, stand, free)


def _full(setup: Setup) -> float:
    band = test_pressure_band(setup.test.procedure)
    return min(max(setup.test.pressure, band.low_mpa), band.high_mpa)


def _set_to(setup: Setup, stand: Stand, free: float) -> Stand:
    diameter = floats(setup.as_found.drum_diameter)
    setting = released_angle(setup.brake, floats(stand.lining), diameter, COLD, floats(free), floats(np.nan))
    return replace(stand, setting=float(setting))


def _followed(setup: Setup, begin: Stand, lining: float) -> Stand:
    free = free_stroke_of(setup, replace(begin, temperature=COLD))
    return replace(_set_to(setup, replace(begin, lining=lining), free), temperature=begin.temperature)


def _word(what: str, typed: Mapping[str, str | None]) -> str | None:
    """The word that was typed instead of a figure; None where it is none."""
    text = " ".join((typed.get(what) or "").lower().split())
    return text if text in WORDS[what] else None


def _figure(setup: Setup, what: str, typed: Mapping[str, str | None], where: Mapping[str, str], found: float) -> float:
    text = typed.get(what)
    if text is None:
        return found
    match _word(what, typed):
        case None:
            return _parsed(text, what, where[what])
        case "hot":
            return HOT
        case "cold":
            return COLD
        case "test":
            return _full(setup)
        case _:
            return found


def _parsed(text: str, what: str, where: str) -> float:
    try:
        return parse(text, KINDS[what], where)
    except PartError as error:
        also = f"; or write {', '.join(WORDS[what])}"
        raise PartError([replace(one, fix=one.fix + also) for one in error.faults]) from None
