"""Figures for programs: the unit they are promised in, None where there is none, and no digits of noise."""

from math import isfinite

from geometry.quantity import KINDS, KindName

DECIMALS = 6
"""Of a millimetre, a degree, a newton: finer than anything here is known."""


def figure(value: float | None, unit: float = 1.0, zero: float = 0.0) -> float | None:
    """Return ``(value - zero) / unit`` to six decimals, or None where there is no number.

    >>> figure(50.8, 25.4), figure(None), figure(float("nan"))
    (2.0, None, None)
    """
    if value is None or not isfinite(value):
        return None
    return round((value - zero) / unit, DECIMALS) + 0.0  # adding 0 turns -0.0 into 0.0


def in_unit(value: float | None, kind: KindName, unit: str, difference: bool = False) -> float | None:
    """Return ``value`` (in the unit used inside) in a source's ``unit``; a ``difference`` keeps clear of zero points.

    >>> in_unit(-6.35, "length", "in")
    -0.25
    """
    size, zero = _unit(kind, unit)
    return figure(value, size, 0.0 if difference else zero)


def _unit(kind: KindName, unit: str) -> tuple[float, float]:
    k = KINDS[kind]
    known = {k.inside: (1.0, 0.0), k.metric: (k.metric_factor, k.metric_zero), k.inch: (k.inch_factor, k.inch_zero)}
    if kind == "number":
        return 1.0, 0.0
    if unit not in known:
        raise ValueError(f"a {kind} is not written in {unit!r}")
    return known[unit]
