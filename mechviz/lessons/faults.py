"""What is wrong with a lesson file: which step, which line, which key, what was given, and what would do."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from geometry.errors import Fault, MechvizError
from geometry.units import shorten

MOST_FAULTS = 60
"""Reported of one file; beyond this it is another kind of file."""


class LessonError(MechvizError):
    """A lesson file that cannot be used. Carries every fault in it."""


@dataclass(frozen=True)
class Spot:
    """A place in a lesson file: ``step`` counts from 1, 0 is the lesson's own header; ``line`` counts from 1."""

    step: int
    line: int

    def where(self, key: str = "") -> str:
        """Return the place in words: ``step 3, line 41, light``."""
        of = f"step {self.step}" if self.step else "lesson"
        return f"{of}, line {self.line}" + (f", {key}" if key else "")


def fault(spot: Spot, key: str, problem: str, fix: str, given: str | None = None) -> Fault:
    """Make a fault of a key, or of the text, at a place."""
    return Fault(spot.where(key), problem, fix, None if given is None else shorten(given) or '""', kind="number")


def nearest(typed: str, known: Iterable[str], most: int = 12) -> str:
    """Say which known name was likely meant: the nearest one, else all of them where they are few.

    >>> nearest("pushrood", ["pushrod", "drum"]), nearest("xyz", ["pushrod", "drum"])
    ('write pushrod', 'write one of pushrod, drum')
    """
    names = list(known)
    near = get_close_matches(typed.lower()[:60], [name.lower() for name in names], 1, 0.5)
    if near:
        return "write " + next(name for name in names if name.lower() == near[0])
    more = f", ... ({len(names)} in all)" if len(names) > most else ""
    return "write one of " + ", ".join(names[:most]) + more


def placed(found: Fault, spot: Spot, key: str) -> Fault:
    """Return a fault of something that a key gave, said of that key."""
    return replace(found, where=spot.where(key))


def raise_all(faults: Sequence[Fault]) -> None:
    """Raise `LessonError` with all faults, without repeats; nothing where there are none."""
    once = list(dict.fromkeys(faults))
    if not once:
        return
    if len(once) > MOST_FAULTS:
        more = Fault("lesson file", f"has {len(once) - MOST_FAULTS} more faults", "start from --starter", kind="number")
        once = [*once[:MOST_FAULTS], more]
    raise LessonError(once)
