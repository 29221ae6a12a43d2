"""What one look at the solid brake shows: where from, which parts, how far apart, cut or whole."""

from dataclasses import dataclass

from mechviz.look.colours import ThemeName
from mechviz.solid.solid import Solid
from mechviz.solid.views import VIEWS, View

OUTSIDE = frozenset({"wheel"})
"""What is off in every look but the one from outside."""
WHEEL_END = frozenset({"drum", "hub"})
"""What stands between an eye on the wheel's side and the brake."""

CUT: dict[str, tuple[float, float, float]] = {
    "wheel": (-1.0, 0.0, 0.0),
    "drum": (-1.0, 0.0, 0.0),
    "hub": (-1.0, 0.0, 0.0),
    "chamber_non_pressure": (0.0, 0.0, 1.0),
    "chamber_pressure": (0.0, 0.0, 1.0),
    "clamp_ring": (0.0, 0.0, 1.0),
    "diaphragm": (0.0, 0.0, 1.0),
    "parking_housing": (0.0, 0.0, 1.0),
    "parking_diaphragm": (0.0, 0.0, 1.0),
    "bracket": (0.0, 0.0, 1.0),
}
"""By a part's name: the half that is left of it when the brake is cut open, as a direction in its body's frame.

The chamber is cut in its arm plane and keeps the half towards the wheel; the drum loses the half on the chamber's
side, x > 0."""

FROM_THE_WHEEL = frozenset({"wheel-side", "into-drum"})
"""Views in which the drum hides the brake."""


def shown(view: View, drum: str | None, wheel: bool) -> tuple[frozenset[str], frozenset[str]]:
    """Return which parts are hidden and which are looked through.

    ``drum`` is ghost, whole or off, or None for what suits the view; ``wheel`` puts the wheel on.
    """
    if wheel:
        return frozenset(), frozenset({"wheel", "drum"} if drum == "ghost" else ())
    how = drum or ("off" if view.name in FROM_THE_WHEEL else "ghost")
    if how == "off":
        return OUTSIDE | WHEEL_END, frozenset()
    return (OUTSIDE | {"hub"}, frozenset({"drum"})) if how == "ghost" else (OUTSIDE, frozenset())


@dataclass(frozen=True)
class Shot:
    """One look.

    Parameters
    ----------
    view : View
        Where from.
    apart : float
        From 0, together, to 1, all apart.
    cut : bool
        Whether shells and drum are cut open.
    ghost, hidden : frozenset of str
        Names of parts that are looked through, and of parts that are off.
    theme : str
        Light, dark or print.

    """

    view: View = VIEWS["three-quarter"]
    apart: float = 0.0
    cut: bool = False
    ghost: frozenset[str] = frozenset({"drum"})
    hidden: frozenset[str] = OUTSIDE | {"hub"}
    theme: ThemeName = "light"

    def shows(self, solid: Solid) -> bool:
        """Say whether a part is in the picture."""
        return solid.name not in self.hidden
