"""A point as people read it: its figures, each outcome against its limit, and the verdict in a word."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from apps.web.designer.field import limit_words
from apps.web.designer.pick import Pick, study_of_pick
from geometry.errors import MechvizError
from geometry.quantity import KindName, System
from geometry.reasons import Reason
from geometry.setup import Setup
from mechviz.report.written import quantity
from mechviz.study import Outcome, solve_at
from mechviz.study.limits import Limit

Verdict = Literal["pass", "fail", "no limit", "not evaluated"]


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
    values = {key: np.array([figure]) for key, figure in pick.figures(study.parameters).items()}
    found = solve_at(study, values, workers=1)
    rows: list[Judged] = []
    for outcome in outcomes:
        value, limit = float(found.outcomes[outcome.key][0]), found.limits[outcome.key]
        limit = None if limit is None else limit.at(0)
        why = Reason(int(found.why[outcome.key][0])).words if np.isnan(value) else ""
        rows.append(Judged(outcome, value, limit, _verdict(value, limit), why))
    return Point(pick, tuple(rows))


def _verdict(value: float, limit: Limit | None) -> Verdict:
    if np.isnan(value):
        return "not evaluated"
    if limit is None:
        return "no limit"
    return "pass" if bool(limit.holds(np.asarray(value))) else "fail"


def figure_words(pick: Pick, names: Sequence[tuple[str, str, KindName]], system: System) -> list[tuple[str, str]]:
    """Return a point's figures in words, by the names of its dimensions (key, name, kind)."""
    found = pick.by_key
    return [
        (name, str(found[key]) if isinstance(found[key], str) else quantity(float(found[key]), kind, system))
        for key, name, kind in names
        if key in found
    ]
