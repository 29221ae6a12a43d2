"""The parts themselves: one group a part, in its own frame, moved by its body's matrix from the pose table."""

from collections.abc import Iterable, Sequence

from shapely import get_parts
from shapely.geometry import LineString, Polygon

from geometry.outlines import Outline
from mechviz.drawing.layout import Layout
from mechviz.drawing.marks import element, group, matrix
from mechviz.drawing.scene import Scene
from mechviz.look.measures import plain

SECTION = frozenset({"drum", "chamber_pressure", "chamber_non_pressure", "clamp_ring"})
"""Parts that the picture cuts through: they wear the section hatch."""
STILL = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def planes(scene: Scene, layout: Layout) -> str:
    """Return both planes with all their parts, back to front."""
    clip = element("circle", cx=0, cy=0, r=float(scene.contact.radius[0]))
    clips = element("defs", element("clipPath", clip, id="clip-drum"))
    wheel = _plane(scene, "wheel", layout.wheel_matrix, "Wheel plane, seen from the chamber's side")
    arm = _plane(scene, "arm", layout.arm_matrix, "Arm plane: chamber, pushrod and slack adjuster")
    return clips + wheel + arm


def _plane(scene: Scene, plane: str, values: Sequence[float], title: str) -> str:
    inside = (_part(scene, outline) for outline in scene.outlines if outline.plane == plane)
    return group(inside, title, id=f"plane-{plane}", class_="plane", transform=matrix(values))


def _part(scene: Scene, outline: Outline) -> str:
    name = outline.name.replace("_", "-")
    body = outline.body
    row = STILL if body == "deforms" else scene.table.matrices[body][0]
    inside = element("path", d=path_data(outline), class_=_class(outline), id=_deform_id(outline, name))
    clipped = "url(#clip-drum)" if outline.verb == "rub" else None
    drawn = group([inside], outline.title, outline.does, id=f"part-{name}", class_=f"part verb-{outline.verb}",
                  data_body=body, transform=matrix(row))  # fmt: skip
    return group([drawn], clip_path=clipped) if clipped else drawn


def _deform_id(outline: Outline, name: str) -> str | None:
    return f"deform-{name}" if outline.body == "deforms" else None


def _class(outline: Outline) -> str:
    if outline.body == "deforms":
        return f"mv-line-{outline.verb}" + (" mv-sheet" if outline.name == "diaphragm" else "")
    return "mv-section" if outline.name in SECTION else f"mv-{outline.verb}"


def path_data(outline: Outline) -> str:
    """Return an outline as SVG path data, mm to a hundredth; holes are cut by the even-odd rule."""
    return "".join(_ring_data(piece) for piece in get_parts(outline.geometry))


def _ring_data(piece: object) -> str:
    if isinstance(piece, Polygon):
        rings: Iterable[LineString] = (piece.exterior, *piece.interiors)
        return "".join(f"M{_points(ring.coords[:-1])}Z" for ring in rings)
    return f"M{_points(piece.coords)}" if isinstance(piece, LineString) else ""


def _points(coordinates: Iterable[Sequence[float]]) -> str:
    return "L".join(f"{plain(round(x, 2))} {plain(round(y, 2))}" for x, y in coordinates)
