"""What an outline is: one part's shape in its own frame, and what a picture needs to know about it."""

from dataclasses import dataclass
from typing import Literal

from geometry.brake import Side
from geometry.outlines.shapes import Shape

Plane = Literal["wheel", "arm"]
Verb = Literal["push", "turn", "spread", "rub", "hold"]
Body = Literal[
    "ground_wheel",
    "ground_arm",
    "cam",
    "shoe_left",
    "shoe_right",
    "roller_left",
    "roller_right",
    "arm",
    "clevis_pin",
    "clevis",
    "pushrod",
    "plate",
    "deforms",
]
"""The rigid bodies of the pose table, and ``deforms`` for a shape that changes and stands in its plane's frame."""


SHOE: dict[Side, Body] = {"left": "shoe_left", "right": "shoe_right"}
ROLLER: dict[Side, Body] = {"left": "roller_left", "right": "roller_right"}


@dataclass(frozen=True)
class Outline:
    """One part's outline.

    Parameters
    ----------
    name : str
        Unique in a brake, for example ``shoe_left_web``.
    plane : str
        ``wheel`` (the brake plane, origin the drum centre) or ``arm`` (origin the camshaft).
    verb : str
        What the part does in the chain of motion: push, turn, spread, rub or hold.
    title, does : str
        Plain words for people: what it is, and one sentence on what it does.
    body : str
        Which rigid body of the pose table carries it; ``ground_wheel`` and ``ground_arm`` do not move.
    geometry : shapely geometry
        Polygons for parts, a line for springs and the diaphragm; mm, in the body's own frame.

    """

    name: str
    plane: Plane
    verb: Verb
    title: str
    does: str
    body: Body
    geometry: Shape
