"""Figures as they stand in the picture: short, each with its unit, no more digits than are true."""

from math import degrees, isfinite

from geometry.quantity import KindName, System
from geometry.states import State
from mechviz.report.written import INCH, fixed, quantity, tape_inches

NONE = "\N{EN DASH}"
TOUCHING = 0.005
"""A gap below this, mm, would be written 0.00."""

SAME = 1e-7
MOST_DECIMALS = 3
"""Of a difference: a finer one is said to be under that."""


def figure(value: float | None, kind: KindName, system: System) -> str:
    """Write a computed quantity; a dash where it does not exist.

    >>> figure(53.823, "length", "inch"), figure(294.26, "temperature", "inch")
    ('2.12 in', '70 °F')
    """
    if value is None or not isfinite(value):
        return NONE
    return quantity(value, kind, system).replace(" deg", "°" if kind == "angle" else " °")


def length(value: float, system: System, decimals: int | None = None) -> str:
    """Write a computed length."""
    return quantity(value, "length", system, decimals)


def bound(value: float, system: System) -> str:
    """Write a limit or a tape reading: a fraction of an inch where it is one.

    >>> bound(50.8, "inch"), bound(44.45, "inch"), bound(44.45, "metric")
    ('2 in', '1 3/4 in', '44.5 mm')
    """
    return (tape_inches(value) if system == "inch" else None) or length(value, system)


def small(value: float, system: System) -> str:
    """Write a gap: thousandths of an inch or hundredths of a millimetre.

    >>> small(0.4572, "inch"), small(0.4572, "metric"), small(-0.01, "inch")
    ('0.018 in', '0.46 mm', 'touches')
    """
    if value < TOUCHING:
        return "touches"
    return f"{fixed(value / INCH, 3)} in" if system == "inch" else f"{fixed(value, 2)} mm"


def apart(value: float, other: float, system: System) -> str:
    """Write a difference with as many decimals as keep it from being 0; as 0 only where the two are the same.

    >>> apart(53.85, 50.8, "inch"), apart(50.83, 50.8, "inch"), apart(50.8001, 50.8, "inch"), apart(1.0, 1.0, "metric")
    ('0.12 in', '0.001 in', 'under 0.001 in', '0.0 mm')
    """
    size, unit = abs(value - other) / (INCH if system == "inch" else 1.0), "in" if system == "inch" else "mm"
    first = 2 if system == "inch" else 1
    if size < SAME:
        return f"{fixed(0.0, first)} {unit}"
    texts = (fixed(size, decimals) for decimals in range(first, MOST_DECIMALS + 1))
    found = next((text for text in texts if float(text)), None)
    return f"{found} {unit}" if found else f"under {10**-MOST_DECIMALS:.{MOST_DECIMALS}f} {unit}"


def to_square(angle: float) -> str:
    """Say where an arm stands, to a whole degree as an angle gauge tells it.

    >>> to_square(1.4417), to_square(1.5708), to_square(1.85)
    ('7° past square', 'square', '16° to square')
    """
    off = round(degrees(angle) - 90)
    return "square" if off == 0 else f"{off}° to square" if off > 0 else f"{-off}° past square"


def state_words(state: State, asked: str, system: System) -> str:
    """Name a state: ``Applied at 95 psi``. ``asked`` is what was typed for a state that is no event."""
    if state.name == "released":
        return "Released"
    if state.name == "contact":
        return "At first contact"
    if state.name == "stroke":
        return f"At a stroke of {asked}"
    if state.name == "pressure":
        return f"At {asked}"
    return "Applied" if state.pressure is None else f"Applied at {figure(state.pressure, 'pressure', system)}"
