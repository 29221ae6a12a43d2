"""The links of the chain of motion, each as a function of the one or two figures that it depends on.

No link is sampled across a kink. The kinks (springs lifted, first contact, both linings seated, chamber bottomed) lie
between links, and the script compares there as the solver does.
"""

import numpy as np

from geometry.applied import last_turn, spring_torque
from geometry.arrays import Array, floats
from geometry.brake import SIDES, Brake, Side
from geometry.cam_train import parameter_at_angle, ride, ride_table
from geometry.chamber import FULL_FORCE_TO, Chamber, thrust_share
from geometry.condition import Condition, contact, heel_angle, tip_angle, turn_range
from geometry.lining import lining_surface
from geometry.linkage import arm_state, arm_turn, closing_strokes, turn_state
from geometry.loads import push
from geometry.shoe import distance_at_turn, turn_of
from mechviz.page.grid import Columns, Grid, packed, sampled
from mechviz.page.sheet import Range, Sheet, sampled_sheet

BEYOND = 1.3
"""How far past the rated stroke the arm is sampled: the stroke that worn linings would need is told even there."""

FALL_CELLS = 384
"""Pieces of the chamber's fall-off."""


def arm_grid(brake: Brake) -> Grid:
    """Return stroke and lever (mm), arm angle and pushrod tilt (rad) against the arm's turn (rad from released)."""

    def columns(turn: Array) -> Columns:
        stroke, lever, _ = turn_state(brake.linkage, turn)
        arm = arm_state(brake.linkage, stroke)
        return {"stroke": stroke, "lever": lever, "armAngle": arm.arm_angle, "tilt": arm.tilt}

    closing = closing_strokes(brake.linkage)[1] - 1e-6
    most = float(arm_turn(brake.linkage, min(BEYOND * brake.chamber.rated_stroke, closing)))
    return sampled(columns, 0.0, max(most, last_turn(brake)), "linkage")


def cam_grid(brake: Brake) -> Grid:
    """Return shoe turns (rad) and the return spring's torque (N*mm) against the cam angle (rad), both rollers on it."""

    def columns(angle: Array) -> Columns:
        turns: dict[str, Array] = {}
        for side in SIDES:
            parameter = parameter_at_angle(brake.profile, brake.shoe, side, angle)
            turns[side] = turn_of(brake.shoe, ride(brake.profile, brake.shoe, side, parameter).place)
        return {**turns, "springTorque": spring_torque(brake, angle)}

    return sampled(columns, heel_angle(brake), tip_angle(brake), "cam", loose=["springTorque"])


def shoe_grid(brake: Brake, condition: Condition) -> Grid:
    """Return, against a shoe's turn (rad, cam's heel to tip), what it settles on either side.

    The cam angle (rad), the distance of the contact normal from the camshaft and from the anchor (mm).
    """
    at = contact(brake, *condition.arrays[:3])

    def columns(turn: Array) -> Columns:
        found: dict[str, Array] = {}
        for side in SIDES:
            angle = _angle_at_turn(brake, side, turn)
            pushing = push(brake, at, side, angle)
            found |= {f"{side}Angle": angle, f"{side}Lever": pushing.lever, "momentArm": pushing.moment_arm}
        return found

    return sampled(columns, *turn_range(brake), "cam", loose=["momentArm", "leftLever", "rightLever"])


def _angle_at_turn(brake: Brake, side: Side, turn: Array) -> Array:
    """The cam angle (rad) at each shoe turn; the ends are the profile's own, whatever rounding says."""
    ends = ride_table(brake.profile, brake.shoe, side).parameter[[0, -1]]
    least, most = brake.profile.pitch(ends, brake.shoe.roller_radius).distance
    distance = np.clip(distance_at_turn(brake.shoe, turn), least, most)
    parameter = np.clip(brake.profile.parameter_at(distance, brake.shoe.roller_radius), *ends)
    lost = np.isnan(parameter)
    parameter[lost] = np.where(distance[lost] < 0.5 * (least + most), ends[0], ends[1])
    return ride(brake.profile, brake.shoe, side, parameter).angle


def surface_grid(brake: Brake, condition: Condition, lining: Range) -> Grid:
    """Return where the circle of the lining's surface has its centre, against the lining's thickness (mm).

    ``reach`` is its distance from the anchor (mm), ``bearing`` its direction from there, from +y towards +x (rad), the
    shoe in its reference pose.
    """
    x, y = brake.shoe.anchor
    bedded = 0.5 * condition.arrays[1]

    def columns(thickness: Array) -> Columns:
        surface = lining_surface(brake.shoe, brake.lining, brake.new_radius, thickness, bedded)
        right, up = surface.centre_x - x, surface.centre_y - y
        return {"reach": np.hypot(right, up), "bearing": np.arctan2(right, up)}

    return sampled(columns, *lining, "condition.lining_thickness")


def long_shoe_sheet(brake: Brake, condition: Condition, lining: Range) -> Sheet:
    """Return the long-shoe integrals against lining thickness (mm) and shoe turn (rad), in mm.

    With R the drum's radius, N and F the moments of pressure and friction about the anchor and D the drag, as in
    `LongShoe`: ``normal`` is N / D, ``rubbing`` R - F / D. Neither changes with R.
    """
    _, diameter, temperature, _ = condition.arrays

    def columns(thickness: Array, turn: Array) -> Columns:
        at = contact(brake, thickness, diameter, temperature)
        shape = push(brake, at, "right", _angle_at_turn(brake, "right", turn)).long_shoe
        return {"normal": shape.normal / shape.drag, "rubbing": at.radius - shape.rubbing / shape.drag}

    return sampled_sheet(columns, lining, turn_range(brake), "foundation.lining_start")


def thrust_knots(chamber: Chamber) -> dict[str, object]:
    """Return the share of the nominal force at rising strokes (mm), to be joined by straight lines.

    A measured thrust is its own rows. The closed form ends upright, as a root does, so its knots crowd to the end.
    """
    if chamber.thrust is not None:
        strokes = floats(chamber.thrust.strokes) * chamber.rated_stroke
    else:
        left = floats(np.linspace(1.0, 0.0, FALL_CELLS + 1))
        strokes = np.append(0.0, chamber.rated_stroke * (1.0 - (1.0 - FULL_FORCE_TO) * left**3))
    return {"stroke": packed(strokes), "share": packed(thrust_share(chamber, strokes)[0])}
