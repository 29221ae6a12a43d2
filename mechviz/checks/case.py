"""What the checks look at: the setup, and the states that it solves to, each solved once."""

from dataclasses import dataclass, replace
from functools import cached_property

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.found import condition_of
from geometry.setup import Setup
from geometry.states import State, at_pressure, events
from geometry.tables import StrokeLimit, exact_inches, fallback_limit, stroke_limit

HOT = (600.0 + 459.67) * 5 / 9
"""600 degF in K: the hot drum of the reported brake-temperature tests."""

COLD = (70.0 + 459.67) * 5 / 9
"""70 degF in K: the cold drum of the same tests."""


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
        """The readjustment limit of this chamber: from the table, or 80 % of its rated stroke."""
        chamber = self.brake.chamber
        rated = exact_inches(chamber.rated_stroke / 25.4)
        return stroke_limit(chamber.style, chamber.size, rated) or fallback_limit(rated, chamber.style, chamber.size)

    @property
    def automatic(self) -> bool:
        """Whether the adjuster is automatic."""
        return self.brake.adjuster.kind == "automatic"

    def states(self, *keys: str) -> bool:
        """Tell whether the file itself gives all of these keys, so that they may be taken for readings."""
        return all(key in self.setup.stated for key in keys)
