"""Free stroke: the slack felt by hand, or worked out from a clearance, against the trade's band."""

from dataclasses import dataclass
from typing import Any

from geometry.tables import band
from geometry.tables.reader import millimetres
from mechviz.checks.case import Case
from mechviz.checks.judge import ROUNDING, Band, judge, judge_solved, shown_spread
from mechviz.checks.row import CheckRow, Result, missing_row
from mechviz.checks.slack_cold import left_when_cold, loose_when_cold
from mechviz.checks.spread import FEELER
from mechviz.checks.train import base_arm_doubt, base_cam_doubt
from mechviz.report.written import both


@dataclass(frozen=True)
class _Slack:
    """A free stroke to judge, and how much of it is open, towards the better side too; all mm."""

    value: float
    open: float
    back: float


def free_stroke_rows(case: Case) -> list[CheckRow]:
    """Judge the free stroke as found; at the upper end the brake must be adjusted already."""
    if case.states("condition.lining_clearance"):
        return [_clearance_row(case)]
    value, resolution = case.setup.as_found.free_stroke, case.setup.measured.resolution
    if value is None or not case.states("condition.free_stroke"):
        how = "pull the arm by hand, brake released, and measure how far the pushrod moves."
        return [missing_row("free-stroke", band("free-stroke").source, "condition.free_stroke", how)]
    slack, allowed = _Slack(value, resolution, resolution), allowed_free_stroke()
    result = judge(value, allowed, resolution)
    if case.slack_hot and not (result == "fail" and value < allowed.least):  # what is tight hot is tighter cold
        return [_hot_row(case, slack)]
    advice = _advice(case, result, value > allowed.least) + _heat_caveat(case)
    return [_row(result, advice, slack)]


def allowed_free_stroke() -> Band:
    """Return the trade's band of free strokes, mm; at its upper end the brake must be adjusted already."""
    rule = band("free-stroke")
    assert rule.low is not None  # the table's test holds the row
    assert rule.high is not None
    return Band(millimetres(rule.low), millimetres(rule.high), most_included=False)


def _row(result: Result, advice: str, slack: _Slack, source: str = "", **rest: Any) -> CheckRow:
    allowed = allowed_free_stroke()
    figures = (slack.value, allowed.nearest(slack.value), allowed.margin(slack.value))
    shown = shown_spread(slack.open, figures[2], slack.back)
    said = source or band("free-stroke").source
    return CheckRow("free-stroke", result, said, advice, *figures, resolution=shown, **rest)


def _hot_row(case: Case, slack: _Slack, **rest: Any) -> CheckRow:
    """Slack read on a hot drum: too much where it is too much for a cold one as well, else it tells nothing."""
    if loose_when_cold(case):
        return _row("fail", _too_much_hot(case) + _heat_caveat(case), slack, **rest)
    return CheckRow("free-stroke", "not-evaluated", band("free-stroke").source, _let_it_cool(case), slack.value, **rest)


def _too_much_hot(case: Case) -> str:
    left = both(left_when_cold(case), "length", case.setup.system)
    what = (
        f"Too much slack, whatever the heat does: of what was read on a hot drum about {left} is left on a cold one. "
    )
    what += "Let it cool, do not adjust hot, and measure again"
    if not case.automatic:
        return f"{what}; then adjust until the linings just clear the drum."
    who = case.an_automatic_one[0].lower() + case.an_automatic_one[1:]
    return f"{what}; {who} has not taken it up: find out why before anyone turns it."


def _clearance_row(case: Case) -> CheckRow:
    """The free stroke worked out from the clearance; on another's cam or arm there is none."""
    source, touch = f"{band('free-stroke').source}; {band('clearance-running').source}", case.spread.touch
    if doubt := base_cam_doubt(case) or base_arm_doubt(case):
        how = (
            "the free stroke follows from the clearance by arm, cam and shoes. Write them, or free_stroke in its place."
        )
        return missing_row("free-stroke", source, doubt[0], how, basis="solved")
    if not touch.exists:
        return _untouched_row(case, source)
    slack = _Slack(touch.value, touch.amount, touch.back)
    if touch.value < allowed_free_stroke().least:
        return _near_row(case, slack, source)
    if case.slack_hot:
        return _hot_row(case, slack, basis="solved")
    result = judge_solved(
        slack.value, Band(most=allowed_free_stroke().most, most_included=False), slack.open, slack.back
    )
    advice = {"close": _EDGE_BY_FEELER}.get(result) or _advice(case, result, loose=True)
    return _row(result, f"{_WORKED_OUT} {advice}{_heat_caveat(case)}", slack, source, basis="solved")


_WORKED_OUT = "Worked out from the clearance."
_EDGE_BY_FEELER = "At the edge of too much within what feeler and tape can tell: pull the arm by hand and measure it."


def _near_row(case: Case, slack: _Slack, source: str) -> CheckRow:
    """Less than by hand is usual: no fault at a running clearance, and too tight below what is set by feeler."""
    clear = case.setup.as_found.lining_clearance or 0.0
    running, feeler = _least("clearance-running"), _least("clearance-by-feeler")
    result: Result = "pass" if clear >= running - ROUNDING else "fail" if clear + FEELER < feeler else "close"
    if case.slack_hot and result != "fail":  # a drum that grew has made it more
        return CheckRow("free-stroke", "not-evaluated", source, _let_it_cool(case), slack.value, basis="solved")
    advice = {
        "pass": "Less than is usual by hand, and no less clearance than linings run with.",
        "close": "Less clearance than linings run with: spin the wheel and feel for drag, and measure again.",
    }.get(result) or _advice(case, result, loose=False)
    return _row(result, f"{_WORKED_OUT} {advice}{_heat_caveat(case)}", slack, source, basis="solved")


def _least(name: str) -> float:
    rule = band(name)
    assert rule.low is not None  # the table's test holds the row
    return millimetres(rule.low)


def _untouched_row(case: Case, source: str) -> CheckRow:
    """More clearance than this brake can take up fails; where the linings touch nowhere there is no free stroke."""
    most = allowed_free_stroke().most
    if case.slack_beyond:
        why = f"{_WORKED_OUT} More than this brake can take up: see the row within reach. {_advice(case, 'fail', True)}"
        return CheckRow("free-stroke", "fail", source, why, limit=most, basis="solved")
    why = f"There is no such state to work a free stroke out for: {case.spread.touch.why.words}."
    return CheckRow("free-stroke", "not-evaluated", source, why, limit=most, basis="solved")


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
    allowed = allowed_free_stroke()
    return (allowed.least + allowed.most) / 2


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
