"""What a diagnosis weighs: every defect, and a brake that is adjusted too tight, in which no part is at fault."""

from dataclasses import replace

from geometry.arrays import floats
from geometry.condition import Condition, contact
from geometry.defects import DEFECTS, Defect, Wheel, defect
from geometry.drum import REFERENCE_TEMPERATURE


def _tightened(wheel: Wheel, share: float) -> Wheel:
    """A wheel whose adjuster was turned on by a share of the cam's turn to contact, on a cold drum."""
    thickness, diameter, heat, released = wheel.condition.arrays
    first = contact(wheel.brake, thickness, diameter, floats(REFERENCE_TEMPERATURE)).first
    nearer = first - (1 - share) * (first - released)
    return replace(wheel, condition=Condition(thickness, diameter, heat, nearer))


TIGHT = Defect(
    "adjusted-too-tight",
    "Adjusted too tight",
    "slack_adjuster",
    "number",
    "share of the slack that is gone",
    0.6,
    0.95,
    "The linings stand so near to the drum that they rub: they wear, heat and use up air.",
    "On a cold drum hardly any free stroke; the wheel drags, or its drum is warmer than the others.",
    _tightened,
)
"""The adjuster's setting and not a part: on a drum that was hot when it was set or read, its slack looks right."""

CAUSES = (*DEFECTS, TIGHT)


def cause_named(name: str) -> Defect:
    """Return the defect, or the setting, of a name; raises `PartError` where there is none."""
    return TIGHT if name == TIGHT.name else defect(name)
