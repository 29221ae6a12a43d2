"""A reading against its limit: at it, one float to each side, and within what the tape can tell."""

from math import inf, nan, nextafter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mechviz.checks.judge import Band, judge, judge_solved, shown_spread

LIMITS_MM = (31.75, 34.925, 44.45, 50.8, 57.15, 63.5, 76.2)


@pytest.mark.parametrize("limit", LIMITS_MM)
def test_equal_to_a_limit_is_legal_and_one_float_over_is_not(limit: float) -> None:
    band = Band(most=limit)
    assert judge(nextafter(limit, 0), band) == "pass"
    assert judge(limit, band) == "pass"
    assert judge(nextafter(limit, inf), band) == "fail"


@pytest.mark.parametrize("limit", LIMITS_MM)
def test_a_pass_needs_the_reading_and_its_resolution_inside(limit: float) -> None:
    tick = 25.4 / 16
    assert judge(limit - tick, Band(most=limit), tick) == "pass"
    assert judge(limit - tick + 1e-6, Band(most=limit), tick) == "close"
    assert judge(limit, Band(most=limit), tick) == "close"
    assert judge(nextafter(limit, inf), Band(most=limit), tick) == "fail"
    assert judge(limit + tick, Band(most=limit), tick) == "fail"


def test_an_end_that_is_not_included_is_outside() -> None:
    band = Band(12.7, 19.05, most_included=False)
    assert [judge(x, band) for x in (12.7, nextafter(12.7, 0), 19.05, nextafter(19.05, 0))] == [
        "pass",
        "fail",
        "fail",
        "pass",
    ]
    assert judge(19.05 - 1.0, band, 1.0) == "close"


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_what_is_no_number_passes_nothing(value: float) -> None:
    assert judge(value, Band(most=50.8)) == "not-evaluated"
    assert judge(value, Band(), 1.0) == "not-evaluated"


@given(value=st.floats(0, 100), limit=st.floats(1, 99), resolution=st.floats(0, 5), more=st.floats(0, 50))
def test_a_worse_reading_never_does_better(value: float, limit: float, resolution: float, more: float) -> None:
    order = ("pass", "close", "fail")
    better, worse = (judge(v, Band(most=limit), resolution) for v in (value, value + more))
    assert order.index(better) <= order.index(worse)
    finer = judge(value, Band(most=limit), resolution / 2)
    assert order.index(finer) <= order.index(better)


@pytest.mark.parametrize(
    ("value", "spread", "back", "expected"),
    [(40.0, 5.0, 5.0, "pass"), (47.0, 5.0, 5.0, "close"), (52.0, 5.0, 5.0, "close"), (55.8, 5.0, 5.0, "close"),
     (55.9, 5.0, 5.0, "fail"), (52.0, 0.0, 0.0, "fail"), (52.0, inf, inf, "close"), (nan, 5.0, 5.0, "not-evaluated"),
     (40.0, inf, 5.0, "close"), (52.0, inf, 5.0, "close"), (55.9, inf, 5.0, "fail")],
)  # fmt: skip
def test_a_worked_out_figure_fails_only_past_its_own_spread(
    value: float, spread: float, back: float, expected: str
) -> None:
    """What is open towards the worse side without bound absolves nothing that is over by more than the better side."""
    assert judge_solved(value, Band(most=50.8), spread, back) == expected


def test_what_is_drawn_of_an_unbounded_spread_does_not_reach_back_over_a_limit_that_is_failed() -> None:
    assert shown_spread(5.0, -20.0, 5.0) == 5.0
    assert shown_spread(inf, -20.0, 5.0) == 5.0
    assert shown_spread(inf, -4.0, 5.0) > 4.0
    assert shown_spread(inf, 20.0, 5.0) > 20.0


def test_margin_and_nearest_end() -> None:
    band = Band(80.0, 100.0)
    assert (band.margin(85.0), band.nearest(85.0)) == (5.0, 80.0)
    assert (band.margin(104.0), band.nearest(104.0)) == (-4.0, 100.0)
