"""A visit as its browser has it: the address and its history, and whether the server is there."""

from typing import Any, ClassVar

import param
from panel.custom import JSComponent

from apps.web.address import LONGEST
from apps.web.assets import script, sheets
from apps.web.session import Session


class Visit(JSComponent):
    """Writes a session's state into the address, follows the address back and forward, says when the server is gone.

    What only follows from work is written over; a change of place, one of the session's ``places``, is an entry of
    the browser's history of its own.
    """

    query = param.String(default=None, allow_None=True, doc="The address's query; None while it stands as it was.")
    places = param.List(default=[], item_type=str, doc="Parameters that say where in the desk somebody is.")
    heard = param.Integer(default=0, doc="The number of the last way back or forward that was followed.")

    _esm = script("visit.js")
    _stylesheets: ClassVar[list[str]] = sheets("controls.css", "visit.css")

    def __init__(self, session: Session) -> None:
        super().__init__(
            sizing_mode="stretch_width",
            places=list(session.places),
            query=session.query if session.changed else None,
        )
        self._session = session
        session.param.watch(self._follow, "own")
        session.draft.param.watch(self._follow, "text")

    def _follow(self, _: object) -> None:
        self.query = self._session.query

    def _handle_msg(self, data: Any) -> None:
        """Follow the address; what is not known is nothing."""
        match data:
            case {"went": str(query), "n": int(number)} if len(query) <= 2 * LONGEST:
                self._session.go(query)
                self.param.update(query=self._session.query, heard=number)
            case _:
                pass
