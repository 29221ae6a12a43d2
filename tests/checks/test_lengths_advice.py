"""Advice on lengths goes the right way: what is called too long or too short is so, by a solve of the other length."""

from math import degrees

import pytest

from mechviz.checks import CheckRow
from tests.checks.test_checks import checked

BODY = '[condition]\nfree_stroke = "0.6 in"\n[linkage]\n{name} = "{length} in"'


def row_of(check: str, name: str, length: float) -> CheckRow:
    (row,) = checked(BODY.format(name=name, length=length))[check]
    return row


@pytest.mark.parametrize("name", ["arm_length", "pin_reach"])
@pytest.mark.parametrize(("length", "words", "toward"), [(3.5, "too short", 0.25), (9.0, "too long", -0.25)])
def test_the_length_that_is_blamed_is_off_the_way_that_is_said(
    name: str, length: float, words: str, toward: float
) -> None:
    """Arm 3.5 in stands before square, 9 in past it; the pushrod alike: a little less of the fault is nearer square."""
    start = {"arm_length": length, "pin_reach": {3.5: 5.0, 9.0: 7.4}[length]}[name]
    row, nearer = (row_of("arm-angle-applied", name, start + step) for step in (0.0, toward))
    assert row.value is not None
    assert nearer.value is not None
    assert row.result in ("fail", "close")
    assert words in row.advice
    assert {"too short": "too long", "too long": "too short"}[words] not in row.advice
    assert abs(degrees(nearer.value) - 90) < abs(degrees(row.value) - 90)


@pytest.mark.parametrize(("arm", "words"), [(4.2, "too short"), (7.5, "too long")])
def test_where_square_is_passed_blames_the_same_length(arm: float, words: str) -> None:
    square = row_of("right-angle-stroke", "arm_length", arm)
    assert (square.result, words in square.advice) == ("fail", True)
    if arm > 5.5:
        contact = row_of("arm-angle-contact", "arm_length", arm)
        assert (contact.result, words in contact.advice) == ("fail", True)
