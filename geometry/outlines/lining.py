"""The linings in their true worn shape: from the platform's arc to the arc that they have worn to.

An outline is the whole lining, in the shoe's own frame, as it would be if nothing pressed on it. Past first contact
the model squeezes the first lining by some hundredths of a millimetre, and a lining placed by the pose table then
reaches into the drum by that much. There are two ways to a true picture, and they look the same: draw the drum after
the linings, or take `pressed_lining`, which is the placed lining cut at the friction surface.
"""

import numpy as np

from geometry.arrays import Array
from geometry.brake import Brake, Side
from geometry.condition import Condition, contact
from geometry.lining import Surface
from geometry.outlines.drum import drum_bore
from geometry.outlines.outline import Outline
from geometry.outlines.shapes import Area, arc, chords, common, cut, disc, mirrored, polygon, sound
from geometry.pose_table import PoseTable, placed

PART = "condition.lining_thickness"


def _surface(brake: Brake, condition: Condition) -> Surface:
    thickness, diameter, temperature, _ = condition.arrays
    return contact(brake, thickness, diameter, temperature).surface


def _worn_arc(brake: Brake, surface: Surface, detail: float) -> Array:
    """Points (n, 2) on the surface from the cam end to the anchor end, evenly spaced round the surface's own centre."""
    x, y, radius = float(surface.centre_x), float(surface.centre_y), float(surface.radius)
    ends = [_direction(x, y, radius, psi) for psi in (brake.lining.end, brake.lining.start)]
    sweep = (ends[1] - ends[0]) % (-2 * np.pi)
    return arc((x, y), radius, ends[0], sweep, detail)


def _direction(x: float, y: float, radius: float, psi: float) -> float:
    """The direction, from the surface's centre, of its point on the ray at ``psi`` from the drum's centre."""
    sin, cos = float(np.sin(psi)), float(np.cos(psi))
    reach = x * sin - y * cos + float(np.sqrt(radius**2 - (x * cos + y * sin) ** 2))
    return float(np.arctan2(-reach * cos - y, reach * sin - x))


def lining_shape(brake: Brake, condition: Condition, detail: float) -> Area:
    """Return the right lining in the shoe's frame, in pieces where it is worn through to the platform.

    Raises `AssemblyError` where nothing is left of it.
    """
    lining = brake.lining
    platform = brake.new_radius - lining.thickness
    psi = np.linspace(lining.start, lining.end, chords(platform, lining.end - lining.start, detail) + 1)
    inner = platform * np.column_stack([np.sin(psi), -np.cos(psi)])
    worn = _worn_arc(brake, _surface(brake, condition), detail)
    whole = polygon(inner, worn)
    if whole.is_valid:
        return sound(whole, PART)
    return cut(PART, polygon([(0.0, 0.0)], worn), disc((0.0, 0.0), platform, detail))


def linings(brake: Brake, condition: Condition, detail: float) -> list[Outline]:
    """Return the outlines of both linings, each in its shoe's frame."""
    right = lining_shape(brake, condition, detail)
    does = "Rubs on the drum and wears; its thickness is what is left of it."
    return [
        Outline("lining_left", "wheel", "rub", "Left lining", does, "shoe_left", mirrored(right)),
        Outline("lining_right", "wheel", "rub", "Right lining", does, "shoe_right", right),
    ]


def pressed_lining(
    brake: Brake, condition: Condition, table: PoseTable, index: int, side: Side, detail: float = 0.02
) -> Area:
    """Return one lining in the brake plane, in one state of the table, cut at the drum's friction surface."""
    left, right = linings(brake, condition, detail)
    shape = placed(left if side == "left" else right, table, index)
    return common(PART, sound(shape, PART), drum_bore(brake, condition, detail))
