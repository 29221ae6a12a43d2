"""One wheel's brake with whatever is wrong with it."""

from dataclasses import dataclass, replace

from numpy.typing import ArrayLike

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.linkage import Linkage, arm_turn


@dataclass(frozen=True)
class Wheel:
    """A brake that may be defective.

    Parameters
    ----------
    brake : Brake
        With the parts as they are.
    condition : Condition
        Linings, drum, heat and setting as they are; arrays of any shapes that broadcast.
    pressure : array
        Chamber pressure of the application, MPa.
    play : float
        Stroke that is used up before the arm moves, mm: play of clevis pin and camshaft bushings.
    blocked : bool
        A shoe does not move, so that the cam cannot turn: all stroke is wind-up and no lining presses.
    residual : float
        Share of its pressing that one shoe keeps when the brake is let go.
    fallen : bool
        No spring holds the shoes off: one lies on the drum by its weight.
    ovality : float
        Difference between the drum's greatest and least diameter, mm.

    """

    brake: Brake
    condition: Condition
    pressure: ArrayLike
    play: float = 0.0
    blocked: bool = False
    residual: float = 0.0
    fallen: bool = False
    ovality: float = 0.0


def felt(wheel: Wheel) -> tuple[Brake, Condition]:
    """Return the brake as the pushrod feels it: its pivot starts farther back by the play.

    The rod being as long as it is, the arm's place at a stroke of the play is that of the sound brake at none.
    """
    if wheel.play == 0:
        return wheel.brake, wheel.condition
    sound = wheel.brake.linkage
    loose = Linkage(
        sound.arm_length,
        sound.axis_offset,
        sound.face_distance,
        sound.pivot_depth + wheel.play,
        sound.pin_reach - wheel.play,
    )
    thickness, diameter, temperature, released = wheel.condition.arrays
    behind = released - arm_turn(loose, wheel.play)
    return replace(wheel.brake, linkage=loose), Condition(thickness, diameter, temperature, behind)
