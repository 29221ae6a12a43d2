"""One setup of many, made and solved by itself: what the array solve of many brakes is held against."""

from collections.abc import Mapping
from dataclasses import fields
from typing import Any

import numpy as np

from geometry.applied import Applied, solve_applied
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.errors import PartError
from geometry.fit import fit_findings
from geometry.found import released_angle
from geometry.kinematics import Poses, solve_poses
from geometry.loads import Loads, loads_of
from geometry.reasons import Reason
from geometry.setup import AsFound, Setup, Test, parts

WHY = {
    "linkage.pin_reach": Reason.LINKAGE_OPEN,
    "linkage.face_distance": Reason.PUSHROD_PAST_CAMSHAFT,
    "foundation.lining_start": Reason.LINING_PAST_ANCHOR,
    "foundation.roller_distance": Reason.CAM_CANNOT_SPREAD,
    "foundation.roller_spread": Reason.CAM_OFF_NEW_LINING,
}
"""By the key that a finding of the parts stands at."""

STROKES = np.array([0.0, 20.0, 45.0])


def made(setup: Setup, figures: Mapping[str, float]) -> tuple[Brake, AsFound, Test]:
    """Make the parts of one setup with other figures. Raises `PartError`."""
    values = {**setup.values, **figures}
    brake = Brake(
        parts.chamber(values),
        parts.linkage(values),
        parts.profile(values),
        parts.shoe(values),
        parts.lining(values),
        parts.drum(values),
        parts.adjuster(values),
        *(values[f"foundation.{name}"] for name in ("efficiency", "windup_stiffness", "axle", "drum_rotation")),
    )
    return brake, parts.as_found(values), parts.test_settings(values)


def why_not(setup: Setup, figures: Mapping[str, float]) -> Reason:
    """Say why one setup cannot be put together."""
    try:
        brake, found, _ = made(setup, figures)
    except PartError:
        return Reason.PART_IMPOSSIBLE
    told = [WHY[fault.where] for fault in fit_findings(brake, found, setup.measured) if fault.where in WHY]
    return told[0] if told else Reason.EXISTS


def solved(brake: Brake, found: AsFound, test: Test, together: bool = False) -> tuple[Applied, Loads, Poses]:
    """Solve a brake as found, applied and at a few strokes; of many ``together`` poses are (strokes, brakes)."""
    lining, drum = floats(found.lining_thickness), floats(found.drum_diameter)
    slack = floats(found.free_stroke), floats(found.lining_clearance)
    with np.errstate(all="ignore"):
        released = released_angle(brake, lining, drum, floats(found.slack_temperature), *slack)
    condition = Condition(lining, drum, found.drum_temperature, released)
    applied = solve_applied(brake, condition, test.pressure)
    loads = loads_of(brake, condition, test.pressure, applied)
    strokes = STROKES[:, np.newaxis] if together else STROKES
    return applied, loads, solve_poses(brake, condition, strokes)


def columns(*solutions: Any, above: str = "") -> dict[str, Array]:
    """Return every array of some solutions by name."""
    found: dict[str, Array] = {}
    for solution in solutions:
        for field in fields(solution):
            name, value = f"{above}{type(solution).__name__}.{field.name}", getattr(solution, field.name)
            found |= {name: value} if isinstance(value, np.ndarray) else columns(value, above=f"{name}.")
    return found
