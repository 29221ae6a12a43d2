"""Options that say how the solid brake is looked at, shared by draw, animate and show."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

if TYPE_CHECKING:
    from mechviz.look.colours import ThemeName
    from mechviz.solid.shot import Shot

ViewName = Literal["three-quarter", "wheel-side", "along-shaft", "into-drum", "from-above"]
DrumShown = Literal["ghost", "whole", "off"]

View = Annotated[
    ViewName | None,
    Parameter(metavar="FROM", help="Solid: where it is seen from; three-quarter, on the chamber's side, if not given."),
]
Drum = Annotated[
    DrumShown | None,
    Parameter(
        metavar="HOW", help="Solid: the drum is looked through, whole or off. Off where it would hide the brake."
    ),
]
Wheel = Annotated[bool, Parameter(help="Solid: with the wheel on, as an inspector finds it.", show_default=False)]
Cut = Annotated[bool, Parameter(help="Solid: chamber and drum cut open.", show_default=False)]
Apart = Annotated[
    float | None,
    Parameter(metavar="SHARE", help="Solid: how far it is taken apart, from 0, together, to 1."),
]


@dataclass(frozen=True)
class Look:
    """How the solid was asked for; None or False where nothing was said."""

    view: ViewName | None = None
    drum: DrumShown | None = None
    wheel: bool = False
    cut: bool = False
    apart: float | None = None

    @property
    def asked(self) -> str:
        """The first option that was used; empty where none was."""
        used = {
            "--view": self.view,
            "--drum": self.drum,
            "--wheel": self.wheel,
            "--cut": self.cut,
            "--apart": self.apart is not None,
        }
        return next((name for name, value in used.items() if value), "")

    def shot(self, theme: "ThemeName" = "light") -> "Shot":
        """Return what is shown. Raises `MechvizError` for what cannot be."""
        from geometry.errors import Fault, MechvizError
        from mechviz.solid.shot import Shot, shown
        from mechviz.solid.views import VIEWS

        if self.apart is not None and not 0 <= self.apart <= 1:
            fault = Fault("--apart", "is no share of the way", "use 0 to 1", f"{self.apart:g}", "number")
            raise MechvizError(fault)
        view, apart = VIEWS[self.view or "three-quarter"], self.apart or 0.0
        hidden, ghost = shown(view, self.drum or ("whole" if apart or self.cut or self.wheel else None), self.wheel)
        return Shot(view, apart, self.cut, ghost, hidden, theme)
