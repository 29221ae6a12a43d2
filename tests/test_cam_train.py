"""From cam angle to where the roller rides: the table's own cubics against Newton's method, on every built-in cam."""

import numpy as np
import pytest

from geometry import cam_train
from geometry.brake import SIDES, Brake, Side
from geometry.cam_train import EXACT, parameter_at_angle, ride, ride_table
from geometry.setup import builtin_names, read_setup
from tests.brakes import BRAKE


def angles(brake: Brake, side: Side) -> np.ndarray:
    table = ride_table(brake.profile, brake.shoe, side)
    return np.linspace(table.heel_angle, table.tip_angle, 100_001)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("name", builtin_names())
def test_a_cam_angle_is_turned_back_into_the_place_that_has_it(name: str, side: Side) -> None:
    brake = read_setup(name, judging=True).brake
    asked = angles(brake, side)
    assert ride_table(brake.profile, brake.shoe, side).exact
    found = ride(brake.profile, brake.shoe, side, parameter_at_angle(brake.profile, brake.shoe, side, asked))
    np.testing.assert_allclose(found.angle, asked, rtol=0, atol=EXACT)


@pytest.mark.parametrize("side", SIDES)
def test_a_table_that_is_not_exact_is_followed_by_newtons_method(side: Side, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = angles(BRAKE, side)
    with_cubics = parameter_at_angle(BRAKE.profile, BRAKE.shoe, side, asked)
    monkeypatch.setattr(cam_train, "EXACT", 0.0)
    monkeypatch.setattr(cam_train, "NODES", 33)
    ride_table.cache_clear()
    try:
        assert not ride_table(BRAKE.profile, BRAKE.shoe, side).exact
        by_newton = parameter_at_angle(BRAKE.profile, BRAKE.shoe, side, asked)
    finally:
        ride_table.cache_clear()
    np.testing.assert_allclose(by_newton, with_cubics, rtol=0, atol=1e-12)


@pytest.mark.parametrize("side", SIDES)
def test_off_the_profile_there_is_no_place(side: Side) -> None:
    low, *_, high = angles(BRAKE, side)
    found = parameter_at_angle(BRAKE.profile, BRAKE.shoe, side, np.array([low - 1e-6, low, high, high + 1e-6, np.nan]))
    assert np.isfinite(found).tolist() == [False, True, True, False, False]
