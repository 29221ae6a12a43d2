"""How large the notes are that the script draws: the drawing's own sizes, so that both look alike.

Picture units where nothing else is said.
"""

from typing import Any

import numpy as np
from shapely import box, union_all
from shapely.affinity import affine_transform

from geometry.brake import Brake
from geometry.outlines import Outline
from geometry.outlines.chamber_form import chamber_form
from mechviz.drawing import angle, chain, gaps, gauge, magnifier, parked, pushes, rule, turn
from mechviz.drawing.layout import WIDTH, Layout
from mechviz.page.labels import BESIDE

ROW = 8.0
"""Height of the rows in which room beside the arm is looked for, picture units."""

Sizes = dict[str, Any]

MOST = 0.7
"""Share of the magnifier that the greatest gap of all settings may take: few come near it."""


def note_sizes(brake: Brake, outlines: tuple[Outline, ...], where: Layout) -> Sizes:
    """Return the sizes of a brake's notes, by the note that they belong to."""
    return {
        "angle": _angle(outlines, where),
        "chain": {"sentence": chain.SENTENCE, "line": chain.LINE, "apart": chain.APART, "lost": chain.LOST},
        "gaps": _gaps(where),
        "gauge": _gauge(),
        "magnifier": _magnifier(where),
        "parking": {"name": [parked.RIGHT, parked.DOWN]},
        "pushes": _pushes(brake, outlines),
        "rule": {"inch": rule.ticks_of("inch"), "metric": rule.ticks_of("metric")},
        "turn": {"armArc": turn.ARM_ARC},
    }


def _angle(outlines: tuple[Outline, ...], where: Layout) -> Sizes:
    """The arc and the square corner; and row by row how far to the right there is room for words beside them."""
    a, b, c, d, e, f = where.arm_matrix
    still = [o.geometry for o in outlines if o.body == "ground_arm" and o.name != "axle_tube"]
    shape = affine_transform(union_all(still), [a, c, b, d, e, f])
    top = where.rule[1]
    rows = [shape.intersection(box(where.arm[0], y, WIDTH, y + ROW)) for y in np.arange(top, where.arm[1], ROW)]
    edge = [WIDTH if row.is_empty else round(row.bounds[0], 1) for row in rows]
    sizes = {"radius": angle.RADIUS, "corner": angle.CORNER, "reach": angle.REACH, "beside": BESIDE}
    return sizes | {"clear": {"top": top, "step": ROW, "edge": edge}}


def _gauge() -> Sizes:
    sizes = {"radius": gauge.RADIUS, "half": gauge.LEAST_HALF, "beyond": gauge.BEYOND, "spare": gauge.SPARE}
    return sizes | {"scale": gauge.SCALE, "words": gauge.WORDS}


def _gaps(where: Layout) -> Sizes:
    diagram = gaps.diagram_in(where.gaps, where.scale)
    edges = {"left": diagram.left, "right": diagram.right, "top": diagram.top, "bottom": diagram.bottom}
    widths = {"drum": gaps.DRUM, "spare": diagram.spare, "lining": diagram.lining}
    shoe = " shoe" if diagram.roomy else ""
    return edges | widths | {"levels": diagram.levels, "times": gaps.TIMES, "shoe": shoe}


def _magnifier(where: Layout) -> Sizes:
    return {
        "frame": magnifier.frame_of(where),
        "drum": magnifier.DRUM,
        "share": MOST,
        "times": magnifier.TIMES,
        "spot": magnifier.SPOT,
        "words": magnifier.words_at(magnifier.frame_of(where), where),
    }


def _pushes(brake: Brake, outlines: tuple[Outline, ...]) -> Sizes:
    """Where the arrows stand; the push plate's back (mm) counts from the pushrod's pivot."""
    left, low, _, high = next(outline for outline in outlines if outline.name == "push_plate").geometry.bounds
    half = 0.5 * (high - low)
    return {
        "plateBack": left,
        "chamberBack": -brake.linkage.face_distance - chamber_form(brake).cap_depth,
        "air": [share * half for share in pushes.AIR_AT],
        "airLong": pushes.LONG,
        "rodFrom": pushes.ROD_FROM,
        "rodLong": pushes.ROD_LONG,
        "hub": pushes.HUB,
        "hubEnds": pushes.HUB_ENDS,
        "camBelow": pushes.CAM_BELOW,
        "camEnds": pushes.CAM_ENDS,
        "spreadLong": pushes.SPREAD_LONG,
        "rubAt": pushes.rub_at(brake.lining),
        "rubFrom": pushes.RUB_FROM,
        "near": pushes.NEAR,
    }
