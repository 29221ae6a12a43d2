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
    "turn": Texture("rings", "turn", "turn-fill", 28, 0.9),
    "spread": Texture("strokes", "spread", "spread-fill", 20, 1.1, 90),
    "rub": Texture("cross", "rub", "rub-fill", 11, 0.9, 45),
    "rub-touch": Texture("cross", "rub", "rub-fill", 5.5, 1.2, 45),
    "hold": Texture("none", "hold", "hold-fill"),
    "section": Texture("lines", "hold", "hold-fill", 9, 0.9, 45),
    "forbidden": Texture("lines", "rule", None, 8, 1.1, -45),
}


CELLS = 4
"""Cells of a hatch along the side of its tile: few tile edges, where a renderer has to round to its pixels."""


def drawn(texture: Texture, scale: float, cells: int = 1) -> str:
    """Return the path of ``cells`` by ``cells`` of a texture, empty for a smooth one.

    ``scale`` is the picture's height over 1000. Lines stick out by half a cell, so that they fill the tile to its last
    pixel.
    """
    s = texture.step * scale
    places = range(cells)
    if texture.shape in ("lines", "cross"):
        start, end = f"{-s / 2:g}", f"{(cells + 0.5) * s:g}"
        along = [f"M{(n + 0.5) * s:g} {start}V{end}" for n in places]
        across = [f"M{start} {(n + 0.5) * s:g}H{end}" for n in places] if texture.shape == "cross" else []
        return "".join(along + across)
    mark = {"rings": _rings, "strokes": _strokes}.get(texture.shape)
    return "".join(mark(x * s, y * s, s) for x in places for y in places) if mark else ""


def _rings(x: float, y: float, s: float) -> str:
    """Two rings, small enough to stay clear of the cell's edge."""
    return _ring(x + s / 4, y + s / 4, s / 11) + _ring(x + s * 3 / 4, y + s * 3 / 4, s / 11)


def _ring(x: float, y: float, r: float) -> str:
    return f"M{x - r:g} {y:g}a{r:g} {r:g} 0 1 0 {2 * r:g} 0a{r:g} {r:g} 0 1 0 {-2 * r:g} 0z"


def _strokes(x: float, y: float, s: float) -> str:
    """Two short strokes, side by side and staggered."""
    return f"M{x + s / 4:g} {y + s * 0.1:g}v{s * 0.3:g}M{x + s * 3 / 4:g} {y + s * 0.6:g}v{s * 0.3:g}"
