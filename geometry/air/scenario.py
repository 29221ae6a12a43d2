"""What is done to the air, phase by phase: pedal pressed or not, parking brake on or off, air kept or lost.

How long the phases last and how fast air is lost are the project's own figures, chosen so that each is seen.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf

MINUTE = 60.0
SLOW = 8 * MINUTE
"""s: time constant of a slow leak; from 100 psi it begins with 12.5 psi a minute."""

SUDDEN = 2.0
"""s: time constant with which a reservoir empties through a burst line."""


@dataclass(frozen=True)
class Phase:
    """Something that is done, in ``words`` and in ``short`` ones for a chart, and how long (s) it is left so.

    ``pedal`` is the share of the reservoir's pressure that the pedal lets through, ``parked`` whether the spring-brake
    line is vented, ``loss`` the time constant (s) with which the reservoir empties. ``shut`` are the words where so
    little air is left that the spring-brake line is vented whatever is done; none where they are the same.
    """

    words: str
    short: str
    duration: float
    pedal: float = 0.0
    parked: bool = False
    loss: float = inf
    shut: str = ""


@dataclass(frozen=True)
class Scenario:
    """A row of phases; ``title`` says in a few words what it shows."""

    name: str
    title: str
    phases: tuple[Phase, ...]


_UP, _SHUT = "the air is up and the parking brake is off", "too little air: the spring-brake line is vented already"
_READY = Phase(_UP, "air up", 0.5, shut=_SHUT)
_PRESSED = Phase("the pedal is pressed to the floor and held", "pedal pressed", 2.5, pedal=1.0)
_RELEASED = Phase("the pedal is released", "pedal released", 2.0)
_ON = "the parking brake is applied: its line is vented already"
_OFF = "the parking brake is to be released: with so little air the valve does not stay in"
_PARKED = Phase("the parking brake is applied: its line is vented", "parking brake on", 3.0, parked=True, shut=_ON)
_UNPARKED = Phase("the parking brake is released: its line fills", "parking brake off", 2.5, shut=_OFF)
_BURST = Phase("a line bursts: the reservoir empties", "a line bursts", 8.0, loss=SUDDEN)

SCENARIOS: Mapping[str, Scenario] = {
    one.name: one
    for one in (
        Scenario(
            "story",
            "pressed, held, released, parked, released, air lost",
            (_READY, _PRESSED, _RELEASED, _PARKED, _UNPARKED, _BURST),
        ),
        Scenario("press", "pressed, held, released", (_READY, _PRESSED, _RELEASED)),
        Scenario("park", "parked and released", (_READY, _PARKED, _UNPARKED)),
        Scenario(
            "compound",
            "pedal pressed while parked",
            (
                _READY,
                _PARKED,
                Phase("the pedal is pressed to the floor while parked", "pedal, still parked", 2.5, 1.0, parked=True),
                Phase("the pedal is released, still parked", "pedal released", 2.0, parked=True),
                _UNPARKED,
            ),
        ),
        Scenario(
            "slow-leak",
            "a slow leak, nobody at the pedal",
            (
                Phase(_UP, "air up", 30.0, shut=_SHUT),
                Phase("the compressor is off and the reservoir leaks", "reservoir leaks", 15 * MINUTE, loss=SLOW),
            ),
        ),
        Scenario("sudden-loss", "the air lost at once, driving", (_READY, _BURST)),
        Scenario(
            "loss-while-braking",
            "the air lost at once, pedal held",
            (
                _READY,
                _PRESSED,
                Phase("a line bursts, the pedal held: the reservoir empties", "a line bursts", 8.0, 1.0, loss=SUDDEN),
            ),
        ),
    )
}
