"""The chamber's inner sizes, from its clamp ring, effective area and stroke.

Places in the chamber are given by *depth* (mm behind the mounting face, into the chamber) and height from its
centreline. The plate starts so deep that it can make the whole rated stroke and still stand clear of the floor; where
the pivot would be less deep than that, a stem joins the plate to it. The diaphragm is clamped halfway along the stroke.
"""

from dataclasses import dataclass
from math import pi, sqrt

from geometry.brake import Brake
from geometry.chamber import Chamber
from geometry.errors import PartError
from geometry.outlines.proportions import PROPORTIONS, Proportions

AREA_TO_CLAMP = 1.31
"""Clamp ring's radius over the radius of the effective area: that of a clamp type 30."""


@dataclass(frozen=True)
class ChamberForm:
    """Sizes in mm: radii (heights), depths behind the mounting face, and thicknesses.

    ``outer`` is the clamp ring's radius, ``sheet`` the inside of the rims that clamp the diaphragm, ``free`` the radius
    within which it moves, ``plate`` the plate's,
    ``floor`` that of the flat inside the mounting face, ``opening`` that of the rod's opening in it; ``plate_depth``
    and ``pivot_depth`` stand for the released brake, ``clamp_depth`` and ``cap_depth`` are the clamped sheet's and the
    inside of the pressure half's; ``shell``, ``plate_wall``, ``diaphragm`` are thicknesses.
    """

    outer: float
    sheet: float
    free: float
    plate: float
    floor: float
    opening: float
    plate_depth: float
    pivot_depth: float
    clamp_depth: float
    cap_depth: float
    shell: float
    plate_wall: float
    diaphragm: float

    @property
    def stem(self) -> float:
        """From the plate's pressure side to the pivot, mm."""
        return self.plate_depth - self.pivot_depth


def outside_radius(chamber: Chamber) -> float:
    """Return half the clamp ring's outside diameter, mm: from the tables where listed, else from the effective area."""
    from geometry.tables import limits_for

    try:
        found = [row for row in limits_for(chamber.style) if row.size == chamber.size.strip().upper()]
    except PartError:
        found = []
    diameter = found[0].outside_diameter_in if found else None
    return float(diameter) * 12.7 if diameter else AREA_TO_CLAMP * sqrt(chamber.effective_area / pi)


def _plate_radius(area: float, sheet: float) -> float:
    """The plate under a sheet clamped at D that has this effective area: pi/12 (D**2 + D d + d**2), a cone's."""
    clamped = 2 * sheet
    squared = 12 * area / pi - 0.75 * clamped**2
    diameter = sqrt(squared) - clamped / 2 if squared > 0 else 0.0
    return min(max(diameter / 2, 0.55 * sheet), 0.78 * sheet)


def chamber_form(brake: Brake, proportions: Proportions = PROPORTIONS) -> ChamberForm:
    """Return the inner sizes of a brake's chamber."""
    chamber, outer = brake.chamber, outside_radius(brake.chamber)
    shell, wall = proportions.shell * outer, proportions.plate * outer
    least = shell + (1 + proportions.spring_solid) * chamber.rated_stroke + wall
    depth = max(brake.linkage.pivot_depth, least)
    sheet = proportions.sheet * outer
    return ChamberForm(
        outer=outer,
        sheet=sheet,
        free=sheet - 0.035 * outer,
        plate=_plate_radius(chamber.effective_area, sheet),
        floor=proportions.floor * outer,
        opening=proportions.rod_opening * outer,
        plate_depth=depth,
        pivot_depth=brake.linkage.pivot_depth,
        clamp_depth=depth - 0.5 * chamber.rated_stroke,
        cap_depth=depth + 0.07 * outer,
        shell=shell,
        plate_wall=wall,
        diaphragm=0.6 * shell,
    )
