"""From air to torque: chamber force, return springs, the applied state, roller forces and brake torque."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .arm import arm_turn, lever
from .brake import SIDES, SIGN, OracleBrake
from .contact import Contact
from .lining import surface_ends
from .long_shoe import bearing_from, shoe_moments
from .numeric import derivative, root
from .refusal import RefusedError
from .setting import Prepared, both_contacts
from .shoe import anchor
from .state import State, state_at

LARGEST_STEP = 0.004  # rad of cam, for differencing the roller spread
SMALLEST_STEP = 1e-4


@dataclass(frozen=True)
class Applied:
    """Balance of the brake at one pressure. ``presses`` is False when the linings do not reach the drum."""

    pressure: float
    state: State
    presses: bool
    chamber_force: float
    camshaft_torque: float
    return_spring_torque: float
    useful_torque: float
    roller_force: dict[str, float]
    shoe_factor: dict[str, float]
    brake_torque: float


def chamber_force(brake: OracleBrake, stroke: float, pressure: float) -> float:
    """Pushrod force of the chamber less its own return spring."""
    used = stroke / brake.rated_stroke
    if used >= 1.0:
        area = 0.0
    elif used > 0.5:
        area = math.sqrt(1.0 - ((used - 0.5) / 0.5) ** 4.8)
    else:
        area = 1.0
    spring = brake.chamber_spring_preload + brake.chamber_spring_rate * stroke
    return pressure * brake.chamber_area * area - spring


def chamber_torque(brake: OracleBrake, stroke: float, pressure: float) -> float:
    """Torque of the chamber on the camshaft by virtual work."""
    return chamber_force(brake, stroke, pressure) * lever(brake, stroke)


def roller_spread(prepared: Prepared, cam_angle: float) -> float:
    """Distance between the roller centres across the brake (along x)."""
    contacts = both_contacts(prepared.brake, prepared.profile, cam_angle)
    return contacts["right"].centre[0] - contacts["left"].centre[0]


def return_spring_torque(prepared: Prepared, cam_angle: float) -> float:
    """Torque of the shoe return spring on the camshaft, from the differenced spread.

    The step is kept so small that the stencil stays between two breaks of the profile wherever it can.
    """
    brake = prepared.brake
    contacts = both_contacts(brake, prepared.profile, cam_angle)
    room = min(abs(c.parameter - edge) for c in contacts.values() for edge in prepared.profile.breaks)
    step = min(LARGEST_STEP, max(room / 4.0, SMALLEST_STEP))
    rate = derivative(lambda g: roller_spread(prepared, g), cam_angle, step)
    spread = contacts["right"].centre[0] - contacts["left"].centre[0]
    return (brake.shoe_spring_force + brake.shoe_spring_rate * (spread - brake.roller_spread)) * rate


def shoe_factor(prepared: Prepared, side: str, contact: Contact) -> float:
    """Drag at the drum's radius over the roller's normal force, from moments about the anchor."""
    brake, surface = prepared.brake, prepared.surfaces[side]
    pin = anchor(brake, side)
    start, end = (bearing_from(pin, point) for point in surface_ends(brake, surface, contact.turn))
    if min(SIGN[side] * start, SIGN[side] * end) < 0.0:
        raise RefusedError("lining", "it reaches past the line from the drum centre to the anchor")
    sums = shoe_moments(brake.radius_hot, pin, start, end, brake.friction, brake.drum_turns)
    (cx, cy), (nx, ny) = contact.point, contact.normal
    actuating = (cx - pin[0]) * ny - (cy - pin[1]) * nx
    resisting = -(sums.normal + sums.friction)
    if resisting * actuating <= 0.0:
        raise RefusedError("shoe", "it grabs: friction alone holds it on the drum")
    return sums.drag * actuating / resisting


def applied_stroke(prepared: Prepared, pressure: float, at_contact: float) -> tuple[float, float, bool]:
    """Stroke of the balance, return-spring torque there and whether the linings press.

    ``at_contact`` is the return-spring torque when the first lining touches; it stands for all states past it.
    """
    brake, free = prepared.brake, prepared.free_stroke
    touch = arm_turn(brake, free)

    def past(stroke: float) -> float:
        wind_up = arm_turn(brake, stroke) - touch
        return chamber_torque(brake, stroke, pressure) - brake.windup_stiffness * wind_up - at_contact

    def before(stroke: float) -> float:
        cam_angle = prepared.released + arm_turn(brake, stroke)
        return chamber_torque(brake, stroke, pressure) - return_spring_torque(prepared, cam_angle)

    if past(free) > 0.0:
        return root(past, free, brake.rated_stroke, "chamber", "no balance within the rated stroke"), at_contact, True
    if before(0.0) <= 0.0:
        return 0.0, return_spring_torque(prepared, prepared.released), False
    stroke = root(before, 0.0, free, "chamber", "no balance before contact")
    return stroke, return_spring_torque(prepared, prepared.released + arm_turn(brake, stroke)), False


def applied_at(prepared: Prepared, pressure: float) -> Applied:
    """Balance at a chamber pressure."""
    brake = prepared.brake
    at_contact = return_spring_torque(prepared, prepared.first)
    stroke, spring_torque, presses = applied_stroke(prepared, pressure, at_contact)
    state = state_at(prepared, stroke)
    torque = chamber_torque(brake, stroke, pressure)
    useful = brake.efficiency * (torque - spring_torque) if presses else 0.0
    contacts = {side: state.shoes[side].contact for side in SIDES}
    factor = {side: shoe_factor(prepared, side, contacts[side]) for side in SIDES}
    # the same drag on both shoes: N = drag / S, and the two moments on the cam add up to the useful torque
    drag = useful / sum(contacts[side].moment_arm / factor[side] for side in SIDES)
    return Applied(
        pressure=pressure,
        state=state,
        presses=presses,
        chamber_force=chamber_force(brake, stroke, pressure),
        camshaft_torque=torque,
        return_spring_torque=spring_torque,
        useful_torque=useful,
        roller_force={side: drag / factor[side] for side in SIDES},
        shoe_factor=factor,
        brake_torque=brake.radius_hot * 2.0 * drag,
    )
