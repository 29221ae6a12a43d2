"""Drawings keep their structure and numbers: ids, titles, words, matrices. Style may change freely."""

import pytest

from tests.drawing.golden import DRAWINGS, FOLDER, listing, same


@pytest.mark.parametrize("name", DRAWINGS)
def test_structure_and_numbers_are_the_golden_ones(name: str) -> None:
    golden = (FOLDER / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    found = listing(DRAWINGS[name]())
    assert [line.split(" | ")[0] for line in found] == [line.split(" | ")[0] for line in golden]
    assert [pair for pair in zip(found, golden, strict=True) if not same(*pair)] == []


def test_the_comparison_finds_a_part_that_moved_and_a_word_that_changed() -> None:
    line = "part-arm | 1.00 0.00 0.00 1.00 12.50 3.00 | Slack adjuster"
    assert same(line, line.replace("12.50", "12.51"))
    assert not same(line, line.replace("12.50", "12.60"))
    assert not same(line, line.replace("adjuster", "arm"))
    assert not same(line, line.replace(" 3.00", ""))
