"""One visit: the setup that it works on, and the address that brings it back."""

import panel as pn
import param
from panel.io.location import Location

from apps.web.address import own_of, query_of, text_of
from apps.web.draft import Draft


class Session(param.Parameterized):
    """A draft and what a desk keeps in the address; both are written there as they change.

    It holds the objects of its own visit only, so that nothing outlives it.
    """

    own = param.Dict(default={}, doc='What the desk keeps in the address: ``{"_step": "3"}``.')

    def __init__(self, first: str, location: Location | None = None) -> None:
        """Begin with the setup in the address, or with the text ``first`` where none stands there."""
        query = location.search or "" if location else ""
        super().__init__(own=own_of(query))
        self.draft = Draft(text_of(query) or first)
        self._location = location
        self.param.watch(self._address, "own")
        self.draft.param.watch(self._address, "text")

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

    def _address(self, _: object) -> None:
        if self._location is not None:
            self._location.search = self.query


def visiting(first: str) -> Session:
    """Return the session of the visit that Panel is serving."""
    return Session(first, pn.state.location)
