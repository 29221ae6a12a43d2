"""The point's brake, moving: the whole of it where the point stands, a light answer while a slider moves it."""

from collections import OrderedDict
from collections.abc import Callable
from typing import Any

import param

from apps.web.brake_view import BrakeView
from apps.web.brakes import Brakes
from apps.web.session import Session
from geometry.errors import MechvizError
from geometry.setup import read_setup_text
from mechviz.page.light import Standing

MOST = 8
"""Brakes whose sources are remembered: the one that is drawn is among the last."""


class PointView(BrakeView):
    """A session's brake, which follows a slider at once."""

    lit = param.Boolean(default=False, doc="Whether it moves as another brake than the one that was drawn.")

    def __init__(self, session: Session, brakes: Brakes, **given: Any) -> None:
        self._texts = OrderedDict[str, str]()
        self._standing: tuple[str, Standing] | None = None
        super().__init__(session, brakes, extent="moving", **given)
        self.answered: Callable[[Any], None] = self._send_msg
        """Sends what moves the picture."""

    def follow(self, text: str) -> None:
        """Move at once as the brake of a setup's text, where that can be; the picture stays as it is where not."""
        standing = self._drawn()
        if standing is None:
            return
        try:
            patch = standing.patch(read_setup_text(text, "setup"))
        except MechvizError:
            return
        self.lit = True
        self.answered({"of": self.loaded, "patch": patch})

    def _follow(self, _: object = None) -> None:
        super()._follow(_)
        if self.source:
            self._texts[self.source] = self._session.draft.text
            while len(self._texts) > MOST:
                self._texts.popitem(last=False)

    def rest(self) -> None:
        """Stand as the brake that was drawn, where the point has come back to it."""
        if self.lit and self.source == self.loaded:
            self.answered({"of": self.loaded, "patch": None})
        self.lit = False

    def _drawn(self) -> Standing | None:
        """The brake that the browser has drawn."""
        if self._standing is None or self._standing[0] != self.loaded:
            text = self._texts.get(self.loaded)
            self._standing = None if text is None else (self.loaded, Standing(read_setup_text(text, "setup")))
        return self._standing[1] if self._standing else None
