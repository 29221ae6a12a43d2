"""Sensitivity: the estimators against scipy's, and what they say of a brake against a straight calculation."""

import numpy as np
import pytest
from scipy import stats

from geometry.arrays import Array, floats
from geometry.setup import read_setup
from mechviz.study import Listed, Outcome, Parameter, Plan, Study, Uniform
from mechviz.study.sensitivity import indices, sensitivity

DRIVE = read_setup("drive-16.5x7")
IN = 25.4


def sampled(function: object, parameters: int, points: int, seed: int) -> tuple[Array, Array, Array]:
    shares = Plan("sobol", points, seed).shares(2 * parameters)
    first, second = shares[:parameters], shares[parameters:]
    mixed: list[Array] = []
    for n in range(parameters):
        rows = first.copy()
        rows[n] = second[n]
        mixed.append(floats(function(rows)))  # pyright: ignore[reportCallIssue]
    return function(first), function(second), np.array(mixed)  # pyright: ignore[reportCallIssue]


def shapely(x: Array) -> Array:
    return x[0] + 2 * x[1] ** 3 + x[0] * x[2] + 0.1 * np.sin(9 * x[3])


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_estimators_are_those_of_scipy(seed: int) -> None:
    a, b, ab = sampled(shapely, 4, 512, seed)
    theirs = stats.sobol_indices(func={"f_A": a[None], "f_B": b[None], "f_AB": ab[:, None]}, n=512)
    first, total = indices(a, b, ab)
    np.testing.assert_allclose(first, theirs.first_order, rtol=1e-10, atol=1e-13)
    np.testing.assert_allclose(total, theirs.total_order, rtol=1e-10, atol=1e-13)


def test_adding_a_constant_and_scaling_change_no_index() -> None:
    a, b, ab = sampled(shapely, 4, 256, 5)
    np.testing.assert_allclose(indices(a, b, ab), indices(1e6 + 3 * a, 1e6 + 3 * b, 1e6 + 3 * ab), atol=1e-8)


def test_of_a_sum_each_part_has_its_share_of_the_variance() -> None:
    weights = np.array([1.0, 2.0, 3.0])
    a, b, ab = sampled(lambda x: weights @ x, 3, 4096, 1)
    first, total = indices(a, b, ab)
    np.testing.assert_allclose(first, weights**2 / 14, atol=2e-3)
    np.testing.assert_allclose(total, weights**2 / 14, atol=2e-3)


TORQUE = Study(
    DRIVE,
    (
        Parameter("foundation.efficiency", Uniform(0.7, 0.8)),
        Parameter("foundation.lining_width", Uniform(100.0, 200.0)),
    ),
    (Outcome("brake-torque"), Outcome("applied-stroke")),
)


def test_torque_follows_the_efficiency_alone_and_the_stroke_neither() -> None:
    found = sensitivity(TORQUE, 256)
    assert found.first[0, 0] == pytest.approx(1.0, abs=0.02)
    assert abs(found.first[0, 1]) < 1e-9
    assert np.isnan(found.first[1]).all()
    assert found.variance[1] == 0
    assert found.used.tolist() == [1.0, 1.0]
    assert found.solved == 4 * 256


def test_the_interval_holds_the_truth_and_narrows_with_points() -> None:
    few, many = (sensitivity(TORQUE, points) for points in (64, 1024))
    assert abs(few.first[0, 0] - 1.0) < few.first_error[0, 0]
    assert many.first_error[0, 0] < 0.5 * few.first_error[0, 0]


def test_rows_that_do_not_exist_are_left_out_and_counted() -> None:
    arm = Parameter("linkage.arm_length", Uniform(3.5 * IN, 7.0 * IN))
    reach = Parameter("linkage.pin_reach", Uniform(4.0 * IN, 9.0 * IN))
    found = sensitivity(Study(DRIVE, (arm, reach), (Outcome("applied-stroke"),)), 256)
    assert 0.3 < found.used[0] < 1
    assert np.isfinite(found.first).all()


def test_where_nothing_exists_there_are_no_indices() -> None:
    reach = Parameter("linkage.pin_reach", Uniform(1.0, 2.0))
    found = sensitivity(Study(DRIVE, (reach,), (Outcome("applied-stroke"),)), 16)
    assert np.isnan(found.first).all()
    assert found.used.tolist() == [0.0]


def test_a_choice_counts_as_a_parameter() -> None:
    choice = Parameter("foundation.efficiency", Listed((0.7, 0.8)))
    found = sensitivity(Study(DRIVE, (choice, TORQUE.parameters[1]), (Outcome("brake-torque"),)), 128)
    assert found.first[0, 0] == pytest.approx(1.0, abs=0.02)
