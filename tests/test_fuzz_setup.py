"""Whatever stands in a setup file, reading it gives a setup or says what is wrong. `pytest --fuzz N` tries more.

A file that is read is also solved and checked: no traceback, no hang, and no figure that is not one passes.
"""

import json
import tomllib
from dataclasses import replace
from functools import cache
from math import isfinite
from time import perf_counter

import pytest

from geometry.errors import SetupError
from geometry.reasons import Reason
from geometry.setup import Setup, read_setup_text
from mechviz.checks import CHECKS, RESULTS, CheckRow
from mechviz.checks.case import Case
from mechviz.report.check_json import check_json
from mechviz.report.check_text import check_text
from tests.fuzz_cases import SEED, fuzz_case, fuzz_cases

BATCHES = 8
RULES = ("us", "quebec", "army", "australia", "common")
LONGEST = 10.0


@cache
def outcome(text: str) -> Setup | SetupError:
    try:
        return read_setup_text(text, "fuzz")
    except SetupError as error:
        return error


def honest(setup: Setup, where: str) -> None:
    """Solve and check, and hold what comes out: a pass has its figures, a state has all of them or none."""
    alike = repr(replace(setup, title=""))
    rows = JUDGED[alike] = JUDGED.get(alike) or judged(setup, where)
    data = json.loads(check_json(setup.title, rows))
    assert len(data["checks"]) == len(rows), where
    assert check_text(setup.title, rows, setup.system, 80), where


JUDGED: dict[str, list[CheckRow]] = {}
"""The rows of each brake, which is in three files of ten what another file has said: nothing but the title differs."""


def judged(setup: Setup, where: str) -> list[CheckRow]:
    case = Case(setup, RULES)
    rows = [row for check in CHECKS for row in check(case)]
    for row in rows:
        assert row.result in RESULTS, where
        assert row.result not in ("pass", "close") or row.value is not None, where
        assert all(x is None or isfinite(x) for x in (row.value, row.limit, row.margin)), where
    for state in case.found.values():
        gone = [state.stroke, state.arm_angle, state.left.gap_least, state.right.turn].count(None)
        assert gone == (0 if state.reason == Reason.EXISTS else 4), f"{where}: {state}"
    return rows


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_mutated_file_gives_a_setup_or_a_setup_error(batch: int, request: pytest.FixtureRequest) -> None:
    for number in range(batch, request.config.getoption("--fuzz"), BATCHES):
        start = perf_counter()
        result = outcome(fuzz_case(number))
        where = f"case {number} of seed {SEED}"
        assert perf_counter() - start < LONGEST, where
        if isinstance(result, SetupError):
            assert result.faults, where
            assert all(fault.where and fault.problem and fault.fix for fault in result.faults), where
            assert len(result.faults) <= 61, where
            assert all(line.isprintable() for line in str(result).split("\n")), where
        else:
            honest(result, where)


def test_the_cases_are_of_both_kinds_and_repeatable() -> None:
    results = [outcome(text) for _, text in fuzz_cases(200)]
    good = sum(isinstance(result, Setup) for result in results)
    assert 20 < good < 180
    assert [text for _, text in fuzz_cases(50)] == [fuzz_case(number) for number in range(50)]


def test_a_reader_that_lets_another_error_out_is_caught() -> None:
    """The cases do reach what a careless reader trips over: plain tomllib lets its own errors out."""
    escaped = set[str]()
    for _, text in fuzz_cases(1200):
        try:
            float(tomllib.loads(text)["linkage"]["arm_length"].removesuffix(" in"))
        except Exception as error:
            escaped.add(type(error).__name__)
    assert {"TOMLDecodeError", "KeyError", "ValueError"} <= escaped
