"""Air over time: reservoir, spring-brake line and service chamber, and the brake that they hold at each moment.

`scenario` says what is done to the air, `course` what the pressures come to, `states` the brake at any time,
`happenings` what happens when.
"""

from geometry.air.course import Course, course, pressures
from geometry.air.happenings import Happening, happenings
from geometry.air.scenario import SCENARIOS, Phase, Scenario
from geometry.air.states import AirStates, air_states

__all__ = [
    "SCENARIOS",
    "AirStates",
    "Course",
    "Happening",
    "Phase",
    "Scenario",
    "air_states",
    "course",
    "happenings",
    "pressures",
]
