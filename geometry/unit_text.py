"""Which unit a text names. pint does the algebra, on a registry of this trade's units only (``units.txt``).

The spellings that nearly every file uses stand here as numbers, so that a command need not wait for pint; a test holds
each of them against it.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, Literal, cast

from geometry.quantity import KINDS, KindName

UnitKind = KindName | Literal["expansion"]

_WORD = r"[A-Za-z]+(?:(?:\*\*|\^)?[23])?"
_PATTERN = re.compile(rf"(?:1?\s*/\s*)?{_WORD}(?:(?:\s*[*/-]\s*|\s+){_WORD})*")
_SIGNS = (("%", "percent"), ('"', "in"), ("°", "deg"), ("²", "2"), ("³", "3"), ("·", "*"), ("\u22c5", "*"))


@dataclass(frozen=True)
class Unit:
    """A unit in terms of those used inside: value = number * factor + offset; ``kind`` is None for a strange one."""

    factor: Fraction
    offset: Fraction
    kind: UnitKind | None


_POUND, _INCH = Fraction("4.4482216152605"), Fraction("25.4")
_DEGREE = Fraction("0.017453292519943295")
_MILE, _HOUR = Fraction(1609344), Fraction(3600)
USUAL: Mapping[str, Unit] = {
    "in": Unit(_INCH, Fraction(0), "length"),
    '"': Unit(_INCH, Fraction(0), "length"),
    "mm": Unit(Fraction(1), Fraction(0), "length"),
    "deg": Unit(_DEGREE, Fraction(0), "angle"),
    "lbf": Unit(_POUND, Fraction(0), "force"),
    "N": Unit(Fraction(1), Fraction(0), "force"),
    "psi": Unit(_POUND / _INCH**2, Fraction(0), "pressure"),
    "MPa": Unit(Fraction(1), Fraction(0), "pressure"),
    "kPa": Unit(Fraction(1, 1000), Fraction(0), "pressure"),
    "degF": Unit(Fraction(5, 9), Fraction("459.67") * Fraction(5, 9), "temperature"),
    "degC": Unit(Fraction(1), Fraction("273.15"), "temperature"),
    "lbf/in": Unit(_POUND / _INCH, Fraction(0), "rate"),
    "N/mm": Unit(Fraction(1), Fraction(0), "rate"),
    "N*m/deg": Unit(1000 / _DEGREE, Fraction(0), "stiffness"),
    "lbf*ft/deg": Unit(_POUND * 12 * _INCH / _DEGREE, Fraction(0), "stiffness"),
    "in**2": Unit(_INCH**2, Fraction(0), "area"),
    "mph": Unit(_MILE / _HOUR, Fraction(0), "speed"),
    "km/h": Unit(Fraction(10**6) / _HOUR, Fraction(0), "speed"),
    "lb": Unit(_POUND, Fraction(0), "force"),
    "kg": Unit(Fraction(1, 1000), Fraction(0), "mass"),
    "s": Unit(Fraction(1), Fraction(0), "time"),
    "min": Unit(Fraction(60), Fraction(0), "time"),
    "%": Unit(Fraction(1, 100), Fraction(0), "share"),
}


@cache
def registry() -> Any:
    """Return the one pint registry, made from ``units.txt`` when it is first asked for."""
    from importlib.resources import files  # both only when a unit is first read: `import geometry` stays light

    import pint

    lines = files("geometry").joinpath("units.txt").read_text(encoding="utf-8").splitlines()
    # None: without pint's default units; fractions: 100 psi typed is then the very float that a table gives
    units = cast(Any, pint.UnitRegistry)(None, on_redefinition="raise", non_int_type=Fraction)
    units.load_definitions(lines)
    return units


def looks_like_unit(text: str) -> bool:
    """Say whether a text is words joined by ``*``, ``/``, ``-`` or blanks: all that is ever handed to pint."""
    return _PATTERN.fullmatch(_plain(text)) is not None


@lru_cache(maxsize=4096)
def unit(text: str) -> Unit | None:
    """Return the unit that a text such as ``N*m/deg`` names, or None where it names none.

    >>> float(unit("in").factor)
    25.4
    """
    if text in USUAL:
        return USUAL[text]
    plain = _plain(text)
    if not _PATTERN.fullmatch(plain):
        return None
    return next((found for spelled in _spellings(plain) if (found := from_pint(spelled))), None)


def _plain(text: str) -> str:
    """Replace the signs for inch, degree, power and product by words; join ``deg F``; unfold ``sq in`` and ``per``."""
    for sign, word in _SIGNS:
        text = text.replace(sign, word)
    text = re.sub(r"\b(?:deg|degrees?)?\s*([FC])\b", r"deg\1", text.strip())
    text = re.sub(r"\bsq(?:uare)?\.?\s+([A-Za-z]+)", r"\g<1>2", text)
    text = re.sub(r"\bin\.(?![A-Za-z])", "in", text)
    return re.sub(r"(?:^|\s+)per\s+", "/", text)


def _spellings(plain: str) -> list[str]:
    """The unit as it was typed, and in small letters, each in pint's own notation."""
    spelled = re.sub(r"\s*([*/-])\s*(?=[A-Za-z])", r"\1", plain)
    spelled = re.sub(r"[-\s]+", "*", spelled)
    spelled = re.sub(r"(?<=[A-Za-z])(?:\*\*|\^)?([23])", r"**\1", spelled).removeprefix("/")
    spelled = f"1/{spelled}" if plain.startswith("/") else spelled
    return [re.sub(r"\bNm\b", "N*m", spelled), spelled.lower()]


def from_pint(spelled: str) -> Unit | None:
    """Ask pint for a unit in its own notation, or return None.

    It names an unknown word by an error of its own, and an odd mixture by several others.
    """
    import pint

    units = registry()
    try:
        parsed = units.parse_units(spelled)
        zero, one = (units.Quantity(Fraction(n), parsed).to_base_units().magnitude for n in (0, 1))
    except (pint.errors.PintError, AttributeError, ValueError, ZeroDivisionError):
        return None
    return Unit(Fraction(one) - Fraction(zero), Fraction(zero), _kind(parsed.dimensionality))


@cache
def _kinds() -> list[tuple[Any, UnitKind]]:
    inside: list[tuple[str, UnitKind]] = [(kind.inside, kind.name) for kind in KINDS.values() if kind.inside]
    inside.append(("1/K", "expansion"))
    return [(registry().parse_units(text).dimensionality, kind) for text, kind in inside]


def _kind(dimension: Any) -> UnitKind | None:
    return next((kind for known, kind in _kinds() if known == dimension), None)
