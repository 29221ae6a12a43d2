"""The brake inside the drum as solids: spider, anchor pins, shoes, linings with their rivets, rollers, S-cam.

All in the brake's frame or the part's own, in which the wheel plane's outlines lie; z as `places` says.
"""

from math import cos, degrees, pi, sin

import shapely
from manifold3d import Manifold
from shapely.geometry.base import BaseGeometry

from geometry.brake import Brake, Side, turn_sense
from geometry.outlines import Outline
from geometry.outlines.cam import camshaft_radius
from geometry.outlines.proportions import PROPORTIONS
from geometry.outlines.shapes import bar
from geometry.outlines.shoe_form import platform_radii
from mechviz.solid.making import Span, prism, round_bar, united
from mechviz.solid.places import Places

BLOCK_GAP = 1.6
"""Between the two blocks of a shoe's lining, mm."""
RIVETS = (0.14, 0.38, 0.62, 0.86)
"""Where a block's rivets sit, as shares of its arc; the same for their places across are `ROWS`."""
ROWS = (-0.32, 0.32)
HEAD, HOLE = 0.022, 0.034
"""A rivet's radius and its hole's in the lining, as shares of the drum's radius."""
SEAT = 0.35
"""How high over the platform a rivet's head sits, as a share of the new lining's thickness: lining below it is worn."""


def webs(outline: Outline, where: Places) -> Manifold:
    """Return the two webs of a shoe."""
    return united(*(prism(outline.geometry, span) for span in where.webs))


def roller(outline: Outline, brake: Brake, where: Places, detail: float) -> Manifold:
    """Return a roller with its journals, own frame: origin its centre."""
    journal = PROPORTIONS.journal * brake.shoe.roller_radius
    filled = united(prism(outline.geometry, where.roller), round_bar(1.08 * journal, where.roller, detail))
    return filled + round_bar(journal, where.journal, detail)


def camshaft(brake: Brake, span: Span, detail: float) -> Manifold:
    """Return a plain stretch of the camshaft, own frame: origin its axis."""
    return round_bar(camshaft_radius(brake), span, detail)


def s_cam(outline: Outline, brake: Brake, where: Places, detail: float) -> Manifold:
    """Return the S-cam on the end of its shaft, which shows a little on the wheel's side."""
    low, high = where.cam
    nose = round_bar(0.8 * camshaft_radius(brake), (low - 0.25 * (high - low), low), detail)
    return united(prism(outline.geometry, where.cam), nose)


def blocks(outline: Outline, brake: Brake, where: Places, side: Side) -> Manifold:
    """Return the two blocks of a shoe's lining, own frame, as worn: without the holes of the rivets."""
    return prism(_halves(outline, brake, side), where.lining)


def _halves(outline: Outline, brake: Brake, side: Side) -> BaseGeometry:
    """The lining's shape, cut at mid arc."""
    psi = 0.5 * (brake.lining.start + brake.lining.end)
    far = 1.2 * brake.new_radius
    end = turn_sense(side) * far * sin(psi), -far * cos(psi)
    return shapely.difference(outline.geometry, bar((0.0, 0.0), end, BLOCK_GAP))


def rivet_places(brake: Brake) -> list[float]:
    """Return where (psi, rad) the rivets of a shoe sit."""
    start, end = brake.lining.start, brake.lining.end
    half = 0.5 * (end - start)
    return [start + k * half + share * half for k in (0, 1) for share in RIVETS]


def rivets(brake: Brake, where: Places, side: Side, detail: float) -> Manifold:
    """Return a shoe's rivets, from their heads in the lining to their tails under the platform."""
    inner, outer = platform_radii(brake)
    tail, seat = inner - 0.012 * brake.new_radius, outer + SEAT * brake.lining.thickness
    return _radial(brake, where, side, HEAD * brake.new_radius, (tail, seat), detail)


def drilled(brake: Brake, where: Places, side: Side, detail: float) -> Manifold:
    """Return what the holes over the rivets' heads take out of a shoe's lining."""
    _, outer = platform_radii(brake)
    seat = outer + SEAT * brake.lining.thickness, 1.1 * brake.new_radius
    return _radial(brake, where, side, HOLE * brake.new_radius, seat, detail)


def _radial(brake: Brake, where: Places, side: Side, radius: float, reach: Span, detail: float) -> Manifold:
    """Round bars that stand on the drum's centre, from one radius to another, at every rivet's place."""
    width = where.lining[1] - where.lining[0]
    upright = round_bar(radius, reach, detail).rotate((0.0, 90.0, 0.0))
    bars: list[Manifold] = []
    for psi in rivet_places(brake):
        turn = degrees(psi - 0.5 * pi)
        angle = turn if side == "right" else 180.0 - turn
        bars += [upright.rotate((0.0, 0.0, angle)).translate((0.0, 0.0, row * width)) for row in ROWS]
    return united(*bars)
