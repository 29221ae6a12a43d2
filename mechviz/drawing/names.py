"""Which parts are named, in which order they look for a place, and in which words."""

from dataclasses import dataclass
from typing import Literal

from mechviz.drawing.lettering import Rank, Text
from mechviz.drawing.scene import Scene
from mechviz.drawing.words import figure

Labels = Literal["all", "few", "none"]


@dataclass(frozen=True)
class Name:
    """A label: its words, whose colour it wears, and which parts (any of them) it may point at.

    ``within`` (picture units) is how near it has to be without a leader; None where a leader ties it to its part.
    """

    words: str
    rank: Rank
    parts: tuple[str, ...]
    within: float | None = None


FEW = (
    Name("S-cam", "turn", ("s_cam",)),
    Name("roller", "spread", ("roller_left", "roller_right")),
    Name("slack adjuster", "turn", ("slack_adjuster",)),
    Name("pushrod", "push", ("pushrod",)),
    Name("diaphragm", "push", ("diaphragm",)),
    Name("shoe", "spread", ("shoe_left_web", "shoe_right_web")),
    Name("lining", "rub", ("lining_left", "lining_right")),
    Name("anchor pin", "hold", ("anchor_pin_left", "anchor_pin_right", "anchor_pin_shared")),
    Name("camshaft", "turn", ("camshaft_end",)),
    Name("chamber", "hold", ("chamber_pressure",)),
    Name("drum", "hold", ("drum",)),
    Name("return spring", "hold", ("shoe_return_spring",)),
    Name("return spring", "hold", ("chamber_return_spring",)),
)
"""What moves and what is talked about."""

NEAR = 48.0
PLANES = (
    Name("inside the wheel", "soft", ("drum",), within=NEAR),
    Name("outside, at the axle", "soft", ("axle_tube", "bracket"), within=NEAR),
)
"""What the two planes are, for someone who has never seen a brake."""

MORE = (
    Name("clevis", "push", ("clevis",)),
    Name("clevis pin", "push", ("clevis_pin",)),
    Name("push plate", "push", ("push_plate",)),
    Name("air port", "push", ("air_port",)),
    Name("spider", "hold", ("spider",)),
    Name("axle", "hold", ("axle_tube",)),
    Name("bracket", "hold", ("bracket",)),
    Name("clamp ring", "hold", ("clamp_ring",)),
)
"""The rest."""


def names(labels: Labels) -> tuple[Name, ...]:
    """Return what is named."""
    return {"none": (), "few": (*FEW, *PLANES), "all": (*FEW, *MORE, *PLANES)}[labels]


def lettered(name: Name, scene: Scene) -> Text:
    """Return a name as text; the cam's tells its turn, the drum's its temperature."""
    if name.words == "S-cam" and scene.moved:
        turn = figure(float(scene.poses.cam_turn[0]), "angle", scene.system)
        return Text(turn, rank=name.rank, name="value-cam-turn", lead="S-cam turned ")
    if name.words == "drum":
        heat = figure(float(scene.condition.arrays[2]), "temperature", scene.system)
        return Text(heat, rank="rub" if scene.hot else name.rank, name="value-drum", lead="drum at ")
    return Text(name.words, rank=name.rank)
