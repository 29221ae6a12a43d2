"""Quantities as people read them: tape readings as fractions, computed ones as decimals, the other unit in brackets."""

from decimal import ROUND_HALF_UP, Decimal
from math import floor, isfinite, log10

from geometry.quantity import KindName, System, fraction, shown

INCH = 25.4
UNIT_WORDS = {"lbf*ft": "lbf ft", "N*m": "N m", "in**2": "sq in", "cm**2": "sq cm", "lbm": "lb", "percent": "%"}
"""Units as they are said, where the spelling for programs differs."""

NOTHING = "-"


def other(system: System) -> System:
    """Return the other system of units."""
    return "metric" if system == "inch" else "inch"


def significant(value: float, digits: int = 3) -> str:
    """Round to so many digits and write the number out in full.

    >>> significant(13382.6), significant(0.51834)
    ('13400', '0.518')
    """
    if value == 0 or not isfinite(value):
        return "0" if value == 0 else NOTHING
    decimals = digits - 1 - floor(log10(abs(value)))
    return f"{round(value, decimals):.{max(decimals, 0)}f}"


def fixed(value: float, decimals: int) -> str:
    """Write a number with so many decimals, halves away from zero, never as a negative zero.

    >>> fixed(57.15, 1), fixed(-0.001, 2)
    ('57.2', '0.00')
    """
    if not isfinite(value):
        return NOTHING
    exact = Decimal(repr(round(float(value), 9)))  # 44.449999999999996 is 44.45
    text = f"{exact.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP):f}"
    return text if float(text) else text.removeprefix("-")


def decimals_of(kind: KindName, system: System) -> int:
    """Return how many decimals of a computed quantity are worth writing."""
    if kind == "length":
        return 2 if system == "inch" else 1
    return {"angle": 1, "number": 2, "time": 1, "share": 1}.get(kind, 0)


def number(value: float | None, kind: KindName, system: System, decimals: int | None = None) -> str:
    """Write a computed quantity without its unit; forces, torques, masses to three digits, a missing one as ``-``."""
    if value is None or not isfinite(value):
        return NOTHING
    amount, _ = shown(value, kind, system)
    if kind in ("force", "torque", "mass") and decimals is None:
        return significant(amount)
    return fixed(amount, decimals_of(kind, system) if decimals is None else decimals)


def unit_word(kind: KindName, system: System) -> str:
    """Return the unit of a system as it is said."""
    unit = shown(0.0, kind, system)[1]
    return UNIT_WORDS.get(unit, unit)


def pair(value: float | None, kind: KindName, system: System) -> str:
    """Write a number and, in brackets, the same in the other system, where that differs.

    >>> pair(13.97, "length", "inch"), pair(1.5, "angle", "inch")
    ('0.55 (14.0)', '85.9')
    """
    first, second = (number(value, kind, s) for s in (system, other(system)))
    same = unit_word(kind, system) == unit_word(kind, other(system))
    return first if same or first == NOTHING else f"{first} ({second})"


def quantity(value: float, kind: KindName, system: System, decimals: int | None = None) -> str:
    """Write a computed quantity with its unit."""
    return f"{number(value, kind, system, decimals)} {unit_word(kind, system)}".rstrip()


def both(value: float, kind: KindName, system: System) -> str:
    """Write a computed quantity with its unit and, in brackets, in the other system."""
    first, second = quantity(value, kind, system), quantity(value, kind, other(system))
    return first if first == second else f"{first} ({second})"


def taped(value: float, system: System) -> str:
    """Write a length that was read by tape: a fraction of an inch where it is one, and the other unit in brackets.

    >>> taped(44.45, "inch"), taped(13.97, "inch")
    ('1 3/4 in (44.5 mm)', '0.55 in (14.0 mm)')
    """
    inches = tape_inches(value) or quantity(value, "length", "inch")
    millimetres = quantity(value, "length", "metric")
    return f"{inches} ({millimetres})" if system == "inch" else f"{millimetres} ({inches})"


def gap_text(gap: float, system: System) -> str:
    """Write a gap with its unit: thousandths of an inch, hundredths of a millimetre.

    >>> gap_text(0.4572, "inch")
    '0.018 in (0.46 mm)'
    """
    inches, millimetres = f"{fixed(gap / INCH, 3)} in", f"{fixed(gap, 2)} mm"
    return f"{inches} ({millimetres})" if system == "inch" else f"{millimetres} ({inches})"


def tape_inches(value: float, steps: int = 16) -> str | None:
    """Write a length as a fraction of an inch where it is one, to ``steps`` of an inch or finer by halves up to 64."""
    finer = [s for s in (16, 32, 64) if s >= steps]
    return next((text for s in finer if (text := fraction(value, s))), None)
