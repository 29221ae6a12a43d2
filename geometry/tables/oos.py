"""Out of service for brake adjustment: how many defects a vehicle needs, and how brakes over the limit count."""

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from geometry.errors import Fault, PartError
from geometry.tables.reader import figure, finite, rows


def _rule(name: str) -> Fraction:
    return next(figure(row["value"]) for row in rows("oos_count") if row["rule"] == name)


def oos_needed(brakes: int) -> int:
    """Return the number of defects that puts a vehicle of so many brakes out of service: 20 %, rounded up.

    Raises `PartError` for fewer than 1 brake.

    >>> [oos_needed(n) for n in (4, 10, 12)]
    [1, 2, 3]
    """
    if brakes < 1:
        raise PartError(
            Fault("vehicle.brakes", "a vehicle has brakes", "count them all", given=brakes, kind="number", least=1)
        )
    return ceil(brakes * _rule("needed-share") / 100)


def oos_defects(overs_in: Iterable[Fraction | float]) -> Fraction:
    """Return the defects of brakes that are past their limits by ``overs_in`` inches (from `over_by_in`).

    1/4 in or more past counts 1, less counts 1/2, at the limit or short of it counts 0. Raises `PartError` for
    what is not a number, which must not count as none.

    >>> oos_defects([Fraction(1, 4), Fraction(1, 8), Fraction(0)])
    Fraction(3, 2)
    """
    return sum((_count(over) for over in overs_in), Fraction(0))


def _count(over: Fraction | float) -> Fraction:
    finite("stroke", float(over))
    if over <= 0:
        return Fraction(0)
    return _rule("whole-defect") if over >= _rule("whole-defect-from") else _rule("part-defect")
