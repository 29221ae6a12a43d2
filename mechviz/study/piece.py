"""A piece of a study: some thousands of brakes that can be put together, in every condition that is asked for.

What several outcomes need is solved once, by the functions that solve one brake: contact, setting, application, drag.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from geometry.applied import applied_piece
from geometry.arrays import Array, Mask, floats
from geometry.brake import Brake
from geometry.condition import Contact, contact
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.found import released_angle
from geometry.kinematics import pose_reasons
from geometry.linkage import closes
from geometry.loads import loads_piece
from geometry.setup.many import ManySetups
from mechviz.checks.case import HOT

Wear = Literal["found", "new", "half-worn", "worn-out", "worn-drum"]
Heat = Literal["found", "cold", "hot"]
WEARS: tuple[Wear, ...] = ("found", "new", "half-worn", "worn-out", "worn-drum")
HEATS: tuple[Heat, ...] = ("found", "cold", "hot")
TEMPERATURES = {"cold": REFERENCE_TEMPERATURE, "hot": HOT}
"""K: 70 and 600 degF, as in the checks."""
SHARES = {"new": (0.0, 0.0), "half-worn": (0.5, 0.0), "worn-out": (1.0, 0.0), "worn-drum": (1.0, 1.0)}
"""How far the lining is worn to its least thickness, and the drum to its largest diameter: one drum wears out several
linings."""

Condition = tuple[Wear, Heat]
Made = TypeVar("Made")


@dataclass(frozen=True)
class Application:
    """The brakes applied: stroke (mm), arm turn and turn of first touch (rad), and why not."""

    stroke: Array
    turn: Array
    start: Array
    reason: NDArray[np.int8]


@dataclass(frozen=True)
class Forces:
    """What presses: N, N*mm, MPa; NaN where nothing does. ``reason`` also tells of a shoe that locks."""

    chamber_force: Array
    camshaft_torque: Array
    roller_left: Array
    roller_right: Array
    lining_pressure: Array
    brake_torque: Array
    reason: NDArray[np.int8]


@dataclass
class Piece:
    """Brakes with what they are worn to: ``least_lining`` and ``most_growth`` of the drum, mm."""

    many: ManySetups
    least_lining: float
    most_growth: float
    known: dict[Any, Any] = field(default_factory=dict[Any, Any])

    @property
    def brake(self) -> Brake:
        """The brakes, figures as arrays."""
        return self.many.brake

    @property
    def pressure(self) -> Array:
        """Chamber pressure of the application, MPa."""
        return np.atleast_1d(floats(self.many.test.pressure))

    def once(self, key: Any, make: Callable[[], Made]) -> Made:
        """Return what is made the first time it is asked for."""
        if key not in self.known:
            self.known[key] = make()
        return self.known[key]

    def worn(self, wear: Wear) -> tuple[Array, Array]:
        """Return lining thickness and drum diameter, mm."""
        if wear == "found":
            found = self.many.as_found
            return np.atleast_1d(floats(found.lining_thickness)), np.atleast_1d(floats(found.drum_diameter))
        new, drum, (worn, grown) = floats(self.brake.lining.thickness), self.brake.drum, SHARES[wear]
        growth = self.most_growth if drum.limit is None else floats(drum.limit) - drum.diameter
        least = np.minimum(new, self.least_lining)
        return np.atleast_1d(new + worn * (least - new)), np.atleast_1d(drum.diameter + grown * growth)

    def temperature(self, heat: Heat) -> Array:
        """Return the drum's temperature, K."""
        return np.atleast_1d(floats(TEMPERATURES.get(heat, self.many.as_found.drum_temperature)))

    def contact(self, condition: Condition) -> Contact:
        """Return where the linings meet the drum."""
        wear, heat = condition
        surface = self.contact((wear, "cold")).surface if heat != "cold" else None
        args = self.brake, *self.worn(wear), self.temperature(heat)
        return self.once(("contact", condition), lambda: contact(*args, surface=surface))

    def released(self, wear: Wear) -> Array:
        """Return the cam's released angle, rad: as found, or adjusted cold to the same slack."""
        return self.once(("released", wear), lambda: self._released(wear))

    def _released(self, wear: Wear) -> Array:
        found = self.many.as_found
        when = found.slack_temperature if wear == "found" else REFERENCE_TEMPERATURE
        slack = np.atleast_1d(floats(found.free_stroke)), np.atleast_1d(floats(found.lining_clearance))
        return released_angle(self.brake, *self.worn(wear), np.atleast_1d(floats(when)), *slack)

    def state(self, condition: Condition) -> tuple[Array, ...]:
        """Return what the solver takes: thickness, diameter, temperature, released angle and pressure."""
        return *self.worn(condition[0]), self.temperature(condition[1]), self.released(condition[0]), self.pressure

    def at_rest(self, condition: Condition) -> NDArray[np.int8]:
        """Return why there is no released brake: 0 where there is one."""

        def solve() -> NDArray[np.int8]:
            *state, released, _ = self.state(condition)
            closed = np.where(closes(self.brake.linkage, 0.0), 0.0, np.nan)
            inputs = (*state, released, np.zeros(1))
            return pose_reasons(self.brake, self.contact(condition), inputs, np.atleast_1d(closed), released)

        return self.once(("at rest", condition), solve)

    def applied(self, condition: Condition) -> Application:
        """Return the brakes applied at the test pressure."""

        def solve() -> Application:
            return Application(*applied_piece(self.brake, self.contact(condition), *self.state(condition)))

        return self.once(("applied", condition), solve)

    def forces(self, condition: Condition) -> Forces:
        """Return what presses at the test pressure."""
        return self.once(("forces", condition), lambda: self._forces(condition))

    def _forces(self, condition: Condition) -> Forces:
        at, applied = self.contact(condition), self.applied(condition)
        rest = self.released(condition[0]), self.pressure, applied.turn, floats(applied.reason)
        _, force, torque, left, right, _, _, peak_left, peak_right, braking, codes = loads_piece(self.brake, at, *rest)
        moved, pressing = applied.turn > 0, applied.turn > applied.start

        def where(exists: Mask, *columns: Array) -> list[Array]:
            return [np.where(exists, column, np.nan) for column in columns]

        # what is not pushed has no force, and what does not press no torque
        (pushed, turned) = where(moved, force, torque)
        left, right, peak, braking = where(pressing, left, right, np.maximum(peak_left, peak_right), braking)
        return Forces(pushed, turned, left, right, peak, braking, codes)
