"""A setup while somebody works on it: its text, what it reads as, what is wrong with it, and the way back."""

from dataclasses import dataclass

import param

from apps.web.history import History
from apps.web.setup_text import literal, started, values_of, with_value, without
from geometry.errors import Fault, MechvizError
from geometry.quantity import System
from geometry.setup import Setup, builtin_names, builtin_text, read_setup_text
from geometry.setup.text import decode


@dataclass(frozen=True)
class Refused:
    """What could not be opened: its name, and why, a line for each fault."""

    name: str
    lines: tuple[str, ...]


class Draft(param.Parameterized):
    """One setup under way. Every change is a step that can be undone, also one that cannot be used yet."""

    text = param.String(doc="The setup file as it would be saved.")
    setup = param.ClassSelector(class_=Setup, allow_None=True, doc="What it reads as; None where it cannot be used.")
    faults = param.List(default=[], item_type=Fault, doc="What is wrong with it.")
    refused = param.ClassSelector(class_=Refused, allow_None=True, doc="What was to be opened last and could not be.")
    system = param.Selector(default="inch", objects=["inch", "metric"], doc="The units of the file.")
    can_undo = param.Boolean(default=False)
    can_redo = param.Boolean(default=False)

    def __init__(self, text: str = "") -> None:
        super().__init__()
        self._history = History(text or started(builtin_names()[0]))
        self._hold()

    @classmethod
    def of_builtin(cls, name: str) -> "Draft":
        """Return a draft of a built-in setup, as its file states it."""
        return cls(builtin_text(name))

    def value(self, key: str) -> str:
        """Return what stands at a dotted key, as text to be put in a field; empty where nothing does."""
        value = values_of(self.text).get(key, "")
        return value if isinstance(value, str) else literal(value)

    def state(self, key: str, value: object) -> None:
        """Write a value at a dotted key; an empty text takes the key out."""
        self.state_all({key: value})

    def state_all(self, values: dict[str, object]) -> None:
        """Write several values as one step. What makes a file that cannot be read is said in ``refused``."""
        text = self.text
        for key, value in values.items():
            text = without(text, key) if value == "" else with_value(text, key, value)
        try:
            values_of(text)
        except MechvizError as error:
            self.refused = Refused(", ".join(values), _lines(error))
        else:
            self._put(text)

    def open(self, data: bytes | str, name: str) -> bool:
        """Take the text of a file in place of the setup, and say whether it could be used.

        What cannot be read or used is said in ``refused``, and the draft stays as it is.
        """
        try:
            text = data if isinstance(data, str) else decode(data, name)
            read_setup_text(text, name, judging=True)
        except MechvizError as error:
            self.refused = Refused(name, _lines(error))
            return False
        self.refused = None
        self._put(text)
        return True

    def replace(self, text: str) -> None:
        """Take a text in place of the setup, usable or not: what is wrong with it is said in ``faults``."""
        self._put(text)

    def start_from(self, base: str) -> None:
        """Begin anew with a built-in setup."""
        self._put(builtin_text(base))

    def undo(self) -> None:
        """Take the last change back."""
        self._history.undo()
        self._hold()

    def redo(self) -> None:
        """Make the change again that was taken back."""
        self._history.redo()
        self._hold()

    def _put(self, text: str) -> None:
        self._history.put(text)
        self._hold()

    def _hold(self) -> None:
        """Take over the state that holds now, in one go, so that nobody sees half of it."""
        text = self._history.now
        setup, faults, system = _read(text)
        self.param.update(
            text=text,
            setup=setup,
            faults=list(faults),
            system=system or self.system,
            can_undo=self._history.can_undo,
            can_redo=self._history.can_redo,
        )


def _read(text: str) -> tuple[Setup | None, tuple[Fault, ...], System | None]:
    try:
        setup = read_setup_text(text, "setup", judging=True)
    except MechvizError as error:
        return None, error.faults, getattr(error, "system", None)
    return setup, setup.beyond, setup.system


def _lines(error: MechvizError) -> tuple[str, ...]:
    system = getattr(error, "system", None) or "inch"
    return tuple(fault.text(system) for fault in error.faults)
