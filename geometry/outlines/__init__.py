"""The outline of every part, in the part's own frame: the one source of its shape for drawing, solid and checks."""

from geometry.outlines.all_parts import brake_outlines
from geometry.outlines.deforming import deforming, deforming_points
from geometry.outlines.lining import pressed_lining
from geometry.outlines.outline import Body, Outline, Plane, Verb
from geometry.outlines.parking import parking_floor, parking_frames
from geometry.outlines.proportions import PROPORTIONS, Proportions

__all__ = [
    "PROPORTIONS",
    "Body",
    "Outline",
    "Plane",
    "Proportions",
    "Verb",
    "brake_outlines",
    "deforming",
    "deforming_points",
    "parking_floor",
    "parking_frames",
    "pressed_lining",
]
