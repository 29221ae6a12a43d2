"""A text from a field, made what the setup file takes: a bare figure gets its unit, and a slip is told in words."""

import re
from fractions import Fraction
from math import inf

from geometry.errors import Fault, PartError
from geometry.number_text import NOT_READ, UnreadableError, read_number
from geometry.quantity import KINDS, KindName, System, text
from geometry.units import parse, shorten
from mechviz.job.fields import Field

AS_SAID = {"cold": "70 degF", "hot": "150 degF"}
"""What a drum is taken for that was only felt: cold is the cold drum of the tests, hot is too hot to be touched (the
project's figure: more than a hand bears, and less than a descent makes)."""

_SOURCE: dict[str, KindName] = {"length": "length", "angle": "angle", "pressure": "pressure"}


def with_unit(field: Field, typed: str, system: System) -> str:
    """Return a text with the unit that it was meant in, where it is a bare figure; else as it is.

    A bare fraction where millimetres are read was no reading, and is none after it either.
    """
    unit, typed = field.unit(system), with_point(typed)
    try:
        number = read_number(typed.strip()) if unit else None
    except UnreadableError:
        return typed
    slip = number is not None and unit == "mm" and "/" in number.typed
    return typed if number is None or number.rest or slip else f"{typed.strip()} {unit}"


_COMMA = re.compile(r"(\s*[+-]?[0-9]+),([0-9]{1,2}|[0-9]{4,})(?![0-9,./])")


def with_point(typed: str) -> str:
    """Return a text with a decimal comma as a point; one before three figures may part thousands, and is left.

    >>> with_point("44,5 mm"), with_point("1,750")
    ('44.5 mm', '1,750')
    """
    return _COMMA.sub(r"\1.\2", typed, count=1) if _COMMA.match(typed) else typed


def for_the_file(field: Field, typed: str, system: System) -> object:
    """Return what the setup file takes for a text. Raises `PartError`, its fault said of the field's key."""
    if field.kind == "choice":
        return _chosen(field, typed)
    if field.kind == "text":
        return typed.strip()
    plain = AS_SAID.get(typed.strip().lower(), typed) if field.kind == "temperature" else typed
    if field.kind == "length" and system == "metric":
        _no_bare_fraction(field, plain)
    written = with_unit(field, plain, system)
    _in_bounds(field, _parsed(field, written, typed, system), typed, system)
    return written


def _parsed(field: Field, written: str, typed: str, system: System) -> float:
    """The quantity in the unit used inside; one that no vehicle has is held against what such a reading can be."""
    assert field.kind not in ("choice", "text")
    try:
        return parse(written, field.kind, field.key)
    except PartError as error:
        first = error.faults[0]
        if first.most is not None:
            _in_bounds(field, inf, typed, system)
        if first.problem == NOT_READ:
            raise PartError(Fault(field.key, NOT_READ, _like(field, system), shorten(typed))) from error
        raise


def _like(field: Field, system: System) -> str:
    """What might be written in this field, and not in any."""
    if field.kind == "temperature":
        return f'write cold, hot, or what a thermometer shows, like "{"160" if system == "inch" else "70"}"'
    return f'write it like "{field.shown(system)}"'


def _chosen(field: Field, typed: str) -> object:
    known = dict(field.choices)
    if typed not in known:
        raise PartError(Fault(field.key, "is no choice here", f"use {', '.join(known)}", shorten(typed), "number"))
    return typed == "true" if set(known) == {"true", "false"} else typed


def _no_bare_fraction(field: Field, typed: str) -> None:
    """A fraction where millimetres are read is a slip: nobody reads 1 3/4 of a millimetre off a tape."""
    try:
        number = read_number(typed.strip())
    except UnreadableError:
        return
    if "/" in number.typed and not number.rest:
        fix = f'write "{number.typed} in" if that is meant, or the millimetres'
        raise PartError(Fault(field.key, "is a fraction, and millimetres are read here", fix, shorten(typed)))


def _in_bounds(field: Field, value: float, typed: str, system: System) -> None:
    """Refuse what no such brake has: a slip of the keyboard, or the wrong unit."""
    for bound, outside, words in ((field.least, -1, "less"), (field.most, 1, "more")):
        if bound is None:
            continue
        inside, kind = _inside(field, bound)
        if (value - inside) * outside > 0:
            limit = text(inside, kind, system)
            problem = f"is {words} than any such brake has ({limit})"
            raise PartError(Fault(field.key, problem, "check the figure and its unit", shorten(typed), kind))


def _inside(field: Field, bound: float) -> tuple[float, KindName]:
    """A bound of the list in the unit used inside."""
    if field.kind == "temperature":
        kind = KINDS["temperature"]
        return bound * kind.inch_factor + kind.inch_zero, "temperature"
    name = _SOURCE[field.kind]
    size = 1.0 if name == "length" else KINDS[name].inch_factor
    return float(Fraction(bound) * Fraction(size)), name
