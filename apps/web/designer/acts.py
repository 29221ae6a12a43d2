"""What the sheets of the desk ask for, by the word that they say: the one table of everything that can be done."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from apps.web.designer.asked import ENDS, Asked
from apps.web.designer.desk import Desk
from apps.web.designer.pick import LETTERS, Pick
from apps.web.designer.state import MOST_ASKED, MOST_POINTS, VIEWS
from apps.web.designer.varied import choices, sensible
from mechviz.study import QUANTITIES
from mechviz.study.parameter import SIZE
from mechviz.study.piece import HEATS, WEARS, Heat, Wear
from mechviz.study.plan import KINDS

LIFETIME: tuple[tuple[Wear, Heat], ...] = (("new", "cold"), ("worn-out", "cold"), ("worn-out", "hot"))


@dataclass(frozen=True)
class Said:
    """What belongs to an act: the place of a row (-1 where none is meant), a key, and what a field was set to."""

    place: int
    key: str
    value: str

    @classmethod
    def of(cls, data: Mapping[str, Any]) -> "Said":
        """Return what a message says."""
        place, key, value = data.get("place"), data.get("key"), data.get("value")
        whole = int(place) if isinstance(place, int | float) and abs(place) < 1e9 else -1
        return cls(whole, str(key or ""), "" if value is None else str(value))


Act = Callable[[Desk, Said], None]


def do(made: Desk, act: str, data: Mapping[str, Any]) -> None:
    """Do what is asked for; a word that is not known does nothing."""
    done = ACTS.get(act)
    if done is not None:
        done(made, Said.of(data))


def _undo(made: Desk, _: Said) -> None:
    made.state.undo()
    made.study_changed()


def _redo(made: Desk, _: Said) -> None:
    made.state.redo()
    made.study_changed()


def _vary(made: Desk, said: Said) -> None:
    if made.setup and any(said.value in keys for keys in choices(made.setup).values()):
        made.state.vary(sensible(made.setup, said.value))
        made.study_changed()


def _retype(made: Desk, said: Said) -> None:
    made.state.retype(said.place, said.key, said.value)
    made.study_changed()


def _leave_out(made: Desk, said: Said) -> None:
    made.state.leave_out(said.place)
    made.study_changed()


def _ask(made: Desk, said: Said) -> None:
    """Ask for one more, in the first condition in which it is not asked for yet."""
    if said.value not in QUANTITIES:
        return
    every = [Asked(said.value), *(Asked(said.value, wear, heat) for wear in WEARS[1:] for heat in HEATS[1:])]
    made.state.ask(next((one for one in every if one.key not in made.state.outcome_keys), every[0]))
    made.study_changed()


def _instead(field: str) -> Act:
    """Ask for another name, wear, heat or limit in a place; a limit goes with its quantity."""

    def act(made: Desk, said: Said) -> None:
        if not 0 <= said.place < len(made.state.asked):
            return
        now = made.state.asked[said.place]
        limits = {} if field == "name" else {"least": now.least, "most": now.most}
        given: dict[str, Any] = {"name": now.name, "wear": now.wear, "heat": now.heat, **limits} | {field: said.value}
        if given["name"] in QUANTITIES and given["wear"] in WEARS and given["heat"] in HEATS:
            made.state.ask_instead(said.place, Asked(**given))
        made.study_changed()

    return act


def _ask_no_more(made: Desk, said: Said) -> None:
    made.state.ask_no_more(said.place)
    made.study_changed()


def _lifetime(made: Desk, _: Said) -> None:
    """Ask for all that is asked for new, worn out and hot as well, as far as there is room."""
    names = list(dict.fromkeys(outcome.name for outcome in made.state.asked))
    more = [Asked(name, wear, heat) for name in names for wear, heat in LIFETIME]
    new = [one for one in more if one.key not in made.state.outcome_keys]
    made.state.change(asked=[*made.state.asked, *new][:MOST_ASKED])
    made.study_changed()


def _kind(made: Desk, said: Said) -> None:
    if said.value in KINDS:
        made.state.change(kind=said.value)
        made.study_changed()


def _points(made: Desk, said: Said) -> None:
    text = said.value.replace(",", "").strip()
    good = text.isdecimal() and len(text) < 9 and 2 <= int(text) <= MOST_POINTS
    made.typed_points = "" if good else text or "nothing"
    if good:
        made.state.change(points=int(text))
    made.study_changed()


def _view(made: Desk, said: Said) -> None:
    if said.key in VIEWS:
        made.state.view = said.key
        made.changed("view")


def _across(made: Desk, said: Said) -> None:
    """Look at another dimension across the map; that which was up goes where it came from."""
    across, up = made.state.axes
    made.look(across=said.value, up=across if said.value == up else up)


def _best(place: int) -> Act:
    def act(made: Desk, said: Said) -> None:
        goals = list(made.state.goals)
        goals[place] = said.value
        made.look(best=tuple(goals))

    return act


def _unbrush(made: Desk, _: Said) -> None:
    made.unbrush()


def _size(made: Desk, said: Said) -> None:
    if said.key == SIZE:
        made.slid(said.key, said.value, end=True)


def _keep(made: Desk, _: Said) -> None:
    if made.pick not in made.state.picks:
        made.state.change("keep", point=made.pick)
        made.state.keep_point()
    made.changed("study", "point", "picks", "marks")


def _drop(made: Desk, said: Said) -> None:
    made.state.drop_pick(said.place)
    made.changed("study", "point", "picks", "marks")


def _with_pick(act: Callable[[Desk, Pick], None]) -> Act:
    """Do something with a kept point."""

    def done(made: Desk, said: Said) -> None:
        if 0 <= said.place < len(made.state.picks):
            act(made, made.state.picks[said.place])

    return done


def _save_pick(made: Desk, said: Said) -> None:
    if 0 <= said.place < len(made.state.picks):
        made.save_pick(made.state.picks[said.place], LETTERS[said.place].lower())


ACTS: Mapping[str, Act] = {
    "run": lambda made, _: made.run(),
    "cancel": lambda made, _: made.cancel(),
    "undo": _undo,
    "redo": _redo,
    "vary": _vary,
    "retype": _retype,
    "leave-out": _leave_out,
    "ask": _ask,
    "ask-name": _instead("name"),
    "ask-wear": _instead("wear"),
    "ask-heat": _instead("heat"),
    **{f"ask-{end}": _instead(end) for end in ENDS},
    "ask-no-more": _ask_no_more,
    "lifetime": _lifetime,
    "kind": _kind,
    "points": _points,
    "view": _view,
    "of": lambda made, said: made.look(of=said.value),
    "across": _across,
    "up": lambda made, said: made.look(up=said.value, across=made.state.axes[0]),
    "best-0": _best(0),
    "best-1": _best(1),
    "unbrush": _unbrush,
    "size": _size,
    "stand-row": lambda made, said: made.stand_at(said.place),
    "back": lambda made, _: made.stand(Pick()),
    "keep": _keep,
    "drop": _drop,
    "use": lambda made, _: made.use(made.pick),
    "save-point": lambda made, _: made.save_pick(made.pick, "point"),
    "stand": _with_pick(Desk.stand),
    "use-pick": _with_pick(Desk.use),
    "save-pick": _save_pick,
    "study-file": lambda made, _: made.save_study(),
    "csv": lambda made, _: made.save_table("csv"),
    "parquet": lambda made, _: made.save_table("parquet"),
}
