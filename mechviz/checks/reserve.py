"""What the solved stroke leaves: cold to the readjustment limit, hot to where the chamber loses its push."""

from geometry.chamber import share_lost
from geometry.effective_stroke import effective_stroke
from geometry.quantity import KINDS
from geometry.reasons import Reason
from geometry.states import State
from mechviz.checks.case import STROKE_ALLOWANCE, Case, marked
from mechviz.checks.judge import Band, judge, shown_spread
from mechviz.checks.row import CheckRow, Result, missing_row
from mechviz.checks.stroke import what_to_do

HOT_SOURCE = (
    "UN R13, effective stroke: 90 % of the mean thrust left; drum at 600 degF (316 degC) as in the reported "
    "brake-temperature tests"
)
GROWTH_SHORT = 0.14
"""By how much of itself the solved growth with heat may be short of the reported one, as the validation tests find."""


def reserve_rows(case: Case) -> list[CheckRow]:
    """Return both rows; without a slack of this vehicle's own there is no stroke to solve."""
    if case.unknown_slack:
        how = "pull the arm by hand and measure its slack (or write lining_clearance)."
        names = ("stroke-reserve-cold", "stroke-reserve-hot")
        return [missing_row(name, "Solved", case.unknown_slack, how, basis="solved") for name in names]
    return [_cold_row(case), _hot_row(case)]


def _cold_row(case: Case) -> CheckRow:
    limit, state = case.limit, case.cold
    source = marked(limit.source, limit.status)
    if state.stroke is None:
        return _impossible(case, "stroke-reserve-cold", source, limit.limit_mm, state)
    stroke, spread = state.stroke + _excess(case), case.spread.cold_stroke + _windup(case)
    result = judge(stroke, Band(most=limit.limit_mm), spread)
    advice = (
        f"Solved for {_full(case)} and a drum at 70 degF (21 degC): what is left to the limit of a {case.chamber_name}."
    )
    if result == "close":
        known = case.setup.measured.stroke is not None
        advice += f" Less than readings and model can tell: {'' if known else 'measure the stroke itself, and '}"
        advice += "look for the cause of the slack."
    if result == "fail":
        advice = f"Solved for {_full(case)} and a drum at 70 degF (21 degC), the stroke is past the limit. "
        advice += what_to_do(case)
    return _row(case, "stroke-reserve-cold", result, source, advice + _told(case), stroke, limit.limit_mm, spread)


def _excess(case: Case) -> float:
    """By how much the stroke that was read is longer than the solved one, mm: then so is any other of this brake."""
    read, solved = case.setup.measured.stroke, case.found["applied"].stroke
    return 0.0 if read is None or solved is None else max(0.0, read - solved)


def _told(case: Case) -> str:
    excess = _excess(case)
    if excess < LITTLE:
        return ""
    return f" What was read is {excess / 25.4:.2f} in ({excess:.1f} mm) more than solved, which is added here."


LITTLE = 25.4 / 64
"""A difference that no tape shows, 1/64 in (the project's figure)."""


def _windup(case: Case) -> float:
    """What wind-up leaves open, mm: it differs from brake to brake, unless the file has this brake's own."""
    return 0.0 if case.states("foundation.windup_stiffness") else STROKE_ALLOWANCE


def _full(case: Case) -> str:
    """The pressure of a full application, in both units."""
    return f"{case.full_pressure / PSI:.0f} psi ({1000 * case.full_pressure:.0f} kPa)"


PSI = KINDS["pressure"].inch_factor


def _hot_row(case: Case) -> CheckRow:
    """Judged by what is left of the push: towards the end of its stroke a chamber has none, however near that is."""
    state, cold = case.hot, case.cold
    limit = effective_stroke(case.brake.chamber, case.full_pressure)
    if state.stroke is None or cold.stroke is None:
        return _impossible(case, "stroke-reserve-hot", HOT_SOURCE, limit, cold if state.stroke else state)
    spread = case.spread.hot_stroke + GROWTH_SHORT * (state.stroke - cold.stroke) + _windup(case)
    stroke = state.stroke + _excess(case)
    result = judge(stroke, Band(most=limit), spread)
    advice = _hot_advice(case, state, stroke, result) + _told(case)
    return _row(case, "stroke-reserve-hot", result, HOT_SOURCE, advice, stroke, limit, spread)


def _hot_advice(case: Case, state: State, stroke: float, result: str) -> str:
    share = 100 * stroke / case.brake.chamber.rated_stroke
    lost = 100 * share_lost(case.brake.chamber, case.full_pressure, state.chamber_force or 0.0)
    advice = f"With the drum at 600 degF (316 degC) the stroke is {share:.0f} % of the chamber's"
    advice += f", and the pushrod has lost {lost:.0f} % of its force." if lost >= 1 and _excess(case) < LITTLE else "."
    if share > 100:
        return f"{advice} It has bottomed before that: hot, nothing is left to brake with. {what_to_do(case)}"
    if result == "close":
        return f"{advice} Less is left than readings and model can tell: take up slack now, the proper way."
    return advice if result == "pass" else f"{advice} Hot, this brake pushes less than it should. {what_to_do(case)}"


def _row(
    case: Case, check: str, result: Result, source: str, advice: str, stroke: float, limit: float, spread: float
) -> CheckRow:
    """A row of a solved stroke, whose resolution is what readings and model leave open; a doubtful chamber has none."""
    margin, missing = limit - stroke, ""
    if case.chamber_doubt and result != "fail":
        key, how = case.chamber_doubt
        missing = case.unless_stated(key)
        result, advice = "not-evaluated", f"Inside the limit of a {case.chamber_name}, but {how}"
    shown = shown_spread(spread, margin)
    return CheckRow(
        check, result, source, advice, stroke, limit, margin, resolution=shown, basis="solved", missing=missing
    )


def _impossible(case: Case, check: str, source: str, limit: float, state: State) -> CheckRow:
    """The state does not exist: too much slack bottoms the chamber, anything else is no matter of adjusting."""
    if state.reason == Reason.INPUT_MISSING:
        why = "The slack that was found leaves nothing to work out: see the row within reach."
        return CheckRow(check, "not-evaluated", source, why, limit=limit, basis="solved")
    mend = (
        what_to_do(case) if state.reason == Reason.BOTTOMED else f"Do not use this brake. It needs {state.reason.fix}."
    )
    advice = f"There is no such state: {state.reason.words}. {mend}"
    return CheckRow(check, "fail", source, advice, limit=limit, basis="solved")
