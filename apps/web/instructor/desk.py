"""The desk's page: the list of lessons, the lesson that is played, and its text beside it while somebody writes."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

import panel as pn
import param
from panel.custom import JSComponent

from apps.web.assets import script, sheets
from apps.web.brake_view import BrakeView, MovingPicture
from apps.web.brakes import Brakes
from apps.web.desks import desk
from apps.web.folders import own_folder
from apps.web.frame import framed
from apps.web.instructor.filming import POLL, Filming
from apps.web.instructor.shelf import Shelf, slug, title_of
from apps.web.instructor.teaching import Teaching
from apps.web.making import lesson, lesson_handout, lesson_page
from apps.web.session import Session
from apps.web.tools import Tools
from mechviz.lessons.split import MOST_BYTES

BY_HAND, NEW = "brake", "_new"
"""Kept in the address while the brake is shown by hand, and while a lesson is written that has no name yet."""

FILMS = "films"
"""Where films lie, in the user's folder and in addresses."""

LOOK_AGAIN = 1500
"""Milliseconds between two looks at a lesson's file, which another program may have written."""


class LessonBar(JSComponent):
    """Choose, write, save and hand out. The script asks by messages; `Teaching` answers by its parameters."""

    listed = param.List(default=[], doc="The lessons to choose from.")
    chosen = param.String(default="")
    open = param.String(default="", doc="What is open: nothing, ``lesson``, ``writing`` or ``brake``.")
    own = param.Boolean(default=False)
    unsaved = param.Boolean(default=False)
    elsewhere = param.Boolean(default=False, doc="Whether another program has written the file meanwhile.")
    text = param.String(default="")
    name_of_file = param.String(default="")
    faults = param.List(default=[])
    said = param.String(default="")
    folder = param.String(default="")
    exports = param.Dict(default={}, doc="Addresses of what can be handed out, by kind.")
    film = param.Dict(default={}, doc="The film: its state, how much is done, what went wrong, where it is.")
    most_bytes = param.Integer(default=MOST_BYTES)

    _esm = script("lessons.js")
    _stylesheets: ClassVar[list[str]] = sheets("controls.css", "lessons.css")

    def __init__(self, teacher: "Teacher") -> None:
        super().__init__(sizing_mode="stretch_width", folder=str(teacher.teaching.shelf.folder))
        self._teacher = teacher

    def _handle_msg(self, data: Any) -> None:
        self._teacher.asked(data)


@dataclass
class Teacher:
    """Joins the state to what is seen of it, for one visit."""

    session: Session
    brakes: Brakes
    teaching: Teaching

    def __post_init__(self) -> None:
        self.bar = LessonBar(self)
        self.played = MovingPicture(sizing_mode="stretch_width", whole_keyboard=True, look=self.teaching.look)
        self.stage = pn.Column(sizing_mode="stretch_width")
        self.by_hand: BrakeView | None = None
        self.hand = self.session.kept("lesson") == BY_HAND
        self.session.places = ("_lesson",)
        self.filming = Filming(own_folder(FILMS))
        self.teaching.param.watch(self._follow, list(self.teaching.param))
        self.filming.param.watch(self._filmed, ["state", "share", "said"])
        self.session.param.watch(self._went, "went")
        self.played.param.watch(self._looked, "look")
        self.played.param.watch(self._failed, "failure")
        self.played.param.watch(self._shown, "shown")
        self._follow()

    def asked(self, data: Any) -> None:
        """Do what the script asks for; what is not known is nothing."""
        teaching, acts = self.teaching, self._acts()
        match data:
            case {"choose": str(name)}:
                self.hand = False
                teaching.choose(name[:80])
            case {"write": str(text)} if len(text) <= MOST_BYTES:
                teaching.write(text)
            case {"open": str(text), "name": str(name)} if len(text) <= MOST_BYTES:
                teaching.open(text, name[:80])
            case {"act": str(act)} if act in acts:
                acts[act]()
            case _:
                return
        self._follow()

    def _acts(self) -> dict[str, Any]:
        teaching = self.teaching
        return {
            "list": self._list,
            "brake": self._by_hand,
            "new": teaching.begin,
            "edit": teaching.edit,
            "save": teaching.save,
            "mine": teaching.keep_mine,
            "theirs": teaching.take_theirs,
            "undo": teaching.undo,
            "redo": teaching.redo,
            "film": self._film,
            "stop": self.filming.cancel,
        }

    def _film(self) -> None:
        text, name = self.teaching.playing, self.teaching.chosen or "new"
        if text:
            self.filming.begin(text, name, f"{slug(title_of(text))}.mp4")

    def _filmed(self, *_: object) -> None:
        film = self.filming
        self.bar.film = {
            "state": film.state,
            "share": film.share,
            "left": film.left,
            "said": film.said,
            "address": f"{FILMS}/{film.file}",
        }

    def leave(self, session_context: object) -> None:  # noqa: ARG002 - so named by who calls it
        """The visit has ended."""
        self.filming.cancel()

    def _list(self) -> None:
        self.hand = False
        self.teaching.leave()

    def _by_hand(self) -> None:
        self.teaching.leave()
        self.hand = True

    def _looked(self, _: object) -> None:
        self.teaching.look = self.played.look

    def _failed(self, _: object) -> None:
        if self.played.failure and self.played.failed == self.played.source:
            self.teaching.refuse(self.played.failure)

    def _shown(self, _: object) -> None:
        if self.played.shown and self.played.shown == self.played.source:
            self.teaching.seen()

    @property
    def place(self) -> str:
        """Where in the desk the visit is, as the address has it; empty for the list."""
        teaching = self.teaching
        return BY_HAND if self.hand else teaching.chosen or (NEW if teaching.writing else "")

    def _went(self, _: object) -> None:
        """Follow the user who went back or forward, unless something would be lost on the way."""
        wanted, teaching = self.session.kept("lesson") or "", self.teaching
        if wanted != self.place:
            if teaching.unsaved:
                teaching.said = "What you wrote is not saved. Save it, or leave it by All lessons; then go back."
            else:
                self._go(wanted, self.session.kept("at") or "")
        self._follow()

    def _go(self, wanted: str, look: str) -> None:
        if wanted == BY_HAND:
            self._by_hand()
            return
        self._list()
        if wanted == NEW:
            self.teaching.begin()
        elif wanted:
            self.teaching.choose(wanted, look)

    def look_again(self) -> None:
        """See what other programs have done to the lesson's file, or to the shelf while it is shown."""
        self.teaching.look_again()
        if not self.bar.open and self.bar.listed != self.teaching.listed:
            self.bar.listed = self.teaching.listed

    def _follow(self, *_: object) -> None:
        """Show the state: in the bar, in the picture and in the address."""
        teaching = self.teaching
        opened = BY_HAND if self.hand else "writing" if teaching.writing else "lesson" if teaching.chosen else ""
        self.bar.param.update(
            listed=teaching.listed if not opened else self.bar.listed,
            chosen=teaching.chosen,
            open=opened,
            own=teaching.is_own,
            unsaved=teaching.unsaved,
            elsewhere=teaching.elsewhere,
            text=teaching.text,
            name_of_file=f"{teaching.chosen or slug(title_of(teaching.text))}.md",
            faults=teaching.faults,
            said=teaching.said,
            exports=self._exports(),
        )
        if teaching.playing:
            job = lesson(teaching.playing, teaching.chosen or "new")
            self.played.param.update(source=f"made/{self.brakes.named(job)}.json", look=teaching.look)
        else:
            faults = "\n".join(teaching.faults)
            self.played.param.update(source="", message=f"This lesson cannot be played as it stands:\n{faults}")
        self._stand(self.played if opened in ("lesson", "writing") else self._hands() if self.hand else None)
        self.session.keep(lesson=self.place or None, at=teaching.look or None)

    def _hands(self) -> BrakeView:
        """The brake by hand, made when it is first wanted."""
        if self.by_hand is None:
            self.by_hand = BrakeView(self.session, self.brakes, whole_keyboard=True)
        return self.by_hand

    def _stand(self, picture: MovingPicture | None) -> None:
        """Put a picture on the stage, or none."""
        wanted = [] if picture is None else [picture]
        if list(self.stage) != wanted:
            self.stage[:] = wanted

    def _exports(self) -> dict[str, str]:
        """Where the lesson can be had as a file, by the file's suffix."""
        text, name = self.teaching.playing, self.teaching.chosen or "new"
        if not text:
            return {}
        jobs = {"html": lesson_page(text, name), "pdf": lesson_handout(text, name)}
        return {
            suffix: f"made/{self.brakes.named(job)}/{slug(title_of(text))}.{suffix}" for suffix, job in jobs.items()
        }


def instructor_page(session: Session, brakes: Brakes, folder: Path | None = None) -> pn.Template:
    """Return the instructor's desk. ``folder`` is where own lessons lie; the user's own folder if not given."""
    kept, at = session.kept("lesson") or "", session.kept("at") or ""
    teaching = Teaching(Shelf(folder or own_folder("lessons")), "" if kept in (BY_HAND, NEW) else kept, at)
    if kept == NEW:
        teaching.begin()
    teacher = Teacher(session, brakes, teaching)
    pn.state.add_periodic_callback(teacher.look_again, LOOK_AGAIN)
    pn.state.add_periodic_callback(teacher.filming.look, POLL)
    pn.state.on_session_destroyed(teacher.leave)
    parts = {"bar": teacher.bar, "stage": teacher.stage}
    return framed(desk("instructor"), Tools(session.draft), parts)
