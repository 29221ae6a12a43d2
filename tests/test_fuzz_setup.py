"""Whatever stands in a setup file, reading it gives a setup or says what is wrong. `pytest --fuzz N` tries more."""

import tomllib
from time import perf_counter

import pytest

from geometry.errors import SetupError
from geometry.setup import Setup, read_setup_text
from tests.fuzz_cases import SEED, fuzz_case, fuzz_cases

BATCHES = 8
LONGEST = 10.0


def outcome(text: str) -> Setup | SetupError:
    try:
        return read_setup_text(text, "fuzz")
    except SetupError as error:
        return error


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


def test_the_cases_are_of_both_kinds_and_repeatable() -> None:
    results = [outcome(text) for _, text in fuzz_cases(200)]
    good = sum(isinstance(result, Setup) for result in results)
    assert 20 < good < 180
    assert [text for _, text in fuzz_cases(50)] == [fuzz_case(number) for number in range(50)]


def test_a_reader_that_lets_another_error_out_is_caught() -> None:
    """The cases do reach what a careless reader trips over: plain tomllib lets its own errors out."""
    escaped = set[str]()
    for _, text in fuzz_cases(400):
        try:
            float(tomllib.loads(text)["linkage"]["arm_length"].removesuffix(" in"))
        except Exception as error:
            escaped.add(type(error).__name__)
    assert {"TOMLDecodeError", "KeyError", "ValueError"} <= escaped
