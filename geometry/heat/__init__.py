"""The drum's temperature over stops or a descent, and what an application comes to at each moment of it.

An estimate throughout: one lumped drum, constants of the trade's order (`sink`). `drive` says what is driven, `course`
what temperature that gives in closed form, `states` the application at any time, `events` when its limits are met.
"""

from geometry.heat.course import Course, course, temperatures
from geometry.heat.drive import Drive, descent, stops
from geometry.heat.events import HEAT_EVENTS, HeatEvent, heat_events
from geometry.heat.sink import Sink, brake_mass, sink
from geometry.heat.states import HeatStates, heat_states

__all__ = [
    "HEAT_EVENTS",
    "Course",
    "Drive",
    "HeatEvent",
    "HeatStates",
    "Sink",
    "brake_mass",
    "course",
    "descent",
    "heat_events",
    "heat_states",
    "sink",
    "stops",
    "temperatures",
]
