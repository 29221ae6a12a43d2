"""A point as people read it: its figures, each outcome against its limit, and the verdict in a word."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from apps.web.designer.field import limit_words
from apps.web.designer.pick import Pick, study_of_pick
from geometry.errors import MechvizError
from geometry.quantity import KindName, System
from geometry.reasons import Reason
from geometry.setup import Setup
from mechviz.report.written import quantity
from mechviz.study import Outcome, Study
from mechviz.study.limits import Limit
from mechviz.study.open import STROKES, solve_open, verdict

Verdict = Literal["pass", "close", "fail", "no limit", "not evaluated"]


@dataclass(frozen=True)
class Judged:
    """One outcome at a point, in the unit used inside; ``why`` says what keeps it from being."""

    outcome: Outcome
    value: float
    limit: Limit | None
    verdict: Verdict
    why: str = ""

    @property
    def margin(self) -> float:
        """How far inside the limit it is; NaN without one."""
        return float("nan") if self.limit is None else float(self.limit.margin(np.asarray(self.value)))

    def text(self, system: System) -> str:
        """Return the value as people read it."""
        return quantity(self.value, self.outcome.quantity.kind, system)

    def limit_text(self, system: System) -> str:
        """Return the limit's figures; empty without one."""
        return "" if self.limit is None else limit_words(self.limit, self.outcome, system)

    def margin_text(self, system: System) -> str:
        """Return how far inside or outside it is: ``0.38 in inside``."""
        if not np.isfinite(self.margin):
            return ""
        kind = self.outcome.quantity.kind
        return f"{quantity(abs(self.margin), kind, system)} {'inside' if self.margin >= 0 else 'outside'}"


@dataclass(frozen=True)
class Point:
    """A point and its outcomes; ``fault`` says why there are none."""

    pick: Pick
    outcomes: tuple[Judged, ...] = ()
    fault: str = ""

    def value(self, key: str) -> float:
        """Return an outcome by its key; NaN where it was not asked."""
        return next((one.value for one in self.outcomes if one.outcome.key == key), float("nan"))


def judged(setup: Setup, pick: Pick, outcomes: Sequence[Outcome]) -> Point:
    """Return a point with every outcome that is asked for, each held against its limit."""
    if not pick.values or not outcomes:
        return Point(pick)
    try:
        study = study_of_pick(setup, pick, outcomes)
    except MechvizError as error:
        return Point(pick, fault="; ".join(fault.text(setup.system) for fault in error.faults))
    found, left = solve_open(_asked_cold_too(study), pick.figures(study.parameters))
    rows: list[Judged] = []
    for outcome in outcomes:
        value, limit = float(found.outcomes[outcome.key][0]), found.limits[outcome.key]
        limit = None if limit is None else limit.at(0)
        why = Reason(int(found.why[outcome.key][0])).words if np.isnan(value) else ""
        rows.append(Judged(outcome, value, limit, _verdict(value, limit, left[outcome.key]), why))
    return Point(pick, tuple(rows))


def _asked_cold_too(study: Study) -> Study:
    """The study with each hot outcome asked for cold too: by how much heat makes it worse is part of what is open."""
    asked = {outcome.key for outcome in study.outcomes}
    cold = [replace(one, heat="cold", least=None, most=None) for one in study.outcomes if one.condition[1] == "hot"]
    more = {one.key: one for one in cold if one.name in STROKES and one.key not in asked}
    return replace(study, outcomes=(*study.outcomes, *more.values()))


def _verdict(value: float, limit: Limit | None, left: tuple[float, float]) -> Verdict:
    if np.isnan(value):
        return "not evaluated"
    if limit is None:
        return "no limit"
    match verdict(value, limit, left):
        case "pass" | "close" | "fail" as found:
            return found
        case _:
            return "not evaluated"


def figure_words(pick: Pick, names: Sequence[tuple[str, str, KindName]], system: System) -> list[tuple[str, str]]:
    """Return a point's figures in words, by the names of its dimensions (key, name, kind)."""
    found = pick.by_key
    return [
        (name, str(found[key]) if isinstance(found[key], str) else quantity(float(found[key]), kind, system))
        for key, name, kind in names
        if key in found
    ]
