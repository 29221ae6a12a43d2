"""Kinds of quantity: the unit used inside, the two units people read, and how a number of each is written."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, isfinite
from typing import Literal

System = Literal["inch", "metric"]
KindName = Literal[
    "length",
    "angle",
    "force",
    "torque",
    "pressure",
    "temperature",
    "area",
    "rate",
    "stiffness",
    "rise",
    "speed",
    "mass",
    "time",
    "share",
    "number",
]


@dataclass(frozen=True)
class Kind:
    """One kind of quantity.

    ``inch`` and ``metric`` are the display units as pint spells them; ``inch_factor`` and ``metric_factor`` are
    the size of each in the unit used inside; ``inch_zero`` and ``metric_zero`` are what each calls zero, inside
    (temperature only); ``inch_digits`` and ``metric_digits`` are the decimals that people are shown.
    """

    name: KindName
    inside: str
    inch: str
    inch_factor: float
    metric: str
    metric_factor: float
    inch_digits: int
    metric_digits: int
    inch_zero: float = 0.0
    metric_zero: float = 0.0


_DEGREE = 0.017453292519943295
_POUND = 4.4482216152605
KINDS: dict[str, Kind] = {
    k.name: k
    for k in (
        Kind("length", "mm", "in", 25.4, "mm", 1.0, 3, 1),
        Kind("angle", "rad", "deg", _DEGREE, "deg", _DEGREE, 1, 1),
        Kind("force", "N", "lbf", _POUND, "N", 1.0, 0, 0),
        Kind("torque", "N*mm", "lbf*ft", _POUND * 304.8, "N*m", 1e3, 0, 0),
        Kind("pressure", "MPa", "psi", _POUND / 25.4**2, "kPa", 1e-3, 0, 0),
        Kind("temperature", "K", "degF", 5 / 9, "degC", 1.0, 0, 0, 273.15 - 32 * 5 / 9, 273.15),
        Kind("area", "mm**2", "in**2", 25.4**2, "cm**2", 100.0, 1, 0),
        Kind("rate", "N/mm", "lbf/in", _POUND / 25.4, "N/mm", 1.0, 1, 2),
        Kind("stiffness", "N*mm/rad", "lbf*ft/deg", _POUND * 304.8 / _DEGREE, "N*m/deg", 1e3 / _DEGREE, 0, 0),
        Kind("rise", "mm/rad", "in/deg", 25.4 / _DEGREE, "mm/deg", 1 / _DEGREE, 4, 3),
        Kind("speed", "mm/s", "mph", 1609344 / 3600, "km/h", 1e6 / 3600, 0, 0),
        Kind("mass", "t", "lbm", 0.45359237e-3, "kg", 1e-3, 0, 0),
        Kind("time", "s", "s", 1.0, "s", 1.0, 1, 1),
        Kind("share", "share", "percent", 0.01, "percent", 0.01, 1, 1),
        Kind("number", "", "", 1.0, "", 1.0, 2, 2),
    )
}


def shown(value: float, kind: KindName, system: System) -> tuple[float, str]:
    """Return ``value`` (in the unit used inside) in the display unit of ``system``, with that unit's name."""
    k = KINDS[kind]
    if system == "inch":
        return (value - k.inch_zero) / k.inch_factor, k.inch
    return (value - k.metric_zero) / k.metric_factor, k.metric


def rounded(value: float, kind: KindName, system: System, up: bool) -> float:
    """Return ``value`` (in the unit used inside) rounded up or down to the digits in which `text` shows it.

    >>> text(rounded(25.41, "length", "inch", up=True), "length", "inch")
    '1.001 in'
    """
    k = KINDS[kind]
    inch = (k.inch_zero, k.inch_factor, k.inch_digits)
    zero, factor, digits = inch if system == "inch" else (k.metric_zero, k.metric_factor, k.metric_digits)
    steps = (value - zero) / factor * 10**digits
    if not abs(steps) < FINEST:
        return value
    return zero + factor * (ceil(steps - HAIR) if up else floor(steps + HAIR)) / 10**digits


FINEST = 1e12
"""Steps; beyond this a float has no digits left to round."""
HAIR = 1e-6
"""Of a step, which is rounding of the arithmetic."""


def text(value: float, kind: KindName, system: System) -> str:
    """Write a computed quantity as people read it, with its unit and no more digits than are useful.

    >>> text(25.4, "length", "inch"), text(25.4, "length", "metric")
    ('1.000 in', '25.4 mm')
    """
    if not isfinite(value):
        return "-"
    number, unit = shown(value, kind, system)
    digits = KINDS[kind].inch_digits if system == "inch" else KINDS[kind].metric_digits
    plain = f"{number:.{digits}f}"
    if float(plain) == 0.0:
        plain = plain.removeprefix("-")
    return f"{plain} {unit}".rstrip()


def fraction(value: float, steps: int = 16) -> str | None:
    """Write a length of ``value`` mm as a mixed number of inches, or None where it is no whole ``1/steps`` inch.

    >>> fraction(44.45), fraction(44.0)
    ('1 3/4 in', None)
    """
    ticks = value / 25.4 * steps
    if not isfinite(ticks) or abs(ticks - round(ticks)) > 1e-6:
        return None
    whole, part = divmod(abs(Fraction(round(ticks), steps)), 1)
    sign = "-" if ticks < -1e-6 else ""
    words = [str(whole)] if whole or not part else []
    return sign + " ".join([*words, str(part)] if part else words) + " in"


def tape(value: float, system: System) -> str:
    """Write a length read by tape: inches as a fraction where it is one, millimetres otherwise."""
    return (fraction(value) if system == "inch" else None) or text(value, "length", system)
