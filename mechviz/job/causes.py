"""What may be wrong with a wheel, the likely causes in order, and which reading would tell most next."""

from dataclasses import dataclass
from functools import lru_cache

from geometry.diagnosis import NOTHING
from geometry.quantity import System
from geometry.setup import read_setup_text
from mechviz.diagnosis.above import FAILED, standing_above
from mechviz.diagnosis.study import Group, Study, study
from mechviz.diagnosis.text import (
    LEAST,
    WORTH_TAKING,
    group_title,
    group_weight,
    next_lines,
    percent,
    shown_groups,
)
from mechviz.job import fields as f
from mechviz.job.look import Look, in_labels

MOST = 4
"""Causes that a bench has room for."""
WIDE = 100_000
"""Columns: the words of the command line, unbroken."""
TOGETHER = 3
"""Of causes that cannot be told apart so many are told what to look for."""


@dataclass(frozen=True)
class Likely:
    """One cause, or several that no reading tells apart: its name, how probable it is, what to look for."""

    title: str
    weight: str
    look_for: tuple[str, ...]


@dataclass(frozen=True)
class Causes:
    """What may be wrong: what stands above any cause, the causes in order, and the next reading worth taking."""

    above: tuple[str, ...]
    likely: tuple[Likely, ...]
    next_words: str
    next_key: str


def causes(look: Look) -> Causes | None:
    """Return what may be wrong with a wheel; None where nothing was read that tells.

    The first time for a brake this takes a second or two: what each cause foretells is solved once for each brake.
    """
    if look.setup is None or not look.begun:
        return None
    return _causes(look.understood.text, look.title, look.job.system)


@lru_cache(maxsize=32)
def _causes(text: str, title: str, system: System) -> Causes | None:
    found = study(read_setup_text(text, title, judging=True))
    if found.nothing_read:
        return None
    groups = shown_groups(found)[:MOST]
    likely = tuple(_likely(found, place, group) for place, group in enumerate(groups, 1))
    words, key = _next(found, system)
    return Causes(tuple(_above(found, system)), likely, words, key)


def _above(found: Study, system: System) -> list[str]:
    """What stands above any cause; not what the checks fail, which the verdict says already."""
    lines = [line for line in standing_above(found, system, WIDE) if line and not line.startswith("- ")]
    return [in_labels(line.replace(JUDGED, "")) for line in lines if line != FAILED]


JUDGED = "; mechviz check judges it"
"""What the command line adds, and a bench needs not."""


def _likely(found: Study, place: int, group: Group) -> Likely:
    weight = group_weight(found, place, group).split(";")[0]
    seen = [one for one in group.causes if one.name != NOTHING and (one.probability >= LEAST or len(group.causes) == 1)]
    several = len(seen) > 1
    words = (f"{one.title}: {one.outside}" if several else one.outside for one in seen[:TOGETHER])
    return Likely(group_title(found, group), weight, tuple(words))


def _next(found: Study, system: System) -> tuple[str, str]:
    """What to measure next of what a job asks for, in words, and its field; other words where no reading would help."""
    best = next((one for one in found.next if f.known(one.reading.key) and not found.option(one.reading.name)), None)
    if best is None or not found.fits or best.bits < WORTH_TAKING:
        return in_labels(" ".join(next_lines(found, system, WIDE))) if not found.fits or best is None else NO_MORE, ""
    share = percent(best.bits / found.belief.doubt)
    label = f.field(best.reading.key).label
    return f"{label}. {f.field(best.reading.key).how} On average {share} of the doubt goes.", best.reading.key


NO_MORE = "No reading that is left would tell much more. Look for what is named above, or measure again."
