"""Reading the table files: rows, exact figures, and the error for a name that a table does not have."""

from collections.abc import Iterable, Mapping
from csv import DictReader
from fractions import Fraction
from functools import lru_cache
from math import isfinite

from geometry.errors import Fault, PartError
from geometry.quantity import KindName

MM_PER_INCH = Fraction("25.4")
_FINEST = 1_000_000


@lru_cache
def rows(table: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of ``table`` (its name without .csv) in the order of the file, comment lines left out."""
    from importlib.resources import files  # only when a table is first read: keeps the import cheap

    lines = files("geometry.tables").joinpath(f"{table}.csv").read_text(encoding="utf-8").splitlines()
    return tuple(DictReader(line for line in lines if not line.startswith("#")))


def figure(text: str) -> Fraction:
    """Return a published figure exactly: mixed fraction, decimal or whole number.

    >>> figure("1 3/8"), figure("16.650")
    (Fraction(11, 8), Fraction(333, 20))
    """
    return sum((Fraction(word) for word in text.split()), Fraction(0))


def maybe_figure(text: str) -> Fraction | None:
    """Return `figure`, or None for an empty cell."""
    return figure(text) if text else None


def exact_inches(value: Fraction | float) -> Fraction:
    """Return a length in inches as the fraction that was meant, free of the noise of floats.

    The nearest fraction with a denominator up to 1 000 000 is taken: every tape fraction, every 0.0001 in and
    every 0.01 mm comes out exactly. Raises `PartError` for what is not a number.

    >>> exact_inches(76.2 / 25.4), exact_inches(0.1 + 0.2)
    (Fraction(3, 1), Fraction(3, 10))
    """
    if isinstance(value, Fraction):
        return value
    return Fraction(finite("length", value)).limit_denominator(_FINEST)


SQUARE_INCH = 25.4**2
"""In mm2."""


def millimetres(inches: Fraction) -> float:
    """Return a length in inches as the float nearest to it in mm (1 in = 25.4 mm exactly).

    >>> millimetres(Fraction(11, 8))
    34.925
    """
    return float(inches * MM_PER_INCH)


def finite(where: str, value: float, kind: KindName = "length") -> float:
    """Return ``value`` as a plain float; raise `PartError` where it is not a number, so that it cannot pass."""
    number = float(value)
    if not isfinite(number):
        raise PartError(Fault(where, "this is not a number", "give the reading", given=str(number), kind=kind))
    return number


def above_zero(where: str, value: float, kind: KindName = "length") -> float:
    """Return ``value`` as a plain float; raise `PartError` unless it is a number above 0."""
    number = finite(where, value, kind)
    if number <= 0:
        raise PartError(Fault(where, "this must be above 0", "measure it again", given=number, kind=kind))
    return number


def known(where: str, given: str, names: Iterable[str]) -> str:
    """Return ``given``, trimmed, where it is one of ``names``; raise `PartError` naming the nearest otherwise."""
    names = tuple(dict.fromkeys(names))
    name = given.strip()
    if name in names:
        return name
    raise PartError(Fault(where, "the tables do not have this name", _suggestion(name, names), given=given))


def _suggestion(name: str, names: tuple[str, ...]) -> str:
    from difflib import get_close_matches  # only for an error

    near = get_close_matches(name.lower(), names, n=1, cutoff=0.4)
    return f"did you mean {near[0]}? known: {', '.join(names)}" if near else f"use one of {', '.join(names)}"
