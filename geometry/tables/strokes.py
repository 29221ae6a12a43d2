"""Pushrod stroke limits, 49 CFR 393.47(e): the limit of a chamber, and what is over it."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from geometry.tables.bands import band
from geometry.tables.reader import (
    MM_PER_INCH,
    above_zero,
    exact_inches,
    figure,
    finite,
    known,
    maybe_figure,
    millimetres,
    rows,
)

_NEAR = Fraction(1, 16)


@dataclass(frozen=True)
class StrokeLimit:
    """The readjustment limit of one chamber.

    ``limit_in``, ``rated_stroke_in`` (None where the limit does not depend on it) and ``outside_diameter_in``
    (None for the 80 % rule) are exact inches; ``status`` is that of the limit.
    """

    limit_in: Fraction
    style: str
    size: str
    status: str
    source: str
    rated_stroke_in: Fraction | None = None
    outside_diameter_in: Fraction | None = None
    outside_diameter_status: str | None = None

    @property
    def limit_mm(self) -> float:
        """The limit in mm, as the float nearest to the exact value."""
        return millimetres(self.limit_in)


def _limit(row: Mapping[str, str]) -> StrokeLimit:
    return StrokeLimit(
        limit_in=figure(row["limit_in"]),
        style=row["style"],
        size=row["size"],
        status=row["status"],
        source=row["source"],
        rated_stroke_in=maybe_figure(row["rated_stroke_in"]),
        outside_diameter_in=figure(row["outside_diameter_in"]),
        outside_diameter_status=row["outside_diameter_status"],
    )


@lru_cache
def _limits() -> tuple[StrokeLimit, ...]:
    return tuple(_limit(row) for row in rows("stroke_limits"))


def styles() -> tuple[str, ...]:
    """Return the chamber styles that the tables know."""
    return tuple(dict.fromkeys(limit.style for limit in _limits()))


def limits_for(style: str) -> tuple[StrokeLimit, ...]:
    """Return every row of one chamber style. Raises `PartError` for an unknown style."""
    style = known("chamber.style", style, styles())
    return tuple(limit for limit in _limits() if limit.style == style)


def sizes(style: str) -> tuple[str, ...]:
    """Return the sizes of one chamber style that have a limit. Raises `PartError` for an unknown style."""
    return tuple(dict.fromkeys(limit.size for limit in limits_for(style)))


def plain_size(size: str) -> str:
    """Return a size as the tables write it: trimmed, letters large."""
    return size.strip().upper()


def stroke_limit(style: str, size: str, rated_stroke_in: Fraction | float | None = None) -> StrokeLimit | None:
    """Return the limit of a chamber, or None where it is not in the tables (`fallback_limit` is for those).

    ``rated_stroke_in`` (inches) decides only for long-stroke 20 and 24: within 1/16 in of 3 in gives the 2 1/2 in
    row; any other, or none, gives the 2 in row, the lower. Raises `PartError` for an unknown style and for a rated
    stroke that is not a number above 0. Source: 49 CFR 393.47(e)(1).

    >>> stroke_limit("clamp", "30").limit_in, stroke_limit("clamp-long-stroke", "24", 3.0).limit_in
    (Fraction(2, 1), Fraction(5, 2))
    """
    rated = None if rated_stroke_in is None else _rated(rated_stroke_in)
    found = [limit for limit in limits_for(style) if limit.size == plain_size(size)]
    marked = [limit for limit in found if rated is not None and _is_near(rated, limit.rated_stroke_in)]
    return min(marked or found, key=lambda limit: limit.limit_in, default=None)


def fallback_limit(
    rated_stroke_in: Fraction | float,
    style: str = "",
    size: str = "",
    marked_in: Fraction | float | None = None,
) -> StrokeLimit:
    """Return the limit of a chamber that is not in the tables: the one marked on it, or 80 % of its rated stroke.

    All in inches. Raises `PartError` for a rated stroke, or a marked limit, that is not a number above 0. Source:
    49 CFR 393.47(e)(2).

    >>> fallback_limit(Fraction(5, 2)).limit_in, fallback_limit(Fraction(5, 2), marked_in=2.25).limit_in
    (Fraction(2, 1), Fraction(9, 4))
    """
    rule, rated = band("share-of-rated-stroke"), _rated(rated_stroke_in)
    assert rule.high is not None  # the table's own test holds the row
    limit = rated * rule.high / 100 if marked_in is None else _marked(marked_in)
    return StrokeLimit(limit, style, size, rule.status, rule.source, rated_stroke_in=rated)


def _marked(value: Fraction | float) -> Fraction:
    above_zero("chamber.marked_limit", float(value) * float(MM_PER_INCH))
    return exact_inches(value)


def _rated(value: Fraction | float) -> Fraction:
    above_zero("chamber.rated_stroke", float(value) * float(MM_PER_INCH))
    return exact_inches(value)


def _is_near(rated: Fraction, row_rated: Fraction | None) -> bool:
    return row_rated is not None and abs(rated - row_rated) <= _NEAR


def over_by_in(stroke_mm: float, limit: StrokeLimit) -> Fraction:
    """Return by how many inches a stroke (mm) is past the limit, negative where it is short of it.

    The stroke is taken as the shortest decimal that it stands for (57.15, not 57.14999...), so that 1/4 in past
    comes out as exactly 1/4. Raises `PartError` for a stroke that is not a number.

    >>> over_by_in(57.15, stroke_limit("clamp", "30"))
    Fraction(1, 4)
    """
    return Fraction(repr(finite("stroke", stroke_mm))) / MM_PER_INCH - limit.limit_in
