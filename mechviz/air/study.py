"""A setup's air over one scenario: the brake as found, its parking section, and what happens to both."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from geometry.air import SCENARIOS, AirStates, Course, Happening, Scenario, air_states, course, happenings
from geometry.arrays import Array
from geometry.condition import Condition
from geometry.found import condition_of
from geometry.parked import Parked, solve_parked
from geometry.setup import Setup
from geometry.tables.pressures import MPA_PER_PSI

RESERVOIR = float(100 * MPA_PER_PSI)
"""MPa: the 100 psi that the rules time a chamber from (49 CFR 571.121 S5.3.3)."""

FINE = 600
"""Times in each stretch at which it is drawn."""


@dataclass(frozen=True)
class Study:
    """A scenario on a setup's brake as it was found."""

    setup: Setup
    scenario: Scenario
    condition: Condition
    course: Course

    @cached_property
    def happenings(self) -> tuple[Happening, ...]:
        """What happens, in order."""
        return happenings(self.setup.brake, self.setup.parking, self.condition, self.course)

    def at(self, time: ArrayLike) -> AirStates:
        """Return the states at each time, s."""
        return air_states(self.setup.brake, self.setup.parking, self.condition, self.course, time)

    @property
    def fine(self) -> Array:
        """Times (s) close enough together to be drawn, closest where something has just been done."""
        share = np.linspace(0.0, 1.0, FINE) ** 2
        return np.unique(np.concatenate([s.start + s.phase.duration * share for s in self.course.stretches]))

    @cached_property
    def hardest(self) -> AirStates:
        """The state in which the pushrod is pushed hardest."""
        states = self.at(self.fine)
        return self.at(float(states.time[np.argmax(np.nan_to_num(states.brake.pushrod_force, nan=-1.0))]))

    @cached_property
    def without_air(self) -> Parked:
        """The brake with no air left at all: at the end of a scenario there is still a little."""
        return solve_parked(self.setup.brake, self.setup.parking, self.condition, 0.0, 0.0)

    @property
    def full_air(self) -> float:
        """What the reservoir's air would push with at the most, N: pressure times area."""
        return float(self.course.stretches[0].reservoir.at(0.0)) * self.setup.brake.chamber.effective_area


def study(setup: Setup, scenario: str, reservoir: float | None = None) -> Study:
    """Return a scenario by its name on a setup's brake; ``reservoir`` (MPa) is 100 psi unless given."""
    chosen = SCENARIOS[scenario]
    run = course(chosen, setup.parking, RESERVOIR if reservoir is None else reservoir)
    return Study(setup, chosen, condition_of(setup), run)


def listed_times(told: Study, count: int) -> Array:
    """Return so many times from beginning to end, s."""
    return np.linspace(0.0, told.course.end, count)
