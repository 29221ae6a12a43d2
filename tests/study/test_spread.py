"""Spreads and plans: quantiles against scipy's distributions, and points where they should be."""

from collections.abc import Callable
from math import sqrt
from typing import Any

import numpy as np
import pytest
from scipy import stats

from geometry.errors import PartError
from mechviz.study import Listed, Normal, Parameter, Plan, Spread, Triangular, Uniform
from mechviz.study.spread import deviation_of

SHARES = np.array([1e-6, 0.01, 0.2, 0.5, 0.77, 0.99, 1 - 1e-6])
PAIRS: list[tuple[Spread, Any]] = [
    (Uniform(2.0, 5.0), stats.uniform(2.0, 3.0)),
    (Normal(1.0, 0.2), stats.norm(1.0, 0.2)),
    (Normal.within(1.0, 0.6), stats.norm(1.0, 0.2)),
    (Triangular(1.0, 1.5, 4.0), stats.triang(0.5 / 3, 1.0, 3.0)),
    (Triangular(1.0, 1.0, 4.0), stats.triang(0.0, 1.0, 3.0)),
    (Triangular(1.0, 4.0, 4.0), stats.triang(1.0, 1.0, 3.0)),
]


@pytest.mark.parametrize(("spread", "known"), PAIRS)
def test_quantiles_and_deviations_are_those_of_the_distribution(spread: Spread, known: Any) -> None:
    np.testing.assert_allclose(spread.at(SHARES), known.ppf(SHARES), rtol=1e-12)
    assert deviation_of(spread) == pytest.approx(known.std(), rel=1e-12)


@pytest.mark.parametrize(("spread", "known"), PAIRS)
def test_halving_halves_the_deviation_and_keeps_the_middle(spread: Spread, known: Any) -> None:
    assert deviation_of(spread.halved()) == pytest.approx(0.5 * known.std(), rel=1e-12)
    assert spread.halved().middle == pytest.approx(spread.middle)


def test_a_list_gives_each_of_its_figures_as_often_and_has_no_tolerance() -> None:
    listed = Listed((3.0, 1.0, 2.0))
    found = listed.at((np.arange(300) + 0.5) / 300)
    assert [int((found == value).sum()) for value in (1.0, 2.0, 3.0)] == [100, 100, 100]
    assert listed.at(np.array([1.0])).tolist() == [2.0]
    assert listed.halved() is listed
    assert listed.ends == (1.0, 3.0)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Uniform(2.0, 2.0),
        lambda: Uniform(1.0, np.inf),
        lambda: Normal(1.0, 0.0),
        lambda: Normal(np.nan, 1.0),
        lambda: Triangular(1.0, 5.0, 4.0),
        lambda: Listed(()),
        lambda: Listed((1.0, np.nan)),
    ],
)
def test_what_is_no_spread_is_refused(make: Callable[[], Spread]) -> None:
    with pytest.raises(PartError):
        make()


TWO = (Parameter("linkage.arm_length", Uniform(100.0, 200.0)), Parameter("linkage.pin_reach", Uniform(0.0, 1.0)))
MIXED = (*TWO, Parameter("foundation.friction", Listed((0.3, 0.35, 0.4))))


def test_a_grid_has_every_combination_with_the_ends() -> None:
    plan = Plan("grid", 75)
    values = plan.values(MIXED)
    assert plan.size(MIXED) == 75 == values["linkage.arm_length"].size
    points = set(zip(*(values[p.key].tolist() for p in MIXED), strict=True))
    assert len(points) == 75
    assert {(100.0, 0.0, 0.3), (200.0, 1.0, 0.4)} <= points


def test_sobol_points_are_a_power_of_two_and_fill_more_evenly_than_random_ones() -> None:
    assert Plan("sobol", 1000).size(TWO) == 1024 == Plan("sobol", 1000).values(TWO)["linkage.pin_reach"].size
    even, random = (np.sort(Plan(kind, 1024).values(TWO)["linkage.pin_reach"]) for kind in ("sobol", "monte-carlo"))  # pyright: ignore[reportArgumentType]
    assert np.diff(even).max() < 3 / 1024 < np.diff(random).max()


def test_a_latin_hypercube_has_one_point_in_every_row_and_column() -> None:
    shares = Plan("latin-hypercube", 50).shares(3)
    for row in shares:
        assert sorted((row * 50).astype(int).tolist()) == list(range(50))


@pytest.mark.parametrize("kind", ["sobol", "latin-hypercube", "monte-carlo"])
def test_shares_are_strictly_inside_so_that_a_normal_figure_is_finite(kind: Any) -> None:
    shares = Plan(kind, 4096).shares(4)
    assert shares.shape == (4, 4096)
    assert 0 < shares.min() < shares.max() < 1
    assert np.isfinite(Normal(0.0, 1.0).at(shares)).all()


def test_random_points_have_the_spread_they_are_drawn_from() -> None:
    drawn = Normal(5.0, 2.0).at(Plan("monte-carlo", 40_000).shares(1)[0])
    assert drawn.mean() == pytest.approx(5.0, abs=4 * 2.0 / sqrt(40_000))
    assert drawn.std() == pytest.approx(2.0, rel=0.02)
