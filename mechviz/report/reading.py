"""A check's figures as a mechanic says them: read by tape as fractions, worked out as decimals, both units given."""

from math import isfinite

from geometry.quantity import KindName, System, shown
from mechviz.checks.row import CheckRow
from mechviz.report.verdicts import is_agreement
from mechviz.report.written import INCH, fixed, other, tape_inches, unit_word

FINEST_FRACTION = INCH / 64
"""A tape is read to 1/64 in at best; what is read finer (a gauge, a rule) is written in decimals."""

MOST_DECIMALS = 4

NOISE = 1e-6
"""Of a mm, a degree's part, a MPa: figures nearer than this are the same figure."""


def reading_words(row: CheckRow, system: System) -> str:
    """Return the value, the limit and the margin in one phrase, or an empty text where there is no figure.

    >>> reading_words(CheckRow("stroke-limit", "fail", "", "", 57.15, 50.8, -6.35, resolution=1.5875), "inch")
    '2 1/4 in (57.2 mm) measured, limit 2 in (50.8 mm): over by 1/4 in (6.4 mm)'
    """
    if row.value is None or not isfinite(row.value):
        return "" if row.limit is None else f"{_limit_name(row)} {written(row.limit, row, system)}"
    value = f"{written(row.value, row, system)} {_basis(row)}"
    if row.limit is None:
        return value
    return f"{value}, {_limit_name(row)} {written(row.limit, row, system)}{_margin(row, row.value, row.limit, system)}"


def written(value: float, row: CheckRow, system: System, difference: bool = False) -> str:
    """Write one of a row's figures in ``system``, the other in brackets where it differs."""
    first, second = (_one(value, row, s, difference) for s in (system, other(system)))
    return first if first == second else f"{first} ({second})"


def _one(value: float, row: CheckRow, system: System, difference: bool) -> str:
    fraction = tape_inches(value) if system == "inch" and _by_tape(row) else None
    if fraction:
        return fraction
    amount = _amount(value, row.kind, system, difference)
    return f"{fixed(amount, _decimals(row, amount, system))} {unit_word(row.kind, system)}".rstrip()


def _by_tape(row: CheckRow) -> bool:
    """A limit alone is written as it is published: as a fraction."""
    read = row.basis != "solved" and (row.resolution == 0 or row.resolution >= FINEST_FRACTION)
    return row.kind == "length" and (row.value is None or read)


def _same(value: float, limit: float) -> bool:
    return abs(value - limit) < NOISE


def _amount(value: float, kind: KindName, system: System, difference: bool) -> float:
    zero = shown(0.0, kind, system)[0] if difference else 0.0
    return shown(value, kind, system)[0] - zero


def _decimals(row: CheckRow, amount: float, system: System) -> int:
    """As few as are usual, and as many as keep the value apart from its limit and a small figure from 0."""
    least = {"length": 2 if system == "inch" else 1, "angle": 0, "number": 2}.get(row.kind, 0)
    for decimals in range(least, MOST_DECIMALS):
        if _apart(row, system, decimals) and (amount == 0 or float(fixed(amount, decimals))):
            return _own_decimals(row, amount, decimals, system) if unit_word(row.kind, system) == row.unit else decimals
    return MOST_DECIMALS


def _apart(row: CheckRow, system: System, decimals: int) -> bool:
    if row.value is None or row.limit is None or _same(row.value, row.limit):
        return True
    pair = (fixed(shown(v, row.kind, system)[0], decimals) for v in (row.value, row.limit))
    return len(set(pair)) == 2


def _own_decimals(row: CheckRow, amount: float, decimals: int, system: System) -> int:
    """A figure that was read or published with three decimals (16.625) keeps them, as far as it was read so finely."""
    if row.basis == "solved":
        return decimals
    finest = shown(row.resolution, row.kind, system)[0] - shown(0.0, row.kind, system)[0]
    worth = (n for n in range(decimals, 4) if finest <= 10 * 10**-n)
    return next((n for n in worth if abs(amount - round(amount, n)) < 1e-6), decimals)


def _finely(value: float, row: CheckRow, system: System) -> str:
    """A difference with as many decimals as keep it apart from what is allowed; both systems where they differ."""
    return " ".join(
        dict.fromkeys(_finely_in(value, row, one, one != system) for one in (system, other(system)))
    ).strip()


def _finely_in(value: float, row: CheckRow, system: System, bracket: bool) -> str:
    off = abs((row.value or 0.0) - (row.limit or 0.0))
    pairs = ((n, [fixed(_amount(x, row.kind, system, True), n) for x in (off, row.allowance)]) for n in range(7))
    decimals = next((n for n, pair in pairs if len(set(pair)) == 2 and n >= 1), MOST_DECIMALS)
    text = f"{fixed(_amount(value, row.kind, system, True), decimals)} {unit_word(row.kind, system)}"
    return f"({text})" if bracket and unit_word(row.kind, system) != unit_word(row.kind, other(system)) else text


def _basis(row: CheckRow) -> str:
    return "worked out" if row.basis == "solved" else row.basis


def _limit_name(row: CheckRow) -> str:
    return "expected" if is_agreement(row) else "limit"


def _margin(row: CheckRow, value: float, limit: float, system: System) -> str:
    if is_agreement(row):
        return _agreement(row, value, limit, system)
    if row.margin is None:
        return ""
    if _same(value, limit):
        return ": at the limit"
    size = written(abs(row.margin), row, system, difference=True)
    side = "inside" if row.margin >= 0 else "over" if value > limit else "short"
    return f": {side} by {size}"


def _agreement(row: CheckRow, value: float, expected: float, system: System) -> str:
    if _same(value, expected):
        return ": the same"
    size, most = (written(one, row, system, difference=True) for one in (abs(value - expected), row.allowance))
    if size == most and not _same(abs(value - expected), row.allowance):
        size, most = (_finely(one, row, system) for one in (abs(value - expected), row.allowance))
    allowed = f", {most} allowed" if row.allowance else ""
    return f": {size} {'more' if value > expected else 'less'}{allowed}"
