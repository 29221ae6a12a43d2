"""Bands that an angle, a free stroke or a share of the rated stroke should lie in, each from one source."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from geometry.tables.reader import known, maybe_figure, rows


@dataclass(frozen=True)
class Band:
    """A band in ``unit`` (in, deg or percent). ``low`` or ``high`` is None where the source sets none.

    ``low_included`` and ``high_included`` say whether the limit itself still lies inside.
    """

    name: str
    rule_set: str
    low: Fraction | None
    low_included: bool
    high: Fraction | None
    high_included: bool
    unit: str
    status: str
    source: str


def _band(row: Mapping[str, str]) -> Band:
    return Band(
        name=row["name"],
        rule_set=row["rule_set"],
        low=maybe_figure(row["low"]),
        low_included=row["low_kind"] == "at least",
        high=maybe_figure(row["high"]),
        high_included=row["high_kind"] == "at most",
        unit=row["unit"],
        status=row["status"],
        source=row["source"],
    )


def bands() -> tuple[str, ...]:
    """Return the names of the bands."""
    return tuple(row["name"] for row in rows("bands"))


def band(name: str) -> Band:
    """Return a band by its name. Raises `PartError` for an unknown one.

    >>> band("cam-turn").high
    Fraction(120, 1)
    """
    name = known("band", name, bands())
    return next(_band(row) for row in rows("bands") if row["name"] == name)
