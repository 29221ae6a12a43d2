"""What a dash in a table stands for: why the states behind it cannot exist."""

import numpy as np
from numpy.typing import ArrayLike

from geometry.reasons import Reason


def dash_words(codes: ArrayLike) -> list[str]:
    """Return a sentence for each reason among codes; none where every state exists.

    >>> dash_words([0, 11])[0][:42]
    'A dash: the chamber bottoms before the lin'
    """
    found = [Reason(int(code)) for code in np.unique(np.asarray(codes))]
    return [f"A dash: {reason.words}. What would do: {reason.fix}." for reason in found if reason != Reason.EXISTS]
