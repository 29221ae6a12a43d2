"""Stroke: the measured one against the readjustment limit, and what the solved one leaves, cold and hot."""

from typing import Any

from geometry.states import State
from geometry.tables import StrokeLimit, band, exact_inches, oos_defects, over_by_in, test_pressure_band
from mechviz.checks.case import COLD, HOT, WARM, Case, marked
from mechviz.checks.judge import ROUNDING, Band, judge
from mechviz.checks.row import CheckRow, missing_row

HOT_SOURCE = "Reported brake-temperature tests, 70 and 600 degF; chamber's rated stroke"


def stroke_limit_rows(case: Case) -> list[CheckRow]:
    """Judge the measured stroke, in exact inches, equal being legal, by each rule set chosen that limits it."""
    rows = [_limit_row(case, case.limit)] if "us" in case.rules else []
    if "australia" in case.rules:
        rows.append(_limit_row(case, _share_of_full_stroke(case)))
    if rows:
        return rows
    why = f"None of the rule sets {', '.join(case.rules)} has a stroke limit here: us and australia have."
    return [CheckRow("stroke-limit", "not-applicable", "No rule set chosen", why)]


def _share_of_full_stroke(case: Case) -> StrokeLimit:
    rule, rated = band("share-of-full-stroke-australia"), exact_inches(case.brake.chamber.rated_stroke / 25.4)
    assert rule.high is not None  # the table's test holds the row
    chamber = case.brake.chamber
    return StrokeLimit(rated * rule.high / 100, chamber.style, chamber.size, rule.status, rule.source)


def _limit_row(case: Case, limit: StrokeLimit) -> CheckRow:
    stroke, source = case.setup.measured.stroke, marked(limit.source, limit.status)
    if stroke is None:
        how = "mark the pushrod released, apply the brake, and measure how far it went."
        return missing_row("stroke-limit", source, "measured.stroke", how, limit=limit.limit_mm)
    resolution = case.setup.measured.resolution
    result = judge(stroke, Band(most=limit.limit_mm), resolution)
    figures: dict[str, Any] = {"value": stroke, "limit": limit.limit_mm, "resolution": resolution}
    if result != "fail" and not case.knows_chamber:
        how = (
            f"inside the limit of a {case.chamber_name}, but that is the base's chamber. Write chamber.style and size, "
            "or measure the clamp ring: another chamber has another limit."
        )
        return missing_row("stroke-limit", source, "chamber.size", how, **figures)
    advice = _advice(case, limit, result, stroke) + _marked_caveat(case, limit) + _caveats(case)
    return CheckRow("stroke-limit", result, source, advice, margin=limit.limit_mm - stroke, **figures)


def _advice(case: Case, limit: StrokeLimit, result: str, stroke: float) -> str:
    if result == "pass":
        return f"Inside the readjustment limit of a {case.chamber_name}."
    if result == "close":
        return (
            f"At the limit of a {case.chamber_name} within what the tape can tell: legal as read. Measure again, and "
            "look for the cause now."
        )
    assumed = "" if case.knows_chamber else " (the base's chamber: make sure that it is this one)"
    past = f"Over the readjustment limit of a {case.chamber_name}{assumed}. "
    if stroke > case.brake.chamber.rated_stroke:
        past += "It is more than this chamber's whole stroke: the chamber is another one, or the reading is wrong. "
    over = over_by_in(stroke, limit)
    weight = "one defective brake" if oos_defects([over]) >= 1 else "half a defective brake"
    return past + f"In the North American out-of-service count it is {weight}. " + _cause(case)


def _cause(case: Case) -> str:
    """What to do about too much stroke: never to turn an automatic adjuster."""
    if case.automatic:
        return (
            "An automatic adjuster should have taken this up: do not turn it in by hand to hide it, find the cause "
            "(adjuster, its mounting, clevis pin, bushings, lining, drum)."
        )
    return "Adjust, then find out why it was left to go so far, and measure again."


def _marked_caveat(case: Case, limit: StrokeLimit) -> str:
    """A chamber that is in the table is judged by the table, whatever is marked on it; where they differ it is said."""
    marked_limit = case.setup.marked_limit
    if marked_limit is None or limit != case.limit or abs(marked_limit - limit.limit_mm) < ROUNDING:
        return ""
    return f" The mark on the chamber ({marked_limit / 25.4:.2f} in, {marked_limit:.2f} mm) says otherwise: make sure."


def _caveats(case: Case) -> str:
    return _heat_caveat(case) + _pressure_caveat(case)


def _heat_caveat(case: Case) -> str:
    """A stroke read with a hot drum is longer than the same brake's cold one; the reading is judged as it is."""
    warm = case.setup.as_found.drum_temperature > COLD + WARM
    if not warm or not case.states("condition.drum_temperature"):
        return ""
    return " It was read with a hot drum, which lengthens the stroke: measure again when it is cold."


def _pressure_caveat(case: Case) -> str:
    """A stroke read below the procedure's pressure is shorter than the one that counts."""
    value, rule = case.setup.test.reservoir_pressure, test_pressure_band(case.setup.test.procedure)
    if value is None or not case.states("test.reservoir_pressure"):
        return " The pressure it was measured at is not stated."
    if value < rule.low_mpa:
        low = f"{rule.low_psi} psi ({1000 * rule.low_mpa:.0f} kPa)"
        return f" But it was measured below {low}: at the pressure that counts it is longer."
    return ""


def reserve_rows(case: Case) -> list[CheckRow]:
    """Judge what the solved stroke leaves: cold to the readjustment limit, hot to the end of the chamber."""
    if case.unknown_slack:
        how = "pull the arm by hand and measure its slack (or write lining_clearance)."
        names = ("stroke-reserve-cold", "stroke-reserve-hot")
        return [missing_row(name, "Solved", case.unknown_slack, how, basis="solved") for name in names]
    return [_cold_row(case, case.applied_at(COLD)), _hot_row(case, case.applied_at(HOT))]


def _cold_row(case: Case, state: State) -> CheckRow:
    limit = case.limit
    source = marked(limit.source, limit.status)
    if state.stroke is None:
        return _impossible(case, "stroke-reserve-cold", source, limit.limit_mm, state)
    result = judge(state.stroke, Band(most=limit.limit_mm))
    advice = f"Solved for a drum at 70 degF (21 degC): what is left to the readjustment limit of a {case.chamber_name}."
    if result == "fail":
        advice = "Solved for a drum at 70 degF (21 degC), the stroke is past the readjustment limit. " + _cause(case)
    margin = limit.limit_mm - state.stroke
    return CheckRow("stroke-reserve-cold", result, source, advice, state.stroke, limit.limit_mm, margin, basis="solved")


def _hot_row(case: Case, state: State) -> CheckRow:
    rated = case.brake.chamber.rated_stroke
    if state.stroke is None:
        return _impossible(case, "stroke-reserve-hot", HOT_SOURCE, rated, state)
    share = 100 * state.stroke / rated
    advice = (
        f"With the drum at 600 degF (316 degC) the stroke is {share:.0f} % of the chamber's: what is left before it "
        "bottoms."
    )
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


def _impossible(case: Case, check: str, source: str, limit: float, state: State) -> CheckRow:
    advice = f"There is no such state: {state.reason.words}. {_cause(case)}"
    return CheckRow(check, "fail", source, advice, limit=limit, basis="solved")
