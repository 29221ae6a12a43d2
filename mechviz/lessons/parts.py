"""What a lesson calls the parts: the trade's words, the outlines that each means, and its colour."""

from collections.abc import Mapping
from dataclasses import dataclass

from mechviz.drawing.names import FEW, PLANES
from mechviz.look.colours import VerbName


@dataclass(frozen=True)
class Part:
    """A part, or parts that go by one name: its outlines (`geometry.outlines`) and the verb whose colour it wears."""

    words: str
    outlines: tuple[str, ...]
    verb: VerbName


def _both(name: str) -> tuple[str, ...]:
    return tuple(name.replace("SIDE", side) for side in ("left", "right"))


_SHOES = (*_both("shoe_SIDE_web"), *_both("shoe_SIDE_platform"))

PARTS: Mapping[str, Part] = {
    part.words: part
    for part in (
        Part("diaphragm", ("diaphragm",), "push"),
        Part("push plate", ("push_plate",), "push"),
        Part("pushrod", ("pushrod",), "push"),
        Part("clevis", ("clevis",), "push"),
        Part("clevis pin", ("clevis_pin",), "push"),
        Part("air port", ("air_port",), "push"),
        Part("slack adjuster", ("slack_adjuster",), "turn"),
        Part("camshaft", ("camshaft", "camshaft_end"), "turn"),
        Part("S-cam", ("s_cam",), "turn"),
        Part("rollers", _both("roller_SIDE"), "spread"),
        Part("left roller", ("roller_left",), "spread"),
        Part("right roller", ("roller_right",), "spread"),
        Part("shoes", _SHOES, "spread"),
        Part("left shoe", ("shoe_left_web", "shoe_left_platform"), "spread"),
        Part("right shoe", ("shoe_right_web", "shoe_right_platform"), "spread"),
        Part("linings", _both("lining_SIDE"), "rub"),
        Part("left lining", ("lining_left",), "rub"),
        Part("right lining", ("lining_right",), "rub"),
        Part("drum", ("drum",), "hold"),
        Part("anchor pins", (*_both("anchor_pin_SIDE"), "anchor_pin_shared"), "hold"),
        Part("shoe return spring", ("shoe_return_spring",), "hold"),
        Part("chamber return spring", ("chamber_return_spring",), "hold"),
        Part("chamber", ("chamber_pressure", "chamber_non_pressure", "clamp_ring"), "hold"),
        Part("clamp ring", ("clamp_ring",), "hold"),
        Part("bracket", ("bracket",), "hold"),
        Part("spider", ("spider",), "hold"),
        Part("axle", ("axle_tube", "spindle"), "hold"),
        Part("parking section", ("parking_housing", "power_spring"), "hold"),
        Part("power spring", ("power_spring",), "hold"),
    )
}
"""By its words."""

OF_PARKING = ("parking section", "power spring")
"""Parts that only a brake with a parking section has."""

LABELS: tuple[str, ...] = tuple(dict.fromkeys(name.words for name in (*FEW, *PLANES)))
"""Names that the page writes into its picture."""


def part_called(words: str) -> Part | None:
    """Return the part of a name, whatever its capitals, hyphens and underlines; None for one that there is not."""
    plain = plainly(words)
    return next((part for name, part in PARTS.items() if plainly(name) in (plain, plain + "s")), None)


def label_called(words: str) -> str | None:
    """Return the page's own name for a part as it writes it; None for a name that it does not write."""
    plain = plainly(words)
    return next((name for name in LABELS if plainly(name) == plain), None)


def plainly(words: str) -> str:
    """Return words without what makes no difference.

    >>> plainly("Slack_adjuster"), plainly("S-cam")
    ('slack adjuster', 's cam')
    """
    return " ".join(words.lower().replace("_", " ").replace("-", " ").split())
