"""Which readings the most probable cause leaves unexplained, and what they speak for by themselves.

One cause at a time is weighed. Where two are there, the plainer one takes all the probability and the other shows only
in what is left over: the fewest readings that have to go until the rest fit.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array
from geometry.diagnosis.next_reading import worths
from geometry.diagnosis.posterior import Belief, believed, block_of, misfit_of, once_in_a_thousand
from geometry.diagnosis.priors import NOTHING
from geometry.diagnosis.readings import BLOCK, READINGS, Reading

PLAIN = 0.5
"""What is left over speaks for a cause that is at least this probable by it alone."""


@dataclass(frozen=True)
class LeftOver:
    """A reading that the most probable cause does not explain, and the nine tenths (2,) that it would have been."""

    reading: Reading
    expected: Array


def left_over(belief: Belief) -> list[LeftOver]:
    """Return the readings that the most probable cause does not explain; none where it fits.

    The clamp ring of a chamber that has none is foretold by nothing, and left out.
    """
    cause, names = int(belief.order[0]), _dropped(belief)
    if not names:
        return []
    would = {one.reading.name: one for one in worths(believed(belief.predictions, belief.readings.without(*names)))}
    return [LeftOver(one, would[one.name].ranges[cause]) for one in READINGS if one.name in {*names} & would.keys()]


UNFORETOLD = 0.05
"""Marks that a cause would show less often than this are left unexplained by it."""


def marks_left_over(belief: Belief) -> bool:
    """Tell whether the most probable cause leaves the marks unexplained that were seen, or not seen, on the chamber."""
    seen, p = belief.readings.values.get("long_stroke_marks"), belief.predictions
    if seen is None:
        return False
    mine = p.cause == int(belief.order[0])
    marks = float(belief.within[mine] @ np.nan_to_num(p.marks[mine], nan=0.5))
    return (marks if seen else 1 - marks) < UNFORETOLD


def speaks_for(belief: Belief) -> str | None:
    """Return the defect that what is left over names by itself, apart from the most probable; None where none does.

    A brake that does not work may be read anyhow, so that no reading speaks for it.
    """
    names = _dropped(belief)
    if not names:
        return None
    alone = believed(belief.predictions, belief.readings.only(*names), working=True)
    place = int(alone.order[0])
    name = alone.predictions.names[place]
    other = place != int(belief.order[0]) and name != NOTHING
    return name if other and alone.probability[place] >= PLAIN else None


def _dropped(belief: Belief) -> list[str]:
    """The readings that have to go: the one that goes worst with the rest first; none that could have stayed."""
    found, cause = list[str](), int(belief.order[0])
    if not np.any(belief.predictions.works & (belief.predictions.cause == cause)):
        return []  # a brake that never works explains no reading and contradicts none
    while not _fit(belief, found):
        rest = belief.readings.without(*found)
        taken = [BLOCK[n] for n in block_of(rest)]
        misfits = {name: misfit_of(belief.predictions, rest.without(name), cause) for name in taken}
        found.append(min(taken, key=misfits.__getitem__))
    for name in tuple(found):
        fewer = [other for other in found if other != name]
        found = fewer if _fit(belief, fewer) else found
    return found


def _fit(belief: Belief, dropped: Sequence[str]) -> bool:
    """Whether the most probable cause explains the readings without some of them."""
    rest = belief.readings.without(*dropped)
    return misfit_of(belief.predictions, rest, int(belief.order[0])) <= once_in_a_thousand(len(block_of(rest)))
