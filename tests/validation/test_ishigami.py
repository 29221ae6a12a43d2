"""Variance-based sensitivity against the Ishigami function, whose indices are known in closed form.

T. Ishigami, T. Homma, An importance quantification technique in uncertainty analysis for computer models, Proceedings
of the First International Symposium on Uncertainty Modeling and Analysis (1990): f = sin x1 + a sin^2 x2 + b x3^4 sin
x1, each x uniform from -pi to pi, here a = 7 and b = 0.1. Indices as they are commonly printed, from memory:
first order 0.3139, 0.4424, 0; total 0.5576, 0.4424, 0.2437.
"""

import numpy as np
import pytest

from geometry.arrays import Array
from mechviz.study import Plan
from mechviz.study.sensitivity import indices

A, B = 7.0, 0.1
FIRST, TOTAL = (0.3139, 0.4424, 0.0), (0.5576, 0.4424, 0.2437)


def ishigami(share: Array) -> Array:
    x = np.pi * (2 * share - 1)
    return np.sin(x[0]) + A * np.sin(x[1]) ** 2 + B * x[2] ** 4 * np.sin(x[0])


def estimated(points: int) -> tuple[Array, Array]:
    shares = Plan("sobol", points, seed=1).shares(6)
    first, second = shares[:3], shares[3:]
    mixed = np.array([ishigami(np.where(np.arange(3)[:, None] == n, second, first)) for n in range(3)])
    return indices(ishigami(first), ishigami(second), mixed)


def test_the_printed_indices_are_those_of_the_closed_form() -> None:
    of_first = 0.5 * (1 + B * np.pi**4 / 5) ** 2
    of_second = A**2 / 8
    of_both = B**2 * np.pi**8 * (1 / 18 - 1 / 50)
    whole = of_first + of_second + of_both
    half_a_digit = 0.5e-4
    assert np.array([of_first, of_second, 0.0]) / whole == pytest.approx(FIRST, abs=half_a_digit)
    assert np.array([of_first + of_both, of_second, of_both]) / whole == pytest.approx(TOTAL, abs=half_a_digit)


def test_the_estimators_find_them_to_two_digits() -> None:
    first, total = estimated(2**17)
    assert first == pytest.approx(FIRST, abs=0.5e-2)
    assert total == pytest.approx(TOTAL, abs=0.5e-2)


def test_the_error_falls_with_the_points() -> None:
    few, many = (np.abs(np.array(estimated(points)) - [FIRST, TOTAL]).max() for points in (2**8, 2**15))
    assert many < 0.2 * few
