"""A stroke is told as over the limit of the chamber that it is, and its weight only where every such chamber has it."""

import pytest

from tests.checks.test_checks import checked

RING = (
    '[test]\nreservoir_pressure = "95 psi"\n[measured]\nstroke = "{} in"\nclamp_diameter = "{} in"\n'
    "long_stroke_marks = {}\n"
)


@pytest.mark.parametrize(
    ("ring", "size", "limit", "over", "weight"),
    [
        ("7 7/32", "24", 1.75, 0.3125, "one defective brake"),
        ("5 11/16", "12", 1.375, 0.6875, "one defective brake"),
        ("6 3/8", "16", 1.75, 0.3125, "one defective brake"),
    ],
)
def test_the_limit_is_that_of_the_chamber_that_ring_and_marks_name(
    ring: str, size: str, limit: float, over: float, weight: str
) -> None:
    """The base is a type 30: over its 2 in by 1/16 in would count half."""
    (row,) = checked(RING.format("2 1/16", ring, "false"), bare=True)["stroke-limit"]
    assert row.limit is not None
    assert row.margin is not None
    assert (row.result, row.limit / 25.4, -row.margin / 25.4) == ("fail", pytest.approx(limit), pytest.approx(over))
    assert f"of a type {size} clamp. " in row.advice
    assert f"count it is {weight}" in row.advice


def test_the_weight_is_left_out_where_it_depends_on_which_chamber_it_is() -> None:
    """A type 30 is written, the ring is a 24's: over by 1/16 in or by 5/16 in."""
    (row,) = checked(RING.format("2 1/16", "7 7/32", "false"))["stroke-limit"]
    assert row.limit is not None
    assert (row.result, row.limit / 25.4) == ("fail", pytest.approx(2.0))
    assert "defective brake" not in row.advice
    assert "every chamber that this one may be" in row.advice
    (far,) = checked(RING.format("2 3/8", "7 7/32", "false"))["stroke-limit"]
    assert "one defective brake" in far.advice


def test_a_size_with_two_limits_is_over_the_higher_one() -> None:
    long = '[chamber]\nstyle = "clamp-long-stroke"\nsize = "24"\n[measured]\nstroke = "2 9/16 in"\n'
    (row,) = checked(long)["stroke-limit"]
    assert row.limit is not None
    assert (row.result, row.limit / 25.4) == ("fail", pytest.approx(2.5))
    assert "defective brake" not in row.advice
    assert "misread" not in row.advice
    (said,) = checked(long.replace("[measured]", 'rated_stroke = "3 in"\n[measured]'))["stroke-limit"]
    assert "half a defective brake" in said.advice
