"""The front of non-dominated choices: those to which no other is better in one objective and as good in the rest."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mechviz.study.dominance import non_dominated
from mechviz.study.running import Result


@dataclass(frozen=True)
class Front:
    """The front of a result: the ``points``' places in it, best in the first objective first, by outcomes' keys."""

    keys: tuple[str, ...]
    points: NDArray[np.intp]


def front(result: Result, keys: Sequence[str], inside: bool = True) -> Front:
    """Return the non-dominated points of a result in two to four of its outcomes (any number will do).

    What is better is the outcome's own. ``inside`` leaves out points that are outside a limit; those where an outcome
    does not exist are left out always.
    """
    columns = np.stack([result.study.outcome(key).objective(result.outcomes[key]) for key in keys], axis=1)
    among = np.flatnonzero((result.inside if inside else result.valid) & np.isfinite(columns).all(axis=1))
    found = among[non_dominated(columns[among])]
    return Front(tuple(keys), found[np.argsort(columns[found, 0], kind="stable")])
