"""Lining, drum and test-pressure limits, the bands, rated strokes and effective areas, each typed a second time.

Sources: 49 CFR 393.47(d); 49 CFR Part 396 Appendix A; Quebec regulation C-24.2, r. 32, s. 31 and
s. 166(7); US Army technical manuals, among them TM 5-3820-256-24-4; North American out-of-service practice; the air
brake handbooks of Ontario and Saskatchewan; common practice where so marked.
"""

from fractions import Fraction
from math import inf, nextafter

import pytest

from geometry import tables
from geometry.tables.reader import figure, rows
from mechviz.checks.judge import Band, judge

# axle, pads, attachment, limit, unit, the limit in mm, start of the source
LININGS = [
    ("steering", "strip", "any", Fraction(3, 16), "in", 4.7625, "49 CFR 393.47(d)(1)"),
    ("steering", "pads", "any", Fraction(1, 4), "in", 6.35, "49 CFR 393.47(d)(1)"),
    ("non-steering", "any", "any", Fraction(1, 4), "in", 6.35, "49 CFR 393.47(d)(2)"),
    ("steering", "any", "any", Fraction(1, 4), "in", 6.35, "49 CFR Part 396 Appendix A"),
    ("non-steering", "any", "any", Fraction(1, 4), "in", 6.35, "49 CFR Part 396 Appendix A"),
    ("any", "any", "bonded", Fraction(5), "mm", 5.0, "Quebec C-24.2, r. 32, s. 31"),
    ("steering", "any", "riveted", Fraction(48, 10), "mm", 4.8, "Quebec C-24.2, r. 32, s. 31"),
    ("non-steering", "any", "riveted", Fraction(8), "mm", 8.0, "Quebec C-24.2, r. 32, s. 31"),
]
EVERY_LINING = list(dict.fromkeys([*tables.lining_limits("steering"), *tables.lining_limits("non-steering")]))


def test_lining_limits_are_those_of_the_rules_and_no_others():
    shipped = [(r.axle, r.pads, r.attachment, r.limit, r.unit, r.limit_mm, r.source) for r in EVERY_LINING]
    assert len(shipped) == len(LININGS) == len(rows("lining_limits"))
    assert set(shipped) == set(LININGS)
    assert {r.status for r in EVERY_LINING} == {"V"}
    assert {r.rule_set for r in EVERY_LINING if r.source.startswith("49 CFR")} == {"us"}
    assert {r.rule_set for r in EVERY_LINING if r.source.startswith("Quebec")} == {"quebec"}


def test_the_rounded_millimetres_of_393_47_d_stand_beside_the_inches():
    printed = {r.limit: r.also_published for r in EVERY_LINING if r.source.startswith("49 CFR 393.47(d)")}
    assert printed == {Fraction(3, 16): "4.8 mm", Fraction(1, 4): "6.4 mm"}


def found(axle, pads, attachment):
    return [(row.limit, row.section) for row in tables.lining_limits(axle, pads, attachment)]


def test_the_two_rules_for_a_strip_on_a_steering_axle_disagree_and_both_stand():
    us = [row for row in tables.lining_limits("steering", 1, "riveted") if row.rule_set == "us"]
    assert [(row.limit, row.section) for row in us] == [
        (Fraction(3, 16), "393.47(d)(1)"),
        (Fraction(1, 4), "396 Appendix A"),
    ]


def test_two_pads_on_a_steering_axle_have_a_quarter_inch_by_both_rules():
    assert found("steering", 2, "bonded") == [
        (Fraction(1, 4), "393.47(d)(1)"),
        (Fraction(1, 4), "396 Appendix A"),
        (Fraction(5), "s. 31"),
    ]


def test_another_axle_has_a_quarter_inch_and_8_mm_riveted_in_quebec():
    assert found("non-steering", None, "riveted") == [
        (Fraction(1, 4), "393.47(d)(2)"),
        (Fraction(1, 4), "396 Appendix A"),
        (Fraction(8), "s. 31"),
    ]


def test_what_is_not_known_leaves_every_row_that_may_hold():
    assert [row.attachment for row in tables.lining_limits("steering") if row.rule_set == "quebec"] == [
        "bonded",
        "riveted",
    ]
    assert [row.pads for row in tables.lining_limits("steering", None, "bonded")] == ["strip", "pads", "any", "any"]


@pytest.mark.parametrize("limit", EVERY_LINING, ids=lambda row: f"{row.section}-{row.axle}-{row.pads}-{row.attachment}")
def test_a_lining_at_the_limit_passes_and_one_float_thinner_does_not(limit):
    at = limit.limit_mm
    assert judge(nextafter(at, inf), Band(limit.limit_mm)) == "pass"
    assert judge(at, Band(limit.limit_mm)) == "pass"
    assert judge(nextafter(at, -inf), Band(limit.limit_mm)) == "fail"


# rule set, row, limit of a drum of 16.5 in, the same in mm, status
DRUM_16_5 = [
    ("common", 1, Fraction("16.62"), 422.148, "C"),
    ("army", 1, Fraction("16.62"), 422.148, "V"),
    ("army", 2, Fraction("16.625"), 422.275, "V"),
    ("army", 3, Fraction("16.65"), 422.91, "V"),
]


@pytest.mark.parametrize("new", [Fraction(33, 2), 16.5, 419.1 / 25.4])
def test_a_drum_of_16_5_in_has_the_common_figure_and_three_army_figures(new):
    shipped = [(r.rule_set, r.row, r.limit_in, r.limit_mm, r.status) for r in tables.drum_limits(new)]
    assert shipped == DRUM_16_5
    assert {r.source for r in tables.drum_limits(new)} == {
        "common practice of the trade",
        "US Army technical manuals",
    }
    assert len(rows("drum_limits")) == len(DRUM_16_5)
    assert all(bool(row["growth_in"]) != bool(row["discard_diameter_in"]) for row in rows("drum_limits"))


def test_a_drum_of_another_diameter_has_only_the_common_figure():
    assert [(r.rule_set, r.limit_in) for r in tables.drum_limits(15.0)] == [("common", Fraction("15.12"))]


@pytest.mark.parametrize("limit", tables.drum_limits(16.5), ids=lambda row: f"{row.rule_set}-{row.row}")
def test_a_drum_at_the_limit_passes_and_one_float_wider_does_not(limit):
    at = limit.limit_mm
    assert judge(nextafter(at, -inf), Band(most=limit.limit_mm)) == "pass"
    assert judge(at, Band(most=limit.limit_mm)) == "pass"
    assert judge(nextafter(at, inf), Band(most=limit.limit_mm)) == "fail"


def test_the_two_test_pressures_disagree_and_both_stand():
    shipped = {
        (b.procedure, b.low_psi, b.high_psi, b.status) for b in map(tables.test_pressure_band, tables.procedures())
    }
    assert shipped == {("roadside", 90, 100, "V"), ("annual", 80, 90, "V")}
    assert "396" in tables.test_pressure_band("annual").source
    assert "out-of-service" in tables.test_pressure_band("roadside").source


def test_test_pressures_in_the_unit_used_inside():
    # 1 lbf is 0.45359237 kg x 9.80665 m/s2, exactly
    psi = Fraction("4.4482216152605") / Fraction("645.16")
    roadside, annual = tables.test_pressure_band("roadside"), tables.test_pressure_band("annual")
    assert (roadside.low_mpa, roadside.high_mpa) == (float(90 * psi), float(100 * psi))
    assert (annual.low_mpa, annual.high_mpa) == (float(80 * psi), float(90 * psi))


# name: low, is it included, high, is it included, unit, status, rule set, start of the source
BANDS = {
    "free-stroke": (Fraction(1, 2), True, Fraction(3, 4), False, "in", "V", "saskatchewan", "Saskatchewan"),
    "clearance-running": (Fraction(15, 1000), True, Fraction(20, 1000), True, "in", "V", "common", "trade press"),
    "clearance-by-feeler": (Fraction(5, 1000), True, None, False, "in", "V", "army", "US Army technical manuals"),
    "arm-angle-applied": (Fraction(80), True, Fraction(100), True, "deg", "M", "common", "common practice"),
    "arm-angle-applied-army": (Fraction(90), True, Fraction(100), True, "deg", "V", "army", "TM 5-3820-256-24-4"),
    "arm-angle-released": (Fraction(90), False, None, False, "deg", "V", "army", "TM 5-3820-256-24-4"),
    "cam-turn": (None, False, Fraction(120), True, "deg", "V", "quebec", "Quebec C-24.2, r. 32, s. 166(7)"),
    "clevis-thread": (Fraction(1, 2), True, None, False, "in", "V", "army", "US Army technical manuals"),
    "rod-through-clevis": (None, False, Fraction(1, 8), True, "in", "V", "army", "US Army technical manuals"),
    "share-of-rated-stroke": (None, False, Fraction(80), True, "percent", "V", "us", "49 CFR 393.47(e)(2)"),
    "share-of-full-stroke-australia": (None, False, Fraction(80), True, "percent", "C", "australia", "Australian"),
}


def test_the_bands_are_those_of_their_sources_and_no_others():
    assert set(tables.bands()) == set(BANDS)
    for name, (*typed, source) in BANDS.items():
        b = tables.band(name)
        assert [b.low, b.low_included, b.high, b.high_included, b.unit, b.status, b.rule_set] == typed, name
        assert b.source.startswith(source)


@pytest.mark.parametrize("name", BANDS)
def test_each_end_of_a_band_at_it_and_one_float_to_each_side(name):
    b = tables.band(name)
    low, low_included, high, high_included = BANDS[name][:4]
    if low is not None:
        allowed = Band(float(low), least_included=b.low_included)
        ends = [judge(value, allowed) == "pass" for value in (nextafter(low, -inf), float(low), nextafter(low, inf))]
        assert ends == [False, low_included, True]
    if high is not None:
        allowed = Band(most=float(high), most_included=b.high_included)
        ends = [judge(value, allowed) == "pass" for value in (nextafter(high, -inf), float(high), nextafter(high, inf))]
        assert ends == [True, high_included, False]


# style, size, rated stroke, is it the usual one, was it read
RATED = {
    ("clamp", "6", 1 + Fraction(5, 8), True, False),
    ("clamp", "9", 1 + Fraction(3, 4), True, False),
    ("clamp", "12", 1 + Fraction(3, 4), True, False),
    ("clamp", "16", 2 + Fraction(1, 4), True, False),
    ("clamp", "20", 2 + Fraction(1, 4), True, False),
    ("clamp", "24", 2 + Fraction(1, 4), True, False),
    ("clamp", "24", 2 + Fraction(1, 2), False, False),
    ("clamp", "30", 2 + Fraction(1, 2), True, True),
    ("clamp", "36", Fraction(3), True, False),
    ("clamp-long-stroke", "16", 2 + Fraction(1, 2), True, False),
    ("clamp-long-stroke", "20", 2 + Fraction(1, 2), True, False),
    ("clamp-long-stroke", "20", Fraction(3), False, False),
    ("clamp-long-stroke", "24", 2 + Fraction(1, 2), True, False),
    ("clamp-long-stroke", "24", Fraction(3), False, False),
    ("clamp-long-stroke", "30", Fraction(3), True, False),
}


def test_rated_strokes():
    shipped = {
        (style, size, rated, place == 0)
        for style in tables.styles()
        for size in tables.sizes(style)
        for place, rated in enumerate(tables.rated_strokes(style, size))
    }
    assert shipped == {row[:4] for row in RATED}
    assert len(rows("rated_strokes")) == len(RATED)
    uses = {(row["style"], row["size"], figure(row["rated_stroke_in"]), row["use"]) for row in rows("rated_strokes")}
    assert uses == {(*row[:3], "usual" if row[3] else "other") for row in RATED}
    for style, size, rated, usual, _ in RATED:
        assert (tables.nominal_rated_stroke(style, size) == rated) is usual


def test_only_the_rated_stroke_of_the_30_was_read():
    read = [(row["style"], row["size"]) for row in rows("rated_strokes") if row["status"] == "V"]
    assert read == [("clamp", "30")] == [row[:2] for row in RATED if row[4]]
    assert {row["status"] for row in rows("rated_strokes")} == {"V", "M"}


def test_no_stroke_limit_is_beyond_the_rated_stroke():
    for style in tables.styles():
        for limit in tables.limits_for(style):
            for rated in tables.rated_strokes(style, limit.size):
                assert tables.stroke_limit(style, limit.size, rated).limit_in < rated


BOLT_AREAS = {"A": 12, "B": 24, "C": 16, "D": 6, "E": 9, "F": 36, "G": 30}


def test_effective_areas_are_the_size_number_and_a_list_for_the_bolt_type():
    shipped = {(row["style"], row["size"]): float(row["area_in2"]) for row in rows("effective_areas")}
    every = {(style, size) for style in tables.styles() for size in tables.sizes(style)}
    assert shipped == {(s, n): float(BOLT_AREAS[n] if s == "bolt" else n) for s, n in every}
    assert {row["status"] for row in rows("effective_areas") if row["style"] == "bolt"} == {"M"}
    assert {row["status"] for row in rows("effective_areas") if row["style"] != "bolt"} == {"C"}
    assert tables.effective_area_in2("clamp", "30") == 30.0
    assert tables.effective_area_in2("bolt", "g") == 30.0
