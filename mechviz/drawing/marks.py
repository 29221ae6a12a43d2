"""SVG elements as text: the few that a drawing is made of, with every attribute escaped."""

from collections.abc import Iterable, Sequence
from math import cos, pi, sin
from xml.sax.saxutils import escape, quoteattr

from mechviz.look.measures import path_points, plain

Point = tuple[float, float]


def element(name: str, inside: str = "", **attributes: str | float | None) -> str:
    """Return an element; an underscore in an attribute's name is a hyphen, a trailing one is dropped."""
    pairs = [(key.rstrip("_").replace("_", "-"), value) for key, value in attributes.items() if value is not None]
    words = "".join(f" {key}={quoteattr(_value(value))}" for key, value in pairs)
    return f"<{name}{words}>{inside}</{name}>" if inside else f"<{name}{words}/>"


def _value(value: object) -> str:
    return plain(value) if isinstance(value, int | float) else str(value)


def group(inside: Iterable[str], title: str = "", does: str = "", **attributes: str | None) -> str:
    """Return a <g> with what assistive technology reads out: its title and what it does."""
    head = element("title", escape(title)) if title else ""
    head += element("desc", escape(does)) if does else ""
    return element("g", head + "".join(inside), **attributes)


def matrix(values: Sequence[float]) -> str:
    """Return a transform from six numbers, to six digits after the point."""
    return "matrix(" + " ".join(f"{value:.6f}".rstrip("0").rstrip(".") for value in values) + ")"


def line(points: Iterable[Point], class_: str, closed: bool = False, **attributes: str | float | None) -> str:
    """Return a <path> through points, to a hundredth of a unit."""
    return element("path", "", d=through(points, closed), class_=class_, **attributes)


def through(points: Iterable[Point], closed: bool = False) -> str:
    """Return path data through points.

    >>> through([(0, 0), (1.234, 5)], closed=True)
    'M0 0L1.23 5Z'
    """
    return f"M{path_points(list(points))}{'Z' if closed else ''}"


def on_circle(centre: Point, radius: float, angle: float) -> Point:
    """Return the point at an angle (rad, counter-clockwise as seen, from the right)."""
    return centre[0] + radius * cos(angle), centre[1] - radius * sin(angle)


def arc(centre: Point, radius: float, start: float, end: float) -> str:
    """Return path data of an arc from one angle to another (rad, counter-clockwise as seen, from the right)."""
    (x1, y1), (x2, y2) = on_circle(centre, radius, start), on_circle(centre, radius, end)
    large, sweep, r = int(abs(end - start) > pi), int(end < start), plain(round(radius, 2))
    ends = [plain(round(v, 2)) for v in (x1, y1, x2, y2)]
    return f"M{ends[0]} {ends[1]}A{r} {r} 0 {large} {sweep} {ends[2]} {ends[3]}"
