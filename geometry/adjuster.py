"""The slack adjuster: its setting is the angle between arm and cam, which wear and adjustment change."""

from dataclasses import dataclass
from math import radians

from geometry.guards import Guard

ADJUSTER_KINDS = ("manual", "automatic")
ADJUSTER_SENSES = ("clearance", "stroke")
ADJUSTER_STATES = ("working", "stuck", "backing-off")


@dataclass(frozen=True)
class Adjuster:
    """An adjuster. Where no source is named the default is the project's own figure.

    Parameters
    ----------
    kind : str
        ``manual`` or ``automatic``.
    senses : str, optional
        What an automatic one takes up: ``clearance``, the free stroke, or ``stroke``, the whole applied stroke.
    worm_turns : float
        Turns of the worm shaft that turn the gear, and with it the cam, once round: 22 for one adjuster in US Army
        technical manuals.
    deadband : float
        Stroke beyond the wanted one that an automatic adjuster leaves alone, mm.
    step : float
        By how much one take-up turns the cam, rad.
    interval : float
        Lining wear from one adjustment of a manual adjuster to the next, mm.
    state : str
        ``working``; ``stuck``, which for a manual one means left alone; or ``backing-off``.
    slip : float
        How far one that backs off turns the cam back, as a share of the cam's turn that the wear itself asks for.

    """

    kind: str
    senses: str | None = None
    worm_turns: float = 22.0
    deadband: float = 25.4 / 16
    step: float = radians(0.5)
    interval: float = 0.3
    state: str = "working"
    slip: float = 0.5

    def __post_init__(self) -> None:
        guard = Guard("adjuster").one_of(ADJUSTER_KINDS, kind=self.kind).one_of(ADJUSTER_STATES, state=self.state)
        if self.senses is not None:
            guard.one_of(ADJUSTER_SENSES, senses=self.senses)
        guard.positive("number", worm_turns=self.worm_turns)
        guard.not_negative("length", deadband=self.deadband).positive("length", interval=self.interval)
        guard.positive("angle", step=self.step).not_negative("number", slip=self.slip).done()
