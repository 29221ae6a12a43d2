"""The door where text becomes numbers: ``"1 3/4 in"`` in, a float in the unit used inside out.

The text must be one number (`geometry.number_text`) and one unit (`geometry.unit_text`) of the kind that belongs there.
"""

from collections.abc import Mapping
from dataclasses import replace
from difflib import get_close_matches
from fractions import Fraction
from math import isfinite
from typing import Literal

from geometry.errors import Fault, PartError
from geometry.number_text import NOT_FINITE, NOT_READ, Number, UnreadableError, read_number
from geometry.quantity import KindName, System
from geometry.slips import put_right
from geometry.unit_text import USUAL, Unit, UnitKind, looks_like_unit, unit

LONGEST_TEXT = 60
"""Characters; a number and a unit need far fewer."""

EXAMPLES: Mapping[UnitKind, tuple[str, ...]] = {
    "length": ("in", "mm"),
    "angle": ("deg",),
    "force": ("lbf", "N"),
    "torque": ("lbf*ft", "N*m"),
    "pressure": ("psi", "kPa"),
    "temperature": ("degF", "degC"),
    "area": ("in**2", "cm**2"),
    "rate": ("lbf/in", "N/mm"),
    "stiffness": ("N*m/deg", "lbf*ft/deg"),
    "rise": ("in/deg", "mm/deg"),
    "expansion": ("1/degF", "1/degC"),
    "speed": ("mph", "km/h"),
    "mass": ("lb", "kg"),
    "time": ("s", "min"),
    "share": ("%",),
}
"""Units that would do, by kind."""

_FIGURES: Mapping[str, str] = {
    "temperature": "70",
    "angle": "35",
    "pressure": "95",
    "area": "30",
    "expansion": "6.5e-6",
    "speed": "60",
    "mass": "8500",
    "time": "2",
    "share": "6",
}

_WORDS: Mapping[UnitKind, str] = {
    "rate": "a spring rate",
    "stiffness": "a torque for each degree of turn",
    "rise": "a rise for each degree of turn",
    "expansion": "an expansion for each degree of temperature",
    "share": "a share in percent",
}

GREATEST: Mapping[UnitKind, float] = {
    "length": 1e4,
    "angle": 6.3,
    "force": 1e6,
    "torque": 1e9,
    "pressure": 2.0,
    "temperature": 2e3,
    "area": 1e6,
    "rate": 1e5,
    "stiffness": 1e12,
    "rise": 1e4,
    "expansion": 1e-3,
    "speed": 6e4,
    "mass": 1e3,
    "time": 1e6,
    "share": 1.0,
}
"""In the unit used inside: beyond this it is a slip of the keyboard or of the unit, not a vehicle brake."""

STANDARD_GRAVITY = Fraction("9806.65")
"""mm/s2: a mass that is typed as its weight (``8500 lb``, ``38 kN``) is that weight over this."""

_LEAST_SHARE = 1e-9
"""Of the greatest: anything smaller and not zero cannot be measured."""


def parse(text: object, kind: UnitKind, where: str) -> float:
    """Return a typed quantity in the unit used inside.

    Parameters
    ----------
    text : object
        What was typed: ``1 3/4 in``, ``1-3/4 in``, ``1.75in``, ``44.5 mm``. Anything but text is refused.
    kind : str
        What it has to be, one of `geometry.quantity.KINDS` or ``expansion`` (1/K).
    where : str
        The dotted key, for the message.

    Raises
    ------
    PartError
        No unit, a unit of another kind, not one number and one unit, not finite, below absolute zero, or beyond
        anything a brake has.

    >>> parse("1 3/4 in", "length", "measured.stroke")
    44.45

    """
    if not isinstance(text, str):
        raise PartError(_not_text(text, kind, where))
    try:
        number = _read(text)
        found = _unit_of_kind(number, kind)
        return float(_in_bounds(number.value * found.factor + found.offset, text, kind, where))
    except UnreadableError as error:
        fix = _meant(text, kind) or error.fix or _examples(kind)
        raise PartError(Fault(where, error.problem, fix, shorten(text) or '""')) from None


def _meant(text: str, kind: UnitKind) -> str:
    """What was most likely meant, if one slip of the keyboard put right makes it readable; nothing otherwise."""
    for mended in put_right(text):
        try:
            parse(mended, kind, "")
        except PartError:
            continue
        return f'write "{mended}" if that is meant'
    return ""


_OF_INCHES: Mapping[str, Fraction] = {"length": Fraction("25.4"), "temperature": Fraction(5, 9)}
"""A unit that is a whole number of these, in the unit used inside, goes with inches."""


def typed_system(text: object, kind: Literal["length", "temperature"] = "length") -> System | None:
    """Say whether a length was typed in inches (or feet) or in a metric unit; None where it is no length.

    With ``kind`` the same of a temperature.

    >>> typed_system("3 ft"), typed_system("20 degC", "temperature")
    ('inch', 'metric')
    """
    try:
        number = _read(text) if isinstance(text, str) else None
    except UnreadableError:
        return None
    found = unit(number.rest) if number else None
    if found is None or found.kind != kind:
        return None
    return "inch" if (found.factor / _OF_INCHES[kind]).denominator == 1 else "metric"


def shorten(text: str) -> str:
    """Return a typed text fit for a message: one line, nothing unprintable, at most 40 characters."""
    line = "".join(c if c.isprintable() else "\ufffd" for c in text[:200])
    return line if len(line) <= 40 else line[:37] + "..."


def _read(text: str) -> Number:
    if len(text) > LONGEST_TEXT:
        raise UnreadableError("is too long for a number and a unit")
    return read_number(text)


def _examples(kind: UnitKind, number: str = "") -> str:
    """Show how it is written: ``write "1 3/4 in" or "1 3/4 mm"``, or with a figure of our own where none was read."""
    figure = number or _FIGURES.get(kind, "1.75")
    written = " or ".join(f'"{figure} {name}"' for name in EXAMPLES[kind])
    return f"write {written}" if number else f"write it like {written}"


def _name(kind: UnitKind) -> str:
    return _WORDS.get(kind) or ("an " if kind[0] in "aeiou" else "a ") + kind


def _not_text(value: object, kind: UnitKind, where: str) -> Fault:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return Fault(where, f"is {in_words(value)}, and {_name(kind)} belongs here", _examples(kind))
    if not is_finite(value):
        return Fault(where, NOT_FINITE, _examples(kind), in_words(value))
    figure = shorten(repr(value))
    return Fault(where, f"has no unit, and {_name(kind)} needs one", _examples(kind, figure), figure)


def is_finite(value: float) -> bool:
    """Say whether a number is one that can be used; an integer too large for a float is not."""
    try:
        return isfinite(value)
    except OverflowError:
        return False


def in_words(value: object) -> str:
    """Name a value from a file that is not what belongs there."""
    match value:
        case bool():
            return "true or false"
        case str():
            return shorten(value)
        case int() | float():
            return shorten(repr(value)) if isinstance(value, float) or abs(value) < 10**20 else "a very large number"
        case list():
            return "a list"
        case dict():
            return "a section"
        case _:
            return "a date or a time"


def _unit_of_kind(number: Number, kind: UnitKind) -> Unit:
    """Find the unit and hold it against what belongs here."""
    fix = _examples(kind, number.typed)
    if not number.rest:
        raise UnreadableError(f"has no unit, and {_name(kind)} needs one", fix)
    if not looks_like_unit(number.rest):
        raise UnreadableError(NOT_READ)
    found, typed = unit(number.rest), shorten(number.rest)
    if found is None:
        near = _near(typed, kind)
        meant = f'write "{number.typed} {near[0]}"' if near else ""
        raise UnreadableError(f'"{typed}" is not a unit that is known here', meant)
    if kind == "mass" and found.kind == "force":
        return Unit(found.factor / STANDARD_GRAVITY, Fraction(0), "mass")
    if found.kind != kind:
        raise UnreadableError(f'"{typed}" is {_measured(found)}, and {_name(kind)} belongs here', fix)
    return found


def _near(typed: str, kind: UnitKind) -> list[str]:
    """The unit of this kind that was likely meant: the same but for capitals, or nearly so."""
    names = [name for name, one in USUAL.items() if one.kind == kind]
    return [n for n in names if n.lower() == typed.lower()][:1] or get_close_matches(typed, names, 1, 0.6)


def _measured(found: Unit) -> str:
    return "a unit of something else" if found.kind is None else _name(found.kind)


def _in_bounds(value: Fraction, text: str, kind: UnitKind, where: str) -> Fraction:
    most = GREATEST[kind]
    fault = Fault(where, "is below absolute zero", "check the figure and its sign", shorten(text), _shown(kind))
    if kind == "temperature" and value < 0:
        raise PartError(replace(fault, least=0.0))
    if abs(value) > most:
        problem, fix = "is more than any vehicle brake has", "check the figure and its unit"
        raise PartError(replace(fault, problem=problem, fix=fix, most=most))
    if 0 < abs(value) < most * _LEAST_SHARE:
        problem, fix = "is too small to be measured", "check the figure and its unit"
        raise PartError(replace(fault, problem=problem, fix=fix))
    return value


def _shown(kind: UnitKind) -> KindName:
    return "number" if kind == "expansion" else kind
