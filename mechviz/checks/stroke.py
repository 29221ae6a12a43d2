"""Stroke: the measured one against the readjustment limit, and what the solved one leaves, cold and hot."""

from geometry.states import State
from geometry.tables import oos_defects, over_by_in
from mechviz.checks.case import COLD, HOT, Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import CheckRow, missing_row

HOT_SOURCE = "Reported brake-temperature tests, 70 and 600 degF; chamber's rated stroke"


def stroke_limit_rows(case: Case) -> list[CheckRow]:
    """Judge the measured stroke, in exact inches, equal being legal."""
    limit = case.limit
    stroke = case.setup.measured.stroke
    source = f"{limit.source}{_status(limit.status)}"
    if stroke is None:
        how = "mark the pushrod released, apply the brake, and measure how far it went."
        return [missing_row("stroke-limit", source, "measured.stroke", how, limit=limit.limit_mm)]
    result = judge(stroke, Band(most=limit.limit_mm), case.setup.measured.resolution)
    row = CheckRow(
        "stroke-limit",
        result,
        source,
        _stroke_advice(case, result, stroke),
        stroke,
        limit.limit_mm,
        limit.limit_mm - stroke,
        resolution=case.setup.measured.resolution,
    )
    return [row]


def _status(status: str) -> str:
    return {"M": " (quoted from memory)", "C": " (common practice)"}.get(status, "")


def _stroke_advice(case: Case, result: str, stroke: float) -> str:
    if result == "pass":
        return "Inside the readjustment limit."
    if result == "close":
        return "At the limit within what the tape can tell: legal as read. Measure again, and look for the cause now."
    over = over_by_in(stroke, case.limit)
    weight = "one defective brake" if oos_defects([over]) >= 1 else "half a defective brake"
    counts = f"Out of adjustment; in the North American out-of-service count it is {weight}. "
    if case.automatic:
        return counts + (
            "An automatic adjuster should have taken this up: do not turn it in by hand to hide it, find the cause "
            "(adjuster, its mounting, clevis pin, bushings, lining, drum)."
        )
    return counts + "Adjust, then find out why it was left to go so far, and measure again."


def reserve_rows(case: Case) -> list[CheckRow]:
    """Judge what the solved stroke leaves: cold to the readjustment limit, hot to the end of the chamber."""
    if not case.states("condition.free_stroke") and not case.states("condition.lining_clearance"):
        how = "pull the arm by hand and measure its slack (or write lining_clearance)."
        names = ("stroke-reserve-cold", "stroke-reserve-hot")
        return [missing_row(name, "Solved", "condition.free_stroke", how, basis="solved") for name in names]
    return [_cold_row(case, case.applied_at(COLD)), _hot_row(case, case.applied_at(HOT))]


def _cold_row(case: Case, state: State) -> CheckRow:
    limit = case.limit
    advice = "Solved for a 70 degF drum at the test pressure: what is left to the readjustment limit."
    if state.stroke is None:
        return _impossible("stroke-reserve-cold", limit.source, limit.limit_mm, state)
    result = judge(state.stroke, Band(most=limit.limit_mm))
    if result == "fail":
        advice = "Solved for a 70 degF drum, the stroke is past the readjustment limit: take up the clearance."
    margin = limit.limit_mm - state.stroke
    return CheckRow(
        "stroke-reserve-cold", result, limit.source, advice, state.stroke, limit.limit_mm, margin, basis="solved"
    )


def _hot_row(case: Case, state: State) -> CheckRow:
    rated = case.brake.chamber.rated_stroke
    if state.stroke is None:
        return _impossible("stroke-reserve-hot", HOT_SOURCE, rated, state)
    share = 100 * state.stroke / rated
    advice = f"With the drum at 600 degF the stroke is {share:.0f} % of the chamber's: what is left before it bottoms."
    lost = 100 * (1 - _force_kept(case, state))
    if lost >= 5:
        advice += f" The pushrod has lost {lost:.0f} % of its force there."
    result = judge(state.stroke, Band(most=rated))
    return CheckRow(
        "stroke-reserve-hot", result, HOT_SOURCE, advice, state.stroke, rated, rated - state.stroke, basis="solved"
    )


def _force_kept(case: Case, state: State) -> float:
    nominal = case.setup.test.pressure * case.brake.chamber.effective_area
    return (state.chamber_force or 0.0) / nominal if nominal else 0.0


def _impossible(check: str, source: str, limit: float, state: State) -> CheckRow:
    advice = f"There is no such state: {state.reason.words}. Take up the clearance, and find the cause."
    return CheckRow(check, "fail", source, advice, limit=limit, basis="solved")
