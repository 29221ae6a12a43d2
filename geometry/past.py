"""How far a quantity is past its mark where a state may be missing: what the reason of the gap itself tells.

Above 0 it is past, at or below 0 not yet, and NaN where nobody can tell. Everything that is watched over wear or heat
grows with the way that the linings have to go to the drum: too tight a brake is not yet past anything, and one whose
stroke ends before the linings press is past every stroke that it has.
"""

from collections.abc import Collection

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.arrays import Array, floats
from geometry.reasons import Reason
from geometry.states import SPENT

TIGHT = (Reason.LINING_TOO_THICK, Reason.ADJUSTED_TOO_TIGHT)
"""Why there is no state yet."""
NO_STROKE = (Reason.BOTTOMED, Reason.BEYOND_RATED_STROKE)
"""Why there is none any more: the stroke is used up."""


def past(value: ArrayLike, reason: NDArray[np.int8], beyond: Collection[Reason] = ()) -> Array:
    """Return ``value`` where it is known, above 0 where the state's ``reason`` is one of ``beyond``.

    >>> past([2.0, np.nan, np.nan], np.array([0, 11, 9], np.int8), NO_STROKE)
    array([ 2.,  1., nan])
    """
    known = np.where(np.isin(reason, TIGHT), -1.0, floats(value))
    return np.where(np.isin(reason, list(beyond)), 1.0, known)


def bottoms(reserve: Array, reason: NDArray[np.int8]) -> Array:
    """Bottomed: no stroke left of the rated one (``reserve``, mm), or the linings touch only beyond it."""
    return past(SPENT - reserve, reason, NO_STROKE)


def cam_past_tip(reason: NDArray[np.int8]) -> Array:
    """Whether the application would turn the cam past its tip; one that bottoms first does not."""
    told = np.isin(reason, [Reason.EXISTS, Reason.SHOE_LOCKS, *NO_STROKE])
    return past(np.where(told, -1.0, np.nan), reason, [Reason.CAM_PAST_TIP])
