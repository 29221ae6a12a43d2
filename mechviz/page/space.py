"""What the page's script needs to stand the solids of one brake in space, beside the poses that it has anyway."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from geometry.brake import Brake
from geometry.outlines.chamber_form import chamber_form
from geometry.outlines.deforming import chamber_spring_seats
from geometry.outlines.parking import power_spring_seats
from geometry.outlines.shoe_form import spring_eye
from mechviz.page.motion import still_poses
from mechviz.solid.apart import shift
from mechviz.solid.foundation import BLOCK_GAP
from mechviz.solid.frames import arm_plane, spring_lengths
from mechviz.solid.places import places


def space_data(brake: Brake, names: Sequence[str]) -> dict[str, Any]:
    """Return the places of a brake in space, mm.

    ``armPlane`` is the matrix of the arm plane, row by row; ``lengths`` how long each spring is made. ``chamberSpring``
    and ``powerSpring`` are their seats with nothing moved: the first one moves with the plate, the second one stays.
    ``eye`` is where the shoe return spring hooks into the right web. ``lining`` is its span along the shaft and the gap
    between its blocks, ``sheet`` how thick a diaphragm is, ``away`` how far each part goes when all is apart.
    """
    where = places(brake)
    chamber, power = chamber_spring_seats(brake, still_poses(0.0)), power_spring_seats(brake, 0.0)
    return {
        "armPlane": np.round(arm_plane(brake, where), 6).ravel().tolist(),
        "lengths": _rounded_all(spring_lengths(brake)),
        "chamberSpring": [_rounded(seat[0]) for seat in chamber],
        "powerSpring": [_rounded(seat) for seat in power],
        "eye": _rounded(spring_eye(brake)),
        "lining": {"span": _rounded(where.lining), "gap": BLOCK_GAP},
        "sheet": round(chamber_form(brake).diaphragm, 4),
        "away": {name: _rounded(shift(brake, name)) for name in names},
    }


def _rounded(values: Any) -> list[float]:
    return [round(float(value), 4) for value in values]


def _rounded_all(values: Any) -> dict[str, float]:
    return {name: round(float(value), 4) for name, value in values.items()}
