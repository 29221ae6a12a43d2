"""A part of the desk whose HTML is written here: what is pressed or set comes back as messages."""

import base64
from collections.abc import Callable, Mapping
from typing import Any, ClassVar

import param
from panel.custom import JSComponent

from apps.web.assets import script, sheets

PART = 768 * 1024
"""Bytes of a file that go in one message."""

Heard = Callable[[str, Mapping[str, Any]], None]


class Sheet(JSComponent):
    """HTML whose buttons and fields tell the desk what was done: `heard` gets the act and what belongs to it."""

    html = param.String(doc="What it shows.")
    tells_theme = param.Boolean(default=False, doc="Whether it says which theme the page has.")

    _esm = script("sheet.js")
    _stylesheets: ClassVar[list[str]] = sheets("controls.css", "designer.css")

    def __init__(self, heard: Heard, **given: Any) -> None:
        super().__init__(sizing_mode="stretch_width", **given)
        self._heard = heard

    def _handle_msg(self, data: Any) -> None:
        match data:
            case {"act": str(act), "place": int() | float() | None, "key": str() | None}:
                self._heard(act, data)
            case _:
                pass

    def say(self, words: str) -> None:
        """Have words read out."""
        self._send_msg({"say": words})

    def focus(self, selector: str) -> None:
        """Put the focus on an element of it."""
        self._send_msg({"focus": selector})

    def focus_lost(self, selector: str) -> None:
        """Put the focus on an element of it where what had it is gone, as a button that was pressed."""
        self._send_msg({"focus": selector, "lost": True})

    def save_picture(self, plot: str, name: str, kind: str) -> None:
        """Have a plot saved as it stands."""
        self._send_msg({"picture": plot, "name": name, "kind": kind})

    def hand_out(self, data: bytes, name: str, kind: str, later: Callable[[Callable[[], None]], None]) -> None:
        """Have bytes saved as a file; each part goes in a turn of its own, so that others get theirs meanwhile."""

        def send(start: int) -> None:
            part = base64.b64encode(data[start : start + PART]).decode("ascii")
            last = start + PART >= len(data)
            self._send_msg({"file": name, "type": kind, "part": part, "last": last})
            if not last:
                later(lambda: send(start + PART))

        send(0)
