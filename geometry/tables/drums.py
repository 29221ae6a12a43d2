"""Largest drum diameter in service, where the maker's own limit cast on the drum cannot be read."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from geometry.tables.reader import (
    MM_PER_INCH,
    above_zero,
    exact_inches,
    figure,
    maybe_figure,
    millimetres,
    rows,
)


@dataclass(frozen=True)
class DrumLimit:
    """One figure for the largest diameter. ``row`` tells apart those of one rule set that disagree."""

    rule_set: str
    row: int
    new_diameter_in: Fraction
    limit_in: Fraction
    status: str
    source: str

    @property
    def limit_mm(self) -> float:
        """The limit in mm, as the float nearest to the exact value."""
        return millimetres(self.limit_in)


def drum_limits(new_diameter_in: Fraction | float) -> tuple[DrumLimit, ...]:
    """Return the figures for a drum of this diameter when new (inches); rows that disagree are all returned.

    Common practice allows 0.120 in on any diameter; the army manuals' three figures are for 16.5 in only. The
    maker's limit goes before all of them, 49 CFR 393.47(g). Raises `PartError` for a diameter not above 0.

    >>> [float(limit.limit_in) for limit in drum_limits(16.5)]
    [16.62, 16.62, 16.625, 16.65]
    """
    above_zero("foundation.drum_diameter", float(new_diameter_in) * float(MM_PER_INCH))
    new = exact_inches(new_diameter_in)
    return tuple(_limit(row, new) for row in rows("drum_limits") if maybe_figure(row["new_diameter_in"]) in (None, new))


def _limit(row: Mapping[str, str], new: Fraction) -> DrumLimit:
    discard = maybe_figure(row["discard_diameter_in"])
    limit = new + figure(row["growth_in"]) if discard is None else discard
    return DrumLimit(row["rule_set"], int(row["row"]), new, limit, row["status"], row["source"])
