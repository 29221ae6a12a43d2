"""What each part of the solid brake wears: its verb's colour, and how much of it shows."""

from collections.abc import Mapping

from mechviz.look.colours import ThemeName, blend, colours
from mechviz.solid.solid import Solid

SHARES: Mapping[str, float] = {"push": 0.86, "turn": 0.88, "spread": 0.80, "rub": 0.66, "hold": 0.50}
"""How much of its verb's full colour a part has, the rest being paper: light falls on it and makes it darker."""
WHEEL = 0.78
"""The same for wheel, of the ink."""
GHOST = 0.13
"""How much of a part shows that is looked through."""


def colour_of(solid: Solid, theme: ThemeName) -> str:
    """Return a part's colour as ``#RRGGBB``."""
    found = colours(theme)
    if solid.name == "wheel":
        return blend(found["hold"], found["paper"], WHEEL)
    ground = found["paper"] if theme != "dark" else found["soft"]
    return blend(found[solid.verb], ground, SHARES[solid.verb])
