"""Where an arm stands, in words: how many whole degrees it has to go to square, or has gone past it."""

from math import degrees

SQUARE = 90.0


def off_square(angle: float) -> int:
    """Return by how many whole degrees, as an angle gauge tells it, an angle (rad) is more than square.

    >>> off_square(1.8675), off_square(1.5)
    (17, -4)
    """
    return round(degrees(angle) - SQUARE)


def stands(angle: float) -> str:
    """Return it as a sentence's part: ``7 degrees past square``."""
    off = off_square(angle)
    if off == 0:
        return "square to the pushrod"
    count = f"{abs(off)} degree{'s' * (abs(off) != 1)}"
    return f"{count} before square" if off > 0 else f"{count} past square"
