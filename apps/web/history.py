"""The way back and forth between states."""

from typing import Generic, TypeVar

T = TypeVar("T")

MOST = 200
"""States that are kept: more than anybody steps back through."""


class History(Generic[T]):
    """States in the order in which they were, and which of them is now."""

    def __init__(self, first: T, most: int = MOST) -> None:
        self._states = [first]
        self._at = 0
        self._most = most

    @property
    def now(self) -> T:
        """The state that holds."""
        return self._states[self._at]

    @property
    def can_undo(self) -> bool:
        """Whether there is an earlier state."""
        return self._at > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is a later state, left by `undo`."""
        return self._at + 1 < len(self._states)

    def put(self, state: T) -> None:
        """Take a new state; what lay ahead is gone. The state that holds already is not put twice."""
        if state == self.now:
            return
        self._states = [*self._states[: self._at + 1], state][-self._most :]
        self._at = len(self._states) - 1

    def undo(self) -> T:
        """Go one state back, if there is one, and return the state that holds then."""
        self._at = max(self._at - 1, 0)
        return self.now

    def redo(self) -> T:
        """Go one state forth, if there is one, and return the state that holds then."""
        self._at = min(self._at + 1, len(self._states) - 1)
        return self.now
