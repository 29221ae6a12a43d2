"""A job as it was typed: every text kept as it is, in a value that is never changed, only replaced."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from geometry.errors import Fault, MechvizError
from geometry.quantity import System
from geometry.units import shorten
from mechviz.job import fields as f
from mechviz.job.fields import Phase, Place, Side
from mechviz.job.typed import with_unit

LONGEST = 60
"""Characters of one reading: a number and a unit need far fewer."""
LONGEST_LINE = 120
"""Characters of a line about the job."""
LONGEST_NOTE = 600
"""Characters of the note."""
ABOUT: Mapping[str, int] = {
    "vehicle": LONGEST_LINE,
    "axle": LONGEST_LINE,
    "mechanic": LONGEST_LINE,
    "note": LONGEST_NOTE,
}
"""What a job says about itself, and how long each may be."""

Entry = tuple[Place, Phase, str]
"""Where a text was typed: at which place, before or after the adjustment, under which key."""


@dataclass(frozen=True)
class Job:
    """One axle, two wheels.

    Parameters
    ----------
    vehicle, axle, mechanic, note : str
        As typed: which vehicle, which axle, who, and what else.
    base : str
        The built-in brake whose figures stand in for what nobody measures.
    system : str
        What a figure without a unit is taken for.
    entries : mapping
        Text as typed, by place, phase and key; nothing where nothing was typed.
    taken : mapping
        When the readings of a side and phase were last typed, as local time ``2026-11-26 03:28``.
    own : mapping
        Keys of a setup that no field asks for, with their values, passed on as they are.

    """

    vehicle: str = ""
    axle: str = ""
    mechanic: str = ""
    note: str = ""
    base: str = "drive-16.5x7"
    system: System = "inch"
    entries: Mapping[Entry, str] = field(default_factory=dict[Entry, str])
    taken: Mapping[tuple[Side, Phase], str] = field(default_factory=dict[tuple[Side, Phase], str])
    own: Mapping[str, object] = field(default_factory=dict[str, object])

    def text(self, place: Place, phase: Phase, key: str) -> str:
        """Return what was typed, empty where nothing was."""
        return self.entries.get((place, phase, key), "")

    def typed(self, place: Place, phase: Phase, key: str, text: str, now: str = "") -> "Job":
        """Return the job with a text in a field; ``now`` is the time it was taken. Raises `MechvizError`."""
        _asked(place, key)
        _short(key, text, longest(key))
        entries = dict(self.entries)
        if text:
            entries[place, phase, key] = text
        else:
            entries.pop((place, phase, key), None)
        return replace(self, entries=entries, taken=self._taken(place, phase, now))

    def _taken(self, place: Place, phase: Phase, now: str) -> Mapping[tuple[Side, Phase], str]:
        if place == "axle" or not now:
            return self.taken
        return {**self.taken, (place, phase): now}

    def about(self, name: str, text: str) -> "Job":
        """Return the job with a line about it (one of `ABOUT`). Raises `MechvizError`."""
        if name not in ABOUT:
            raise MechvizError(Fault(name, "is nothing that a job says", f"use {', '.join(ABOUT)}", kind="number"))
        _short(name, text, ABOUT[name])
        changes = {name: text}
        return replace(self, **changes)

    def in_units(self, system: System) -> "Job":
        """Return the job with another reading of bare figures; those typed so far get the unit they were meant in."""
        kept = {entry: with_unit(f.field(entry[2]), text, self.system) for entry, text in self.entries.items()}
        return replace(self, system=system, entries=kept)

    def wheel(self, side: Side, phase: Phase) -> dict[str, str]:
        """Return what is known of one wheel by key, in the order of reading: the axle's, then its own.

        After an adjustment what still holds (a chamber, an arm) is taken over from before unless it was typed anew.
        """
        found: dict[str, str] = {}
        for one in f.fields():
            place = "axle" if one.place == "axle" else side
            text = self.text(place, phase, one.key).strip()
            if not text and phase == "after" and one.holds:
                text = self.text(place, "before", one.key).strip()
            if text:
                found[one.key] = text
        return found

    def read(self, side: Side, phase: Phase) -> list[str]:
        """Return the keys that were typed for one wheel itself."""
        return [one.key for one in f.asked(side) if self.text(side, phase, one.key).strip()]

    def begun(self, side: Side, phase: Phase) -> bool:
        """Tell whether anything was read on a wheel in a phase; what only holds over from before does not count."""
        return bool(self.read(side, phase))

    @property
    def adjusted(self) -> bool:
        """Whether anything was read after an adjustment."""
        return any(phase == "after" and text.strip() for (_, phase, _), text in self.entries.items())

    @property
    def title(self) -> str:
        """The vehicle and the axle in a line; what a job without a name is called."""
        return ", ".join(part.strip() for part in (self.vehicle, self.axle) if part.strip()) or "Brake job"


def longest(key: str) -> int:
    """Return how many characters can be written in a field: what is told takes a line."""
    return LONGEST_LINE if f.field(key) in f.told() else LONGEST


def _asked(place: Place, key: str) -> None:
    if not f.known(key) or (f.field(key).place == "axle") != (place == "axle"):
        names = ", ".join(one.key for one in f.asked(place))
        raise MechvizError(Fault(shorten(key), f"is not read at the {place}", f"use one of {names}", kind="number"))


def _short(where: str, text: str, most: int) -> None:
    if len(text) > most:
        problem = f"has {len(text)} characters"
        raise MechvizError(Fault(where, problem, f"write at most {most}", shorten(text), kind="number"))
