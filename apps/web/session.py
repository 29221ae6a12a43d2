"""One visit: the setup that it works on, and the address that brings it back."""

import panel as pn
import param
from panel.io.location import Location

from apps.web.address import own_of, query_of, text_of
from apps.web.draft import Draft
from apps.web.setup_text import values_of


class Session(param.Parameterized):
    """A draft and what a desk keeps in the address; `Visit` writes both there as they change.

    A desk that follows the browser's way back and forward names in ``places`` which parameters say where in it
    somebody is, and watches ``went``. It holds the objects of its own visit only, so that nothing outlives it.
    """

    own = param.Dict(default={}, doc='What the desk keeps in the address: ``{"_step": "3"}``.')
    went = param.Integer(default=0, doc="How often the user went back or forward to another state.")

    def __init__(self, first: str, location: Location | None = None) -> None:
        """Begin with the setup in the address, or with the text ``first`` where none stands there."""
        query = location.search or "" if location else ""
        super().__init__(own=own_of(query))
        self._first = first
        self.draft = Draft(text_of(query) or first)
        self.places: tuple[str, ...] = ()
        self._begun = self.query

    def keep(self, **own: str | None) -> None:
        """Keep a parameter of the desk's own in the address: ``keep(step="3")``; None takes it out."""
        given = {f"_{name}": value for name, value in own.items()}
        left = {name: value for name, value in self.own.items() if name not in given}
        self.own = left | {name: value for name, value in given.items() if value is not None}

    def kept(self, name: str) -> str | None:
        """Return what was kept under a name, None if nothing was."""
        return self.own.get(f"_{name}")

    @property
    def query(self) -> str:
        """The address's query as it should stand."""
        return query_of(self.draft.text, self.own)

    @property
    def changed(self) -> bool:
        """Whether the state is another one than the visit began with."""
        return self.query != self._begun

    def go(self, query: str) -> None:
        """Take the state of an address to which the user went. A setup too long for any address stays as it is."""
        text = text_of(query) or (self._first if query_of(self.draft.text, {}) else self.draft.text)
        if values_of(text) != values_of(self.draft.text):
            self.draft.replace(text)
        self.own = own_of(query)
        self.went += 1


def visiting(first: str) -> Session:
    """Return the session of the visit that Panel is serving."""
    return Session(first, pn.state.location)
