"""Readings in words: those that were taken, and those that a cause would make."""

from collections.abc import Sequence
from math import isfinite

from geometry.arrays import Array
from geometry.diagnosis import NOTHING, Reading, Worth
from geometry.diagnosis.meant import slack_temperature
from geometry.diagnosis.posterior import MOVING
from geometry.diagnosis.readings import OTHER_SLACK
from geometry.quantity import System
from mechviz.diagnosis.notices import read_hot
from mechviz.diagnosis.study import Cause, Group, Study
from mechviz.report.written import gap_text, number, quantity, taped, unit_word

EXPECTED = 3
"""How many predictions a cause is given."""
APART = 0.2
"""A reading is foretold where its distributions under two causes shown differ by this share at least."""


def value_words(one: Reading, value: float, system: System) -> str:
    """Write a reading that was taken, with its name."""
    if one.kind == "number":
        return f"{one.title} {'seen' if value else 'none'}"
    if one.name == "lining_clearance":
        return f"{one.title} {gap_text(value, system)}"
    return f"{one.title} {taped(value, system) if one.kind == 'length' else quantity(value, one.kind, system)}"


def expected_words(study: Study, cause: Cause, shown: Sequence[Group], system: System) -> str:
    """Write the middle nine tenths of the readings not yet taken, those that tell most of the causes shown.

    Of a brake that does not work nothing that moves is foretold.
    """
    sound = next(one.place for one in study.causes if one.name == NOTHING)
    places = [sound, *(group.causes[0].place for group in shown)]
    tell = [one for one in study.next if one.reading.kind != "number" and _tells(one, places)][:EXPECTED]
    if study.belief.broken(cause.place):
        tell = [one for one in tell if one.reading.name not in MOVING]
    return ", ".join(
        f"{one.reading.title} {ends_words(one.ranges[cause.place], one.reading, system)}{_heat(study, one, system)}"
        for one in tell
    )


def _heat(study: Study, worth: Worth, system: System) -> str:
    """With the drum how hot slack would be read so, where that is not cold."""
    hot = worth.reading.name in OTHER_SLACK and read_hot(study.setup)
    return f" at {quantity(slack_temperature(study.setup), 'temperature', system)}" if hot else ""


def _tells(worth: Worth, places: Sequence[int]) -> bool:
    """Whether some of the causes would give another reading than the first."""
    share = worth.share[list(places)]
    apart = 0.5 * abs(share - share[0]).sum(axis=1)
    return float(apart.max()) >= APART


def ends_words(stretch: Array, reading: Reading, system: System) -> str:
    """Write a stretch (2,) of a reading, mm or rad, as finely as the reading is taken."""
    low, high = (float(end) for end in stretch)
    kind, narrow = reading.kind, reading.name in ("lining_clearance", "drum_diameter")
    digits = 0 if kind == "angle" else (3 if system == "inch" else 2) if narrow else None
    ends = [number(max(end, 0.0), kind, system, digits) for end in (low, high)]
    assert isfinite(low + high)
    return f"{ends[0] if ends[0] == ends[1] else ' to '.join(ends)} {unit_word(kind, system)}"
