"""The slack adjuster's setting: the angle between arm and cam, which wear and adjustment change."""

from dataclasses import dataclass

from geometry.guards import Guard

ADJUSTER_KINDS = ("manual", "automatic")
ADJUSTER_SENSES = ("clearance", "stroke")


@dataclass(frozen=True)
class Adjuster:
    """An adjuster.

    ``kind`` is manual or automatic; an automatic one ``senses`` clearance or stroke; ``worm_turns`` turns of the
    worm shaft turn the gear, and with it the cam, once round (22 for one adjuster in US Army technical manuals).
    """

    kind: str
    senses: str | None = None
    worm_turns: float = 22.0

    def __post_init__(self) -> None:
        guard = Guard("adjuster").one_of(ADJUSTER_KINDS, kind=self.kind)
        if self.senses is not None:
            guard.one_of(ADJUSTER_SENSES, senses=self.senses)
        guard.positive("number", worm_turns=self.worm_turns).done()
