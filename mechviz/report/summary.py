"""A check in one plain sentence: how many passed, were close, failed or were not evaluated, and what is missing."""

from collections.abc import Sequence

from mechviz.checks.row import CheckRow, Result
from mechviz.report.verdicts import counts


def missing_readings(rows: Sequence[CheckRow]) -> list[str]:
    """Return the keys of the setup file that would let more be checked, each once, in the order of the rows."""
    return list(dict.fromkeys(row.missing for row in rows if row.missing))


def summary(rows: Sequence[CheckRow]) -> str:
    """Return the sentence.

    >>> summary([CheckRow("stroke-limit", "fail", "", ""), CheckRow("cam-turn", "pass", "", "")])
    'Of 2 checks 1 failed (stroke limit), 0 are close to the limit, 1 passed and 0 could not be evaluated.'
    """
    number = counts(rows)
    judged = len(rows) - number["not-applicable"]
    close = f"{number['close']} {'is' if number['close'] == 1 else 'are'} close to the limit"
    sentence = (
        f"Of {judged} check{'s' * (judged != 1)} {number['fail']} failed{_names(rows, 'fail')}, "
        f"{close}{_names(rows, 'close')}, {number['pass']} passed "
        f"and {number['not-evaluated']} could not be evaluated."
    )
    missing = missing_readings(rows)
    return f"{sentence} Missing: {', '.join(missing)}." if missing else sentence


def _names(rows: Sequence[CheckRow], result: Result) -> str:
    """Which they were, in brackets: by the end of a long report they have left the screen."""
    names = dict.fromkeys(row.check.replace("-", " ") for row in rows if row.result == result)
    return f" ({', '.join(names)})" if names else ""
