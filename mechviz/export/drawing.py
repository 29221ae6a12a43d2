"""What an export has to know about an SVG: its size, what it says it is, and the characters in it."""

import re
from dataclasses import dataclass
from xml.etree import ElementTree as Tree

from mechviz.export.errors import refused

_SVG = "{http://www.w3.org/2000/svg}"
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_SPACE = re.compile(r"\s+")


@dataclass(frozen=True)
class Drawing:
    """Size in the SVG's own units; title, description and all its text."""

    width: float
    height: float
    title: str
    description: str
    text: str


def read_drawing(svg: str) -> Drawing:
    """Read an SVG. Raises `ExportError` for one that is not well formed or does not say its size."""
    if "<!DOCTYPE" in svg or "<!ENTITY" in svg:
        raise refused("svg", "declares entities", "leave the document type out")
    try:
        root = Tree.fromstring(svg)
    except Tree.ParseError as error:
        raise refused("svg", f"is not well formed ({error})", "escape the text in it") from None
    if root.tag != f"{_SVG}svg":
        raise refused("svg", "is no SVG", "start it with <svg xmlns=...>", root.tag)
    width, height = _size(root)
    return Drawing(width, height, _said(root, "title"), _said(root, "desc"), _written(root))


def _size(root: Tree.Element) -> tuple[float, float]:
    """The size of the view box, or of width and height where there is none."""
    box = [float(number) for number in _NUMBER.findall(root.get("viewBox", ""))]
    plain = [float(number) for name in ("width", "height") for number in _NUMBER.findall(root.get(name, ""))[:1]]
    size = box[2:] if len(box) == 4 else plain
    if len(size) != 2 or min(size) <= 0:
        raise refused("svg", "does not say its size", "give it a viewBox")
    return size[0], size[1]


def _said(root: Tree.Element, name: str) -> str:
    """The picture's own title or description."""
    return _SPACE.sub(" ", root.findtext(f"{_SVG}{name}", "")).strip()


def _written(root: Tree.Element) -> str:
    """All text that is drawn."""
    return "".join("".join(element.itertext()) for element in root.iter(f"{_SVG}text"))
