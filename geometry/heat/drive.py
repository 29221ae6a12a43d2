"""What is driven: stretches of road in each of which the braking power falls or rises in a straight line.

A stop at a steady deceleration is one: its power falls from m a v to 0. A descent at a steady speed is another.
"""

from dataclasses import dataclass
from math import atan, sin

from geometry.errors import Fault, PartError
from geometry.guards import Guard

GRAVITY = 9806.65
"""mm/s2, standard."""

DECELERATION = 3000.0
"""mm/s2 of a stop, 0.3 g: the project's own figure for a firm stop."""

ROLLING = 0.01
"""Rolling resistance as a share of weight: the order given in textbooks, from memory. Drag of the air is left out, and
so is rolling resistance in a stop."""


@dataclass(frozen=True)
class Stretch:
    """A part of a drive: ``duration`` s, braking ``power`` at its beginning and end (N*mm/s), mean ``speed`` mm/s."""

    words: str
    duration: float
    power: tuple[float, float]
    speed: float

    @property
    def braked(self) -> bool:
        """Whether the brake is on."""
        return max(self.power) > 0


@dataclass(frozen=True)
class Drive:
    """Stretches one after the other; ``title`` says in a few words what is driven."""

    title: str
    stretches: tuple[Stretch, ...]

    @property
    def energy(self) -> float:
        """What the brake has to take up in all, N*mm."""
        return sum(s.duration * sum(s.power) / 2 for s in self.stretches)


def stops(mass: float, count: int, speed: float, every: float, until: float = 0.0, wait: float = 0.0) -> Drive:
    """Return ``count`` stops of a ``mass`` (t) on one brake, from ``speed`` down to ``until`` (mm/s), one ``every`` s.

    Between two stops the vehicle drives at ``speed``; after the last it does so for ``wait`` s. Raises `PartError`
    where the next stop would begin before the last has ended.
    """
    lasts = (speed - until) / DECELERATION
    guard = Guard("heat").positive("mass", mass=mass).positive("speed", speed=speed).positive("time", every=every)
    guard.not_negative("speed", until=until).not_negative("time", wait=wait).done()
    Guard("heat").less("speed", ("until", until), ("speed", speed)).done()
    if not lasts < every:
        problem, fix = "is less than one stop takes", "a lower speed"
        raise PartError(Fault("heat.every", problem, fix, every, "time", least=lasts))
    power = mass * DECELERATION
    stop = Stretch("stop", lasts, (power * speed, power * until), (speed + until) / 2)
    drive = Stretch("drive", every - lasts, (0.0, 0.0), speed)
    rest = (Stretch("drive", wait, (0.0, 0.0), speed),) if wait else ()
    return Drive("stops", (*(stop, drive) * (count - 1), stop, *rest))


def descent(mass: float, grade: float, speed: float, duration: float, held: float = 0.0, wait: float = 0.0) -> Drive:
    """Return a descent of a ``mass`` (t) on one brake: ``grade`` (rise over run) at ``speed`` (mm/s) for so many s.

    ``held`` is the share that engine and retarder hold; ``wait`` s at the same speed on the level follow. A grade that
    rolling resistance holds by itself asks nothing of the brake.
    """
    guard = Guard("heat").positive("mass", mass=mass).positive("share", grade=grade).positive("speed", speed=speed)
    guard.positive("time", duration=duration).not_negative("time", wait=wait).not_negative("share", held=held)
    guard.not_more("share", 1.0, held=held).done()
    pull = max(sin(atan(grade)) - ROLLING, 0.0) * mass * GRAVITY * (1 - held)
    down = Stretch("descent", duration, (pull * speed, pull * speed), speed)
    rest = (Stretch("level", wait, (0.0, 0.0), speed),) if wait else ()
    return Drive("descent", (down, *rest))
