"""What the instructor does: choose a lesson, step through it, write one and see it live. No server is needed for it."""

import param

from apps.web.history import History
from apps.web.instructor.shelf import Shelf
from geometry.errors import MechvizError
from mechviz.lessons import read_lesson, starter_text

LONGEST_LOOK = 400


class Teaching(param.Parameterized):
    """The desk's state. ``playing`` is the text that is played: the last one without a fault while somebody writes."""

    chosen = param.String(default="", doc="The lesson's name; empty for the brake by hand, or a new one.")
    look = param.String(default="", doc="The step, as the lesson's page has it in its address.")
    writing = param.Boolean(default=False, doc="Whether the lesson's text stands beside it.")
    text = param.String(default="", doc="The lesson as it stands in the editor, or as it was chosen.")
    playing = param.String(default="", doc="The lesson's text that is played; empty where none is.")
    faults = param.List(default=[], item_type=str, doc="What is wrong with the text, a line for each.")
    saved = param.String(default="", doc="The text as it lies on the shelf.")
    said = param.String(default="", doc="What happened last, in words.")
    elsewhere = param.Boolean(default=False, doc="Whether another program wrote the file while something is unsaved.")

    def __init__(self, shelf: Shelf, chosen: str = "", look: str = "") -> None:
        super().__init__()
        self.shelf = shelf
        self._history = History("")
        self._seen = 0.0
        self._shown = ""
        if chosen:
            self.choose(chosen, look)

    @property
    def listed(self) -> list[dict[str, object]]:
        """The lessons to choose from."""
        return [vars(lesson) for lesson in self.shelf.listed()]

    @property
    def is_own(self) -> bool:
        """Whether the lesson that is open is the instructor's own."""
        return bool(self.chosen) and self.shelf.is_own(self.chosen)

    @property
    def unsaved(self) -> bool:
        """Whether something was written that lies nowhere yet."""
        return self.text != self.saved

    def choose(self, name: str, look: str = "") -> None:
        """Open a lesson at its first step, or as ``look`` says; one that there is not is said."""
        try:
            text = self.shelf.text(name)
        except MechvizError as error:
            self.said = str(error.faults[0])
            return
        self._seen = self.shelf.changed(name)
        self._history = History(text)
        faults = self._faults(text, name)
        self._shown = ""
        self.param.update(
            chosen=name,
            look=look[:LONGEST_LOOK],
            writing=False,
            saved=text,
            said="",
            elsewhere=False,
            text=text,
            faults=faults,
            playing="" if faults else text,
        )

    def leave(self) -> None:
        """Back to the list."""
        self._shown = ""
        self.param.update(
            chosen="", look="", writing=False, text="", playing="", faults=[], saved="", said="", elsewhere=False
        )

    def begin(self) -> None:
        """Start a lesson of one's own."""
        self.leave()
        self._history = History(starter_text())
        self.writing = True
        self._take(starter_text())

    def edit(self) -> None:
        """Put the text beside the lesson, or away again; a shipped one is saved as a copy."""
        self.writing = not self.writing

    def write(self, text: str) -> None:
        """Take what stands in the editor. What has a fault is kept and said; the lesson before is played on."""
        self._history.put(text)
        self._take(text)

    def open(self, text: str, name: str) -> None:
        """Take a lesson's file from elsewhere into the editor."""
        self.leave()
        self._history = History(text)
        self.param.update(writing=True, said=f"{name} is open, and not saved here yet.")
        self._take(text)

    def undo(self) -> None:
        """Take the last change of the text back."""
        self._take(self._history.undo())

    def redo(self) -> None:
        """Make the change again that was taken back."""
        self._take(self._history.redo())

    def save(self) -> None:
        """Put the text on the shelf: over the own lesson that is open, else under a new name.

        What another program wrote there meanwhile is not written over before somebody has said so: `keep_mine`.
        """
        self.look_again()
        if not self.elsewhere:
            self.keep_mine()

    def keep_mine(self) -> None:
        """Put the text on the shelf, over whatever another program has written there."""
        try:
            name = self.shelf.save(self.text, self.chosen)
        except MechvizError as error:
            self.said = str(error.faults[0])
            return
        self._seen = self.shelf.changed(name)
        said = f"Saved as {name}.md in {self.shelf.folder}"
        self.param.update(chosen=name, saved=self.text, said=said, elsewhere=False)

    def take_theirs(self) -> None:
        """Take what another program has written into the file; what was written here is one step back."""
        seen = self.shelf.changed(self.chosen)
        try:
            text = self.shelf.text(self.chosen)
        except MechvizError as error:
            self.said = str(error.faults[0])
            return
        self._seen = seen
        self._history.put(text)
        self.param.update(saved=text, elsewhere=False)
        self._take(text)

    def look_again(self) -> None:
        """Take the lesson's file anew where another program has written it; where something is unsaved, say so."""
        if not self.is_own:
            return
        changed = self.shelf.changed(self.chosen)
        if changed == self._seen:
            return
        try:
            text = self.shelf.text(self.chosen)
        except MechvizError as error:
            self._seen = changed
            self.faults = [str(fault) for fault in error.faults]
            return
        if self.unsaved and text not in (self.saved, self.text):
            self.elsewhere = True
            return
        self._seen = changed
        if text != self.saved:
            self.saved = text
            self._history.put(text)
            self._take(text)

    def seen(self) -> None:
        """What is played stands on its brake."""
        self._shown = self.playing

    def refuse(self, lines: list[str]) -> None:
        """Take what turned out to be wrong when the lesson was put on its brake; the one before is played on."""
        self.param.update(faults=lines, playing=self._shown)

    def _take(self, text: str) -> None:
        """Hold a text, and play it where nothing is wrong with it as far as that needs no brake."""
        faults = self._faults(text)
        self.param.update(text=text, faults=faults, playing=self.playing if faults else text)

    def _faults(self, text: str, name: str = "") -> list[str]:
        try:
            read_lesson(text, name or self.chosen or "new")
        except MechvizError as error:
            return [str(fault) for fault in error.faults]
        return []
