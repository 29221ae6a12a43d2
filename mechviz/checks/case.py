"""What the checks look at: the setup, and the states that it solves to, each solved once."""

from dataclasses import dataclass, replace
from functools import cached_property

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.found import condition_of
from geometry.setup import Setup
from geometry.states import State, at_pressure, events
from geometry.tables import StrokeLimit, chambers_by_outside_diameter, exact_inches, fallback_limit, stroke_limit

HOT = (600.0 + 459.67) * 5 / 9
"""600 degF in K: the hot drum of the reported brake-temperature tests."""

COLD = REFERENCE_TEMPERATURE
"""70 degF in K: the cold drum of the same tests, and that at which drum diameters are stated."""

WARM = 20.0
"""How much warmer (K) than a cold drum one may be that is still called cold (the project's figure)."""


def chamber_name(style: str, size: str) -> str:
    """Return a chamber's name for people.

    >>> chamber_name("clamp-long-stroke", "30")
    'type 30 clamp long stroke'
    """
    return f"type {size} {style.replace('-', ' ')}"


def marked(source: str, status: str | None) -> str:
    """Return a source with its status where that is not 'read in a copy'."""
    return source + {"M": " (quoted from memory)", "C": " (common practice)"}.get(status or "", "")


@dataclass(frozen=True)
class Case:
    """One setup under check, judged under ``rules`` (names of rule sets)."""

    setup: Setup
    rules: tuple[str, ...]

    @property
    def brake(self) -> Brake:
        """The brake."""
        return self.setup.brake

    @cached_property
    def condition(self) -> Condition:
        """The brake as found."""
        return condition_of(self.setup)

    @cached_property
    def found(self) -> dict[str, State]:
        """The three events as found, by name, applied at the test pressure."""
        return {s.name: s for s in events(self.brake, self.condition, self.setup.test.pressure)}

    def applied_at(self, temperature: float) -> State:
        """Return the applied state with the same adjustment and another drum temperature (K)."""
        condition = replace(self.condition, drum_temperature=temperature)
        return at_pressure(self.brake, condition, self.setup.test.pressure, "applied")

    @cached_property
    def limit(self) -> StrokeLimit:
        """The readjustment limit: from the table, else the one marked on the chamber, else 80 % of its rated stroke."""
        chamber, marked_limit = self.brake.chamber, self.setup.marked_limit
        rated = exact_inches(chamber.rated_stroke / 25.4)
        on_it = None if marked_limit is None else exact_inches(marked_limit / 25.4)
        listed = stroke_limit(chamber.style, chamber.size, rated)
        return listed or fallback_limit(rated, chamber.style, chamber.size, on_it)

    @property
    def automatic(self) -> bool:
        """Whether the adjuster is automatic."""
        return self.brake.adjuster.kind == "automatic"

    @property
    def chamber_name(self) -> str:
        """What the chamber is called: ``type 30 clamp``."""
        return chamber_name(self.brake.chamber.style, self.brake.chamber.size)

    @cached_property
    def knows_chamber(self) -> bool:
        """Whether the chamber is the vehicle's own: the file names it, or clamp ring and marks are this chamber's."""
        chamber, measured = self.brake.chamber, self.setup.measured
        if self.states("chamber.style", "chamber.size"):
            return True
        if measured.clamp_diameter is None or measured.long_stroke_marks is None:
            return False
        seen = chambers_by_outside_diameter(measured.clamp_diameter, measured.long_stroke_marks)
        return any((c.style, c.size) == (chamber.style, chamber.size) for c in seen)

    @property
    def unknown_for_angles(self) -> str:
        """The first key that the file would have to give for the arm's angle to be solved; empty where it can be."""
        for of in ("linkage.{}", "measured.{}"):
            if self.states(of.format("arm_length"), of.format("pin_reach")):
                return ""
        return "measured.pin_reach" if self.states("measured.arm_length") else "measured.arm_length"

    @property
    def unknown_slack(self) -> str:
        """The key of the slack, empty where the file gives it."""
        known = any(self.states(key) for key in ("condition.free_stroke", "condition.lining_clearance"))
        return "" if known else "condition.free_stroke"

    @property
    def unknown_wear(self) -> str:
        """The first key of lining and drum that the file does not give."""
        keys = ("condition.lining_thickness", "condition.drum_diameter")
        return next((key for key in keys if not self.states(key)), "")

    def states(self, *keys: str) -> bool:
        """Tell whether the file itself gives all of these keys, so that they may be taken for readings."""
        return all(key in self.setup.stated for key in keys)
