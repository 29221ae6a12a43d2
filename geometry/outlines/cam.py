"""The S-cam: both arms with their exact working profile, noses rounded, and nests for the rollers at the heel.

The boundary is made of arcs that meet without a corner. From the heel it follows the profile to the tip, turns round
the *nose*, an arc tangent to the profile at the tip, and comes back along the *nest*, a little larger than the roller
and tangent to the other arm's profile at its heel. Where the nest leaves less room than a full nose needs, the nose is
the one circle tangent to both: with v from the nest's centre to the tip, n the normal there and R the nest's radius,

    |v - rho n| = R + rho        rho = (v . v - R**2) / (2 (R + v . n))

Where even that is not left, the nose would lie in the roller at the heel. No such cam can be made: its arms then end
before the stated tip, where the nose has just room enough (`CamForm.tip_at`), and `geometry.interference` says so.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import acos, atan2, pi

import numpy as np
from shapely.geometry import Polygon

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.cam import Profile
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Complex, arc, disc, polygon, sampled, sound

LEAST_NOSE = 0.012
"""Least nose radius, as a share of the roller's radius; less is an edge that would break."""


@dataclass(frozen=True)
class CamForm:
    """Where the curves of the first arm meet, cam frame: complex numbers x + iy in mm, and the parameter of its end.

    ``nest`` is the centre of the circle in which the *other* arm's roller lies, on this arm's far side; ``missing`` is
    how much more room the stated tip would need with the rollers at the heel, mm: 0 for a cam that can be made.
    """

    tip_at: float
    tip: complex
    tip_normal: complex
    heel_normal: complex
    nest: complex
    nest_radius: float
    nose_radius: float
    missing: float


def _frame(profile: Profile, roller_radius: float, parameter: Array) -> tuple[Complex, Complex]:
    """Points of the profile and its outward normals, as complex numbers: the roller's centre lies along the normal."""
    x, y = profile.point(parameter)
    pitch = profile.pitch(parameter, roller_radius)
    centre = pitch.distance * np.exp(1j * pitch.angle)
    return x + 1j * y, (centre - (x + 1j * y)) / roller_radius


def _room(nest: complex, radius: float, tips: Complex, normals: Complex) -> Array:
    """Radius of the nose tangent to the profile at each tip and to the nest; below 0 where the nest covers the tip."""
    v = tips - nest
    along = (v * np.conj(normals)).real
    return (np.abs(v) ** 2 - radius**2) / (2 * (radius + along))


@lru_cache(maxsize=64)
def cam_form(profile: Profile, roller_radius: float, proportions: Proportions = PROPORTIONS) -> CamForm:
    """Return how the cam's curves are joined; ``roller_radius`` in mm."""
    heel, tip = profile.working
    places = np.linspace(heel, tip, 513)
    points, normals = _frame(profile, roller_radius, places)
    radius = roller_radius * (1 + proportions.nest_clearance)
    nest = -complex(points[0] + normals[0] * radius)
    room, least = _room(nest, radius, points, normals), LEAST_NOSE * roller_radius
    tight = np.flatnonzero(room < least)
    k = max(int(tight[0]) - 1, 1) if tight.size else -1
    return CamForm(
        tip_at=float(places[k]),
        tip=complex(points[k]),
        tip_normal=complex(normals[k]),
        heel_normal=complex(normals[0]),
        nest=nest,
        nest_radius=radius,
        nose_radius=float(np.clip(room[k], least, proportions.nose * profile.tip_radius)),
        missing=float(max(radius - abs(points[-1] - nest), 0.0) + 2 * least) if tight.size else 0.0,
    )


def _half(profile: Profile, form: CamForm, detail: float) -> Array:
    """Boundary of the first arm, clockwise from its heel to just before the other arm's."""
    working = sampled(profile.point, profile.working[0], form.tip_at, detail)
    nose = form.tip - form.nose_radius * form.tip_normal
    apart = form.nest - nose
    lean = acos(min((form.nose_radius + form.nest_radius) / abs(apart), 1.0))
    leave = atan2(apart.imag, apart.real) + lean
    start = atan2(form.tip_normal.imag, form.tip_normal.real)
    end = atan2(form.heel_normal.imag, form.heel_normal.real)
    round_nose = arc((nose.real, nose.imag), form.nose_radius, start, -((start - leave) % (2 * pi)), detail)
    into = leave + pi
    nest = arc((form.nest.real, form.nest.imag), form.nest_radius, into, (end - into) % (2 * pi), detail)
    points = np.concatenate([working, round_nose[1:], nest[:-1]])
    apart_by = np.hypot(*np.diff(points, axis=0).T)
    return points[np.append(True, apart_by > 1e-9)]  # nose and nest meet in one point where they touch


def cam_shape(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Polygon:
    """Return the cam in its own frame: origin the camshaft, the first arm's profile starting on +x."""
    form = cam_form(brake.profile, brake.shoe.roller_radius, proportions)
    half = _half(brake.profile, form, detail)
    shape = sound(polygon(half, -half), "cam.tip_radius")
    assert isinstance(shape, Polygon)
    return shape


def s_cam(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the S-cam."""
    does = "Turns with the camshaft and spreads the two rollers as they ride out along its arms."
    return Outline("s_cam", "wheel", "turn", "S-cam", does, "cam", cam_shape(brake, detail, proportions))


def camshaft_radius(brake: Brake, proportions: Proportions = PROPORTIONS) -> float:
    """Return the camshaft's radius, mm."""
    return proportions.camshaft * brake.linkage.arm_length


def camshaft(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the camshaft behind the cam, cam frame."""
    shape = disc((0.0, 0.0), camshaft_radius(brake, proportions), detail)
    does = "Carries the turn of the slack adjuster through the spider to the S-cam."
    return Outline("camshaft", "wheel", "turn", "Camshaft", does, "cam", shape)
