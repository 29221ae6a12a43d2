"""A study for people: what can be, what keeps its limits, the best of it, what follows what, and who is to blame."""

from collections.abc import Sequence

import numpy as np

from geometry.quantity import KindName, System
from geometry.reasons import Reason
from mechviz.report.cautions import ESTIMATE, HEADING
from mechviz.report.columns import Line, tabled
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import fixed, number, unit_word
from mechviz.study.outcome import Outcome
from mechviz.study.parameter import Parameter
from mechviz.study.running import Result, Study
from mechviz.study.sensitivity import Sensitivity
from mechviz.study.tolerance import ANY, Held, Tolerance
from mechviz.study.words import count, limit_words, percent, share_words, spread_words
from mechviz.study.worked import Worked

PLANS = {
    "grid": "on a grid",
    "latin-hypercube": "by Latin hypercube",
    "sobol": "by Sobol' sequence",
    "monte-carlo": "at random",
}
TOLD_FROM = 0.01
"""A share of variance below this is not told."""
METHOD = (
    "Shares of variance: Sobol' indices, first order (Saltelli and others 2010) and in all (Jansen 1999), the figures "
    "varied independently over their whole spreads."
)
DRAWN = "Brakes are drawn independently from the spreads; intervals are of 95 % (Wilson 1927)."


def study_text(worked: Worked, system: System, width: int) -> str:
    """Write a study in at most ``width`` columns."""
    width, result, study = fitting(width), worked.result, worked.study
    paragraphs = [f"{study.title or study.base.title}: {_what(study, result)}", *_spreads(study, system)]
    lines = [line for text in paragraphs for line in hang(text, width)]
    lines += ["", *(line for text in _possible(result) for line in hang(text, width))]
    lines += ["", *tabled(("least", "median", "most", "outside"), _outcomes(result, system), width)]
    lines += ["", *_limits(result, system, width)]
    if study.best_by or not study.brakes:  # of brakes that are drawn as they come nobody chooses
        lines += ["", *_best(worked, system, width)]
    lines += ["", *_follows(worked.sensitivity, study, width)]
    if worked.tolerance is not None:
        lines += ["", *_tolerance(worked.tolerance, study, width)]
    return "\n".join([*lines, "", *boxed(HEADING, [ESTIMATE], width)]) + "\n"


def _what(study: Study, result: Result) -> str:
    points = f"{count(result.size)} points {PLANS[study.plan.kind]}"
    return f"{points}, the rest as in {study.base.title} ({study.base.source})."


def _spreads(study: Study, system: System) -> list[str]:
    return [f"- {parameter.name}: {spread_words(parameter, system)}" for parameter in study.parameters]


def _possible(result: Result) -> list[str]:
    """How many points exist, why the others do not, and how many are inside every limit."""
    size, valid = result.size, int(result.valid.sum())
    texts = [f"Possible: {count(valid)} of {count(size)} ({percent(valid / size)})."]
    codes, counts = np.unique(result.reason[~result.valid], return_counts=True)
    for code, many in sorted(zip(codes.tolist(), counts.tolist(), strict=True), key=lambda one: -one[1]):
        texts.append(f"- {count(many)} not: {Reason(code).words}.")
    inside = int(result.inside.sum())
    texts.append(f"Inside every limit: {count(inside)} of {count(size)} ({percent(inside / size)}).")
    return texts


def _outcomes(result: Result, system: System) -> list[Line]:
    lines: list[Line] = []
    for outcome in result.study.outcomes:
        kind, values = outcome.quantity.kind, result.outcomes[outcome.key]
        known = values[np.isfinite(values)]
        ends = np.percentile(known, [0, 50, 100]).tolist() if known.size else [np.nan] * 3
        limit = result.limits[outcome.key]
        outside = "-" if limit is None else percent(float((~limit.holds(values)).mean()))
        cells = (*(number(value, kind, system) for value in ends), outside)
        lines.append(Line(outcome.words, unit_word(kind, system), cells))
    return lines


def _limits(result: Result, system: System, width: int) -> list[str]:
    held = [(o, limit) for o in result.study.outcomes if (limit := result.limits[o.key]) is not None]
    if not held:
        return hang("None of these outcomes has a limit.", width)
    lines = ["LIMITS"]
    for outcome, limit in held:
        lines += hang(limit_words(outcome, limit, system), width, "- ")
    return lines


def _best(worked: Worked, system: System, width: int) -> list[str]:
    """The best points, parameters first, then the outcomes that they are best in and the rest."""
    result, study, found = worked.result, worked.study, worked.best
    wanted = " and ".join(f"{_better(study.outcome(key))} {study.outcome(key).words}" for key in found.by)
    if not found.points.size:
        words = "No point is inside every limit: widen a range, or leave a limit out to see by how much it is missed."
        return [*hang(f"BEST: {wanted}", width), *hang(words, width)]
    size = found.front.points.size
    on_front = f"{count(size)} point{'s' * (size > 1)} to which no other is better in all of that"
    lines = hang(f"BEST: {wanted} ({on_front})", width)
    some = result.rows(found.points)
    order = [*found.by, *(o.key for o in study.outcomes if o.key not in found.by)]
    rows = [_values(p.name, p.kind, some.values[p.key].tolist(), system, p) for p in study.parameters]
    for outcome in map(study.outcome, order):
        rows.append(_values(outcome.words, outcome.quantity.kind, some.outcomes[outcome.key].tolist(), system))
    return [*lines, *tabled([str(n) for n in range(1, some.size + 1)], rows, width)]


def _better(outcome: Outcome) -> str:
    quantity_ = outcome.quantity
    if quantity_.better == "nearer":
        return f"nearest to {fixed(np.degrees(quantity_.aim), 0)} deg:"
    return {"less": "least", "more": "most"}[quantity_.better]


def _values(
    name: str, kind: KindName, values: Sequence[float], system: System, parameter: Parameter | None = None
) -> Line:
    words = [None if parameter is None else parameter.text(value) for value in values]
    cells = tuple(word or number(value, kind, system) for word, value in zip(words, values, strict=True))
    unit = "" if parameter is not None and parameter.words else unit_word(kind, system)
    return Line(name, unit, cells)


def _follows(found: Sensitivity, study: Study, width: int) -> list[str]:
    lines = ["WHAT EACH OUTCOME FOLLOWS, by its share of the variance"]
    for row, key in enumerate(found.outcomes):
        lines += hang(f"{study.outcome(key).words}: {_shares(found, study, row)}", width, "- ")
    return [*lines, *hang(METHOD, width)]


def _shares(found: Sensitivity, study: Study, row: int) -> str:
    """Parameters by their share, and what they share with others where that is more."""
    if not np.isfinite(found.total[row]).all():
        return "nothing, it is the same all over." if found.used[row] else "it exists nowhere."
    told: list[str] = []
    for n in np.argsort(-found.total[row]).tolist():
        first, total = float(found.first[row, n]), float(found.total[row, n])
        if total < TOLD_FROM:
            continue
        with_others = f" ({percent(min(total, 1.0))} with others)" if total - first > 0.02 else ""
        told.append(f"{study.parameters[n].name} {percent(min(max(first, 0.0), 1.0))}{with_others}")
    some = f"; of the {percent(float(found.used[row]))} that exist" if found.used[row] < 1 else ""
    return f"{', '.join(told)}{some}."


def _tolerance(found: Tolerance, study: Study, width: int) -> list[str]:
    size = count(found.drawn.size)
    lines = hang(f"TOLERANCES: {size} brakes drawn; how many are outside, and what halving a tolerance gains", width)
    for held in found.held:
        name = "any of these" if held.key == ANY else study.outcome(held.key).words
        missing = f", {count(held.missing)} of them without such a state" if held.missing else ""
        lines += hang(f"{name}: {share_words(held.outside)}{missing}{_blame(held, study)}", width, "- ")
    return [*lines, *hang(DRAWN, width)]


def _blame(held: Held, study: Study) -> str:
    """The dimensions that are to blame, worst first; nothing where none is outside."""
    told = [
        f"{study.parameter(one.key).name} leaves {percent(one.halved.share)}{_of_variance(one.variance)}"
        for one in held.blame
        if one.halved is not None and one.gain(held.outside) > 0.1 * held.outside.share
    ]
    if not held.outside.count:
        return "."
    return f". Half the tolerance of {'; of '.join(told[:3])}." if told else ". No single tolerance is to blame."


def _of_variance(share: float) -> str:
    return f" (it has {percent(max(share, 0.0))} of the variance)" if np.isfinite(share) else ""
