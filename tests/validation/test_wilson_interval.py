"""The score interval of a share against printed ones.

R. G. Newcombe, Two-sided confidence intervals for the single proportion: comparison of seven methods, Statistics in
Medicine 17 (1998), table I, method 3 (score without continuity correction), 95 %; figures from memory.
"""

import pytest

from mechviz.study.tolerance import wilson


@pytest.mark.parametrize(
    ("count", "points", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_the_interval_is_the_printed_one(count: int, points: int, low: float, high: float) -> None:
    assert wilson(count, points) == pytest.approx((low, high), abs=0.5e-4)
