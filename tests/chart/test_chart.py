"""What charts share: numbers and words that keep apart, and axes in round figures."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mechviz.chart.axis import time_axis
from mechviz.chart.frame import BOTTOM, LEFT, RIGHT, TOP, decimals, round_step, stacked
from mechviz.chart.marks import GAP, spread
from mechviz.chart.panel import LEADING, clear

PLACES = st.lists(st.floats(LEFT, RIGHT), max_size=20).map(sorted)


@given(PLACES)
def test_numbers_keep_their_order_and_their_distance_inside_the_chart(places: list[float]) -> None:
    apart = spread(places)
    assert len(apart) == len(places)
    assert all(b - a >= GAP - 1e-6 for a, b in pairwise(apart))
    assert all(LEFT - 1e-6 <= x <= RIGHT + 1e-6 for x in apart)


def test_numbers_with_room_stay_where_they_belong() -> None:
    assert spread([150.0, 300.0, 900.0]) == [150.0, 300.0, 900.0]
    assert spread([200.0, 200.0, 200.0]) == pytest.approx([200 - GAP, 200.0, 200 + GAP])


@given(st.lists(st.floats(200.0, 500.0), max_size=4))
def test_words_at_the_ends_keep_apart_and_above_the_bottom(ends: list[float]) -> None:
    placed = [y for y, _ in clear([(y, str(n)) for n, y in enumerate(ends)], 500.0)]
    assert all(b - a >= LEADING - 1e-6 for a, b in pairwise(placed))
    assert all(y <= 507 + 1e-6 for y in placed)


@pytest.mark.parametrize(
    ("end", "word", "last"), [(5.0, "time, s", "5"), (18.5, "time, s", "15"), (930.0, "time, min", "14")]
)
def test_time_runs_in_seconds_or_minutes(end: float, word: str, last: str) -> None:
    axis = time_axis(end)
    assert axis.word == word
    assert axis.rounds[-1][1].removesuffix(".0") == last
    assert axis.x(0.0) == LEFT
    assert axis.x(end) == RIGHT


def test_steps_are_round_and_have_the_decimals_they_need() -> None:
    assert [round_step(x) for x in (0.13, 1.0, 3.0, 60.0)] == [0.2, 1.0, 5.0, 100.0]
    assert [decimals(x) for x in (0.02, 0.5, 1.0, 500.0)] == [2, 1, 0, 0]


def test_plots_fill_the_chart_without_meeting() -> None:
    places = stacked(330, 170, 170)
    assert (places[0][0], places[-1][1]) == (TOP, BOTTOM)
    assert all(low[1] < high[0] for low, high in pairwise(places))
