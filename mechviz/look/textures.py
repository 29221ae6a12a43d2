"""Hatches and textures: what a colour says, said once more in lines, so that a black and white copy still says it.

Each is a tile that repeats; sizes are for a picture height of 1000. Lines run through the middle of their tile, so
that no renderer cuts them at its edge.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

TextureName = Literal["push", "turn", "spread", "rub", "rub-touch", "hold", "section", "forbidden"]
Shape = Literal["none", "lines", "cross", "rings", "strokes"]


@dataclass(frozen=True)
class Texture:
    """A tile: what is drawn in it, ``step`` apart, ``weight`` thick, turned by ``angle`` degrees.

    ``line`` and ``ground`` name the colours; no ``ground`` lets what is beneath show through.
    """

    shape: Shape
    line: str
    ground: str | None
    step: float = 0.0
    weight: float = 0.0
    angle: float = 0.0


TEXTURES: Mapping[TextureName, Texture] = {
    "push": Texture("none", "push", "push-fill"),
    "turn": Texture("rings", "turn", "turn-fill", 22, 0.9),
    "spread": Texture("strokes", "spread", "spread-fill", 20, 1.1, 90),
    "rub": Texture("cross", "rub", "rub-fill", 11, 0.9, 45),
    "rub-touch": Texture("cross", "rub", "rub-fill", 5.5, 1.2, 45),
    "hold": Texture("none", "hold", "hold-fill"),
    "section": Texture("lines", "hold", "hold-fill", 9, 0.9, 45),
    "forbidden": Texture("lines", "rule", None, 8, 0.9, -45),
}


def drawn(texture: Texture, scale: float) -> str:
    """Return the path of one tile, ``scale`` being the picture's height over 1000; empty for a smooth one."""
    s = texture.step * scale
    if texture.shape == "lines":
        return f"M{s / 2:g} 0V{s:g}"
    if texture.shape == "cross":
        return f"M{s / 2:g} 0V{s:g}M0 {s / 2:g}H{s:g}"
    if texture.shape == "rings":
        return _ring(s / 4, s / 4, s / 9) + _ring(s * 3 / 4, s * 3 / 4, s / 9)
    if texture.shape == "strokes":
        return f"M{s / 4:g} {s * 0.1:g}v{s * 0.3:g}M{s * 3 / 4:g} {s * 0.6:g}v{s * 0.3:g}"
    return ""


def _ring(x: float, y: float, r: float) -> str:
    """A circle as a path."""
    return f"M{x - r:g} {y:g}a{r:g} {r:g} 0 1 0 {2 * r:g} 0a{r:g} {r:g} 0 1 0 {-2 * r:g} 0z"
