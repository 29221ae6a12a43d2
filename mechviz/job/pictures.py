"""Where to put the tape: for each reading a close-up of the real outlines, with the length drawn as a dimension.

Each is cut from the same drawing as every picture here (`mechviz.drawing`): one plane, the brake's own outlines in the
state in which the reading is taken. 320 x 240 units, to stand beside a field.
"""

from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from html import escape

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from geometry.found import condition_of
from geometry.pose_table import placed
from geometry.setup import read_setup
from mechviz.drawing.layout import Layout
from mechviz.drawing.marks import element, group, line, matrix
from mechviz.drawing.parts import part
from mechviz.drawing.scene import Scene, scene_at
from mechviz.drawing.style import picture_css
from mechviz.job.arm_shots import ARM_SHOTS
from mechviz.job.dimension import HEIGHT, Frame
from mechviz.job.dimension import WIDTH as WIDE
from mechviz.job.shot import ALT, Maker, Scenes, Shot
from mechviz.job.wheel_shots import WHEEL_SHOTS
from mechviz.look import css_variables, font_face_css, svg_defs
from mechviz.look.colours import ThemeName

SHOTS: Mapping[str, Maker] = {**ARM_SHOTS, **WHEEL_SHOTS}
WITH_SPRING = "drive-16.5x7"
"""The spring brake is shown on this one, whatever brake it is: not each has one."""


def picture_of(name: str, base: str, theme: ThemeName = "light", *, alone: bool = True) -> str:
    """Return the picture called ``name`` on a built-in brake as an SVG. Raises `KeyError` for a name there is not.

    ``alone`` puts the font inside; a page that has it already does without.
    """
    svg = _drawn(name, WITH_SPRING if name == "spring" else base, theme)
    return with_font(svg) if alone else svg


def with_font(svg: str) -> str:
    """Return a close-up with the font inside, to stand by itself."""
    return svg.replace("<style>", f"<style>{font_face_css()}\n", 1)


def names() -> tuple[str, ...]:
    """Return the names of all pictures."""
    return tuple(SHOTS)


def alt_of(name: str) -> str:
    """Return what is read out in place of a picture."""
    return ALT[name]


@lru_cache(maxsize=256)
def _drawn(name: str, base: str, theme: ThemeName) -> str:
    scenes = _scenes(base)
    shot = SHOTS[name](scenes)
    return close_up(shot, scenes[shot.at], scenes["released"], theme)


def close_up(shot: Shot, scene: Scene, before: Scene, theme: ThemeName) -> str:
    """Return a close-up of a scene as an SVG, what has moved since ``before`` thin and dashed."""
    frame = Frame.over(shot.plane, shot.window)
    where = _layout(frame, scene)
    parts = (o for o in scene.outlines if o.plane == shot.plane and o.name in shot.parts)
    clip = element("clipPath", element("circle", cx=0, cy=0, r=float(scene.contact.radius[0])), id="clip-drum")
    inside = group(
        [part(scene, o, "", "clip-drum", "") for o in parts],
        id=f"plane-{shot.plane}",
        class_="plane",
        transform=matrix(where.matrix(shot.plane)),
    )
    ghost = _ghost(shot, before, frame)
    css = "\n".join([css_variables(theme, ".mv"), picture_css(frame.scale), LESS])
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="mv" viewBox="0 0 {WIDE:g} {HEIGHT:g}" role="img">'
        f"<title>{escape(shot.alt)}</title><style>{css}</style><defs>{svg_defs(900)}{clip}</defs>"
        f'<rect class="mv-paper" width="{WIDE:g}" height="{HEIGHT:g}"/>{ghost}{inside}{shot.over(scene, frame)}</svg>'
    )


LESS = """.ghost path { fill: none; stroke: var(--mv-soft); stroke-width: 1.2px; stroke-dasharray: 4 4 }
.take { fill: none; stroke: var(--mv-ink); stroke-width: 2.2px }
.reach { fill: none; stroke: var(--mv-ink); stroke-width: 1px }
.mv text.take-words { font-size: 20px; font-weight: 700 }
.mark { stroke: var(--mv-ink); stroke-width: 4px }
.sweep { fill: none; stroke: var(--mv-turn); stroke-width: 3px }
.ring { fill: none; stroke: var(--mv-ink); stroke-width: 3px; stroke-dasharray: 7 5 }
.plate { fill: var(--mv-paper); fill-opacity: 0.85; stroke: none }"""


@cache
def _scenes(base: str) -> Scenes:
    """The three events of a built-in brake's application."""
    setup = read_setup(base)
    condition = condition_of(setup)
    return {name: scene_at(setup, condition, name) for name in ("released", "contact", "applied")}


def _layout(frame: Frame, scene: Scene) -> Layout:
    """The drawing's own layout at the picture's scale: only its matrices are used."""
    nothing = (0.0, 0.0, 0.0, 0.0)
    cam = scene.brake.shoe.cam_distance
    wheel = (frame.x, frame.y - cam * frame.scale)
    return Layout(frame.scale, wheel, (frame.x, frame.y), cam, nothing, nothing, nothing, nothing, nothing, (0, 0), 0)


def _ghost(shot: Shot, before: Scene, frame: Frame) -> str:
    """Parts as they stood before, thin and dashed: what has moved since."""
    shapes = (placed(o, before.table, 0) for o in before.outlines if o.name in shot.ghost)
    paths = (line([frame.at(x, y) for x, y in ring.coords], "", closed=True) for s in shapes for ring in _rings(s))
    return group(paths, class_="ghost") if shot.ghost else ""


def _rings(shape: BaseGeometry) -> Sequence[LineString]:
    """The outer edges of a shape."""
    return [one.exterior for one in shapely.get_parts(shape) if isinstance(one, Polygon)]
