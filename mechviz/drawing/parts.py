"""The parts themselves: one group a part, in its own frame, moved by its body's matrix from the pose table."""

from collections.abc import Iterable

from shapely import get_coordinates, get_parts
from shapely.geometry import LineString, Polygon

from geometry.outlines import Outline
from mechviz.drawing.air import air, parking_air
from mechviz.drawing.layout import Layout
from mechviz.drawing.marks import element, group, matrix
from mechviz.drawing.scene import TOUCH, Scene
from mechviz.look.measures import path_points

SECTION = frozenset({"drum", "chamber_pressure", "chamber_non_pressure", "clamp_ring", "parking_housing"})
"""Parts that the picture cuts through: they wear the section hatch."""
LINES = {"diaphragm": " mv-sheet", "parking_diaphragm": " mv-sheet", "power_spring": " power-spring"}
"""Parts that are a line, which some class of their own makes thicker."""
STILL = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def planes(scene: Scene, layout: Layout, prefix: str = "", *, still: bool = False) -> str:
    """Return both planes with all their parts, back to front.

    ``prefix`` comes before every id, where several pictures share a page. ``still`` adds the air in chamber and
    parking section and the heat of the drum, which a moving picture draws for itself.
    """
    bore = f"{prefix}clip-drum"
    clip = element("circle", cx=0, cy=0, r=float(scene.contact.radius[0]))
    clips = element("defs", element("clipPath", clip, id=bore))
    under = (
        air(scene.outlines, scene.brake.linkage.axis_offset, scene.state.pressure)
        if still and scene.moved and not scene.hand
        else ""
    )
    under += parking_air(scene.brake, scene.outlines) if still else ""
    heat = _heat(scene) if still and scene.hot else ""

    def plane(name: str, title: str, first: str) -> str:
        parts = (part(scene, o, prefix, bore, heat) for o in scene.outlines if o.plane == name)
        return group([first, *parts], title, id=f"{prefix}plane-{name}", class_="plane",
                     transform=matrix(layout.matrix(name)))  # fmt: skip

    wheel = plane("wheel", "Wheel plane, seen from the chamber's side", "")
    return clips + wheel + plane("arm", "Arm plane: chamber, pushrod and slack adjuster", under)


def part(scene: Scene, outline: Outline, prefix: str, bore: str, heat: str) -> str:
    """Return one part's group; ``bore`` names the clip of what rubs, ``heat`` lies over the drum."""
    name = outline.name.replace("_", "-")
    body = outline.body
    row = STILL if body == "deforms" else scene.table.matrices[body][0]
    own = f"{prefix}deform-{name}" if body == "deforms" else None
    inside = element("path", d=path_data(outline), class_=_class(scene, outline), id=own)
    drawn = group([inside, heat if name == "drum" else ""], outline.title, outline.does, id=f"{prefix}part-{name}",
                  class_=f"part verb-{outline.verb}", data_body=body, transform=matrix(row))  # fmt: skip
    return group([drawn], clip_path=f"url(#{bore})") if outline.verb == "rub" else drawn


HOTTEST = 800.0
"""K above a cold drum at which its colour is full."""


def _heat(scene: Scene) -> str:
    """The drum once more in the colour of rubbing, the fuller the hotter it is."""
    drum = next(outline for outline in scene.outlines if outline.name == "drum")
    share = min((float(scene.condition.arrays[2]) - 294.0) / HOTTEST, 1.0)
    return element("path", d=path_data(drum), class_="heat", opacity=round(share, 3), aria_hidden="true")


def _class(scene: Scene, outline: Outline) -> str:
    if outline.body == "deforms" or outline.name in LINES:
        return f"mv-line-{outline.verb}{LINES.get(outline.name, '')}"
    if outline.verb == "rub":
        shoe = scene.poses.left if outline.body == "shoe_left" else scene.poses.right
        return "mv-rub mv-rub-touch" if float(shoe.gap_least[0]) <= TOUCH else "mv-rub"
    return "mv-section" if outline.name in SECTION else f"mv-{outline.verb}"


def path_data(outline: Outline) -> str:
    """Return an outline as SVG path data, mm to a hundredth; holes are cut by the even-odd rule."""
    return "".join(_ring_data(piece) for piece in get_parts(outline.geometry))


def _ring_data(piece: object) -> str:
    if isinstance(piece, Polygon):
        rings: Iterable[LineString] = (piece.exterior, *piece.interiors)
        return "".join(f"M{path_points(get_coordinates(ring)[:-1])}Z" for ring in rings)
    return f"M{path_points(get_coordinates(piece))}" if isinstance(piece, LineString) else ""
