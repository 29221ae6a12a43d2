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


@pytest.mark.parametrize(
    ("ring", "highest", "whose"),
    [
        ("4 1/2", 1.25, "type 6 clamp"),
        ("5 11/16", 1.75, "type 12 clamp long stroke"),
        ("6 3/8", 2.0, "type 16 clamp long stroke"),
        ("6 25/32", 2.5, "type 20 clamp long stroke"),
        ("8 3/32", 2.5, "type 30 clamp long stroke"),
        ("9", 2.25, "type 36 clamp"),
    ],
)
def test_a_stroke_over_every_chamber_with_the_ring_fails_though_nobody_looked_for_marks(
    ring: str, highest: float, whose: str
) -> None:
    """The base is a standard 30: inside its 2 in a small chamber is over all the same."""
    body = '[test]\nreservoir_pressure = "95 psi"\n[measured]\nstroke = "{} in"\nclamp_diameter = "{} in"\n'
    (over,) = checked(body.format(highest + 1 / 16, ring), bare=True)["stroke-limit"]
    assert over.limit is not None
    assert over.margin is not None
    assert (over.result, over.limit / 25.4, over.margin / 25.4) == (
        "fail",
        pytest.approx(highest),
        pytest.approx(-1 / 16),
    )
    assert f"the highest being {highest:.2f} in" in over.advice
    assert f"of a {whose}." in over.advice
    (equal,) = checked(body.format(highest, ring), bare=True)["stroke-limit"]
    assert equal.result == "not-evaluated"


def test_a_ring_between_two_sizes_may_be_either() -> None:
    """6 37/64 in is half way between a 16 and a 20, of which a 20 may have a limit of 2 1/2 in."""
    body = '[test]\nreservoir_pressure = "95 psi"\n[measured]\nstroke = "{} in"\nclamp_diameter = "6 37/64 in"\n'
    results = [checked(body.format(stroke), bare=True)["stroke-limit"][0].result for stroke in ("2 1/2", "2 9/16")]
    assert results == ["not-evaluated", "fail"]


def test_a_written_size_that_the_ring_belies_may_be_right_after_all() -> None:
    """Written is a 30 (2 in, long stroke 2 1/2 in), the ring is a 16's (1 3/4 and 2 in)."""
    body = '[chamber]\nsize = "30"\n[test]\nreservoir_pressure = "95 psi"\n[measured]\nclamp_diameter = "6 3/8 in"\n'
    strokes = ("2 1/4", "2 1/2", "2 9/16")
    rows = [checked(f'{body}stroke = "{stroke} in"', bare=True)["stroke-limit"][0] for stroke in strokes]
    assert [row.result for row in rows] == ["not-evaluated", "not-evaluated", "fail"]


def test_a_stroke_read_hot_has_no_weight_in_the_count() -> None:
    body = '[condition]\nfree_stroke = "0.6 in"\ndrum_temperature = "{} degF"\nslack_temperature = "70 degF"\n'
    body += '[measured]\nstroke = "2 1/4 in"\n'
    cold, hot = (checked(body.format(heat))["stroke-limit"][0] for heat in (70, 500))
    assert (cold.result, hot.result) == ("fail", "fail")
    assert "one defective brake" in cold.advice
    assert "defective brake" not in hot.advice


def test_a_size_with_two_limits_is_over_the_higher_one() -> None:
    long = '[chamber]\nstyle = "clamp-long-stroke"\nsize = "24"\n[measured]\nstroke = "2 9/16 in"\n'
    (row,) = checked(long)["stroke-limit"]
    assert row.limit is not None
    assert (row.result, row.limit / 25.4) == ("fail", pytest.approx(2.5))
    assert "defective brake" not in row.advice
    assert "misread" not in row.advice
    (said,) = checked(long.replace("[measured]", 'rated_stroke = "3 in"\n[measured]'))["stroke-limit"]
    assert "half a defective brake" in said.advice
