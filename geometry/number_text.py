"""Which number a text begins with: decimals, and fractions as a mechanic writes them. Exact; nothing is evaluated."""

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import isfinite

_TYPED = re.compile(
    r"(?P<sign>[+-]?)\s*"
    r"(?:(?:(?P<whole>[0-9]+)(?:\s+|\s*-\s*))?(?P<top>[0-9]+)\s*/\s*(?P<bottom>[0-9]+)"
    r"|(?P<decimal>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?))"
    r"\s*(?P<rest>.*)"
)
_COMMA = re.compile(r"([+-]?[0-9]+),([0-9]+.*)")
_NO_NUMBER = re.compile(r"[+-]?(?:nan|inf|infinity)\b.*", re.IGNORECASE)
_SIGNS = {"\u2212": "-", "\u2013": "-", "\u2044": "/", "\u2033": '"', "\u201d": '"', "\u00ba": "°"}
_TOO_SMALL = Fraction(1, 10**320)

NOT_READ = "cannot be read as one number and a unit"
NOT_FINITE = "is not a number that can be used"


@dataclass(frozen=True)
class Number:
    """A number, how it was typed, and the text that followed it."""

    value: Fraction
    typed: str
    rest: str


class UnreadableError(ValueError):
    """A text that does not begin with a number; ``fix`` is empty where an example says it best."""

    def __init__(self, problem: str, fix: str = "") -> None:
        super().__init__(problem)
        self.problem, self.fix = problem, fix


@lru_cache(maxsize=1024)
def read_number(text: str) -> Number:
    """Return the number at the start of a text of bounded length. Raises `UnreadableError`.

    >>> read_number("1-3/4 in").value, read_number("1¾ in").value, read_number(".5in").rest
    (Fraction(7, 4), Fraction(7, 4), 'in')
    """
    plain = text if text.isascii() else "".join(_SIGNS.get(c) or _vulgar(c) or c for c in text)
    plain = plain.strip()
    if comma := _COMMA.fullmatch(plain):
        fix = f'write a point instead: "{comma[1]}.{comma[2]}"'
        if re.match(r"[0-9]{3}(?![0-9])", comma[2]):
            fix = f'write "{comma[1]}{comma[2]}" or "{comma[1]}.{comma[2]}", whichever is meant'
        raise UnreadableError("has a comma, which can mean two things", fix)
    found = _TYPED.fullmatch(plain)
    if not found:
        raise UnreadableError(NOT_FINITE if _NO_NUMBER.fullmatch(plain) else NOT_READ)
    value = _decimal(found["decimal"]) if found["decimal"] else _fraction(found)
    typed = " ".join(plain.removesuffix(found["rest"]).split())
    return Number(-value if found["sign"] == "-" else value, typed, found["rest"])


def _vulgar(character: str) -> str | None:
    """Return `` 3/4`` for the one character that is written so, with a blank: ``1¾`` is not thirteen quarters."""
    decomposed = unicodedata.decomposition(character)
    if not decomposed.startswith("<fraction>"):
        return None
    return " " + "".join(chr(int(code, 16)) for code in decomposed.split()[1:]).replace("\u2044", "/")


def _decimal(digits: str) -> Fraction:
    """Return a decimal exactly; one too small for a float stays more than zero, so that it can be refused."""
    nearest = float(digits)
    if not isfinite(nearest):
        raise UnreadableError(NOT_FINITE)
    if nearest == 0:
        return _TOO_SMALL if re.match(r"[0.]*[1-9]", digits) else Fraction(0)
    return Fraction(digits)


def _fraction(found: re.Match[str]) -> Fraction:
    whole, top, bottom = int(found["whole"] or 0), int(found["top"]), int(found["bottom"])
    if bottom == 0:
        raise UnreadableError("divides by zero")
    if found["whole"] and top >= bottom:
        raise UnreadableError("has a fraction that is not less than one")
    return whole + Fraction(top, bottom)
