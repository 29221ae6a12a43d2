"""Slack whose drum temperature nobody wrote, on a hot drum: what is judged has to hold read hot and read cold.

The usual case is a stroke read on a hot drum after slack was felt on a cold one, and the two explain different strokes.
"""

from collections.abc import Callable
from dataclasses import replace

from mechviz.checks.case import Case
from mechviz.checks.row import CheckRow, Result

KEY = "condition.slack_temperature"
_COMES_TO: dict[Result, str] = {
    "pass": "it passes",
    "close": "it is close to the limit",
    "fail": "it fails",
    "not-evaluated": "it cannot be told",
    "not-applicable": "it does not apply",
}


def judged_either_way(case: Case, judge: Callable[[Case], list[CheckRow]]) -> list[CheckRow]:
    """Return the rows of a case that hold whichever its slack was read on; as they are where that is known."""
    rows, cold = judge(case), case.slack_read_cold
    return rows if cold is None else [either_way(*both) for both in zip(rows, judge(cold), strict=True)]


def either_way(hot: CheckRow, cold: CheckRow) -> CheckRow:
    """Return a row that holds whether the slack was read hot or cold; ``not-evaluated`` where the two differ."""
    if hot.result == cold.result:
        return hot
    if hot.result == "not-evaluated" and KEY in hot.advice:  # it says already what to do
        return replace(hot, missing=KEY)
    how = f"Slack read on the drum as hot as it is, {_COMES_TO[hot.result]}; read on a cold one, "
    how += f"{_COMES_TO[cold.result]}: write {KEY}, the drum's when the slack was read."
    row = replace(hot, result="not-evaluated", advice=how, margin=None, missing=KEY)
    return replace(row, limit=None, allowance=0.0) if hot.against == "expected" else row
