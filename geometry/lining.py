"""The lining: an arc of friction material on the shoe, worn to the drum's shape or machined to one of its own.

The worn surface is always an arc of a circle that is fixed in the shoe: for a bedded lining the drum as it lay in
the shoe's frame when the lining was seated, for a machined one the circle of the stated arc radius. Frames and the
turn beta are those of `geometry.shoe`; positions psi run from the anchor side (-y) outwards, at the drum centre.
"""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, Mask, floats
from geometry.guards import Guard
from geometry.shoe import Shoe, posed, turn_to_radius, unposed


@dataclass(frozen=True)
class Lining:
    """A lining as new, and how it is laid out along the shoe.

    Parameters
    ----------
    thickness : float
        New thickness, mm, measured radially from the platform.
    start, end : float
        Where it begins (anchor end) and ends (cam end), rad.
    width : float
        Along the drum's axis, mm.
    friction : float
        Coefficient of friction on the drum.
    arc_radius : float, optional
        Radius that the surface was machined to, mm; None is a bedded lining.

    """

    thickness: float
    start: float
    end: float
    width: float
    friction: float
    arc_radius: float | None = None

    def __post_init__(self) -> None:
        guard = Guard("foundation")
        guard.positive("length", lining_thickness=self.thickness, lining_width=self.width)
        guard.finite("angle", lining_start=self.start, lining_end=self.end)
        guard.between("angle", 0.0, np.pi, lining_start=self.start, lining_end=self.end)
        guard.less("angle", ("lining_start", self.start), ("lining_end", self.end))
        guard.between("number", 0.0, 1.5, friction=self.friction)
        if self.arc_radius is not None:
            guard.positive("length", lining_arc_radius=self.arc_radius)
        guard.done()

    @cached_property
    def middle(self) -> float:
        """Mid arc, rad."""
        return 0.5 * (self.start + self.end)


@dataclass(frozen=True)
class Surface:
    """The lining's surface in the shoe: a circle's centre (mm, reference pose) and radius (mm).

    ``points`` are those that `surface_point` has been asked for already: the same few are asked for again and again.
    """

    centre_x: Array
    centre_y: Array
    radius: Array
    points: dict[Any, tuple[float, tuple[Array, Array]]] = field(default_factory=dict, compare=False, repr=False)


def seated_turn(shoe: Shoe, lining: Lining, new_radius: float, thickness: Array, drum_radius: Array) -> Array:
    """Return beta_w (rad): where mid arc of a lining of present ``thickness`` just meets the present drum (mm)."""
    height = new_radius - lining.thickness + floats(thickness)
    x, y = _polar(lining.middle, height)
    return turn_to_radius(shoe, x, y, floats(drum_radius))


def lining_surface(shoe: Shoe, lining: Lining, new_radius: float, thickness: Array, bedded_radius: Array) -> Surface:
    """Return the worn surface of the lining on its shoe, in the reference pose.

    The platform lies the new lining's thickness inside ``new_radius`` (mm), the new cold drum's; ``thickness`` is the
    present one at mid arc (mm); ``bedded_radius`` (mm) is the present drum's measured cold, the shape that a bedded
    lining has worn to.
    """
    if lining.arc_radius is not None:
        height = new_radius - lining.thickness + floats(thickness) - lining.arc_radius
        x, y = _polar(lining.middle, height)
        return Surface(x, y, lining.arc_radius + np.zeros_like(x))
    turn = seated_turn(shoe, lining, new_radius, thickness, bedded_radius)
    origin = np.zeros_like(turn)
    x, y = unposed(shoe, np.cos(turn), np.sin(turn), origin, origin)
    return Surface(x, y, floats(bedded_radius) + origin)


def _polar(psi: float, radius: ArrayLike) -> tuple[Array, Array]:
    r = floats(radius)
    return r * np.sin(psi), -r * np.cos(psi)


def surface_point(surface: Surface, psi: float) -> tuple[Array, Array]:
    """Return the surface (mm, reference pose) where the ray at ``psi`` from the drum centre meets it."""
    key = id(psi) if isinstance(psi, np.ndarray) else psi  # an array kept beside its points keeps its id
    if key not in surface.points:
        surface.points[key] = psi, _ray_meets(surface, psi)
    return surface.points[key][1]


def _ray_meets(surface: Surface, psi: float) -> tuple[Array, Array]:
    sin, cos = np.sin(psi), np.cos(psi)
    along = surface.centre_x * sin - surface.centre_y * cos
    across = surface.centre_x * cos + surface.centre_y * sin
    with np.errstate(invalid="ignore"):
        reach = along + np.sqrt(surface.radius**2 - across**2)
    return reach * sin, -reach * cos


def thickness_at(lining: Lining, surface: Surface, new_radius: float, psi: float) -> Array:
    """Return the present thickness (mm) at a position ``psi``, radially from the platform."""
    return np.hypot(*surface_point(surface, psi)) - (new_radius - lining.thickness)


@dataclass(frozen=True)
class Gaps:
    """Clearance between lining and drum, mm, at the arc's two ends, its middle, and where it is least."""

    anchor_end: Array
    middle: Array
    cam_end: Array
    least: Array


def gap_at(shoe: Shoe, surface: Surface, drum_radius: Array, turn_cos: Array, turn_sin: Array, psi: float) -> Array:
    """Return the gap (mm) at a position: the drum's radius less the posed surface point's distance from its centre.

    Negative is the depth by which a lining is squeezed.
    """
    return drum_radius - np.hypot(*posed(shoe, turn_cos, turn_sin, *surface_point(surface, psi)))


def gaps(shoe: Shoe, lining: Lining, surface: Surface, drum_radius: Array, turn_cos: Array, turn_sin: Array) -> Gaps:
    """Return the gaps (mm) of a shoe at a pose given by cosine and sine of its turn."""
    args = (shoe, surface, drum_radius, turn_cos, turn_sin)
    low, middle, high = (gap_at(*args, psi) for psi in (lining.start, lining.middle, lining.end))
    inside = _gap_inside(*args, lining)
    return Gaps(low, middle, high, np.fmin(np.minimum(low, high), inside))


def _gap_inside(
    shoe: Shoe, surface: Surface, drum_radius: Array, turn_cos: Array, turn_sin: Array, lining: Lining
) -> Array:
    """The gap where the surface bulges most, NaN where that place is not on the lining."""
    x, y = posed(shoe, turn_cos, turn_sin, surface.centre_x, surface.centre_y)
    off = np.hypot(x, y)
    with np.errstate(invalid="ignore", divide="ignore"):
        grow = np.where(off > 0, 1.0 + surface.radius / off, np.nan)
        px, py = unposed(shoe, turn_cos, turn_sin, x * grow, y * grow)
    return np.where(_on_arc(lining, px, py), drum_radius - (off + surface.radius), np.nan)


def _on_arc(lining: Lining, x: Array, y: Array) -> Mask:
    """Whether a point's direction from the drum centre lies between the lining's ends (an arc under half a turn)."""
    after_start = x * np.cos(lining.start) + y * np.sin(lining.start) >= 0
    before_end = x * np.cos(lining.end) + y * np.sin(lining.end) <= 0
    return after_start & before_end


def contact_turn(shoe: Shoe, lining: Lining, surface: Surface, drum_radius: Array) -> Array:
    """Return beta (rad) at which the opening shoe's lining first touches a drum of ``drum_radius`` mm.

    The first touch is at an end of the arc, or inside it where the two circles meet tangentially: the least of the
    turns at which each of these happens.
    """
    ends = [turn_to_radius(shoe, *surface_point(surface, psi), drum_radius) for psi in (lining.start, lining.end)]
    return np.fmin(np.fmin(*ends), _tangent_turn(shoe, lining, surface, drum_radius))


def _tangent_turn(shoe: Shoe, lining: Lining, surface: Surface, drum_radius: Array) -> Array:
    clearance = drum_radius - surface.radius
    turn = turn_to_radius(shoe, surface.centre_x, surface.centre_y, np.where(clearance >= 0, clearance, np.nan))
    x, y = posed(shoe, np.cos(turn), np.sin(turn), surface.centre_x, surface.centre_y)
    off = np.hypot(x, y)
    with np.errstate(invalid="ignore", divide="ignore"):
        grow = 1.0 + surface.radius / off
        px, py = unposed(shoe, np.cos(turn), np.sin(turn), x * grow, y * grow)
    return np.where((off > 0) & _on_arc(lining, px, py), turn, np.nan)
