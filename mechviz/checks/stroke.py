"""The measured stroke against the readjustment limit of this vehicle's own chamber, at a pressure that counts."""

from typing import Any

from geometry.tables import StrokeLimit, oos_defects, over_by_in, rated_strokes, test_pressure_band
from mechviz.checks.case import COLD, WARM, Case, marked
from mechviz.checks.judge import ROUNDING, Band, judge
from mechviz.checks.proof import Doubt, ends, known_pressure
from mechviz.checks.row import CheckRow, missing_row


def stroke_limit_rows(case: Case) -> list[CheckRow]:
    """Judge the measured stroke, in exact inches, equal being legal, by each rule set chosen that limits it."""
    rows = [_limit_row(case, limit) for limit in case.limits]
    why = f"None of the rule sets {', '.join(case.rules)} has a stroke limit here: us and australia have."
    return rows or [CheckRow("stroke-limit", "not-applicable", "Stroke limits of the rule sets chosen", why)]


def _limit_row(case: Case, limit: StrokeLimit) -> CheckRow:
    stroke, source = case.setup.measured.stroke, marked(limit.source, limit.status)
    if stroke is None:
        how = "mark the pushrod released, apply the brake, and measure how far it went."
        return missing_row("stroke-limit", source, "measured.stroke", how, limit=limit.limit_mm)
    resolution = case.setup.measured.resolution
    result = judge(stroke, Band(most=limit.limit_mm), resolution)
    figures: dict[str, Any] = {"value": stroke, "limit": limit.limit_mm, "resolution": resolution}
    doubt = (
        None if result == "fail" else case.chamber_doubt or case.pressure_doubt or _marked_doubt(case, limit, stroke)
    )
    if doubt:
        key, how = doubt
        advice = f"Inside the limit of a {case.chamber_name}, but {how}"
        return CheckRow("stroke-limit", "not-evaluated", source, advice, missing=case.unless_stated(key), **figures)
    advice = _advice(case, limit, result, stroke) + _class_caveat(case, result) + _marked_caveat(case, limit)
    advice += _heat_caveat(case) + _air_caveat(case)
    return CheckRow("stroke-limit", result, source, advice, margin=limit.limit_mm - stroke, **figures)


def _advice(case: Case, limit: StrokeLimit, result: str, stroke: float) -> str:
    if result == "pass":
        return f"Inside the readjustment limit of a {case.chamber_name}."
    if result == "close":
        return (
            f"At the limit of a {case.chamber_name} within what the tape can tell: legal as read. Measure again, and "
            "look for the cause now."
        )
    own = case.states("chamber.style", "chamber.size") or case.knows_chamber
    assumed = "" if own else " (the base's chamber: make sure that it is this one)"
    past = f"Over the readjustment limit of a {case.chamber_name}{assumed}. "
    if stroke > case.brake.chamber.rated_stroke:
        past += "It is more than this chamber's whole stroke: the chamber is another one, or the reading is wrong. "
    over = over_by_in(stroke, limit)
    weight = "one defective brake" if oos_defects([over]) >= 1 else "half a defective brake"
    if limit.source.startswith("49 CFR"):
        past += f"In the North American out-of-service count it is {weight}. "
    return past + what_to_do(case)


def what_to_do(case: Case) -> str:
    """Say what to do about too much stroke: never to turn an automatic adjuster."""
    if case.automatic:
        return (
            "An automatic adjuster should have taken this up: do not turn it in by hand to hide it, find the cause "
            "(adjuster, its mounting, clevis pin, bushings, lining, drum)."
        )
    return "Adjust, then find out why it was left to go so far, and measure again."


def _class_caveat(case: Case, result: str) -> str:
    """Two sizes of long-stroke chambers have a higher limit where their rated stroke is longer; the lower was taken."""
    chamber = case.brake.chamber
    twofold = chamber.style == "clamp-long-stroke" and len(rated_strokes(chamber.style, chamber.size)) > 1
    if result == "pass" or not twofold or case.states("chamber.rated_stroke"):
        return ""
    return " The lower limit of this size was taken: write chamber.rated_stroke as marked, 3 in ones have a higher one."


def _marked_doubt(case: Case, limit: StrokeLimit, stroke: float) -> Doubt | None:
    """A mark on the chamber below the table's limit: it is another chamber than was thought, or was misread."""
    mark = case.setup.marked_limit
    if (
        mark is None
        or mark >= limit.limit_mm
        or judge(stroke, Band(most=mark), case.setup.measured.resolution) == "pass"
    ):
        return None
    how = f"the limit marked on it is {mark / 25.4:.2f} in ({mark:.2f} mm): make sure which chamber it is."
    return "chamber.marked_limit", how


def _marked_caveat(case: Case, limit: StrokeLimit) -> str:
    """A chamber that is in the table is judged by the table, whatever is marked on it; where they differ it is said."""
    marked_limit = case.setup.marked_limit
    if marked_limit is None or limit != case.limit or abs(marked_limit - limit.limit_mm) < ROUNDING:
        return ""
    return f" The mark on the chamber ({marked_limit / 25.4:.2f} in, {marked_limit:.2f} mm) says otherwise: make sure."


def _air_caveat(case: Case) -> str:
    """More air than the procedure's makes the stroke longer than the one that counts."""
    known, rule = known_pressure(case.setup), test_pressure_band(case.setup.test.procedure)
    if known is None or known <= rule.high_mpa:
        return ""
    return f" It was read above {ends(rule)[1]}, which lengthens the stroke: measure again at a pressure that counts."


def _heat_caveat(case: Case) -> str:
    """A stroke read with a hot drum is longer than the same brake's cold one; the reading is judged as it is."""
    warm = case.setup.as_found.drum_temperature > COLD + WARM
    if not warm or not case.states("condition.drum_temperature"):
        return ""
    return " It was read with a hot drum, which lengthens the stroke: measure again when it is cold."
