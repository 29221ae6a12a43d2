"""Many brakes at once give, one by one, what each gives by itself: figures, which cannot exist, and why."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.arrays import Array, floats
from geometry.errors import PartError
from geometry.guards import Guard, marking
from geometry.involute import InvoluteProfile
from geometry.kinematics import solve_poses
from geometry.many import arrays_of, is_many, taken
from geometry.misfit import misfits
from geometry.reasons import Reason
from geometry.setup import Setup, read_setup, read_setup_text
from geometry.setup.many import many_setups, one_setup_figures, rows_of, varied_keys
from tests.brakes import BRAKE, found
from tests.study.singly import columns, made, solved, why_not
from tests.sweeps import sweep

ROUNDING = 1e-12

SETUPS = {name: read_setup(name) for name in ("drive-16.5x7", "steer-15x4", "trailer-16.5x7")}
RISING = """
schema = 1
base = "drive-16.5x7"
[cam]
profile = "constant-rise"
rise = "0.0087 in/deg"
heel_radius = "0.60 in"
tip_radius = "1.85 in"
"""
TABLED = """
schema = 1
base = "drive-16.5x7"
[cam]
profile = "table"
table = [["0 deg", "0.60 in"], ["40 deg", "0.93 in"], ["90 deg", "1.38 in"], ["140 deg", "1.85 in"]]
"""
SETUPS["rising"] = read_setup_text(RISING, "rising")
SETUPS["tabled"] = read_setup_text(TABLED, "tabled")


def drawn(setup: Setup, keys: list[str], width: float, count: int, seed: int) -> dict[str, Array]:
    """Draw figures around the setup's own, within a share of each."""
    rng = np.random.default_rng(seed)
    return {key: setup.values[key] * rng.uniform(1 - width, 1 + width, count) for key in keys}


def keys_of(setup: Setup) -> list[str]:
    return [key for key in varied_keys() if isinstance(setup.values.get(key), float)]


def held_against_each(setup: Setup, figures: Mapping[str, Array], count: int) -> dict[Reason, int]:
    """Solve together and one at a time, compare, and return how often each reason was met."""
    together = many_setups(setup, figures)
    wrong = np.broadcast_to(together.wrong, count)
    some = rows_of(figures, ~wrong)
    reasons = np.full(count, Reason.PART_IMPOSSIBLE, dtype=np.int8)
    parts = many_setups(setup, some)
    reasons[~wrong] = misfits(parts.brake)
    sound = reasons == Reason.EXISTS
    parts = many_setups(setup, rows_of(figures, sound))
    many = columns(*solved(parts.brake, parts.as_found, parts.test, together=True)) if sound.any() else {}
    place = np.cumsum(sound) - 1
    for n in range(count):
        one = one_setup_figures(figures, n)
        assert reasons[n] == why_not(setup, one), (n, one)
        if sound[n]:
            for name, value in columns(*solved(*made(setup, one))).items():
                size = 1000.0 if "force" in name or "torque" in name or "roller_" in name else 100.0
                there = np.broadcast_to(many[name], (*many[name].shape[:-1], sound.sum()))[..., place[n]]
                np.testing.assert_allclose(there, value, ROUNDING, size * ROUNDING, err_msg=f"{name} of {one}")
    told = np.concatenate([reasons, *(floats(v).ravel() for k, v in many.items() if k.endswith("reason"))])
    return {Reason(int(code)): int((told == code).sum()) for code in np.unique(told)}


@settings(max_examples=25, deadline=None)
@given(st.sampled_from(sorted(SETUPS)), st.data(), st.sampled_from([0.003, 0.05, 0.4]), st.integers(0, 2**32 - 1))
def test_any_figures_together_are_those_one_at_a_time(name: str, data: st.DataObject, width: float, seed: int) -> None:
    keys = data.draw(st.lists(st.sampled_from(keys_of(SETUPS[name])), min_size=1, max_size=6, unique=True))
    held_against_each(SETUPS[name], drawn(SETUPS[name], keys, width, 4, seed), 4)


@pytest.mark.parametrize("name", sweep(sorted(SETUPS)))
def test_every_figure_of_the_file_is_tried_by_itself(name: str) -> None:
    setup = SETUPS[name]
    for seed, key in enumerate(keys_of(setup)):
        told = held_against_each(setup, drawn(setup, [key], 0.02, 2, seed), 2)
        assert Reason.EXISTS in told, key


def test_what_cannot_be_put_together_is_told_of_each() -> None:
    setup, inch = SETUPS["drive-16.5x7"], 25.4
    figures = {
        "linkage.arm_length": np.array([5.5, -1.0, 5.5, 5.5, 5.5, 5.5, np.nan]) * inch,
        "linkage.pin_reach": np.array([6.0, 6.0, 2.0, 6.0, 6.0, 6.0, 6.0]) * inch,
        "linkage.face_distance": np.array([7.5, 7.5, 7.5, 1.4, 7.5, 7.5, 7.5]) * inch,
        "foundation.roller_distance": np.array([6.3, 6.3, 6.3, 6.3, 4.5, 6.3, 6.3]) * inch,
        "foundation.roller_spread": np.array([2.8, 2.8, 2.8, 2.8, 2.8, 1.2, 2.8]) * inch,
    }
    together = many_setups(setup, figures)
    assert together.wrong.tolist() == [False, True, False, False, False, False, True]
    told = [why_not(setup, one_setup_figures(figures, n)) for n in range(7)]
    assert told[1] == told[6] == Reason.PART_IMPOSSIBLE
    assert len(set(told)) >= 5
    sound = many_setups(setup, rows_of(figures, ~together.wrong))
    assert misfits(sound.brake).tolist() == [code for code in told if code != Reason.PART_IMPOSSIBLE]


def test_shapes_broadcast() -> None:
    arms = np.array([[5.0], [5.5], [6.0]]) * 25.4
    brake = replace(BRAKE, linkage=replace(BRAKE.linkage, arm_length=arms))
    poses = solve_poses(brake, found(), np.array([5.0, 10.0, 15.0, 20.0]))
    assert poses.arm_angle.shape == (3, 4)
    alone = replace(BRAKE, linkage=replace(BRAKE.linkage, arm_length=6.0 * 25.4))
    assert poses.arm_angle[2, 1] == pytest.approx(float(solve_poses(alone, found(), 10.0).arm_angle), rel=ROUNDING)


def test_a_part_of_arrays_that_cannot_be_is_refused_with_the_figure() -> None:
    with pytest.raises(
        PartError, match=r"cam\.heel_radius = 60\.0 mm: must be less than tip_radius, which is 50\.0 mm"
    ):
        InvoluteProfile(12.7, np.array([15.0, 60.0]), 50.0)  # pyright: ignore[reportArgumentType]


def test_marking_ends_where_it_is_left() -> None:
    with marking() as marks:
        Guard("cam").positive("length", base_radius=np.array([1.0, -1.0])).done()  # pyright: ignore[reportArgumentType]
    assert marks.wrong.tolist() == [False, True]
    with pytest.raises(PartError):
        Guard("cam").positive("length", base_radius=np.array([1.0, -1.0])).done()  # pyright: ignore[reportArgumentType]


def test_a_figure_of_one_that_is_wrong_is_an_error_even_when_marking() -> None:
    with marking(), pytest.raises(PartError):
        Guard("cam").positive("length", base_radius=-1.0).done()


def test_taking_some_leaves_what_is_one_as_it_is() -> None:
    brake = replace(BRAKE, linkage=replace(BRAKE.linkage, arm_length=np.array([100.0, 120.0, 140.0])))
    some = taken(brake, np.array([True, False, True]))
    assert arrays_of(some)["linkage.arm_length"].tolist() == [100.0, 140.0]
    assert some.shoe == BRAKE.shoe
    assert taken(BRAKE, np.array([True])) is BRAKE
    assert is_many(brake)
    assert not is_many(BRAKE)


@pytest.mark.parametrize("key", ["linkage.arm_lenth", "cam.rise", "linkage.arm_holes", "measured.stroke"])
def test_a_figure_that_cannot_be_varied_is_refused(key: str) -> None:
    with pytest.raises(PartError, match=key):
        many_setups(SETUPS["drive-16.5x7"], {key: np.array([1.0, 2.0])})


def test_slack_is_stated_one_way() -> None:
    setup = SETUPS["drive-16.5x7"]
    clearance = many_setups(setup, {"condition.lining_clearance": np.array([0.4, 0.5])})
    assert clearance.as_found.free_stroke is None
    both = {"condition.lining_clearance": np.array([0.4]), "condition.free_stroke": np.array([14.0])}
    with pytest.raises(PartError, match="lining_clearance"):
        many_setups(setup, both)
