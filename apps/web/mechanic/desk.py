"""The mechanic's desk as a page: the form in the browser, the job on the bench, what follows from it sent back."""

import asyncio
import logging
from collections.abc import Sequence
from contextlib import suppress
from hashlib import sha256
from typing import Any, ClassVar, Literal, cast

import panel as pn
import param
from panel.custom import JSComponent

from apps.web.assets import script, sheets
from apps.web.brakes import Brakes
from apps.web.desks import desk
from apps.web.frame import framed
from apps.web.mechanic.bench import Bench, begun_with
from apps.web.mechanic.form import entry_id, form_html
from apps.web.mechanic.kept import kept_html
from apps.web.mechanic.store import JobStore
from apps.web.mechanic.thinking import Think, Thoughts, failed_html, first_thoughts, second_thoughts
from apps.web.mechanic.verdict_html import axle_html, both_html, mark, wheel_html
from apps.web.session import Session
from apps.web.tools import Tools
from geometry.errors import MechvizError
from geometry.quantity import System
from geometry.setup import builtin_names
from mechviz.job import fields as f
from mechviz.job.axle import axle_findings
from mechviz.job.fields import PHASES, SIDES, Phase, Place, Side
from mechviz.job.headline import headline
from mechviz.job.look import Look, look
from mechviz.job.model import ABOUT, Job

PLACES: tuple[Place, ...] = ("axle", *SIDES)


def view_of(job: Job, phase: Phase) -> dict[str, Any]:
    """Return everything that the page shows of a job while it is typed: plain values, and HTML of our own."""
    looks: dict[tuple[Side, Phase], Look] = {(side, one): look(job, side, one) for side in SIDES for one in PHASES}
    wrong = {
        _written(job, side, one, key): words for (side, one), at in looks.items() for key, words in at.errors.items()
    }
    axle = axle_findings(job, phase)
    return {
        "values": {entry_id(*entry): text for entry, text in job.entries.items()},
        "about": {name: getattr(job, name) for name in ABOUT},
        "units": job.system,
        "base": job.base,
        "wrong": wrong,
        "meant": _meant(job),
        "words": {side: _last_word(job, side, phase) for side in SIDES},
        "title": job.title,
        "wheels": {side: wheel_html(job, side, phase) for side in SIDES},
        "both": both_html(axle),
        "axle": axle_html(axle),
        "general": list(dict.fromkeys(words for at in looks.values() for words in at.understood.general)),
    }


def _last_word(job: Job, side: Side, phase: Phase) -> dict[str, str]:
    """The verdict of a wheel in a word; of one that was not read after the adjustment that of before, told as such."""
    old = phase == "after" and not job.begun(side, phase) and job.begun(side, "before")
    found = headline(look(job, side, "before" if old else phase))
    return {"word": f"{found.word} (before)" if old else found.word, "mark": mark(found.result)}


def _written(job: Job, side: Side, phase: Phase, key: str) -> str:
    """The entry where a reading was typed: what still holds after an adjustment was typed before it."""
    place: Place = "axle" if f.field(key).place == "axle" else side
    return entry_id(place, phase if job.text(place, phase, key).strip() else "before", key)


def _meant(job: Job) -> dict[str, str]:
    """What ring and marks say of each chamber, beside the ring."""
    found = dict[str, str]()
    for side in SIDES:
        for phase in PHASES:
            seen = look(job, side, phase).understood.seen
            if seen and job.text(side, phase, RING).strip():
                found[entry_id(side, phase, RING)] = seen.words
    return found


RING = "measured.clamp_diameter"
log = logging.getLogger(__name__)


def shown_units() -> dict[str, dict[str, str]]:
    """Return the unit of a bare figure by kind and system, as it stands beside a field.

    >>> shown_units()["temperature"]
    {'inch': '\N{DEGREE SIGN}F', 'metric': '\N{DEGREE SIGN}C'}
    """
    return {
        kind: {system: name.replace("deg", "\N{DEGREE SIGN}") for system, name in units.items()}
        for kind, units in f.UNITS.items()
    }


class MechanicDesk(JSComponent):
    """The form and the verdicts. The script tells by messages what was typed; what follows comes back in ``view``."""

    form = param.String(doc="The form's HTML.")
    kept = param.String(doc="The jobs that are kept, as HTML.")
    name_kept = param.String(doc="Under which name this job is kept.")
    view = param.Dict(default={}, doc="What the page shows of the job.")
    taken = param.Integer(default=0, bounds=(0, None), doc="The last message that was taken.")
    thoughts = param.Dict(
        default={},
        doc="Likely causes, fit and drawing of each wheel, as HTML; under ``of`` which readings they are of.",
    )
    thought_of = param.Integer(default=0, bounds=(0, None), doc="The asking that they answer.")
    unsaved = param.String(doc="Why the job is not kept; empty where it is.")
    units = param.Dict(default=shown_units(), doc="How units are shown, by kind and system.")

    _esm = script("mechanic.js")
    _stylesheets: ClassVar[list[str]] = sheets("controls.css", "mechanic.css")

    def __init__(self, bench: Bench, brakes: Brakes, kept: str = "") -> None:
        self._bench, self._brakes = bench, brakes
        self._phase: Phase = "after" if bench.current.adjusted else "before"
        self._asked = 0
        self._thinking: asyncio.Task[None] | None = None
        super().__init__(
            sizing_mode="stretch_width",
            form=form_html(),
            kept=kept,
            name_kept=bench.name_kept,
            view=self._view(),
            unsaved=bench.unsaved,
        )
        bench.param.watch(self._follow, ["job", "unsaved"])

    def _view(self) -> dict[str, Any]:
        view = view_of(self._bench.current, self._phase)
        return {**view, "phase": self._phase, "of": of_readings(self._bench.text, self._phase)}

    def _follow(self, *_: object) -> None:
        self.param.update(view=self._view(), unsaved=self._bench.unsaved)

    def _handle_msg(self, data: Any) -> None:
        """Take what the script tells. What a desk has no use for is nothing; a message is told to be taken anyhow."""
        if not isinstance(data, dict):
            return
        told = cast(dict[str, Any], data)
        with suppress(MechvizError):  # a field that there is not, or too long a text: the page sends neither
            self._take(told)
        number = told.get("n")
        if isinstance(number, int) and number >= 0:
            self.taken = number

    def _take(self, told: dict[str, Any]) -> None:
        bench = self._bench
        match told:
            case {"type": [str(place), str(phase), str(key)], "text": str(text)} if place in PLACES and phase in PHASES:
                bench.type(place, phase, key, text)
            case {"about": str(name), "text": str(text)}:
                bench.tell(name, text)
            case {"units": ("inch" | "metric") as system}:
                bench.use_units(cast(System, system))
            case {"base": str(base)} if base in builtin_names():
                bench.use_base(base)
            case {"phase": ("before" | "after") as phase}:
                self._phase = cast(Literal["before", "after"], phase)
                self._follow()
            case {"look": True}:
                bench.catch_up()
            case {"keep": True}:
                bench.keep()
            case {"think": int(asked)} if asked > 0:
                self._asked = asked
                self._think()
            case _:
                pass

    def _think(self) -> None:
        """Work out what takes longer, in another process; once more where it was asked for again meanwhile."""
        if self._thinking is None or self._thinking.done():
            self._thinking = asyncio.ensure_future(self._thought())

    async def _thought(self) -> None:
        while self.thought_of < self._asked:
            asked, text, phase = self._asked, self._bench.text, self._phase
            for think, parts in ((first_thoughts, ("fit", "drawing")), (second_thoughts, ("causes",))):
                found = await self._parts(think, parts, text, phase)
                self.thoughts = {**found, "of": of_readings(text, phase)}
            self.thought_of = asked

    async def _parts(self, think: Think, parts: Sequence[str], text: str, phase: Phase) -> Thoughts:
        """Work some parts out; what fails is told in the place of each, so that nothing of before is left standing."""
        try:
            return await self._brakes.work(think, text, phase)
        except Exception:  # whatever it was, the readings and their verdicts stand: it is told, and typing goes on
            log.exception("%s of a job could not be worked out", " and ".join(parts))
            return {side: {part: failed_html(part) for part in parts} for side in SIDES}


def of_readings(text: str, phase: Phase) -> str:
    """Return a short mark of what is worked out from: another one where anything typed, or the phase, is another."""
    return sha256(f"{phase}\n{text}".encode()).hexdigest()[:16]


def mechanic_page(session: Session, brakes: Brakes, store: JobStore) -> pn.Template:
    """Return the mechanic's desk for a visit: the job of its address, or a new one with the setup that it names."""
    name = session.kept("job") or store.new_name()
    bench = Bench(store, name, begun_with(session.draft.text))
    pn.state.onload(lambda: session.keep(job=bench.name_kept))  # an address that is set earlier is not shown
    return framed(desk("mechanic"), Tools(bench), {"bench": MechanicDesk(bench, brakes, kept_html(store, name))})
