"""What the bar works on at the designer's desk: a setup's file or a study's, and one way back through both."""

from collections.abc import Callable
from typing import Literal

import param

from apps.web.designer.desk import Desk
from apps.web.designer.state import Step
from apps.web.draft import Refused
from geometry.errors import MechvizError
from geometry.setup.text import decode
from mechviz.study.file import is_study

What = Literal["setup", "study"]


class Work(param.Parameterized):
    """The desk as a document, with the interface of a draft: a file that is opened may be a study's as well.

    The setup and the study have a history each; ``_done`` remembers in which order they were changed, and what was
    changed by one act together.
    """

    text = param.String(doc="The setup file as it would be saved.")
    refused = param.ClassSelector(class_=Refused, allow_None=True, doc="What was to be opened last and could not be.")
    can_undo = param.Boolean(default=False)
    can_redo = param.Boolean(default=False)

    def __init__(self, made: Desk) -> None:
        super().__init__(text=made.session.draft.text)
        self._desk, self._draft = made, made.session.draft
        self._done, self._undone = list[list[What]](), list[list[What]]()
        self._going = False
        self._draft.param.watch(self._of_setup, "text")
        self._draft.param.watch(self._refused, "refused")
        made.state.stepped = self._stepped
        self.param.watch(self._dismissed, "refused")

    def value(self, key: str) -> str:
        """Return what a saved file is named after."""
        return self._draft.value(key)

    def open(self, data: bytes | str, name: str) -> bool:
        """Take a study's file, or a setup's, in place of what is there; say whether it could be used."""
        try:
            text = data if isinstance(data, str) else decode(data, name)
        except MechvizError:
            return self._draft.open(data, name)
        if not is_study(text):
            return self._draft.open(text, name)
        try:
            self._as_one(lambda: self._desk.open_study(text))
        except MechvizError as error:
            system = getattr(error, "system", None) or self._draft.system
            self.refused = Refused(name, tuple(fault.text(system) for fault in error.faults))
            return False
        self.refused = None
        return True

    def start_from(self, base: str) -> None:
        """Begin anew with a built-in setup."""
        self._draft.start_from(base)

    def undo(self) -> None:
        """Take the last change back, of the study or of the setup."""
        self._go(self._done, self._undone, "undo")

    def redo(self) -> None:
        """Make the change again that was taken back."""
        self._go(self._undone, self._done, "redo")

    def _go(self, here: list[list[What]], there: list[list[What]], way: Literal["undo", "redo"]) -> None:
        if not here:
            return
        step = here.pop()
        there.append(step)
        self._going = True
        for what in reversed(step) if way == "undo" else step:
            if what == "setup":
                getattr(self._draft, way)()
            else:
                getattr(self._desk.state, way)()
                self._desk.study_changed()
        self._going = False
        self._follow()

    def _as_one(self, act: Callable[[], None]) -> None:
        """Have everything that an act changes undone as one."""
        before = len(self._done)
        act()
        self._done[before:] = [[what for step in self._done[before:] for what in step]] if self._done[before:] else []
        self._follow()

    def _changed(self, what: What) -> None:
        """Something was changed, not taken back."""
        if not self._going:
            self._done.append([what])
            self._undone.clear()
        self._follow()

    def _stepped(self, step: Step) -> None:
        """The study was changed, or its own buttons went a step back or forth."""
        if step == "change":
            self._changed("study")
        elif not self._going:
            here, there = (self._done, self._undone) if step == "undo" else (self._undone, self._done)
            last = next((n for n in reversed(range(len(here))) if "study" in here[n]), None)
            if last is not None:
                there.append(["study"])
                here[last] = [what for what in here[last] if what != "study"]
                here[:] = [one for one in here if one]
            self._follow()

    def _follow(self, *_: object) -> None:
        self.param.update(text=self._draft.text, can_undo=bool(self._done), can_redo=bool(self._undone))

    def _of_setup(self, _: object) -> None:
        self._changed("setup")

    def _refused(self, _: object) -> None:
        self.refused = self._draft.refused

    def _dismissed(self, _: object) -> None:
        if self.refused is None:
            self._draft.refused = None
