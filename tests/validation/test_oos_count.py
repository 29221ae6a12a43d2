"""North American out-of-service practice, as published by the inspectors' alliance: the 20 percent count of brakes.

A vehicle is out of service when its defective brakes are 20 % or more of all its brakes. A brake 1/4 in or more past
its stroke limit counts as one defect, a brake less far past as half a defect.
"""

from fractions import Fraction
from math import inf, nextafter

import pytest

from geometry import tables
from geometry.tables.reader import rows

NEEDED = {4: 1, 6: 2, 8: 2, 10: 2, 12: 3, 14: 3, 16: 4, 18: 4, 20: 4, 22: 5}
QUARTER, EIGHTH = Fraction(1, 4), Fraction(1, 8)


def test_the_rule_is_the_published_one_and_no_more():
    shipped = {(row["rule"], row["value"], row["unit"], row["status"]) for row in rows("oos_count")}
    assert shipped == {
        ("needed-share", "20", "percent", "V"),
        ("whole-defect-from", "1/4", "in", "V"),
        ("whole-defect", "1", "defect", "V"),
        ("part-defect", "1/2", "defect", "V"),
    }


@pytest.mark.parametrize(("brakes", "needed"), NEEDED.items())
def test_the_number_of_defects_needed(brakes, needed):
    assert tables.oos_needed(brakes) == needed


def test_the_number_needed_is_the_least_whole_one_that_is_20_percent():
    for brakes in range(1, 200):
        needed = tables.oos_needed(brakes)
        assert 5 * needed >= brakes > 5 * (needed - 1)


def test_of_ten_brakes_two_defects_are_out_and_one_and_a_half_are_not():
    assert tables.oos_defects([QUARTER, QUARTER, *[Fraction(0)] * 8]) >= tables.oos_needed(10)
    assert tables.oos_defects([QUARTER, EIGHTH, EIGHTH, *[Fraction(0)] * 7]) >= tables.oos_needed(10)
    assert tables.oos_defects([EIGHTH] * 4 + [Fraction(-1)] * 6) >= tables.oos_needed(10)
    one_and_a_half = tables.oos_defects([QUARTER, EIGHTH, *[Fraction(0)] * 8])
    assert one_and_a_half == 1 + Fraction(1, 2)
    assert one_and_a_half < tables.oos_needed(10)


@pytest.mark.parametrize(
    ("over", "count"),
    [
        (Fraction(-1, 8), 0),
        (Fraction(0), 0),
        (nextafter(0.0, inf), Fraction(1, 2)),
        (Fraction(1, 16), Fraction(1, 2)),
        (nextafter(0.25, -inf), Fraction(1, 2)),
        (0.25, 1),
        (nextafter(0.25, inf), 1),
        (Fraction(1), 1),
    ],
)
def test_how_one_brake_counts(over, count):
    assert tables.oos_defects([over]) == count


@pytest.mark.parametrize("limit", [row for s in tables.styles() for row in tables.limits_for(s)], ids=str)
def test_a_stroke_read_a_quarter_inch_past_any_limit_counts_whole(limit):
    at = float((limit.limit_in + QUARTER) * Fraction("25.4"))
    assert tables.over_by_in(at, limit) == QUARTER
    assert tables.oos_defects([tables.over_by_in(at, limit)]) == 1
    assert tables.oos_defects([tables.over_by_in(nextafter(at, 0), limit)]) == Fraction(1, 2)
    assert tables.oos_defects([tables.over_by_in(limit.limit_mm, limit)]) == 0


def test_no_brake_is_no_defect():
    assert tables.oos_defects([]) == 0
