"""The words of a verdict, in the order in which they are read: what failed stands first."""

from collections.abc import Iterable, Mapping, Sequence

from mechviz.checks.row import CheckRow, Result

ORDER: tuple[Result, ...] = ("fail", "close", "not-evaluated", "pass", "not-applicable")

WORDS: Mapping[Result, str] = {
    "fail": "FAIL",
    "close": "CLOSE",
    "not-evaluated": "NOT EVALUATED",
    "pass": "PASS",
    "not-applicable": "NOT APPLICABLE",
}

MARKS: Mapping[Result, str] = {"fail": "#", "close": "o", "not-evaluated": "?", "pass": "o", "not-applicable": " "}
"""A block beyond the line, a ring at the line, an open question, a ring inside the line."""


def in_order(rows: Iterable[CheckRow]) -> list[CheckRow]:
    """Return the rows with those that failed first; within a verdict they keep their order."""
    return sorted(rows, key=lambda row: ORDER.index(row.result))


def counts(rows: Sequence[CheckRow]) -> dict[Result, int]:
    """Return how many rows have each verdict, in the order of reading."""
    return {result: sum(row.result == result for row in rows) for result in ORDER}


def is_agreement(row: CheckRow) -> bool:
    """Say whether a row's ``limit`` is a figure to agree with, within its ``resolution``, and not a limit."""
    return row.against == "expected"
