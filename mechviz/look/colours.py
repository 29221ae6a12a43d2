"""The colours: ground, ink, and one colour for each of the verbs that a brake consists of.

Air pushes the rod, the rod turns the arm and cam, the cam spreads the rollers and shoes, the linings rub the drum; what
does none of these holds. A part is filled with its verb's tint and edged with the verb's full colour; a number wears
the full colour of the part that it belongs to. No meaning hangs on colour alone: each verb has its own texture
(`textures`), line weight and place, and every label its word.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

ThemeName = Literal["light", "dark", "print"]
VerbName = Literal["push", "turn", "spread", "rub", "hold"]

THEMES: tuple[ThemeName, ...] = ("light", "dark", "print")
PRINT: ThemeName = "print"
"""The light colours on white: a printer lays no tint over the sheet."""


@dataclass(frozen=True)
class Verb:
    """One verb: its colour on a light and on a dark ground, how much of it a filled part takes, and whose it is.

    ``light`` and ``dark`` have 4.5:1 against their ground, so that they serve for text; ``share`` is what the fill has
    of the full colour, the ground being the rest. The shares differ, so that the fills also differ in grey.
    """

    name: VerbName
    light: str
    dark: str
    share: float
    parts: tuple[str, ...]
    figures: tuple[str, ...]


VERBS: Mapping[VerbName, Verb] = {
    verb.name: verb
    for verb in (
        Verb(
            "push",
            "#0B66A8",
            "#6DB3F2",
            0.30,
            ("diaphragm", "plate", "pushrod", "clevis"),
            ("pressure", "stroke", "chamber force"),
        ),
        Verb(
            "turn",
            "#B8500A",
            "#F2A46B",
            0.12,
            ("slack adjuster", "camshaft", "S-cam"),
            ("arm angle", "cam turn", "camshaft torque"),
        ),
        Verb("spread", "#0F7A5A", "#5CCBA5", 0.25, ("rollers", "shoes"), ("roller force", "shoe turn")),
        Verb("rub", "#6F2F86", "#E2BAEE", 0.12, ("linings",), ("gap", "wear", "friction", "heat")),
        Verb(
            "hold",
            "#6B7076",
            "#A4AAB0",
            0.08,
            ("drum", "spider", "anchor pins", "bracket", "chamber body", "axle"),
            (),
        ),
    )
}

_GROUNDS: Mapping[ThemeName, tuple[str, str]] = {
    "light": ("#FBFAF6", "#1C2126"),
    "dark": ("#12171C", "#ECEEF0"),
    "print": ("#FFFFFF", "#1C2126"),
}
"""Paper and ink."""

_OF_INK: Mapping[str, float] = {"soft": 0.76, "rule": 0.55, "grid": 0.16, "shade": 0.08}
"""Tints of ink on paper: second-rank words, lines that must be seen, a plot's grid, an area that is not allowed."""


def blend(colour: str, ground: str, share: float) -> str:
    """Return ``share`` of a colour over a ground, as ``#RRGGBB``.

    >>> blend("#000000", "#FFFFFF", 0.25)
    '#BFBFBF'
    """
    pairs = zip(channels(colour), channels(ground), strict=True)
    return "#" + "".join(f"{round(over * share + under * (1 - share)):02X}" for over, under in pairs)


def channels(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue of ``#RRGGBB``, each 0 to 255."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def colours(theme: ThemeName) -> dict[str, str]:
    """Return every colour of a theme by its name.

    ``paper`` and ``ink``; ``soft``, ``rule``, ``grid`` and ``shade``; for each verb its full colour (``push``) and its
    fill (``push-fill``).
    """
    paper, ink = _GROUNDS[theme]
    found = {"paper": paper, "ink": ink} | {name: blend(ink, paper, share) for name, share in _OF_INK.items()}
    for verb in VERBS.values():
        full = verb.dark if theme == "dark" else verb.light
        found[verb.name] = full
        found[f"{verb.name}-fill"] = blend(full, paper, verb.share)
    return found
