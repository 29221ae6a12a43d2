"""Newton's method inside a bracket, on functions that mislead it, against scipy's bracketing search (Brent's)."""

from collections.abc import Callable
from math import nan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from geometry.root import bracketed_newton

Function = Callable[[np.ndarray], tuple[np.ndarray, np.ndarray]]
TOLERANCE = 1e-12


def kinked(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """A gentle slope that turns a thousand times steeper at 0.3."""
    return np.where(x < 0.3, 0.01 * (x - 0.3), 10.0 * (x - 0.3)) - 0.2, np.where(x < 0.3, 0.01, 10.0)


def cube_root(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Vertical at its root: Newton jumps across it, twice as far each time."""
    with np.errstate(divide="ignore"):
        return np.cbrt(x - 0.1), 1 / (3 * np.cbrt(x - 0.1) ** 2)


def vertical_end(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """As a chamber loses its last force."""
    left = np.sqrt(1 - x**5)
    with np.errstate(divide="ignore"):
        return 0.01 - left, 2.5 * x**4 / left


NASTY: dict[str, tuple[Function, float, float]] = {
    "straight": (lambda x: (2 * x - 0.5, np.full_like(x, 2.0)), -1.0, 1.0),
    "flat at its root": (lambda x: ((x - 0.2) ** 9, 9 * (x - 0.2) ** 8), -1.0, 1.0),
    "flat away from its root": (lambda x: (np.tanh(40 * (x - 0.7)), 40 / np.cosh(40 * (x - 0.7)) ** 2), -1.0, 1.0),
    "flat on a shelf": (lambda x: (x**3 - 0.125, 3 * x**2), -1.0, 1.0),
    "steep": (lambda x: (np.expm1(60 * (x - 0.9)), 60 * np.exp(60 * (x - 0.9))), -1.0, 1.0),
    "vertical at its root": (cube_root, -1.0, 1.0),
    "kinked": (kinked, -1.0, 1.0),
    "a step": (lambda x: (np.where(x < 0.123, -1.0, 1.0), np.zeros_like(x)), -1.0, 1.0),
    "wave on a rise": (lambda x: (x - 0.25 + 0.2 * np.sin(8 * x), 1 + 1.6 * np.cos(8 * x)), -1.0, 1.0),
    "slope of the wrong sign": (lambda x: (x - 0.6, np.full_like(x, -1.0)), -1.0, 1.0),
    "slope ten times too small": (lambda x: (x - 0.6, np.full_like(x, 0.1)), -1.0, 1.0),
    "slope missing": (lambda x: (x - 0.6, np.full_like(x, nan)), -1.0, 1.0),
    "root at the low end": (lambda x: (x**3, 3 * x**2), 0.0, 1.0),
    "root at the high end": (lambda x: (np.sin(x) - np.sin(1.0), np.cos(x)), -1.0, 1.0),
    "vertical at an end": (vertical_end, 0.0, 1.0),
}  # fmt: skip
GUESSES = np.array([-1.0, -0.999, -0.5, 0.0, 0.1, 0.123, 0.3, 0.31, 0.6, 0.7, 0.999, 1.0, -7.0, 7.0])


def expected(function: Function, low: float, high: float) -> float:
    return float(brentq(lambda x: float(function(np.asarray(x))[0]), low, high, xtol=1e-15, rtol=1e-15, maxiter=5000))


@pytest.mark.parametrize("name", NASTY)
def test_the_root_from_any_guess(name: str) -> None:
    function, low, high = NASTY[name]
    found = bracketed_newton(function, np.asarray(low), np.asarray(high), GUESSES, TOLERANCE)
    # where the function is flat its own rounding hides the root: Brent's answer is no better there
    accuracy = 1e-2 if name == "flat at its root" else 1e-5 if name == "root at the low end" else 1e-11
    assert found.shape == GUESSES.shape
    np.testing.assert_allclose(found, expected(function, low, high), rtol=0, atol=accuracy)
    assert np.all((found >= low) & (found <= high))


@pytest.mark.parametrize("name", NASTY)
def test_it_never_looks_outside_the_bracket(name: str) -> None:
    function, low, high = NASTY[name]
    seen: list[np.ndarray] = []

    def watched(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        seen.append(x)
        return function(x)

    bracketed_newton(watched, np.asarray(low), np.asarray(high), GUESSES, TOLERANCE)
    assert min(x.min() for x in seen) >= low
    assert max(x.max() for x in seen) <= high
    assert len(seen) < 130, "no better than halving twice over"


@pytest.mark.parametrize("name", ["straight", "steep", "flat on a shelf"])
def test_a_smooth_function_takes_few_steps(name: str) -> None:
    function, low, high = NASTY[name]
    calls = []

    def counted(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        calls.append(1)
        return function(x)

    root = expected(function, low, high)
    bracketed_newton(counted, np.asarray(low), np.asarray(high), np.asarray(root + 1e-3), 1e-9)
    assert len(calls) <= 2 + 5  # two for the bracket


def test_one_that_has_arrived_does_not_start_again_while_its_neighbours_go_on() -> None:
    """Rounding leaves a value that never comes nearer to 0: its steps stop shrinking, and it must not be halved."""
    targets = np.array([0.3, 0.7])
    late = np.array([1.0, 60.0])
    calls = []

    def noisy(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        calls.append(1)
        off = np.expm1(late * (x - targets)) / late
        return np.where(np.abs(off) < 1e-11, 1e-17, off), np.exp(late * (x - targets))

    found = bracketed_newton(noisy, np.zeros(2), np.ones(2), targets + np.array([1e-9, 0.2]), 1e-14)
    np.testing.assert_allclose(found, targets, rtol=0, atol=1e-11)
    assert len(calls) <= 2 + 20


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_an_end_that_is_the_root_counts_as_bracketed(sign: float) -> None:
    low, high = (0.0, 1.0) if sign > 0 else (-1.0, 0.0)
    found = bracketed_newton(lambda x: (x, np.ones_like(x)), np.array(low), np.array(high), np.array(0.5), TOLERANCE)
    assert float(found) == pytest.approx(0.0, abs=1e-15)


def test_a_step_that_runs_past_an_end_by_less_than_the_tolerance_stops_at_the_end() -> None:
    def line(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        assert x <= 1.0
        return x - 1.0, np.full_like(x, 0.999)

    assert float(bracketed_newton(line, np.array(0.0), np.array(1.0), np.array(0.995), 1e-3)) == 1.0


def test_without_a_bracket_there_is_no_root_and_the_neighbours_have_theirs() -> None:
    targets = np.array([-2.0, -1.0, 0.25, 1.0, 2.0, nan])

    def line(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return x - targets, np.ones_like(targets)

    found = bracketed_newton(line, np.full(6, -1.0), np.full(6, 1.0), np.zeros(6), TOLERANCE)
    np.testing.assert_allclose(found, [nan, -1.0, 0.25, 1.0, nan, nan], atol=1e-15)


def test_a_falling_function_is_not_bracketed() -> None:
    found = bracketed_newton(lambda x: (-x, np.full_like(x, -1.0)), *np.array([-1.0, 1.0, 0.5]), TOLERANCE)
    assert np.isnan(found)


def test_a_missing_end_or_guess() -> None:
    def line(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return x - 0.25, np.ones_like(x)

    low, high = np.array([-1.0, nan, -1.0]), np.array([1.0, 1.0, nan])
    found = bracketed_newton(line, low, high, np.array([0.5, 0.5, 0.5]), TOLERANCE)
    np.testing.assert_allclose(found, [0.25, nan, nan])


def test_an_infinite_slope_is_not_taken_for_a_root() -> None:
    def root_sign(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        with np.errstate(divide="ignore"):
            return np.sign(x) * np.sqrt(np.abs(x)) - 0.5, 0.5 / np.sqrt(np.abs(x))

    found = bracketed_newton(root_sign, np.array(-1.0), np.array(1.0), np.array(0.0), TOLERANCE)
    assert float(found) == pytest.approx(0.25, abs=1e-11)


def test_empty_arrays_and_mixed_shapes() -> None:
    def line(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return x - 0.25, np.ones_like(x)

    assert bracketed_newton(line, np.empty(0), np.empty(0), np.empty(0), TOLERANCE).shape == (0,)
    found = bracketed_newton(line, np.array(-1.0), np.full((3, 1), 1.0), np.zeros((1, 4)), TOLERANCE)
    np.testing.assert_allclose(found, np.full((3, 4), 0.25))


@settings(max_examples=100, derandomize=True, deadline=None)
@given(
    st.lists(st.tuples(st.floats(0.01, 1.0), st.floats(-3.0, 3.0)), min_size=2, max_size=6),
    st.floats(-0.9, 0.9),
    st.floats(-1.0, 1.0),
)
def test_any_rising_broken_line(pieces: list[tuple[float, float]], target: float, guess: float) -> None:
    """Corners at random places, slopes over six decades."""
    widths, decades = np.array(pieces).T
    corners = -1.0 + 2.0 * np.concatenate([[0.0], np.cumsum(widths) / widths.sum()])
    slopes = 10.0**decades
    heights = np.concatenate([[0.0], np.cumsum(np.diff(corners) * slopes)])
    level = heights[-1] * (0.5 + 0.5 * target)

    def broken(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        piece = np.clip(np.searchsorted(corners, x, side="right") - 1, 0, len(slopes) - 1)
        return np.interp(x, corners, heights) - level, slopes[piece]

    found = float(bracketed_newton(broken, np.array(-1.0), np.array(1.0), np.array(guess), 1e-14))
    assert found == pytest.approx(float(np.interp(level, heights, corners)), abs=1e-10)
