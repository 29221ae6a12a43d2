"""The door where text becomes numbers: ``"1 3/4 in"`` in, a float in the unit used inside out.

The text must be one number (decimal, or a mechanic's fraction) and one unit; nothing is ever evaluated. Only the
unit, checked by a pattern of ours, reaches pint, whose registry is made from ``units.txt`` when it is first needed.
"""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from math import isfinite
from typing import Any, Literal

from geometry.errors import Fault, PartError
from geometry.quantity import KINDS, KindName, System

UnitKind = KindName | Literal["expansion"]

LONGEST_TEXT = 60
"""Characters; a number and a unit need far fewer."""

EXAMPLES: Mapping[str, tuple[str, ...]] = {
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
}
"""Units that would do, by kind."""

_WORDS: Mapping[str, str] = {
    "rate": "a spring rate",
    "stiffness": "a torque for each degree of turn",
    "rise": "a rise for each degree of turn",
    "expansion": "an expansion for each degree of temperature",
}

_GREATEST: Mapping[str, float] = {
    "length": 1e4,
    "angle": 6.3,
    "force": 1e6,
    "torque": 1e9,
    "pressure": 10.0,
    "temperature": 2e3,
    "area": 1e6,
    "rate": 1e5,
    "stiffness": 1e12,
    "rise": 1e4,
    "expansion": 1e-3,
}
"""In the unit used inside: beyond this it is a slip of the keyboard or of the unit, not a vehicle brake."""

_LEAST_SHARE = 1e-12
"""Of the greatest: anything smaller and not zero cannot be measured."""

_TYPED = re.compile(
    r"(?P<sign>[+-]?)\s*"
    r"(?:(?:(?P<whole>[0-9]+)(?:\s+|\s*-\s*))?(?P<top>[0-9]+)\s*/\s*(?P<bottom>[0-9]+)"
    r"|(?P<decimal>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?))"
    r"\s*(?P<unit>.*)"
)
_UNIT_WORD = r"[A-Za-z]+(?:(?:\*\*|\^)?[23])?"
_UNIT = re.compile(rf"(?:1?\s*/\s*)?{_UNIT_WORD}(?:(?:\s*[*/-]\s*|\s+){_UNIT_WORD})*")
_COMMA = re.compile(r"([+-]?[0-9]+),([0-9]+)(.*)")
_NOT_A_NUMBER = re.compile(r"[+-]?(nan|inf|infinity)\b.*", re.IGNORECASE)
_INCH_WORDS = re.compile(r"(in|inch|inches|ft|foot|feet)s?", re.IGNORECASE)


@dataclass(frozen=True)
class Unit:
    """A unit in terms of those used inside: value = number * factor + offset; ``dimension`` as pint gives it."""

    factor: Fraction
    offset: Fraction
    dimension: Any


@cache
def registry() -> Any:
    """Return the one pint registry, made from ``units.txt`` when it is first asked for."""
    from importlib.resources import files  # both only when a unit is first read: `import geometry` stays light

    import pint

    lines = files("geometry").joinpath("units.txt").read_text(encoding="utf-8").splitlines()
    empty: Any = None  # pint's own way to leave out its default units, missing from its types
    units: Any = pint.UnitRegistry(empty, on_redefinition="raise")
    units.load_definitions(lines)
    return units


@cache
def _dimension(kind: UnitKind) -> Any:
    inside = "1/K" if kind == "expansion" else KINDS[kind].inside
    return registry().parse_units(inside).dimensionality


@lru_cache(maxsize=4096)
def unit(text: str) -> Unit | None:
    """Return the unit that a text such as ``N*m/deg`` names, or None where it names none.

    >>> float(unit("in").factor)
    25.4
    """
    plain = _plain_unit(text)
    if not _UNIT.fullmatch(plain):
        return None
    return next((found for spelled in _spellings(plain) if (found := _from_pint(spelled))), None)


def _plain_unit(text: str) -> str:
    """Write a unit as pint reads it: signs for inch, degree, power and product replaced, ``deg F`` joined."""
    for sign, word in (('"', "in"), ("°", "deg"), ("²", "2"), ("³", "3"), ("·", "*"), ("\u22c5", "*")):
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


def _from_pint(spelled: str) -> Unit | None:
    """Ask pint. It names an unknown word by an error of its own, and an odd mixture by several others."""
    import pint

    units = registry()
    try:
        parsed = units.parse_units(spelled)
        zero, one = (float(units.Quantity(n, parsed).to_base_units().magnitude) for n in (0.0, 1.0))
    except (pint.errors.PintError, AttributeError, ValueError, ZeroDivisionError):
        return None
    if zero:  # a temperature scale: its step and its zero are simple fractions of a kelvin
        step, start = Fraction(one - zero).limit_denominator(1000), Fraction(zero).limit_denominator(1000)
        return Unit(step, start, parsed.dimensionality)
    return Unit(Fraction(repr(one)), Fraction(0), parsed.dimensionality)


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
    if len(text) > LONGEST_TEXT:
        raise PartError(_fault(where, text, "is too long for a number and a unit", _examples(kind)))
    number, unit_text = _number(text, kind, where)
    found = _unit_of_kind(text, unit_text, kind, where)
    return _in_bounds(number * found.factor + found.offset, text, kind, where)


def typed_system(text: object) -> System | None:
    """Say whether a length was typed in inches (or feet) or in a metric unit; None where it cannot be told."""
    found = _TYPED.fullmatch(_plain(text)) if isinstance(text, str) and len(text) <= LONGEST_TEXT else None
    if not found or not found["unit"]:
        return None
    return "inch" if _INCH_WORDS.fullmatch(_plain_unit(found["unit"])) else "metric"


def shorten(text: str) -> str:
    """Return a typed text fit for a message: one line, nothing unprintable, at most 40 characters."""
    line = "".join(c if c.isprintable() else "\ufffd" for c in text[:200])
    return line if len(line) <= 40 else line[:37] + "..."


def _fault(where: str, typed: str, problem: str, fix: str) -> Fault:
    return Fault(where, problem, fix, shorten(typed))


def _examples(kind: UnitKind, number: str | None = None) -> str:
    """Show how it is written: ``write "1.75 in" or "1.75 mm"``."""
    plain = number or {"temperature": "70", "angle": "35", "pressure": "95"}.get(kind, "1.75")
    return "write " + " or ".join(f'"{plain} {name}"' for name in EXAMPLES[kind])


def _name(kind: UnitKind) -> str:
    return _WORDS.get(kind) or ("an " if kind[0] in "aeiou" else "a ") + kind


def _not_text(value: object, kind: UnitKind, where: str) -> Fault:
    if isinstance(value, bool) or not isinstance(value, int | float):
        article = "true or false" if isinstance(value, bool) else "not text"
        return Fault(where, f"is {article}, and {_name(kind)} belongs here", _examples(kind))
    if not _finite(value):
        return _fault(where, str(value)[:9], "is not a number that can be used", _examples(kind))
    shown = shorten(repr(value))
    return _fault(where, shown, f"has no unit, and {_name(kind)} needs one", _examples(kind, shown))


def _finite(value: float) -> bool:
    try:
        return isfinite(value)
    except OverflowError:  # an integer beyond the floats
        return False


def _plain(text: str) -> str:
    """Replace typographic signs: ``1¾`` becomes ``1 3/4``; other dashes and quotation marks become the plain ones."""
    signs = {"\u2212": "-", "\u2013": "-", "\u2044": "/", "\u2033": '"', "\u201d": '"', "\u00ba": "°"}
    return "".join(signs.get(c) or _vulgar(c) or c for c in text).strip()


def _vulgar(character: str) -> str | None:
    """Return `` 3/4`` for the one character that is written so."""
    decomposed = unicodedata.decomposition(character)
    if not decomposed.startswith("<fraction>"):
        return None
    return " " + "".join(chr(int(code, 16)) for code in decomposed.split()[1:]).replace("\u2044", "/")


def _number(text: str, kind: UnitKind, where: str) -> tuple[Fraction, str]:
    """Split a text into its number and the text of its unit."""
    plain = _plain(text)
    found = _TYPED.fullmatch(plain)
    if _NOT_A_NUMBER.fullmatch(plain):
        raise PartError(_fault(where, text, "is not a number that can be used", _examples(kind)))
    if comma := _COMMA.fullmatch(plain):
        whole, part, rest = comma.groups()
        fix = f'write a point instead: "{shorten(f"{whole}.{part}{rest}")}"'
        raise PartError(_fault(where, text, "has a comma, which can mean two things", fix))
    if not found:
        raise PartError(_fault(where, text, "cannot be read as one number and a unit", _examples(kind)))
    return _value(found, text, kind, where), found["unit"]


def _value(found: re.Match[str], text: str, kind: UnitKind, where: str) -> Fraction:
    sign = -1 if found["sign"] == "-" else 1
    if found["decimal"]:
        if not isfinite(float(found["decimal"])):
            raise PartError(_fault(where, text, "is not a number that can be used", _examples(kind)))
        lost = float(found["decimal"]) == 0 and re.match(r"[0.]*[1-9]", found["decimal"])
        return Fraction(1, 10**320) if lost else sign * Fraction(found["decimal"]) if float(found["decimal"]) else Fraction(0)
    whole, top, bottom = int(found["whole"] or 0), int(found["top"]), int(found["bottom"])
    if bottom == 0:
        raise PartError(_fault(where, text, "divides by zero", _examples(kind)))
    if found["whole"] and top >= bottom:
        raise PartError(_fault(where, text, "has a fraction that is not less than one", _examples(kind)))
    return sign * (whole + Fraction(top, bottom))


def _unit_of_kind(text: str, unit_text: str, kind: UnitKind, where: str) -> Unit:
    """Find the unit and hold it against what belongs here."""
    number = shorten(text.strip().removesuffix(unit_text).strip())
    if not unit_text:
        raise PartError(_fault(where, text, f"has no unit, and {_name(kind)} needs one", _examples(kind, number)))
    if not _UNIT.fullmatch(_plain_unit(unit_text)):
        raise PartError(_fault(where, text, "cannot be read as one number and a unit", _examples(kind)))
    found = unit(unit_text)
    if found is None:
        problem = f'"{shorten(unit_text)}" is not a unit that is known here'
        raise PartError(_fault(where, text, problem, _examples(kind, number)))
    if found.dimension != _dimension(kind):
        problem = f'"{shorten(unit_text)}" {_measures(found)}, and {_name(kind)} belongs here'
        raise PartError(_fault(where, text, problem, _examples(kind, number)))
    return found


def _measures(found: Unit) -> str:
    kinds = [k for k in EXAMPLES if _dimension(k) == found.dimension]  # pyright: ignore[reportArgumentType] - its keys are the kinds
    return f"is {_name(kinds[0])}" if kinds else "is something else"  # pyright: ignore[reportArgumentType]


def _in_bounds(exact: Fraction, text: str, kind: UnitKind, where: str) -> float:
    most = _GREATEST[kind]
    shown: KindName = "number" if kind == "expansion" else kind
    if kind == "temperature" and exact < 0:
        fix = "check the figure and its sign"
        raise PartError(Fault(where, "is below absolute zero", fix, shorten(text), kind, least=0.0))
    if abs(exact) > most:
        problem, fix = "is more than any vehicle brake has", "check the figure and its unit"
        raise PartError(Fault(where, problem, fix, shorten(text), shown, most=most))
    if 0 < abs(exact) < most * _LEAST_SHARE:
        problem, fix = "is too small to be measured", "write 0 with its unit, or check the unit"
        raise PartError(Fault(where, problem, fix, shorten(text), shown))
    return float(exact)
