"""Where an arm stands, in words: how many degrees it has to go to square, or has gone past it."""

from math import degrees

from mechviz.report.written import NOTHING

SQUARE = 90.0


def to_square(angle: float | None) -> str:
    """Return a few words for a table, to a whole degree as an angle gauge tells it.

    >>> to_square(1.8675), to_square(1.5), to_square(1.5708)
    ('17 to go', '4 past', 'square')
    """
    if angle is None:
        return NOTHING
    off = round(degrees(angle) - SQUARE)
    return "square" if off == 0 else f"{abs(off)} to go" if off > 0 else f"{-off} past"


def stands(angle: float) -> str:
    """Return it as a sentence's part: ``7 degrees past square``."""
    off = round(degrees(angle) - SQUARE)
    if off == 0:
        return "square to the pushrod"
    count = f"{abs(off)} degree{'s' * (abs(off) != 1)}"
    return f"{count} before square" if off > 0 else f"{count} past square"
