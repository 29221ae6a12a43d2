"""Why a state cannot exist: the code that stands beside NaN in an array solve."""

from collections.abc import Sequence
from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.arrays import Mask


class Reason(IntEnum):
    """Reason codes, 0 where the state exists. Where several apply, the first in the chain of motion is kept."""

    EXISTS = 0
    INPUT_MISSING = 1
    BELOW_ABSOLUTE_ZERO = 2
    NOT_POSITIVE = 3
    BEHIND_RELEASED = 4
    BEYOND_RATED_STROKE = 5
    LINKAGE_OPEN = 6
    LINING_TOO_THICK = 7
    CAM_BELOW_HEEL = 8
    CAM_PAST_TIP = 9
    SHOE_LOCKS = 10
    BOTTOMED = 11
    ADJUSTED_TOO_TIGHT = 12
    OUT_OF_REACH = 13
    CAM_CANNOT_SPREAD = 14
    PART_IMPOSSIBLE = 15
    PUSHROD_PAST_CAMSHAFT = 16
    LINING_PAST_ANCHOR = 17
    CAM_OFF_NEW_LINING = 18

    @property
    def words(self) -> str:
        """The reason in plain words, for a table or a message."""
        return _WORDS[self]

    @property
    def fix(self) -> str:
        """What to change so that the state can exist, for a message."""
        return _FIXES[self]


_WORDS = {
    Reason.EXISTS: "the state exists",
    Reason.INPUT_MISSING: "a figure of this state is missing or not a number",
    Reason.BELOW_ABSOLUTE_ZERO: "the drum temperature is below absolute zero",
    Reason.NOT_POSITIVE: "a length or pressure that must be positive is not",
    Reason.BEHIND_RELEASED: "the stroke is behind the released position",
    Reason.BEYOND_RATED_STROKE: "the stroke is beyond the chamber's rated stroke",
    Reason.LINKAGE_OPEN: "the pushrod and the arm do not meet",
    Reason.LINING_TOO_THICK: "the lining is thicker than the room between shoe and drum",
    Reason.CAM_BELOW_HEEL: "the roller would run off the low end (heel) of the cam",
    Reason.CAM_PAST_TIP: "the cam would turn past its tip: it can wedge or turn over",
    Reason.SHOE_LOCKS: "the leading shoe would lock on the drum by itself",
    Reason.ADJUSTED_TOO_TIGHT: "the brake is adjusted so tight that the linings press before it is applied",
    Reason.CAM_CANNOT_SPREAD: "the roller does not move outwards all along the cam, so the cam cannot spread the shoes",
    Reason.PART_IMPOSSIBLE: "a part has a figure that no such part can have",
    Reason.PUSHROD_PAST_CAMSHAFT: "the pushrod would run past the camshaft within the chamber's stroke",
    Reason.LINING_PAST_ANCHOR: "the lining begins on the far side of the anchor pin",
    Reason.CAM_OFF_NEW_LINING: "the cam does not reach the rollers where new linings sit on a new drum",
    Reason.OUT_OF_REACH: "no air pressure that a vehicle has brings the brake to this stroke",
    Reason.BOTTOMED: "the chamber bottoms before the linings press: no braking force is left",
}

_FIXES = {
    Reason.EXISTS: "nothing",
    Reason.INPUT_MISSING: "state every figure",
    Reason.BELOW_ABSOLUTE_ZERO: "check the temperature and its sign",
    Reason.NOT_POSITIVE: "a figure above zero",
    Reason.BEHIND_RELEASED: "a stroke of zero or more",
    Reason.BEYOND_RATED_STROKE: "a chamber with a longer rated_stroke",
    Reason.LINKAGE_OPEN: "another arm_length or pin_reach",
    Reason.LINING_TOO_THICK: "a thinner lining or a larger drum",
    Reason.CAM_BELOW_HEEL: "less clearance, or a cam with a smaller heel_radius",
    Reason.CAM_PAST_TIP: "thicker linings, a drum that is less worn, or less slack",
    Reason.SHOE_LOCKS: "a lower friction",
    Reason.BOTTOMED: "less slack: adjust a manual adjuster, find out why an automatic one has not taken it up",
    Reason.ADJUSTED_TOO_TIGHT: "more clearance",
    Reason.CAM_CANNOT_SPREAD: "a roller_distance near the cam_distance, and anchors well below the camshaft",
    Reason.PART_IMPOSSIBLE: "figures above zero that go together",
    Reason.PUSHROD_PAST_CAMSHAFT: "a longer face_distance, or a smaller rated_stroke",
    Reason.LINING_PAST_ANCHOR: "a larger lining_start, or a smaller anchor_spacing",
    Reason.CAM_OFF_NEW_LINING: "another roller_spread, heel_radius, tip_radius or roller_diameter",
    Reason.OUT_OF_REACH: "a larger chamber, or one with a longer rated_stroke",
}


def first_reason(tests: Sequence[tuple[Mask, ArrayLike]]) -> NDArray[np.int8]:
    """Return, element by element, the code of the first test that is true, `Reason.EXISTS` where none is.

    Each test is where it is true and its code, one or one for each element; shapes broadcast.
    """
    found = np.zeros(np.broadcast_shapes(*(where.shape for where, _ in tests)), dtype=np.int8)
    for where, code in reversed(tests):
        if where.any():
            np.copyto(found, code, where=where, casting="unsafe")
    return found
