"""What an SVG keeps in its <defs>: one pattern a texture and arrow heads in every colour."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from mechviz.look.colours import VERBS
from mechviz.look.measures import HEIGHT, plain
from mechviz.look.textures import CELLS, TEXTURES, Texture, drawn

ArrowName = Literal["dim", "force"]

INKS: tuple[str, ...] = ("ink", "soft", *VERBS)
"""Colours that an arrow comes in. An arrow head cannot take its line's colour in every browser, so each has its own."""


@dataclass(frozen=True)
class Arrow:
    """An arrow head: its length and width in a picture 1000 high, and the outline with its tip at (length, 0)."""

    length: float
    width: float
    notch: float

    def path(self, scale: float) -> str:
        """Return the outline, its back drawn in by ``notch`` of the length."""
        tip, half, back = self.length * scale, self.width * scale / 2, self.notch * self.length * scale
        return f"M0 {plain(-half)}L{plain(tip)} 0L0 {plain(half)}L{plain(back)} 0z"


ARROWS: Mapping[ArrowName, Arrow] = {"dim": Arrow(13, 5, 0.0), "force": Arrow(30, 26, 0.15)}
"""``dim`` ends a dimension; its tip lies on the end of the line. ``force`` says what pushes what, and its back lies on
the end of the line, so that a thick line does not blunt the tip: end that line `force_reach` before the point meant."""


def force_reach(height: float = HEIGHT) -> float:
    """Return how far the tip of a ``force`` arrow reaches beyond the end of its line."""
    arrow = ARROWS["force"]
    return arrow.length * (1 - arrow.notch) * height / HEIGHT


def svg_defs(height: float = HEIGHT, prefix: str = "mv-") -> str:
    """Return the patterns and markers for a picture ``height`` high in its own units, to stand inside <defs>.

    Fill with ``url(#mv-turn)`` (a name of `TEXTURES` that is not smooth); end a line with
    ``marker-end="url(#mv-dim-ink)"`` or ``url(#mv-force-push)``. ``prefix`` keeps the names apart where several
    pictures share a page. Colours are custom properties of `css_variables`.
    """
    scale = height / HEIGHT
    patterns = [_pattern(f"{prefix}{name}", texture, scale) for name, texture in TEXTURES.items() if texture.step]
    heads = [
        _marker(f"{prefix}{name}-{ink}", arrow, ink, scale, from_back=name == "force")
        for name, arrow in ARROWS.items()
        for ink in INKS
    ]
    return "\n".join([*patterns, *heads])


def _pattern(name: str, texture: Texture, scale: float) -> str:
    """One tile; its ground sticks out, so that it fills the tile to its last pixel."""
    step = texture.step * scale
    size, start, whole = plain(CELLS * step), plain(-step), plain((CELLS + 2) * step)
    ground = (
        f'<rect x="{start}" y="{start}" width="{whole}" height="{whole}" fill="var(--mv-{texture.ground})"/>'
        if texture.ground
        else ""
    )
    line = (
        f'<path d="{drawn(texture, scale, CELLS)}" fill="none" stroke="var(--mv-{texture.line})"'
        f' stroke-width="{plain(texture.weight * scale)}" stroke-linecap="round"/>'
    )
    turned = f' patternTransform="rotate({plain(texture.angle)})"' if texture.angle else ""
    return (
        f'<pattern id="{name}" patternUnits="userSpaceOnUse" width="{size}" height="{size}"{turned}>'
        f"{ground}{line}</pattern>"
    )


def _marker(name: str, arrow: Arrow, ink: str, scale: float, *, from_back: bool) -> str:
    """One arrow head, as large whatever the line's weight; at the start of a line it points backwards."""
    length, width = plain(arrow.length * scale), plain(arrow.width * scale)
    at = plain(arrow.notch * arrow.length * scale) if from_back else length
    box = f"0 {plain(-arrow.width * scale / 2)} {length} {width}"
    return (
        f'<marker id="{name}" viewBox="{box}" refX="{at}" refY="0" markerWidth="{length}" markerHeight="{width}"'
        f' markerUnits="userSpaceOnUse" orient="auto-start-reverse">'
        f'<path d="{arrow.path(scale)}" fill="var(--mv-{ink})"/></marker>'
    )
