"""Keys that the file itself wrote and that cannot stand together: two that fix the same, readings that contradict."""

from dataclasses import dataclass

from geometry.errors import Fault
from geometry.quantity import KindName
from geometry.setup.keys import known_keys
from geometry.setup.merge import PLAY, PROFILE_KEYS
from geometry.setup.parts import DEFAULTS
from geometry.setup.sheet import Sheet, Values
from geometry.setup.words import file_fault


def clashes(own: Sheet, values: Values) -> list[Fault]:
    """Return a fault for each; ``values`` are the file's over its base's."""
    return [*_said_twice(own), *_of_another_kind(own, values), *_contradictions(own, values)]


def _said_twice(own: Sheet) -> list[Fault]:
    if not all(key in own.typed for key in PLAY):
        return []
    problem = "is stated as well as free_stroke, and each fixes the adjuster's setting"
    return [file_fault(PLAY[1], problem, "keep the one that was measured")]


def _of_another_kind(own: Sheet, values: Values) -> list[Fault]:
    """Keys that belong to another cam, to another kind of adjuster, or to a parking section that is not there."""
    found, profile = list[Fault](), values.get("cam.profile")
    if profile:
        others = (key for of in PROFILE_KEYS.values() for key in of if key not in PROFILE_KEYS[profile])
        found += [_not_of_this_profile(key, profile) for key in dict.fromkeys(others) if f"cam.{key}" in own.typed]
    if values.get("adjuster.kind") == "manual" and "adjuster.senses" in own.typed:
        problem = "is stated, and a manual adjuster senses nothing"
        found.append(file_fault("adjuster.senses", problem, 'leave it out, or write kind = "automatic"'))
    if not values.get("parking.fitted", False):
        problem, fix = "is stated, and no parking section is fitted", "leave it out, or write fitted = true"
        keys = (f"parking.{key}" for key in known_keys()["parking"] if key != "fitted")
        found += [file_fault(key, problem, fix) for key in keys if key in own.typed]
    return found


def _not_of_this_profile(key: str, profile: str) -> Fault:
    home = next(name for name, keys in PROFILE_KEYS.items() if key in keys)
    fix = f'leave it out, or write profile = "{home}"'
    return file_fault(f"cam.{key}", f"does not belong to the profile {profile}", fix)


@dataclass(frozen=True)
class _Order:
    """Two readings of which ``small`` cannot be the larger, and how finely both were read."""

    small: str
    large: str
    resolution: str
    kind: KindName
    problem: str
    blames_small: bool = True
    """Whether it is said of the smaller one; the other then stands in the message."""
    both_read: bool = False
    """Whether both must be the file's own: the base's is no reading of this vehicle."""


_ORDERS = (
    _Order(
        "condition.lining_thickness",
        "foundation.lining_thickness",
        "condition.lining_resolution",
        "length",
        "is thicker than a new lining, {other}",
    ),
    _Order(
        "foundation.drum_diameter",
        "condition.drum_diameter",
        "condition.drum_resolution",
        "length",
        "is smaller than a new drum, {other}",
        blames_small=False,
    ),
    _Order(
        "measured.arm_angle_applied",
        "measured.arm_angle_released",
        "measured.angle_resolution",
        "angle",
        "is more than {other}: the angle closes as the pushrod comes out",
        both_read=True,
    ),
    _Order(
        "test.pressure",
        "test.reservoir_pressure",
        "test.pressure_resolution",
        "pressure",
        "is more than {other} that fills the chamber",
        both_read=True,
    ),
)


HAIR = 1e-9
"""Float noise of a difference of two readings, mm, rad or MPa."""


def _contradictions(own: Sheet, values: Values) -> list[Fault]:
    return [fault for order in _ORDERS for fault in _contradiction(order, own, DEFAULTS | values)]


def _contradiction(order: _Order, own: Sheet, values: Values) -> list[Fault]:
    """Readings that are out of order by more than they were read to; a figure of the base is no reading by itself."""
    reading, other = (order.small, order.large) if order.blames_small else (order.large, order.small)
    small, large = values.get(order.small), values.get(order.large)
    if reading not in own.values or small is None or large is None or (order.both_read and other not in own.values):
        return []
    spare = values.get(order.resolution, 0.0)
    if small <= large + spare + HAIR or small < 0 or large < 0:  # what is below zero is said elsewhere
        return []
    bound = {"most": large + spare} if order.blames_small else {"least": small - spare}
    problem = order.problem.replace("{other}", f"{other} = {{amount}}")
    fix = "read both again" if other in own.values else f"read it again, or write this vehicle's own {other}"
    return [Fault(reading, problem, fix, values[reading], order.kind, amount=values[other], **bound)]
