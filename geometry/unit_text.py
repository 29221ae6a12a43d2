"""Which unit a text names. pint does the algebra, on a registry of this trade's units only (``units.txt``)."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, cast

_WORD = r"[A-Za-z]+(?:(?:\*\*|\^)?[23])?"
_PATTERN = re.compile(rf"(?:1?\s*/\s*)?{_WORD}(?:(?:\s*[*/-]\s*|\s+){_WORD})*")
_SIGNS = (('"', "in"), ("°", "deg"), ("²", "2"), ("³", "3"), ("·", "*"), ("\u22c5", "*"))


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
    units = cast(Any, pint.UnitRegistry)(None, on_redefinition="raise")  # None: without pint's default units
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
    plain = _plain(text)
    if not _PATTERN.fullmatch(plain):
        return None
    return next((found for spelled in _spellings(plain) if (found := _from_pint(spelled))), None)


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
