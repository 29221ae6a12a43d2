"""What a dash in a table stands for: why the states behind it cannot exist."""

import numpy as np
from numpy.typing import ArrayLike

from geometry.reasons import Reason

UNPRESSED = "A dash below a stroke: at that pressure the linings do not press, and there is no such force or torque."


def dash_words(codes: ArrayLike, dash: str = "A dash") -> list[str]:
    """Return a sentence for each reason among codes; none where every state exists. ``dash`` says which dashes.

    >>> dash_words([0, 11])[0][:42]
    'A dash: the chamber bottoms before the lin'
    """
    found = [Reason(int(code)) for code in np.unique(np.asarray(codes))]
    return [f"{dash}: {reason.words}. What would do: {reason.fix}." for reason in found if reason != Reason.EXISTS]


_SHORT = {
    Reason.CAM_PAST_TIP: "cam past its tip",
    Reason.BOTTOMED: "bottomed",
    Reason.BEYOND_RATED_STROKE: "bottomed",
    Reason.LINKAGE_OPEN: "pushrod and arm part",
    Reason.SHOE_LOCKS: "shoe locks",
    Reason.ADJUSTED_TOO_TIGHT: "too tight",
    Reason.LINING_TOO_THICK: "no room for the lining",
    Reason.CAM_BELOW_HEEL: "cam below its heel",
}


def shortly(reason: Reason) -> str:
    """Return a reason in few words."""
    return _SHORT.get(reason, reason.words)


def why_it_ends(codes: ArrayLike) -> str:
    """Return in few words why a row of states ends, or breaks off for the first time; nothing where it does not.

    >>> why_it_ends([0, 0, 11, 0]), why_it_ends([11, 0])
    ('bottomed', '')
    """
    reasons = np.ravel(np.asarray(codes))
    known = reasons == Reason.EXISTS
    breaks = np.flatnonzero(known[:-1] & ~known[1:])
    if not breaks.size:
        return ""
    return shortly(Reason(int(reasons[breaks[0] + 1])))
