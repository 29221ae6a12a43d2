"""A drawing as anyone can read it: its elements by id, and the room that each of its texts takes."""

import re
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree as Tree

import numpy as np
from shapely import STRtree
from shapely.geometry import LineString, box

from mechviz.look import text_width

SVG = "{http://www.w3.org/2000/svg}"
BOLD = {"mv-title", "mv-heading", "mv-figure", "mv-big"}
NUMBER = re.compile(r"-?\d+\.?\d*")
SIZE = re.compile(r"\.mv-(\w+) \{ font-size: ([\d.]+)px")


@dataclass(frozen=True)
class Lettered:
    """A text with its box: left, top, right, bottom."""

    words: str
    box: tuple[float, float, float, float]
    size: float


class Drawn:
    """A parsed SVG."""

    def __init__(self, svg: str) -> None:
        self.root = Tree.fromstring(svg)
        self.by_id = {e.get("id"): e for e in self.root.iter() if e.get("id")}
        self.ids = [e.get("id") for e in self.root.iter() if e.get("id")]
        self.sizes = {f"mv-{name}": float(size) for name, size in SIZE.findall(svg)}
        self.width, self.height = (float(number) for number in self.root.get("viewBox", "").split()[2:])

    def words(self, name: str) -> str:
        """The text of an element."""
        return "".join(self.by_id[name].itertext()).replace("\N{FRACTION SLASH}", "/")

    def matrix(self, name: str) -> list[float]:
        """The six numbers of an element's transform."""
        return [float(n) for n in NUMBER.findall(self.by_id[name].get("transform", ""))]

    def texts(self) -> list[Lettered]:
        """Every text in the picture's own units: none stands inside a transform."""
        assert not any(list(e.iter(f"{SVG}text")) for e in self.root.iter() if e.get("transform"))
        return [self._lettered(element) for element in self.root.iter(f"{SVG}text")]

    def _lettered(self, element: Tree.Element) -> Lettered:
        kinds = element.get("class", "").split()
        size = next(self.sizes[kind] for kind in kinds if kind in self.sizes)
        words = "".join(element.itertext())
        width = text_width(words, size, bool(BOLD & set(kinds)))
        share = {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor", ""), 0.0)
        left, y = float(element.get("x", "nan")) - share * width, float(element.get("y", "nan"))
        return Lettered(words, (left, y - 0.72 * size, left + width, y + 0.2 * size), size)


def overlaps(texts: list[Lettered]) -> list[tuple[str, str]]:
    """Pairs of texts that stand on each other."""

    def meet(one: Lettered, other: Lettered) -> bool:
        (a, b, c, d), (e, f, g, h) = one.box, other.box
        return a < g and e < c and b < h and f < d

    return [(one.words, other.words) for one, other in combinations(texts, 2) if meet(one, other)]


def outside(drawn: Drawn) -> list[str]:
    """Texts that leave the picture."""
    return [
        text.words
        for text in drawn.texts()
        if text.box[0] < 0 or text.box[1] < 0 or text.box[2] > drawn.width or text.box[3] > drawn.height
    ]


def edges(drawn: Drawn, prefix: str = "") -> list[LineString]:
    """The edges of every part that moves, in the picture, read back from the paths and the matrices above them.

    ``prefix`` is that of one of several panels, empty where there is one picture.
    """
    found: list[LineString] = []
    for plane in (f"{prefix}plane-wheel", f"{prefix}plane-arm"):
        above = drawn.matrix(plane), _panels(drawn, plane)
        for part in drawn.by_id[plane].iter(f"{SVG}g"):
            if part.get("class", "").startswith("part ") and not part.get("data-body", "").startswith("ground"):
                own = [float(n) for n in NUMBER.findall(part.get("transform", ""))]
                for path in part.findall(f"{SVG}path"):
                    found += [_carried(ring, own, *above) for ring in path.get("d", "").split("M")[1:]]
    return found


def _panels(drawn: Drawn, plane: str) -> list[float]:
    """The matrix of the panel that a plane stands in; one that leaves it where it is where there is none."""
    holders = (e.get("transform", "") for e in drawn.root.iter(f"{SVG}g") if drawn.by_id[plane] in list(e))
    x, y, scale = next(([float(n) for n in NUMBER.findall(h)] for h in holders if "scale" in h), [0.0, 0.0, 1.0])
    return [scale, 0.0, 0.0, scale, x, y]


def _carried(ring: str, *matrices: list[float]) -> LineString:
    points = np.array([float(n) for n in NUMBER.findall(ring)]).reshape(-1, 2)
    points = np.vstack([points, points[:1]]) if ring.endswith("Z") else points
    for a, b, c, d, e, f in matrices:
        points = points @ np.array([[a, b], [c, d]]) + [e, f]
    return LineString(points)


def on_edges(drawn: Drawn, texts: list[Lettered], prefix: str = "") -> list[str]:
    """Texts that the edge of a moving part runs through."""
    tree = STRtree(edges(drawn, prefix))
    return [text.words for text in texts if len(tree.query(box(*text.box), predicate="intersects"))]
