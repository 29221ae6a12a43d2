"""The slack adjuster and the camshaft's splined end in it: boss, worm housing, arm, clevis holes."""

from math import pi

import numpy as np

from geometry.brake import Brake
from geometry.outlines.cam import camshaft_radius
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Area, bar, box, cut, disc, joined, polygon, rounded

SPLINES = 20
PART = "linkage.arm_length"


def hole_places(brake: Brake, proportions: Proportions = PROPORTIONS) -> tuple[float, ...]:
    """Return how far (mm) the clevis holes are from the camshaft: one more either way where metal is left between."""
    length, spacing = brake.linkage.arm_length, proportions.hole_spacing
    hole = 2 * proportions.clevis_pin * length
    roomy = spacing >= 1.15 * hole and spacing <= 0.15 * length
    return (length - spacing, length, length + spacing) if roomy else (length,)


def slack_adjuster(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the slack adjuster, own frame: origin the camshaft, +y along the arm."""
    length = brake.linkage.arm_length
    places = hole_places(brake, proportions)
    body = rounded(PART, joined(PART, *_solids(length, places, proportions, detail)), 0.0, detail, hollow=0.12 * length)
    pin = proportions.clevis_pin * length
    holes = [disc((0.0, y), pin, detail, hole=True) for y in places]
    bore = disc((0.0, 0.0), camshaft_radius(brake, proportions), detail, hole=True)
    whole = joined(PART, cut(PART, body, bore, *holes), *_worm_ends(length, proportions))
    does = "Turns the camshaft when the pushrod pushes its end; its worm sets how far the cam stands when released."
    return Outline("slack_adjuster", "arm", "turn", "Slack adjuster", does, "arm", whole)


def _solids(length: float, places: tuple[float, ...], proportions: Proportions, detail: float) -> list[Area]:
    """Boss, arm and worm housing before they are blended into each other."""
    boss, worm, end = (
        share * length for share in (proportions.adjuster_boss, proportions.worm, proportions.adjuster_end)
    )
    height = _worm_height(length, proportions)
    half = _worm_reach(length, proportions)
    housing = box(-half, height - worm, half, height + worm)
    return [
        disc((0.0, 0.0), boss, detail),
        bar((0.0, 0.0), (0.0, places[-1]), proportions.adjuster_neck * length, 2 * end),
        disc((0.0, places[-1]), end, detail),
        rounded(PART, housing, 0.6 * worm, detail),
    ]


def _worm_height(length: float, proportions: Proportions) -> float:
    return 0.78 * proportions.adjuster_boss * length


def _worm_reach(length: float, proportions: Proportions) -> float:
    """Half the length of the worm's housing, mm."""
    return 1.12 * proportions.adjuster_boss * length


def _worm_ends(length: float, proportions: Proportions) -> list[Area]:
    """The worm shaft's hexagon head, seen from the side."""
    height, worm = _worm_height(length, proportions), proportions.worm * length
    start = _worm_reach(length, proportions)
    collar = box(start - 0.1 * worm, height - 0.55 * worm, start + 0.3 * worm, height + 0.55 * worm)
    head = box(start + 0.2 * worm, height - 0.36 * worm, start + 0.95 * worm, height + 0.36 * worm)
    return [collar, head]


def camshaft_end(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the camshaft's splined end, in the arm's frame, with which it turns."""
    outer = camshaft_radius(brake, proportions)
    tooth = np.array([0.0, 0.25, 0.5, 0.75])
    angle = 2 * pi / SPLINES * (np.arange(SPLINES)[:, np.newaxis] + tooth).ravel()
    radius = np.tile([1.0, 1.0, 0.88, 0.88], SPLINES) * outer
    star = polygon(np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]))
    centre = disc((0.0, 0.0), 0.12 * outer, detail)
    does = "Carries the turn of the slack adjuster to the S-cam inside the drum."
    return Outline("camshaft_end", "arm", "turn", "Camshaft, splined end", does, "arm", cut(PART, star, centre))
