"""Free stroke: the slack felt by hand, against the trade's band."""

from geometry.tables import band
from geometry.tables.reader import millimetres
from mechviz.checks.case import Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import CheckRow, missing_row
from mechviz.report.written import both


def free_stroke_rows(case: Case) -> list[CheckRow]:
    """Judge the free stroke as found; at the upper end the brake must be adjusted already."""
    rule = band("free-stroke")
    value = case.setup.as_found.free_stroke
    if case.states("condition.lining_clearance"):
        why = "The slack is stated as lining_clearance; write free_stroke in its place to have it judged."
        return [CheckRow("free-stroke", "not-applicable", rule.source, why)]
    if value is None or not case.states("condition.free_stroke"):
        how = "pull the arm by hand, brake released, and measure how far the pushrod moves."
        return [missing_row("free-stroke", rule.source, "condition.free_stroke", how)]
    assert rule.low is not None  # the table's test holds the row
    assert rule.high is not None
    allowed = Band(millimetres(rule.low), millimetres(rule.high), most_included=False)
    result = judge(value, allowed, case.setup.measured.resolution)
    if case.slack_hot and not (result == "fail" and value < allowed.least):  # what is tight hot is tighter cold
        return [CheckRow("free-stroke", "not-evaluated", rule.source, _let_it_cool(case), value)]
    return [
        CheckRow(
            "free-stroke",
            result,
            rule.source,
            _advice(case, result, value > allowed.least) + _heat_caveat(case),
            value,
            allowed.nearest(value),
            allowed.margin(value),
            resolution=case.setup.measured.resolution,
        )
    ]


def _let_it_cool(case: Case) -> str:
    """Slack on a hot drum says nothing: adjusted by it the linings press, or nearly, once the drum is cold."""
    heat = both(case.setup.as_found.slack_temperature, "temperature", case.setup.system)
    return (
        f"Read with the drum at {heat}, and a drum that grows adds slack: let it cool, do not adjust hot, and measure "
        f"again.{_heat_caveat(case)}"
    )


def _heat_caveat(case: Case) -> str:
    """Slack goes with the drum's temperature; unless it is said, it is taken for that at which the rest was read."""
    if case.slack_read_cold is None:
        return ""
    return " It counts as read with the drum as hot as it is: if it was read cold, write condition.slack_temperature."


def usual_free_stroke() -> float:
    """Return the middle of the trade's band of free strokes, mm."""
    rule = band("free-stroke")
    assert rule.low is not None  # the table's test holds the row
    assert rule.high is not None
    return millimetres((rule.low + rule.high) / 2)


def _advice(case: Case, result: str, loose: bool) -> str:
    if result == "pass":
        return "The slack is inside the trade's band."
    if result == "close":
        return "At the edge of the trade's band within what the tape can tell: measure again."
    if not loose:
        return "Tight: spin the wheel and feel for drag. Linings that rub wear, heat and use up air."
    if case.automatic:
        who = case.an_automatic_one[0].lower() + case.an_automatic_one[1:]
        return f"Too much slack, and {who} has not taken it up: find out why before anyone turns it."
    return "Too much slack: adjust until the linings just clear the drum, then measure again."
