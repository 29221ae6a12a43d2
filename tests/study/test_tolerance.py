"""A tolerance study: shares against the closed form, blame where it belongs, and the same draws all through."""

import numpy as np
import pytest
from scipy import stats

from geometry.setup import read_setup
from mechviz.study import CancelledError, Listed, Normal, Outcome, Parameter, Study, Uniform
from mechviz.study.tolerance import ANY, Held, tolerance, wilson

DRIVE = read_setup("drive-16.5x7")
IN = 25.4


def study(*outcomes: Outcome) -> Study:
    """Torque is in proportion to the efficiency, and the width does nothing to it."""
    parameters = (
        Parameter("foundation.efficiency", Normal(0.75, 0.01)),
        Parameter("foundation.lining_width", Uniform(150.0, 200.0)),
        Parameter("condition.free_stroke", Normal.within(0.55 * IN, 0.03 * IN)),
    )
    return Study(DRIVE, parameters, outcomes)


def torque_at(efficiency: float) -> float:
    from mechviz.study import Plan, run

    one = (Parameter("foundation.efficiency", Listed((efficiency,))),)
    return float(run(Study(DRIVE, one, (Outcome("brake-torque"),), Plan("grid", 1))).outcomes["brake-torque"][0])


def held(found: tuple[Held, ...], key: str) -> Held:
    return next(one for one in found if one.key == key)


LEAST = torque_at(0.735)


def test_the_share_outside_is_that_of_the_distribution_and_halving_too() -> None:
    found = tolerance(
        Study(DRIVE, study(Outcome("arm-turn")).parameters[:2], (Outcome("brake-torque", least=LEAST),)), 20_000
    )
    one = held(found.held, "brake-torque")
    low, high = one.outside.interval
    assert low <= stats.norm.cdf(-1.5) <= high
    first, second = one.blame
    assert first.key == "foundation.efficiency"
    assert first.variance == pytest.approx(1.0, abs=0.05)
    assert first.halved is not None
    low, high = first.halved.interval
    assert low <= stats.norm.cdf(-3.0) <= high
    assert second.gain(one.outside) == 0.0
    assert second.variance == pytest.approx(0.0, abs=1e-6)


def test_any_counts_a_brake_once() -> None:
    outcomes = Outcome("brake-torque", least=LEAST), Outcome("applied-stroke", most=1.45 * IN)
    found = tolerance(study(*outcomes), 4000)
    each = [held(found.held, o.key).outside.count for o in outcomes]
    together = held(found.held, ANY)
    assert max(each) < together.outside.count < sum(each)
    assert together.outside.count == int((~found.drawn.inside).sum())
    assert np.isnan(together.blame[0].variance)


def test_what_does_not_exist_is_outside_and_counted() -> None:
    loose = (Parameter("condition.free_stroke", Uniform(1.0 * IN, 2.6 * IN)),)
    found = tolerance(Study(DRIVE, loose, (Outcome("applied-stroke"),)), 2000)
    one = held(found.held, "applied-stroke")
    assert 0 < one.missing <= one.outside.count < 2000


def test_an_outcome_without_a_limit_is_not_held_and_a_choice_has_no_tolerance() -> None:
    parameters = (Parameter("foundation.efficiency", Listed((0.7, 0.75))),)
    found = tolerance(Study(DRIVE, parameters, (Outcome("brake-torque"), Outcome("applied-stroke"))), 100)
    assert [one.key for one in found.held] == ["applied-stroke", ANY]
    assert found.held[0].blame[0].halved is None
    assert found.held[0].blame[0].gain(found.held[0].outside) == 0.0


def test_progress_rises_to_the_whole_and_a_cancel_stops() -> None:
    told: list[tuple[int, int]] = []
    tolerance(study(Outcome("applied-stroke")), 3000, lambda *at: told.append(at))
    done = [one for one, _ in told]
    assert done == sorted(done)
    assert told[-1][0] == told[-1][1]
    with pytest.raises(CancelledError):
        tolerance(study(Outcome("applied-stroke")), 3000, None, lambda: True)


@pytest.mark.parametrize(("count", "points"), [(0, 10), (3, 10), (10, 10), (7, 1000)])
def test_the_interval_is_that_of_scipy_and_keeps_inside(count: int, points: int) -> None:
    low, high = wilson(count, points, float(stats.norm.ppf(0.975)))
    theirs = stats.binomtest(count, points).proportion_ci(method="wilson")
    assert (low, high) == pytest.approx((theirs.low, theirs.high), abs=1e-12)
    assert 0 <= low <= count / points <= high <= 1
