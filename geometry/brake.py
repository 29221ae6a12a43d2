"""The brake: the parts put together, and whether they fit."""

from dataclasses import dataclass
from typing import Literal

from geometry.adjuster import Adjuster
from geometry.cam import Profile
from geometry.chamber import Chamber
from geometry.drum import Drum
from geometry.guards import Guard
from geometry.lining import Lining
from geometry.linkage import Linkage
from geometry.shoe import Shoe

Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")
AXLES = ("non-steering", "steering")
ROTATIONS = ("counter-clockwise", "clockwise")


@dataclass(frozen=True)
class Brake:
    """One wheel's brake.

    ``efficiency`` is the share of the camshaft's torque that reaches the rollers; ``windup_stiffness`` the torque for
    a turn of the arm past first contact, N*mm/rad; ``axle`` steering or non-steering; ``drum_rotation`` the drum's
    direction seen from the chamber side.
    """

    chamber: Chamber
    linkage: Linkage
    profile: Profile
    shoe: Shoe
    lining: Lining
    drum: Drum
    adjuster: Adjuster
    efficiency: float
    windup_stiffness: float
    axle: str = "non-steering"
    drum_rotation: str = "counter-clockwise"

    def __post_init__(self) -> None:
        guard = Guard("foundation").positive("stiffness", windup_stiffness=self.windup_stiffness)
        guard.positive("number", efficiency=self.efficiency)
        guard.not_more("number", 1.0, efficiency=self.efficiency)
        guard.one_of(AXLES, axle=self.axle).one_of(ROTATIONS, drum_rotation=self.drum_rotation)
        thickness, radius = ("lining_thickness", self.lining.thickness), ("drum_diameter", self.drum.diameter / 2)
        guard.less("length", thickness, radius, share="half the ")
        guard.done()

    @property
    def new_radius(self) -> float:
        """Inner radius of the new drum at 70 degF, mm."""
        return self.drum.diameter / 2

    @property
    def leading_side(self) -> Side:
        """The shoe that the drum drags towards its anchor."""
        return "left" if self.drum_rotation == "counter-clockwise" else "right"


def turn_sense(side: Side) -> int:
    """Return +1 where the outward frame of a shoe turns as the drawing does (right), -1 where it is mirrored (left)."""
    return 1 if side == "right" else -1
