"""No stroke passes on a chamber that may be another one: marks unread, a lower limit marked, a base's chamber."""

import pytest

from tests.checks.test_checks import checked, result

LONG = (
    '[chamber]\nstyle = "clamp-long-stroke"\nsize = "30"\n{}[measured]\nclamp_diameter = "8 3/32 in"\nstroke = "{}"\n'
)


@pytest.mark.parametrize(
    ("rated", "stroke", "marks", "expected"),
    [
        ("", "2 3/8 in", "", "not-evaluated"),
        ("", "1 15/16 in", "", "pass"),
        ("", "1 31/32 in", "", "not-evaluated"),
        ("", "2 3/8 in", "long_stroke_marks = true", "pass"),
        ('rated_stroke = "3 in"\n', "2 3/8 in", "", "pass"),
        ("", "2 9/16 in", "", "fail"),
    ],
)
def test_a_long_stroke_chamber_that_is_only_written(rated: str, stroke: str, marks: str, expected: str) -> None:
    """A standard 30 has the same ring and a limit of 2 in (49 CFR 393.47(e)): inside that no marks are needed."""
    (row,) = checked(LONG.format(rated, stroke) + marks)["stroke-limit"]
    assert row.result == expected
    if expected == "not-evaluated":
        assert row.missing == "measured.long_stroke_marks"
        assert "square air ports" in row.advice
        assert "2.00 in" in row.advice


def test_a_rated_stroke_that_a_standard_one_has_too_is_no_mark() -> None:
    """24: 2 1/2 in is met with as standard and as long stroke."""
    body = '[chamber]\nstyle = "clamp-long-stroke"\nsize = "24"\nrated_stroke = "2 1/2 in"\n'
    assert result(checked(body + '[measured]\nstroke = "1 7/8 in"'), "stroke-limit") == "not-evaluated"


def test_a_lower_limit_marked_is_passed_over_by_no_row() -> None:
    own = '[foundation]\nwindup_stiffness = "180 N*m/deg"\n[condition]\nfree_stroke = "0.5 in"\n'
    chamber = '[chamber]\nmarked_limit = "{} in"\n' + own
    high, low = (checked(chamber.format(mark)) for mark in ("2", "1.2"))
    for check in ("stroke-reserve-cold", "right-angle-stroke"):
        assert (result(high, check), result(low, check)) == ("pass", "not-evaluated")
        assert "the limit marked on it is 1.20 in" in low[check][0].advice
    assert result(low, "stroke-reserve-hot") in ("not-evaluated", "fail")


def test_where_square_is_passed_is_no_pass_on_the_bases_chamber() -> None:
    body = '[linkage]\narm_length = "5.5 in"\npin_reach = "6 in"\nface_distance = "7.5 in"\naxis_offset = "5.35 in"\n'
    (row,) = checked(body + '[condition]\nfree_stroke = "0.6 in"', bare=True)["right-angle-stroke"]
    assert (row.result, row.missing) == ("not-evaluated", "chamber.style")


RING = '[test]\nreservoir_pressure = "95 psi"\n[measured]\nclamp_diameter = "8 3/32 in"\nlong_stroke_marks = true\n'


@pytest.mark.parametrize(("stroke", "expected"), [("2 1/16 in", "not-evaluated"), ("2 9/16 in", "fail")])
def test_ring_and_marks_before_the_bases_chamber(stroke: str, expected: str) -> None:
    """No chamber is written, the base's is a standard 30, and what was seen is a long-stroke 30: 2 1/2 in."""
    rows = checked(RING + f'stroke = "{stroke}"', bare=True)
    (limit,), (size,) = rows["stroke-limit"], rows["chamber-size"]
    assert (limit.result, size.result, size.missing) == (expected, "not-evaluated", "chamber.style")
    assert 'write chamber.style = "clamp-long-stroke", size = "30"' in size.advice
    assert "the setup says" not in limit.advice + size.advice
    assert "is written" not in limit.advice


def test_a_fail_on_a_chamber_that_its_marks_belie_says_so() -> None:
    """2 1/16 in is over a standard 30's limit and inside a long-stroke 30's: over both is a fail whichever it is."""
    (either,) = checked('[measured]\nlong_stroke_marks = true\nstroke = "2 1/16 in"')["stroke-limit"]
    assert (either.result, "long-stroke marks are on it" in either.advice) == ("not-evaluated", True)
    (row,) = checked('[measured]\nlong_stroke_marks = true\nstroke = "2 9/16 in"')["stroke-limit"]
    assert row.result == "fail"
    assert "Make sure of the chamber first: long-stroke marks are on it" in row.advice
    plain = checked('[measured]\nstroke = "2 1/16 in"')["stroke-limit"][0]
    assert "Make sure of the chamber" not in plain.advice


@pytest.mark.parametrize(("stroke", "slack", "expected"), [
    ("0 in", "", "not-evaluated"),
    ("1/8 in", "", "not-evaluated"),
    ("7/16 in", "", "not-evaluated"),
    ("9/16 in", "", "not-evaluated"),
    ("5/8 in", "", "pass"),
    ("7/16 in", "1/8 in", "unexplained"),
    ("3/4 in", "1/8 in", "pass"),
    ("0 in", "5/8 in", "unexplained"),
])  # fmt: skip
def test_a_pushrod_that_hardly_moved_is_no_pass(stroke: str, slack: str, expected: str) -> None:
    """Slack alone takes 1/2 in and more (Saskatchewan air brake handbook), unless less of it was measured."""
    slack = f'[condition]\nfree_stroke = "{slack}"\n' if slack else ""
    (row,) = checked(f'{slack}[measured]\nstroke = "{stroke}"')["stroke-limit"]
    assert row.result == ("not-evaluated" if expected == "unexplained" else expected)
    assert (row.missing == "condition.free_stroke") == (expected == "not-evaluated")
    assert ("see the row stroke as solved" in row.advice) == (expected == "unexplained")


@pytest.mark.parametrize(
    ("chamber", "stroke", "expected"),
    [
        ('style = "bolt"\nsize = "G"', "1 7/8 in", "pass"),
        ('style = "bolt"\nsize = "G"', "2 1/16 in", "fail"),
        ('style = "rotochamber"\nsize = "50"', "2 15/16 in", "pass"),
        ('style = "clamp-long-stroke"\nsize = "12"', "1 5/16 in", "pass"),
    ],
)
def test_a_limit_that_is_published_needs_no_rated_stroke(chamber: str, stroke: str, expected: str) -> None:
    """What rests on the whole stroke is not told for these: their rated strokes are in no table."""
    body = f'[chamber]\n{chamber}\n[condition]\nfree_stroke = "0.5 in"\n[measured]\nstroke = "{stroke}"'
    rows = checked(body)
    assert result(rows, "stroke-limit") == expected
    for check in ("stroke-reserve-cold", "stroke-reserve-hot"):
        (row,) = rows[check]
        assert row.result == "fail" or row.missing in ("chamber.rated_stroke", "measured.long_stroke_marks")
