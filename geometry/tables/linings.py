"""Least lining thickness of air drum brakes: 49 CFR 393.47(d), 49 CFR Part 396 Appendix A, Quebec C-24.2 r. 32."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from geometry.errors import Fault, PartError
from geometry.tables.reader import MM_PER_INCH, figure, known, rows


@dataclass(frozen=True)
class LiningLimit:
    """One rule on the least lining thickness at the shoe's centre.

    ``pads`` is strip, pads or any; ``attachment`` bonded, riveted or any; ``limit`` is in ``unit``, as published.
    """

    rule_set: str
    section: str
    axle: str
    pads: str
    attachment: str
    limit: Fraction
    unit: str
    also_published: str
    status: str
    source: str

    @property
    def limit_mm(self) -> float:
        """The limit in mm, as the float nearest to the exact value."""
        return float(self.limit * (MM_PER_INCH if self.unit == "in" else 1))


@lru_cache
def _limits() -> tuple[LiningLimit, ...]:
    return tuple(LiningLimit(**{**row, "limit": figure(row["limit"])}) for row in rows("lining_limits"))  # pyright: ignore[reportArgumentType] - every other column is text


def lining_limits(axle: str, pads: int | None = None, attachment: str | None = None) -> tuple[LiningLimit, ...]:
    """Return the rules that hold, or may hold, for a lining.

    ``axle`` is steering or non-steering, ``pads`` the number of pads on a shoe (1: one continuous strip),
    ``attachment`` bonded or riveted. What is None is not known: then a row whose ``pads`` or ``attachment`` is not
    ``any`` may hold, and which one does stays open. Rows that disagree are all returned. Raises `PartError` for an
    unknown axle or attachment, and for fewer than 1 pad.

    >>> [float(row.limit) for row in lining_limits("steering", 1, "bonded")]
    [0.1875, 0.25, 5.0]
    """
    axle = known("foundation.axle", axle, ("steering", "non-steering"))
    kind = None if attachment is None else known("lining.attachment", attachment, ("bonded", "riveted"))
    wanted = (axle, _pad_kind(pads), kind)
    return tuple(row for row in _limits() if _may_hold((row.axle, row.pads, row.attachment), wanted))


def _pad_kind(pads: int | None) -> str | None:
    if pads is not None and pads < 1:
        raise PartError(
            Fault("lining.pads", "a shoe has at least one pad", "count them", given=pads, kind="number", least=1)
        )
    return None if pads is None else "strip" if pads == 1 else "pads"


def _may_hold(row: tuple[str, str, str], wanted: tuple[str | None, ...]) -> bool:
    return all(want is None or has in ("any", want) for has, want in zip(row, wanted, strict=True))
