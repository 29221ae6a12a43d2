"""What a designer has chosen: typed, bounded, undone and done again, and kept in the address."""

from collections.abc import Callable, Mapping
from typing import Any, Literal

import param

from apps.web.designer.asked import Asked
from apps.web.designer.pick import LETTERS, Pick
from apps.web.designer.varied import Varied
from apps.web.history import History
from mechviz.study.plan import KINDS

MOST_VARIED, MOST_ASKED, MOST_PICKS = 12, 12, len(LETTERS)
MOST_POINTS = 1_000_000
VIEWS: Mapping[str, str] = {
    "map": "Map",
    "lines": "All points",
    "front": "Best choices",
    "follows": "What follows what",
    "tolerance": "Tolerances",
}
"""The ways to look at a study, and what they are called."""

FIRST_VARIED = (
    Varied("linkage.arm_length", "5 in", "6.5 in", "1/32 in"),
    Varied("linkage.axis_offset", "4.75 in", "6.25 in", "1/16 in"),
)
FIRST_ASKED = (Asked("arm-angle-contact"), Asked("applied-stroke"), Asked("brake-torque"))
"""The study that is ready: lever lengths against where the right angle goes, and what it costs."""


Step = Literal["change", "undo", "redo"]


def _nobody(_: Step) -> None:
    """Hear nothing."""


class DesignerState(param.Parameterized):
    """A study under way and how it is looked at. Every `change` is a step that can be undone."""

    varied = param.List(default=list(FIRST_VARIED), item_type=Varied, bounds=(0, MOST_VARIED))
    asked = param.List(default=list(FIRST_ASKED), item_type=Asked, bounds=(0, MOST_ASKED))
    kind = param.Selector(default="sobol", objects=list(KINDS), doc="How the points of a study are laid out.")
    points = param.Integer(default=4096, bounds=(2, MOST_POINTS), doc="About how many there are.")
    seed = param.Integer(default=1, bounds=(0, 2**31 - 1))
    across = param.String(default="", doc="The key across the map; the first dimension where it is none of them.")
    up = param.String(default="", doc="The key up the map; the second dimension where it is none of them.")
    of = param.String(default="", doc="The outcome that is mapped, by key; the first where it is none of them.")
    best = param.Tuple(default=("", ""), length=2, doc="The two outcomes whose best choices are looked for, by key.")
    filters = param.Dict(default={}, doc="Brushed ranges by key, in the unit used inside.")
    point = param.ClassSelector(default=Pick(), class_=Pick, doc="The point that stands there.")
    picks = param.List(default=[], item_type=Pick, bounds=(0, MOST_PICKS), doc="Points that are kept.")
    view = param.Selector(default="map", objects=list(VIEWS))
    ran = param.Boolean(default=False, doc="Whether the study has been run, so that a link runs it again.")
    can_undo = param.Boolean(default=False)
    can_redo = param.Boolean(default=False)

    def __init__(self, **given: Any) -> None:
        super().__init__(**given)
        self._history = History(self.choice)
        self._together = ""
        self.stepped: Callable[[Step], None] = _nobody
        """Is told of each step that there is one more of, or that was taken back or made again."""

    @property
    def choice(self) -> dict[str, Any]:
        """Everything that was chosen, by name."""
        return {name: getattr(self, name) for name in CHOSEN}

    @property
    def kept(self) -> dict[str, Any]:
        """Everything that is kept in the address, by name."""
        return {name: getattr(self, name) for name in KEPT}

    def change(self, together: str = "", **values: Any) -> None:
        """Choose something else. Steps in a row with one name in ``together``, as of one slider, are undone as one."""
        self.param.update(**values)
        before = self._history.now
        again = bool(together) and together == self._together
        if again:
            self._history.undo()
        self._together = together
        self._history.put(self.choice)
        self._tell()
        if not again and self._history.now is not before:
            self.stepped("change")

    def undo(self) -> None:
        """Take the last step back."""
        self._go(self._history.undo, "undo")

    def redo(self) -> None:
        """Make the step again that was taken back."""
        self._go(self._history.redo, "redo")

    def _go(self, go: Callable[[], dict[str, Any]], step: Step) -> None:
        before, self._together = self._history.now, ""
        self.param.update(**go())
        self._tell()
        if self._history.now is not before:
            self.stepped(step)

    def _tell(self) -> None:
        self.param.update(can_undo=self._history.can_undo, can_redo=self._history.can_redo)

    # dimensions and outcomes

    def vary(self, varied: Varied) -> None:
        """Add a dimension; one that is there already, or one too many, changes nothing."""
        if len(self.varied) < MOST_VARIED and varied.key not in self.keys:
            self.change(varied=[*self.varied, varied])

    def retype(self, place: int, field: str, typed: str) -> None:
        """Take what was typed into a field of a dimension."""
        if 0 <= place < len(self.varied) and field in ("low", "high", "tolerance"):
            now = self.varied[place]
            kept = {name: getattr(now, name) for name in ("low", "high", "tolerance")}
            self.change(varied=replaced(self.varied, place, Varied(now.key, **{**kept, field: typed})))

    def leave_out(self, place: int) -> None:
        """Take a dimension out, and what was brushed of it."""
        if 0 <= place < len(self.varied):
            key = self.varied[place].key
            left = {name: ends for name, ends in self.filters.items() if name != key}
            self.change(varied=without(self.varied, place), filters=left)

    def ask(self, outcome: Asked) -> None:
        """Ask for an outcome; one that is asked for already, or one too many, changes nothing."""
        if len(self.asked) < MOST_ASKED and outcome.key not in self.outcome_keys:
            self.change(asked=[*self.asked, outcome])

    def ask_instead(self, place: int, outcome: Asked) -> None:
        """Ask for another outcome in a place, or for the same with other limits."""
        others = [one.key for n, one in enumerate(self.asked) if n != place]
        if 0 <= place < len(self.asked) and outcome.key not in others:
            self.change(asked=replaced(self.asked, place, outcome))

    def ask_no_more(self, place: int) -> None:
        """Leave an outcome out, and what was brushed of it."""
        if 0 <= place < len(self.asked):
            key = self.asked[place].key
            left = {name: ends for name, ends in self.filters.items() if name != key}
            self.change(asked=without(self.asked, place), filters=left)

    @property
    def keys(self) -> list[str]:
        """The dimensions' keys."""
        return [one.key for one in self.varied]

    @property
    def outcome_keys(self) -> list[str]:
        """The outcomes' keys."""
        return [one.key for one in self.asked]

    @property
    def axes(self) -> tuple[str, str]:
        """The keys across and up the map; the same one twice where there is only one dimension."""
        across = self.across if self.across in self.keys else next(iter(self.keys), "")
        others = [key for key in self.keys if key != across] or [across]
        return across, self.up if self.up in others else others[0]

    @property
    def mapped(self) -> str:
        """The outcome that is mapped."""
        return self.of if self.of in self.outcome_keys else next(iter(self.outcome_keys), "")

    @property
    def goals(self) -> tuple[str, str]:
        """The two outcomes whose best choices are looked for; unless chosen, the last two."""
        keys = self.outcome_keys
        last = [keys[-2], keys[-1]] if len(keys) > 1 else [*keys, *keys, "", ""]
        first, second = (one if one in keys else last[n] for n, one in enumerate(self.best))
        return first, second

    # points

    def brush(self, key: str, low: float, high: float) -> None:
        """Keep to a range of a dimension or outcome; nothing but a range that holds something counts."""
        if low < high and key in (*self.keys, *self.outcome_keys):
            ends = float(f"{low:.7g}"), float(f"{high:.7g}")
            self.change("brush" + key, filters={**self.filters, key: ends})

    def unbrush(self, key: str = "") -> None:
        """Let a range go, or all of them."""
        self.change(filters={k: ends for k, ends in self.filters.items() if key and k != key})

    def keep_point(self) -> None:
        """Keep the point that stands there; a fifth one, or one that is kept already, changes nothing."""
        if self.point.values and self.point not in self.picks and len(self.picks) < MOST_PICKS:
            self.change(picks=[*self.picks, self.point])

    def drop_pick(self, place: int) -> None:
        """Let a kept point go."""
        if 0 <= place < len(self.picks):
            self.change(picks=without(self.picks, place))


KEPT = tuple(name for name in DesignerState.param if name not in ("name", "can_undo", "can_redo"))
"""The names of what is kept in the address."""
CHOSEN = tuple(name for name in KEPT if name not in ("view", "ran"))
"""The names of what is undone and done again: how it is looked at is no change of the study."""


def replaced(items: list[Any], place: int, item: Any) -> list[Any]:
    """Return a list with another item in a place."""
    return [*items[:place], item, *items[place + 1 :]]


def without(items: list[Any], place: int) -> list[Any]:
    """Return a list without the item in a place."""
    return [*items[:place], *items[place + 1 :]]
