"""Up to four brakes over one another, each with a line style and a letter of its own: what differs is seen at once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, cast
from xml.sax.saxutils import escape

from shapely.affinity import affine_transform, scale, translate
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from geometry.outlines import Outline
from geometry.pose_table import placed
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import element, group, line
from mechviz.drawing.parts import path_data
from mechviz.drawing.scene import Scene
from mechviz.look import css_variables, font_face_css, stylesheet
from mechviz.look.colours import ThemeName

WIDTH, MARGIN, ROW = 820.0, 24.0, 34.0
TALLEST = 460.0
"""Of the mechanisms, picture units."""
APART = 30.0
"""Between the two planes, mm, and between two letters, picture units."""
LETTERS = "ABCD"
DASHES = ("", "14 7", "2 7", "18 6 2 6")
"""Full, dashed, dotted, dash and dot: the brakes by their letters."""
SHOWN = frozenset(
    {"s_cam", "roller_left", "roller_right", "slack_adjuster", "pushrod", "clevis", "clevis_pin", "push_plate"}
    | {"chamber_pressure", "chamber_non_pressure"}
)
"""Parts that lever lengths, chambers and cams change."""


@dataclass(frozen=True)
class Overlaid:
    """One brake of the picture: its letter, what it is in words, and its scene."""

    letter: str
    words: str
    scene: Scene


@dataclass(frozen=True)
class Shape:
    """A part's outline where it stands, camshaft at the origin, +y up, mm."""

    outline: Outline
    geometry: BaseGeometry


def overlaid(brakes: Sequence[Overlaid], theme: ThemeName | None = "light") -> str:
    """Return the brakes in one picture, at one scale, their camshafts in one place; SVG.

    With a ``theme`` it is a file of its own; None leaves type, colours and the words of the letters to the page that it
    stands in. A brake that cannot be put together is named, and not drawn.
    """
    standing = [one for one in brakes if one.scene.stands]
    wheels = [_shapes(one.scene, "wheel") for one in standing]
    arms = [_shapes(one.scene, "arm") for one in standing]
    left = _bounds([shape for shapes in wheels for shape in shapes])
    right = _bounds([shape for shapes in arms for shape in shapes])
    times = _scale(left, right)
    top = MARGIN + 2 * ROW
    up = max(left[3], right[3])
    centre = top + times * up
    at_wheel = MARGIN - times * left[0]
    at_arm = MARGIN + times * (left[2] - left[0] + APART - right[0])
    bottom = centre - times * min(left[1], right[1]) + ROW
    marks: list[str] = []
    for n, (wheel, arm) in enumerate(zip(wheels, arms, strict=True)):
        dash = DASHES[LETTERS.index(standing[n].letter)]
        title = f"{standing[n].letter}: {standing[n].words}"
        both = _drawn(wheel, at_wheel, centre, times, dash, 2.6) + _drawn(arm, at_arm, centre, times, dash, 2.6)
        marks.append(group([both], title))
    marks.append(_letters(standing, arms, at_arm, centre, times, top - ROW))
    marks.append(line([(at_wheel - 40, centre), (at_arm + 60, centre)], "mv-centre"))
    legend, height = ("", bottom) if theme is None else _legend(brakes, bottom)
    words = "; ".join(f"{one.letter}: {one.words}" for one in brakes)
    return _document("".join(marks) + legend, words, height, theme)


def _shapes(scene: Scene, plane: str) -> list[Shape]:
    return [_stood(scene, one) for one in scene.outlines if one.plane == plane and one.name in SHOWN]


def _stood(scene: Scene, outline: Outline) -> Shape:
    """A part where it stands, seen from the chamber's side: the arm plane is mirrored, as in every picture."""
    shape = placed(outline, scene.table, 0)
    if outline.plane == "wheel":
        return Shape(outline, translate(shape, 0.0, -scene.brake.shoe.cam_distance))
    return Shape(outline, scale(shape, -1.0, 1.0, origin=(0.0, 0.0)))


def _bounds(shapes: Sequence[Shape]) -> tuple[float, float, float, float]:
    return unary_union([shape.geometry.envelope for shape in shapes]).bounds if shapes else (0.0, 0.0, 1.0, 1.0)


def _scale(left: Sequence[float], right: Sequence[float]) -> float:
    wide = left[2] - left[0] + APART + right[2] - right[0]
    high = max(left[3], right[3]) - min(left[1], right[1])
    return min((WIDTH - 2 * MARGIN) / wide, TALLEST / high)


def _drawn(shapes: Sequence[Shape], x: float, y: float, times: float, dash: str, weight: float) -> str:
    found = ""
    for shape in shapes:
        moved = affine_transform(shape.geometry, [times, 0.0, 0.0, -times, x, y])
        own = replace(shape.outline, geometry=cast(Any, moved))
        found += element(
            "path", d=path_data(own), fill="none", stroke=f"var(--mv-{shape.outline.verb})", stroke_width=weight,
            stroke_dasharray=dash or None, stroke_linecap="round" if dash else None, stroke_linejoin="round",
        )  # fmt: skip
    return found


def _letters(
    brakes: Sequence[Overlaid], arms: Sequence[Sequence[Shape]], x: float, y: float, times: float, row: float
) -> str:
    """Each brake's letter above its clevis pin, moved apart where two would touch, with a line to the pin."""
    pins = [next(s for s in shapes if s.outline.name == "clevis_pin").geometry.centroid for shapes in arms]
    places = [(x + times * pin.x, y - times * pin.y) for pin in pins]
    order = sorted(range(len(places)), key=lambda n: places[n][0])
    middle = sum(places[n][0] for n in order) / max(len(order), 1)
    found = ""
    for rank, n in enumerate(order):
        at = middle + APART * (rank - (len(order) - 1) / 2)
        found += line(
            [(at, row + 8), places[n]], "mv-leader", stroke_dasharray=DASHES[LETTERS.index(brakes[n].letter)] or None
        )
        found += element("circle", cx=round(places[n][0], 1), cy=round(places[n][1], 1), r=4, fill="var(--mv-ink)")
        found += Text(brakes[n].letter, at, row, "figure", "middle").svg()
    return found


def _legend(brakes: Sequence[Overlaid], top: float) -> tuple[str, float]:
    found = ""
    for row, one in enumerate(brakes):
        y, n = top + ROW * (row + 0.5), LETTERS.index(one.letter)
        found += element(
            "path", d=f"M{MARGIN} {y:.1f}h90", fill="none", stroke="var(--mv-ink)", stroke_width=2.6,
            stroke_dasharray=DASHES[n] or None, stroke_linecap="round" if DASHES[n] else None,
        )  # fmt: skip
        gone = "" if one.scene.stands else " (cannot be put together: not drawn)"
        found += Text(f"{one.letter}   {one.words}{gone}", MARGIN + 106, y + 7, "label").svg()
    return found, top + ROW * len(brakes) + MARGIN


def _document(inside: str, words: str, height: float, theme: ThemeName | None) -> str:
    css = stylesheet(900.0) + "\n.mv-leader { fill: none; stroke: var(--mv-ink); stroke-width: 1.2 }"
    alone = "" if theme is None else "\n".join([font_face_css(), css_variables(theme, ".mv")])
    paper = "" if theme is None else f'<rect class="mv-paper" width="{WIDTH:g}" height="{height:.0f}"/>'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="mv" viewBox="0 0 {WIDTH:g} {height:.0f}" role="img">'
        f"<title>Linkages and cams over one another, applied</title><desc>{escape(words)}</desc>"
        f"<style>{alone}\n{css}</style>{paper}{inside}</svg>"
    )
