"""How fine the solids are made: one fineness for pictures, one for a browser that has no graphics card."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Fineness:
    """How fine the surfaces are.

    ``detail`` and ``small`` are the chords' tolerances (mm) of large and of small rounds, ``steps`` and ``sides`` the
    pieces of a wire's turn and of its section; ``drilled`` says whether the linings have the holes of their rivets.
    Surfaces are thinned out as far as they stay within ``thinned`` (mm); 0 leaves them as they are.
    """

    detail: float
    small: float
    steps: int
    sides: int
    drilled: bool
    thinned: float


STILL = Fineness(detail=0.06, small=0.03, steps=48, sides=16, drilled=True, thinned=0.0)
"""For pictures."""
FILM = Fineness(detail=0.25, small=0.10, steps=24, sides=8, drilled=True, thinned=0.0)
"""For the many pictures of a film."""
MOVING = Fineness(detail=1.6, small=0.55, steps=8, sides=4, drilled=False, thinned=0.5)
"""For a browser: all parts together have under 15 000 triangles."""
