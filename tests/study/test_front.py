"""The front holds every point that no other dominates, and none besides."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.arrays import Array
from geometry.setup import read_setup
from mechviz.study import Outcome, Parameter, Plan, Study, Uniform, dominance, run
from mechviz.study.best import best
from mechviz.study.dominance import non_dominated
from mechviz.study.front import front

IN = 25.4


def slowly(rows: Array) -> list[int]:
    return [n for n, row in enumerate(rows) if not ((rows <= row).all(1) & (rows < row).any(1)).any()]


@settings(max_examples=200, deadline=None)
@given(st.integers(1, 5), st.integers(0, 120), st.integers(1, 12), st.integers(0, 2**32 - 1))
def test_it_is_what_comparing_every_pair_gives_ties_included(
    objectives: int, count: int, steps: int, seed: int
) -> None:
    rows = np.random.default_rng(seed).integers(0, steps, (count, objectives)).astype(np.float64)
    assert non_dominated(rows).tolist() == slowly(rows)


@pytest.mark.parametrize("objectives", [2, 3, 4, 5])
@pytest.mark.parametrize("kind", ["few are left", "many are left", "all are left"])
def test_halving_and_halving_again_misses_nothing(objectives: int, kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    draw = np.random.default_rng(objectives)
    rows = draw.normal(size=(900, objectives))
    if kind != "few are left":
        noise = draw.normal(size=900) if kind == "many are left" else 0.0
        rows[:, -1] = -rows[:, :-1].sum(axis=1) + 0.1 * noise
    expected = slowly(rows)
    for small, smaller, first in ((6, 4, 32), (1, 1, 1), (3, 2, 5)):
        monkeypatch.setattr(dominance, "SMALL", small)
        monkeypatch.setattr(dominance, "SMALLER", smaller)
        monkeypatch.setattr(dominance, "FIRST", first)
        assert non_dominated(rows).tolist() == expected


def test_scaling_an_objective_changes_nothing() -> None:
    rows = np.random.default_rng(0).normal(size=(3000, 3))
    assert non_dominated(rows).tolist() == non_dominated(rows * [1e6, 1e-6, 3.0] + [5.0, 0.0, -2.0]).tolist()


def test_what_is_all_alike_is_all_on_the_front() -> None:
    assert non_dominated(np.ones((5, 3))).tolist() == [0, 1, 2, 3, 4]


STUDY = Study(
    read_setup("drive-16.5x7"),
    (
        Parameter("linkage.arm_length", Uniform(4.5 * IN, 7.0 * IN)),
        Parameter("linkage.pin_reach", Uniform(5.0 * IN, 7.0 * IN)),
    ),
    (Outcome("brake-torque"), Outcome("stroke-reserve"), Outcome("arm-angle-applied")),
    Plan("sobol", 1024),
)


def test_more_torque_less_stroke_and_a_squarer_arm_are_better() -> None:
    result = run(STUDY)
    found = front(result, ["brake-torque", "stroke-reserve", "arm-angle-applied"])
    columns = [result.outcomes[o.key] for o in STUDY.outcomes]
    rows = np.stack([-columns[0], -columns[1], np.abs(columns[2] - np.pi / 2)], axis=1)
    inside = np.flatnonzero(result.inside)
    assert sorted(found.points.tolist()) == inside[slowly(rows[inside])].tolist()
    torque = result.outcomes["brake-torque"][found.points]
    assert (np.diff(torque) <= 0).all()
    assert result.inside[found.points].all()


def test_points_outside_a_limit_are_on_the_front_only_where_asked() -> None:
    result = run(STUDY)
    everywhere = front(result, ["brake-torque"], inside=False)
    assert not result.inside[everywhere.points].any()
    assert result.outcomes["brake-torque"][everywhere.points] == np.nanmax(result.outcomes["brake-torque"])


def test_the_best_by_one_outcome_are_the_best_in_order() -> None:
    from dataclasses import replace

    result = run(replace(STUDY, best_by=("brake-torque",)))
    found = best(result, 6)
    torque = np.where(result.inside, result.outcomes["brake-torque"], -np.inf)
    np.testing.assert_array_equal(result.outcomes["brake-torque"][found.points], np.sort(torque)[::-1][:6])


def test_the_best_by_two_are_spread_along_the_front() -> None:
    found = best(run(STUDY), 4)
    assert found.by == ("brake-torque", "stroke-reserve")
    assert len(found.points) == 4
    assert found.points[0] == found.front.points[0]
    assert found.points[-1] == found.front.points[-1]
