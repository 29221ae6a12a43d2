"""Hatches for a PDF: one tile as large as the picture instead of many small ones.

PDF readers draw the tiles of a pattern one by one and round each to their pixels: a tint behind a hatch shows hair
lines between the tiles, and a slanted hatch line gets a nick at every edge. A browser and our own PNG do not; for a PDF
each pattern of `mechviz.look.svg_defs` is therefore replaced by one that looks the same and does not repeat.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from mechviz.look.measures import plain
from mechviz.look.textures import CELLS, TEXTURES, Texture, drawn

_PATTERN = re.compile(
    rf'<pattern id="(?P<id>[\w-]*?(?P<name>{"|".join(sorted(TEXTURES, key=len, reverse=True))}))"'
    r'[^>]*? width="(?P<size>[\d.]+)"[^>]*>.*?</pattern>',
    re.DOTALL,
)

REACH = 2.2
"""How far a tile reaches from the origin of whatever it fills, in picture heights: beyond the far corner of a picture
1.9 times as wide as high, turned by any angle."""

LINES_A_PATH = 32
"""Readers lose their way in a path of more than a thousand lines."""


def without_seams(svg: str, height: float) -> str:
    """Return the SVG with its hatches in one piece, ``height`` being the picture's."""
    names = {str(name): texture for name, texture in TEXTURES.items()}
    return _PATTERN.sub(
        lambda found: _wide(found["id"], names[found["name"]], float(found["size"]) / CELLS, height), svg
    )


@dataclass(frozen=True)
class _Tile:
    """The one tile: from ``-half`` to ``half``, with marks every ``step``."""

    step: float
    half: float

    @property
    def rect(self) -> str:
        """The whole of it."""
        start, size = plain(-self.half), plain(2 * self.half)
        return f'<rect x="{start}" y="{start}" width="{size}" height="{size}"'

    def lines(self, crossed: bool) -> Iterator[str]:
        """Lines along y through the middle of each step, and along x where they are crossed."""
        start, end = plain(-self.half), plain(self.half)
        places = [-self.half + self.step * (n + 0.5) for n in range(round(2 * self.half / self.step))]
        yield from (f"M{plain(place)} {start}V{end}" for place in places)
        if crossed:
            yield from (f"M{start} {plain(place)}H{end}" for place in places)


def _wide(name: str, texture: Texture, step: float, height: float) -> str:
    """The pattern in one tile, in step with the small one.

    Its corner is moved there by a transform: a tile that starts at a negative ``x`` comes out empty.
    """
    tile = _Tile(step, ceil(REACH * height / step) * step)
    ground = f'{tile.rect} fill="var(--mv-{texture.ground})"/>' if texture.ground else ""
    ink = f'fill="none" stroke="var(--mv-{texture.line})" stroke-width="{plain(texture.weight * step / texture.step)}"'
    before, marks = (
        _hatch(tile, texture, ink) if texture.shape in ("lines", "cross") else _marks(name, tile, texture, ink)
    )
    there, back, size = plain(-tile.half), plain(tile.half), plain(2 * tile.half)
    turned = f"rotate({plain(texture.angle)}) " if texture.angle else ""
    return (
        f'{before}<pattern id="{name}" patternUnits="userSpaceOnUse" width="{size}" height="{size}"'
        f' patternTransform="{turned}translate({there} {there})"><g transform="translate({back} {back})">'
        f"{ground}{marks}</g></pattern>"
    )


def _hatch(tile: _Tile, texture: Texture, ink: str) -> tuple[str, str]:
    """Lines from edge to edge."""
    lines = list(tile.lines(texture.shape == "cross"))
    paths = ("".join(lines[start : start + LINES_A_PATH]) for start in range(0, len(lines), LINES_A_PATH))
    return "", f"<g {ink}>" + "".join(f'<path d="{path}"/>' for path in paths) + "</g>"


def _marks(name: str, tile: _Tile, texture: Texture, ink: str) -> tuple[str, str]:
    """Marks that do not touch the edge of the small tile: it may repeat, but without its ground."""
    step, path = plain(tile.step), drawn(texture, tile.step / texture.step)
    inner = (
        f'<pattern id="{name}-marks" patternUnits="userSpaceOnUse" width="{step}" height="{step}">'
        f'<path d="{path}" {ink} stroke-linecap="round"/></pattern>'
    )
    return inner, f'{tile.rect} fill="url(#{name}-marks)"/>'
