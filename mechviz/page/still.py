"""One picture of a brake without a browser: as found, applied at the test pressure, its stroke against the limit."""

from html import escape

from geometry.condition import Condition
from geometry.found import condition_of
from geometry.setup import Setup
from mechviz.checks.case import Case
from mechviz.drawing.layout import layout
from mechviz.drawing.parts import planes
from mechviz.drawing.scene import Scene, scene_at
from mechviz.look import stylesheet, svg_defs
from mechviz.report.written import quantity, taped

WEIGHT = 1.5
"""Of a part's outline, in the picture's units; inside a plane it is drawn in mm."""


def still_svg(setup: Setup) -> str:
    """Return an SVG of the brake as found, applied where it can be, else released."""
    condition = condition_of(setup)
    scene = _applied_or_released(setup, condition)
    where = layout(setup.brake, scene.outlines)
    x, y, _, _ = where.title
    head, line = f"{setup.title}", _stroke(setup, scene)
    width = where.figures[0]
    words = "".join(
        f'<text x="{x}" y="{y + down}" class="{kind}">{escape(text)}</text>'
        for down, kind, text in ((34, "mv-title", head), (76, "mv-figure mv-of-push", line))
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="mv" viewBox="0 0 {width:g} 900"><title>{escape(head)}</title>'
        f"<desc>{escape(line)}</desc><style>{stylesheet(900)}{_lines(where.scale)}</style>"
        f"<defs>{svg_defs(900)}</defs>{planes(scene, where)}{words}</svg>"
    )


def _applied_or_released(setup: Setup, condition: Condition) -> Scene:
    scene = scene_at(setup, condition, "applied")
    return scene if scene.state.stroke is not None else scene_at(setup, condition, "released")


def _stroke(setup: Setup, scene: Scene) -> str:
    limit = Case(setup, setup.test.rules).limit.limit_mm
    stroke = scene.state.stroke or 0.0
    where = "over" if stroke > limit else "inside"
    return f"stroke {quantity(stroke, 'length', setup.system)}: {where} the limit of {taped(limit, setup.system)}"


def _lines(scale: float) -> str:
    """Line weights inside the planes, whose unit is the millimetre."""
    thin, thick = WEIGHT / scale, 2.4 * WEIGHT / scale
    return (
        f".part path {{ stroke-width: {thin:g} }} .mv-line-hold {{ fill: none; stroke: var(--mv-hold) }}"
        f".part .mv-sheet {{ fill: none; stroke: var(--mv-push); stroke-width: {thick:g} }}"
    )
