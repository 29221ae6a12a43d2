"""What one look at the solid brake shows: where from, which parts, how far apart, cut or whole."""

from dataclasses import dataclass

from mechviz.look.colours import ThemeName
from mechviz.solid.solid import Solid
from mechviz.solid.views import VIEWS, View

OUTSIDE = frozenset({"wheel"})
"""What is off in every look but the one from outside."""
WHEEL_END = frozenset({"drum", "hub"})
"""What stands between an eye on the wheel's side and the brake."""

DRUM_SIDE = frozenset({"wheel", "drum", "hub"})
CHAMBER_SIDE = frozenset({
    "chamber_non_pressure", "chamber_pressure", "clamp_ring", "diaphragm", "parking_housing", "parking_diaphragm",
    "bracket",
})  # fmt: skip
ASIDE = 0.2
"""An eye nearer than this (its direction's x) to the shaft sees both halves of a drum cut along it."""


def cut_half(name: str, view: View) -> tuple[float, float, float] | None:
    """Return which half of a part is left when the brake is cut open, as a direction in its body's frame.

    It is the half away from the eye: the drum's across, or inwards for an eye on the shaft; the chamber's in its arm
    plane, whose frame looks the other way along the shaft. None for a part that stays whole.
    """
    x, _, z = (float(value) for value in view.direction)
    if name in CHAMBER_SIDE:
        return 0.0, 0.0, 1.0 if z > 0 else -1.0
    if name not in DRUM_SIDE:
        return None
    return (0.0, 0.0, -1.0 if z > 0 else 1.0) if abs(x) < ASIDE else (-1.0 if x > 0 else 1.0, 0.0, 0.0)


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
