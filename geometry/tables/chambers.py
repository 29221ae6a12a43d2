"""What is known of a chamber by its style and size, and naming a chamber from its clamp ring."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from geometry.tables.reader import above_zero, figure, known, millimetres, rows
from geometry.tables.strokes import StrokeLimit, limits_for, plain_size, stroke_limit, styles

DIAMETER_TOLERANCE = 5.0
"""mm; a little under half of the smallest spacing of two clamp rings (10.3 mm, 16 to 20), so that a reading
names one size at most and one half way between two names none."""


@dataclass(frozen=True)
class ChamberCandidate:
    """A chamber that a measured clamp ring may belong to. ``distance_mm`` is how far the reading is from the table."""

    style: str
    size: str
    outside_diameter_in: Fraction
    distance_mm: float
    status: str | None
    source: str


def rated_strokes(style: str, size: str) -> tuple[Fraction, ...]:
    """Return the rated strokes (exact inches) that a chamber is met with, the usual one first; none where not known.

    Raises `PartError` for an unknown style.
    """
    found = sorted(_rows("rated_strokes", style, size), key=lambda row: row["use"] != "usual")
    return tuple(figure(row["rated_stroke_in"]) for row in found)


def nominal_rated_stroke(style: str, size: str) -> Fraction | None:
    """Return the usual rated stroke (exact inches) of a chamber, or None where it is not known.

    The mark on the chamber goes before it. Raises `PartError` for an unknown style.
    """
    return next(iter(rated_strokes(style, size)), None)


USUAL_SHARE = Fraction(4, 5)
"""Of the rated stroke, the limit of a chamber that is in no table, 49 CFR 393.47(e)(2); published ones are near it."""


def assumed_rated_stroke(style: str, size: str) -> Fraction | None:
    """Return what the rated stroke (inches) of a chamber would be whose limit is published and whose stroke is not.

    Its limit over 80 %: a figure to work with, never one to judge by. None where the stroke is known or neither is.
    Raises `PartError` for an unknown style.
    """
    listed = stroke_limit(style, size)
    return None if listed is None or rated_strokes(style, size) else listed.limit_in / USUAL_SHARE


def effective_area_in2(style: str, size: str) -> float | None:
    """Return the nominal effective area in square inches, or None where it is not known.

    Raises `PartError` for an unknown style.
    """
    row = next(iter(_rows("effective_areas", style, size)), None)
    return None if row is None else float(figure(row["area_in2"]))


def _rows(table: str, style: str, size: str) -> list[Mapping[str, str]]:
    style = known("chamber.style", style, styles())
    return [row for row in rows(table) if (row["style"], row["size"]) == (style, plain_size(size))]


def chambers_by_outside_diameter(
    diameter_mm: float, long_stroke: bool | None = None, tolerance_mm: float = DIAMETER_TOLERANCE
) -> list[ChamberCandidate]:
    """Return the clamp chambers whose clamp ring measures ``diameter_mm`` within ``tolerance_mm``, nearest first.

    ``long_stroke`` says what the chamber's marks show; None, not known, returns both kinds. Empty where nothing is
    near. Bolt-type chambers and rotochambers have no clamp ring and are not among them. Raises `PartError` for a
    diameter that is not a number above 0. Source: 49 CFR 393.47(e)(1), outside diameters.

    >>> [c.size for c in chambers_by_outside_diameter(206.0, long_stroke=False)]
    ['30']
    """
    measured = above_zero("chamber.outside_diameter", diameter_mm)
    kinds = {None: ("clamp", "clamp-long-stroke"), False: ("clamp",), True: ("clamp-long-stroke",)}
    found = {
        (row.style, row.size): _candidate(row, measured) for kind in kinds[long_stroke] for row in limits_for(kind)
    }
    return sorted((c for c in found.values() if c.distance_mm <= tolerance_mm), key=lambda c: c.distance_mm)


def _candidate(row: StrokeLimit, measured: float) -> ChamberCandidate:
    assert row.outside_diameter_in is not None  # every row of the table has one
    distance = abs(measured - millimetres(row.outside_diameter_in))
    return ChamberCandidate(
        row.style, row.size, row.outside_diameter_in, distance, row.outside_diameter_status, row.source
    )
