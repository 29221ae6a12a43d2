"""The wheels that a cause may be: its amount by the brake's unknowns, as arrays of conditions for the solver."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition, contact
from geometry.defects import Defect, Wheel
from geometry.diagnosis.meant import LENGTHS, Meant
from geometry.diagnosis.nodes import Nodes, normal_nodes
from geometry.diagnosis.priors import COMPLIANCE, NOTHING, Room, amount_nodes, room_of, slack_of
from geometry.diagnosis.tight import CAUSES
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import PartError
from geometry.linkage import arm_turn

AMOUNTS, SLACKS, COMPLIANCES, LININGS = 8, 5, 3, 8
"""How many amounts, slacks, wind-ups and lining thicknesses a cause is solved at."""

STEP_PRESSURE, STEP_HEAT, STEP_LENGTH = 0.02, 10.0, 1.0
"""Steps (share, K, mm) over which the readings' dependence on small unknowns is taken."""

ASKED = ("as tested", "more pressure", "hotter", "as slackened", "slack hotter")


@dataclass(frozen=True)
class Grid:
    """The unknowns of a sound brake: free stroke (mm), logarithm of wind-up, and edges of lining thickness (mm)."""

    slack: Nodes
    compliance: Nodes
    lining: Array

    @property
    def shape(self) -> tuple[int, int, int]:
        """Of the conditions of one wheel: slack, lining, and what is `ASKED`."""
        return len(self.slack.at), len(self.lining) - 1, len(ASKED)


@dataclass(frozen=True)
class Cause:
    """One cause and the wheels that it is solved as.

    ``wheels`` by amount, then by wind-up; ``stretched`` by one of `LENGTHS`, at the middle amount and wind-up;
    ``amount_sd`` is how far each amount stands for its neighbourhood; ``psi`` the shoe's middle, rad.
    """

    name: str
    room: Room
    amounts: Array
    amount_sd: Array
    wheels: tuple[tuple[Wheel, ...], ...]
    stretched: tuple[Wheel, ...]
    psi: float

    @property
    def middle(self) -> int:
        """Place of the middle amount."""
        return len(self.amounts) // 2


def grid_of(meant: Meant) -> Grid:
    """Return the unknowns of a sound brake."""
    slack, room = slack_of(meant.brake), room_of(meant.brake, NOTHING)
    edges = floats(np.linspace(*room.sound_lining, LININGS + 1))
    return Grid(normal_nodes(slack.mean, slack.sd, SLACKS), normal_nodes(*COMPLIANCE, COMPLIANCES), edges)


def causes_of(meant: Meant, grid: Grid) -> list[Cause]:
    """Return nothing wrong, every defect that this brake can have, and too tight an adjustment."""
    sound = [sound_wheel(meant, grid, float(c)) for c in grid.compliance.at]
    typical = float(grid.compliance.at[len(sound) // 2])
    longer = [sound_wheel(meant, grid, typical, key) for key in LENGTHS]
    found = [_cause(meant, sound, longer, one) for one in (None, *CAUSES)]
    return [cause for cause in found if cause is not None]


def _cause(meant: Meant, sound: Sequence[Wheel], longer: Sequence[Wheel], one: Defect | None) -> Cause | None:
    """A cause, of wheels that are ``sound`` and of those with a length ``longer``.

    None where it would be no brake, or the very same one.
    """
    name = NOTHING if one is None else one.name
    amounts, spread = (floats([0.0]), floats([0.0])) if one is None else amount_nodes(one, AMOUNTS)
    middle = float(amounts[len(amounts) // 2])
    try:
        wheels = tuple(tuple(_sick(wheel, one, float(a)) for wheel in sound) for a in amounts)
        stretched = tuple(_sick(wheel, one, middle) for wheel in longer)
    except PartError:
        return None
    if one is not None and wheels[0][0] is sound[0]:
        return None
    return Cause(name, room_of(meant.brake, name), amounts, spread, wheels, stretched, meant.brake.lining.middle)


def _sick(sound: Wheel, one: Defect | None, amount: float) -> Wheel:
    """The wheel with a cause; where that is more than there is left of a lining, its states do not exist."""
    return sound if one is None or amount == 0 else one.does(sound, amount)


def sound_wheel(meant: Meant, grid: Grid, log_compliance: float, stretched: str = "") -> Wheel:
    """Return the brake meant in all slacks, linings and tests of the grid, one of its lengths longer by a step.

    The adjuster is set on the brake as meant, cold; a length that is off shifts nothing but the pushrod's end.
    """
    brake = with_compliance(meant.brake, log_compliance)
    thickness = 0.5 * (grid.lining[1:] + grid.lining[:-1])[None, :, None]
    drum = floats(0.5 * sum(room_of(brake, NOTHING).sound_drum))
    at = contact(brake, thickness, drum, floats(REFERENCE_TEMPERATURE))
    released = at.first - arm_turn(brake.linkage, grid.slack.at)[:, None, None]
    pressure, heat = _asked(meant)
    if stretched:
        longer = {stretched: getattr(brake.linkage, stretched) + STEP_LENGTH}
        brake = replace(brake, linkage=replace(brake.linkage, **longer))
    return Wheel(brake, Condition(thickness, drum, heat, released), pressure)


def with_compliance(brake: Brake, log_compliance: float) -> Brake:
    """Return the brake with a wind-up of so much more (natural logarithm)."""
    return replace(brake, windup_stiffness=brake.windup_stiffness * float(np.exp(-log_compliance)))


def _asked(meant: Meant) -> tuple[Array, Array]:
    """Pressure and drum temperature of each of `ASKED`."""
    p, hot, slack = meant.pressure, meant.hot, meant.slack_hot
    return (
        floats([p, p * (1 + STEP_PRESSURE), p, p, p]),
        floats([hot, hot, hot + STEP_HEAT, slack, slack + STEP_HEAT]),
    )
