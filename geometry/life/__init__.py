"""A brake's working life: wear from new to worn out, the adjuster that follows it or does not, and what comes of it.

`upkeep` says how the adjuster's setting follows wear, `states` every state at any wear, `events` where in the life
something is reached.
"""

from geometry.life.events import EVENTS, End, Event, life_course, life_end, life_events
from geometry.life.service import Service, service
from geometry.life.states import Applications, Life, life_states
from geometry.life.upkeep import Upkeep, upkeep

__all__ = [
    "EVENTS",
    "Applications",
    "End",
    "Event",
    "Life",
    "Service",
    "Upkeep",
    "life_course",
    "life_end",
    "life_events",
    "life_states",
    "service",
    "upkeep",
]
