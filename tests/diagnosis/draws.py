"""Brakes drawn with a known cause, and measured as a mechanic would: off by hand, then rounded to the tape's step.

Everything unknown is drawn afresh and solved exactly with `solve_wheel`, one brake at a time: no grid, no straight
lines, no normal distributions where the priors have none. What is drawn from is the same priors, so this says whether
the diagnosis is right about the model, not whether the model is right about brakes.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.arrays import floats
from geometry.condition import Condition, contact
from geometry.defects import Wheel, solve_wheel
from geometry.diagnosis.causes import with_compliance
from geometry.diagnosis.cells import RING_OFF
from geometry.diagnosis.meant import LENGTHS, Meant, meant_by
from geometry.diagnosis.priors import (
    ALWAYS_BEYOND,
    COMPLIANCE,
    MARKS_MISSED,
    MODEL,
    NOTHING,
    amount_at,
    room_of,
    slack_of,
)
from geometry.diagnosis.readings import HANDLING, RING, Readings, offs
from geometry.diagnosis.tight import cause_named
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import PartError
from geometry.kinematics import released_poses
from geometry.lining import lining_surface, thickness_at
from geometry.linkage import arm_state, arm_turn
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.tables import limits_for

INCH = 25.4
STEPS = {"lining_clearance": 0.0508, "lining_thickness": INCH / 32, "drum_diameter": 0.005 * INCH}
WORKSHOP = ("stroke", "free_stroke", "arm_angle_released", "arm_angle_applied", "lining_thickness")
"""What a mechanic has after ten minutes with the wheel on."""
EVERYTHING = (
    *WORKSHOP, "lining_clearance", "arm_length", "pin_reach", "clamp_diameter", "drum_diameter", "long_stroke_marks",
)  # fmt: skip


@dataclass(frozen=True)
class Drawn:
    """A brake's true cause and its readings as they were written down."""

    cause: str
    readings: Readings


def draw(setup: Setup, causes: Sequence[str], read: Sequence[str], seed: int, error: float = 1.0) -> list[Drawn]:
    """Return a brake for each cause, measured; ``error`` multiplies the hand's error and not the tape's step."""
    random, meant, off = np.random.default_rng(seed), meant_by(setup), offs(setup)
    found = list[Drawn]()
    for cause in causes:
        true = _readings(random, meant, cause)
        taken = {name: _written(random, setup, name, true[name], error) for name in read if name in true}
        found.append(Drawn(cause, Readings(taken, off)))
    return found


def _written(random: np.random.Generator, setup: Setup, name: str, value: float, error: float) -> float:
    """A figure as it is read: off by hand, rounded to its step, never below nothing; marks overlooked now and then."""
    if name == "long_stroke_marks":
        return float(random.random() < (1 - MARKS_MISSED if value else MARKS_MISSED))
    own = setup.measured.angle_resolution if "angle" in name else setup.measured.resolution
    step = STEPS.get(name, own)
    hand = error * (HANDLING * step if name != "clamp_diameter" else RING)
    return max(0.0, step * round((value + random.normal(0, hand)) / step))


def _readings(random: np.random.Generator, meant: Meant, cause: str) -> dict[str, float]:
    """True readings of a brake with a cause; draws that cannot be that cause are drawn again."""
    while True:
        wheel = _wheel(random, meant, cause)
        if wheel is None:
            continue
        outcome = solve_wheel(wheel)
        works = outcome.reason == Reason.EXISTS or outcome.reason == Reason.BOTTOMED
        if cause in ALWAYS_BEYOND and works:
            continue
        return _read(random, wheel, meant)


def _wheel(random: np.random.Generator, meant: Meant, cause: str) -> Wheel | None:
    brake = with_compliance(meant.brake, float(random.normal(*COMPLIANCE)))
    room, slack = room_of(brake, cause), slack_of(brake)
    thickness, drum = floats(random.uniform(*room.sound_lining)), floats(random.uniform(*room.sound_drum))
    at = contact(brake, thickness, drum, floats(REFERENCE_TEMPERATURE))
    released = at.first - arm_turn(brake.linkage, random.normal(slack.mean, slack.sd))
    offs = zip(LENGTHS, meant.lengths, strict=True)
    lengths = {name: getattr(brake.linkage, name) + random.normal(0, off) for name, off in offs}
    brake = replace(brake, linkage=replace(brake.linkage, **lengths))
    heat = random.normal(meant.hot, meant.hot_off)
    pressure = meant.pressure * (1 + random.normal(0, meant.pressure_off))
    sound = Wheel(brake, Condition(thickness, drum, heat, released), pressure)
    try:
        wheel = sound if cause == NOTHING else cause_named(cause).on(sound, _amount(random, cause))
    except PartError:
        return None
    left, wide = _left(wheel, meant), float(floats(wheel.condition.drum_diameter))
    fits = room.lining[0] <= left <= room.lining[1] and room.drum[0] <= wide <= room.drum[1]
    return wheel if fits else None


def _left(wheel: Wheel, meant: Meant) -> float:
    """Lining at the shoe's middle, which a piece gone from its end does not move."""
    brake, (thickness, diameter, *_) = wheel.brake, wheel.condition.arrays
    surface = lining_surface(brake.shoe, brake.lining, brake.new_radius, thickness, 0.5 * diameter)
    return float(thickness_at(brake.lining, surface, brake.new_radius, meant.brake.lining.middle))


def _amount(random: np.random.Generator, cause: str) -> float:
    one = cause_named(cause)
    return min(float(amount_at(one, random.random())), one.most)


def _read(random: np.random.Generator, wheel: Wheel, meant: Meant) -> dict[str, float]:
    """What a perfect tape would read, and what the model leaves out of it."""
    outcome, linkage, chamber = solve_wheel(wheel), wheel.brake.linkage, wheel.brake.chamber
    poses = released_poses(wheel.brake, wheel.condition)
    gap = min(float(poses.left.gap_middle), float(poses.right.gap_middle))
    swing = 0.5 * float(outcome.swing) * np.sin(random.uniform(0, 2 * np.pi)) if wheel.ovality else 0.0
    found = {
        "stroke": float(outcome.stroke) + swing,
        "free_stroke": float(outcome.free_stroke) + swing,
        "lining_clearance": 0.0 if wheel.fallen or wheel.residual > 0 else gap,
        "arm_angle_released": float(arm_state(linkage, 0.0).arm_angle),
        "arm_angle_applied": float(outcome.applied_angle),
    }
    if outcome.reason == Reason.BOTTOMED:
        end = float(arm_state(linkage, chamber.rated_stroke).arm_angle)
        found |= {"stroke": chamber.rated_stroke, "free_stroke": chamber.rated_stroke, "arm_angle_applied": end}
    elif outcome.reason != Reason.EXISTS:
        stroke = random.uniform(0, chamber.rated_stroke)  # any, the arm with it; by hand the rod goes no farther
        found |= {"stroke": stroke, "free_stroke": random.uniform(0, stroke)}
        found |= {"arm_angle_applied": float(arm_state(linkage, stroke).arm_angle)}
        found |= {"lining_clearance": random.uniform(0, 4.0)}
    found = {name: value + random.normal(0, MODEL[name]) for name, value in found.items()}
    rings = {row.size: row.outside_diameter_in for row in limits_for(chamber.style)}
    return found | {
        "arm_length": linkage.arm_length,
        "pin_reach": linkage.pin_reach,
        "lining_thickness": _left(wheel, meant),
        "drum_diameter": float(floats(wheel.condition.drum_diameter)),
        "clamp_diameter": INCH * float(rings[chamber.size] or 0) + random.normal(0, RING_OFF),
        "long_stroke_marks": float(chamber.style == "clamp-long-stroke"),
    }
