"""The document around a desk: its head, the way to the other desks, the tools, the foot."""

from collections.abc import Mapping
from functools import cache

import panel as pn
from markupsafe import Markup
from panel.viewable import Viewable

from apps.web.assets import asset
from apps.web.desks import DESKS, Desk
from mechviz.look import css_variables, font_face_css


@cache
def frame_css() -> str:
    """Return the style sheet of the document: the type, the colours of both themes, and its own rules."""
    return "\n".join([font_face_css(), css_variables("auto", ":root"), asset("frame.css")])


def framed(desk: Desk, tools: Viewable | None, parts: Mapping[str, Viewable], content: str = "") -> pn.Template:
    """Return the page of a desk: its ``parts`` below one another, each in a box with the class ``part-NAME``.

    ``content`` is HTML of our own that stands before them.
    """
    document = pn.Template(asset("frame.html"))
    if tools is not None:
        document.add_panel("tools", tools)
    for name, part in parts.items():
        document.add_panel(name, part)
    shown = {"desk": desk.name, "slug": desk.slug, "desks": DESKS, "parts": list(parts), "tools": tools is not None}
    for name, value in shown.items():
        document.add_variable(name, value)
    document.add_variable("css", Markup(frame_css()))
    document.add_variable("content", Markup(content))
    return document
