"""49 CFR Part 393, section 393.47(e): brake actuator readjustment limits.

Every row is typed here a second time, by hand, in inches as printed. The outside diameters of the clamp type are
printed in millimetres too, rounded, and those stand beside them.
"""

from fractions import Fraction
from math import inf, nextafter

import pytest

from geometry import tables
from mechviz.checks.judge import Band, judge

# size, outside diameter, the same as printed in mm, limit of the standard stroke
CLAMP = [
    ("6", 4 + Fraction(1, 2), 114, 1 + Fraction(1, 4)),
    ("9", 5 + Fraction(1, 4), 133, 1 + Fraction(3, 8)),
    ("12", 5 + Fraction(11, 16), 145, 1 + Fraction(3, 8)),
    ("16", 6 + Fraction(3, 8), 162, 1 + Fraction(3, 4)),
    ("20", 6 + Fraction(25, 32), 172, 1 + Fraction(3, 4)),
    ("24", 7 + Fraction(7, 32), 184, 1 + Fraction(3, 4)),
    ("30", 8 + Fraction(3, 32), 206, Fraction(2)),
    ("36", Fraction(9), 229, 2 + Fraction(1, 4)),
]
# size, rated stroke where the limit depends on it, limit
CLAMP_LONG_STROKE = [
    ("12", None, 1 + Fraction(3, 4)),
    ("16", None, Fraction(2)),
    ("20", 2 + Fraction(1, 2), Fraction(2)),
    ("20", Fraction(3), 2 + Fraction(1, 2)),
    ("24", 2 + Fraction(1, 2), Fraction(2)),
    ("24", Fraction(3), 2 + Fraction(1, 2)),
    ("30", None, 2 + Fraction(1, 2)),
]
# size, outside diameter, limit
BOLT = [
    ("A", 6 + Fraction(15, 16), 1 + Fraction(3, 8)),
    ("B", 9 + Fraction(3, 16), 1 + Fraction(3, 4)),
    ("C", 8 + Fraction(1, 16), 1 + Fraction(3, 4)),
    ("D", 5 + Fraction(1, 4), 1 + Fraction(1, 4)),
    ("E", 6 + Fraction(3, 16), 1 + Fraction(3, 8)),
    ("F", Fraction(11), 2 + Fraction(1, 4)),
    ("G", 9 + Fraction(7, 8), Fraction(2)),
]
ROTOCHAMBER = [
    ("9", 4 + Fraction(9, 32), 1 + Fraction(1, 2)),
    ("12", 4 + Fraction(13, 16), 1 + Fraction(1, 2)),
    ("16", 5 + Fraction(13, 32), Fraction(2)),
    ("20", 5 + Fraction(15, 16), Fraction(2)),
    ("24", 6 + Fraction(13, 32), Fraction(2)),
    ("30", 7 + Fraction(1, 16), 2 + Fraction(1, 4)),
    ("36", 7 + Fraction(5, 8), 2 + Fraction(3, 4)),
    ("50", 8 + Fraction(7, 8), Fraction(3)),
]
DIAMETERS = {size: diameter for size, diameter, _, _ in CLAMP}
TYPED = {
    *(("clamp", size, None, diameter, limit) for size, diameter, _, limit in CLAMP),
    *(("clamp-long-stroke", size, rated, DIAMETERS[size], limit) for size, rated, limit in CLAMP_LONG_STROKE),
    *(("bolt", size, None, diameter, limit) for size, diameter, limit in BOLT),
    *(("rotochamber", size, None, diameter, limit) for size, diameter, limit in ROTOCHAMBER),
}
# the limits, and the outside diameters, that were read in a copy of the rule; every other one is from memory
LIMITS_READ = {
    *(("clamp", size, None) for size in ("6", "9", "12", "16", "30")),
    *(("clamp-long-stroke", size, None) for size in ("12", "16", "30")),
    ("clamp-long-stroke", "20", 2 + Fraction(1, 2)),
    ("clamp-long-stroke", "24", 2 + Fraction(1, 2)),
    ("clamp-long-stroke", "24", Fraction(3)),
}
DIAMETERS_READ = {"6", "9", "12", "16", "30"}
# every limit in mm, worked out by hand: 1 in is 25.4 mm
MILLIMETRES = {
    1 + Fraction(1, 4): 31.75,
    1 + Fraction(3, 8): 34.925,
    1 + Fraction(1, 2): 38.1,
    1 + Fraction(3, 4): 44.45,
    Fraction(2): 50.8,
    2 + Fraction(1, 4): 57.15,
    2 + Fraction(1, 2): 63.5,
    2 + Fraction(3, 4): 69.85,
    Fraction(3): 76.2,
}
EVERY_LIMIT = [limit for style in tables.styles() for limit in tables.limits_for(style)]


def named(limit):
    return f"{limit.style}-{limit.size}-{limit.limit_in}"


def test_the_table_has_every_row_of_the_rule_and_no_other():
    shipped = [(row.style, row.size, row.rated_stroke_in, row.outside_diameter_in, row.limit_in) for row in EVERY_LIMIT]
    assert len(shipped) == 30
    assert len(set(shipped)) == len(shipped)
    assert TYPED - set(shipped) == set()
    assert set(shipped) - TYPED == set()


def test_the_table_says_which_figures_were_read_and_which_are_from_memory():
    for row in EVERY_LIMIT:
        key = (row.style, row.size, row.rated_stroke_in)
        assert row.status == ("V" if key in LIMITS_READ else "M"), key
        ring_read = row.style.startswith("clamp") and row.size in DIAMETERS_READ
        assert row.outside_diameter_status == ("V" if ring_read else "M"), key
        assert row.source == "49 CFR 393.47(e)"


@pytest.mark.parametrize(("size", "_inches", "printed_mm", "_limit"), CLAMP)
def test_outside_diameters_agree_with_the_printed_millimetres(size, _inches, printed_mm, _limit):
    # The rule prints 145 and 184 mm for 12 and 24, whose inches are 144.5 and 183.4 mm: rounded up, not to the nearest.
    exact = tables.stroke_limit("clamp", size).outside_diameter_in * Fraction("25.4")
    slack = 1 if size in ("12", "24") else Fraction(1, 2)
    assert abs(exact - printed_mm) < slack


@pytest.mark.parametrize("row", CLAMP + BOLT + ROTOCHAMBER, ids=lambda row: row[0])
def test_each_chamber_is_found_by_its_style_and_size(row):
    style = "clamp" if row in CLAMP else "bolt" if row in BOLT else "rotochamber"
    assert tables.stroke_limit(style, row[0], None).limit_in == row[-1]


@pytest.mark.parametrize(("size", "rated", "limit"), CLAMP_LONG_STROKE)
def test_each_long_stroke_chamber_is_found_by_its_size_and_rated_stroke(size, rated, limit):
    assert tables.stroke_limit("clamp-long-stroke", size, rated).limit_in == limit


@pytest.mark.parametrize("size", ["20", "24"])
@pytest.mark.parametrize(
    ("rated", "limit"),
    [
        (None, Fraction(2)),
        (2.5, Fraction(2)),
        (63.5 / 25.4, Fraction(2)),
        (nextafter(2 + 15 / 16, 0) - 1e-6, Fraction(2)),
        (2 + Fraction(15, 16), 2 + Fraction(1, 2)),
        (3, 2 + Fraction(1, 2)),
        (76.2 / 25.4, 2 + Fraction(1, 2)),
        (3 + Fraction(1, 16), 2 + Fraction(1, 2)),
        (3 + Fraction(1, 8), Fraction(2)),
    ],
)
def test_long_stroke_20_and_24_have_the_longer_limit_only_near_a_rated_stroke_of_3_in(size, rated, limit):
    assert tables.stroke_limit("clamp-long-stroke", size, rated).limit_in == limit


def test_the_rated_stroke_decides_nothing_elsewhere():
    assert tables.stroke_limit("clamp", "20", 3).limit_in == 1 + Fraction(3, 4)
    assert tables.stroke_limit("clamp-long-stroke", "16", 3).limit_in == 2


@pytest.mark.parametrize("limit", EVERY_LIMIT, ids=named)
def test_a_stroke_at_the_limit_is_legal_and_one_float_past_it_is_not(limit):
    at = MILLIMETRES[limit.limit_in]
    assert limit.limit_mm == at
    assert judge(nextafter(at, -inf), Band(most=limit.limit_mm)) == "pass"
    assert judge(at, Band(most=limit.limit_mm)) == "pass"
    assert judge(nextafter(at, inf), Band(most=limit.limit_mm)) == "fail"


def test_the_rounded_millimetres_are_not_the_limit():
    # 1 3/8 in is 34.925 mm; the rule also prints 34.9 mm, which would fail a legal stroke
    assert judge(34.925, Band(most=tables.stroke_limit("clamp", "12").limit_mm)) == "pass"


@pytest.mark.parametrize(
    ("rated", "limit", "limit_mm"),
    [
        (Fraction(5, 2), Fraction(2), 50.8),
        (2.5, Fraction(2), 50.8),
        (Fraction(3), 2 + Fraction(2, 5), 60.96),
        (2 + Fraction(1, 4), 1 + Fraction(4, 5), 45.72),
        (1 + Fraction(3, 4), 1 + Fraction(2, 5), 35.56),
        (80 / 25.4, Fraction(64) / Fraction("25.4"), 64.0),
    ],
)
def test_a_chamber_not_in_the_tables_has_80_percent_of_its_rated_stroke(rated, limit, limit_mm):
    found = tables.fallback_limit(rated)
    assert (found.limit_in, found.limit_mm) == (limit, limit_mm)
    assert (found.source, found.status) == ("49 CFR 393.47(e)(2)", "V")
    assert judge(nextafter(limit_mm, -inf), Band(most=found.limit_mm)) == "pass"
    assert judge(limit_mm, Band(most=found.limit_mm)) == "pass"
    assert judge(nextafter(limit_mm, inf), Band(most=found.limit_mm)) == "fail"
