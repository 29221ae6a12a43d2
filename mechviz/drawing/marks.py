"""SVG elements as text: the few that a drawing is made of, with every attribute escaped."""

from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape, quoteattr

from mechviz.look.measures import plain


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
