"""A study's figures are those of the solver and the checks, point by point; what cannot be has its reason."""

import numpy as np
import pytest

from geometry.arrays import Array, floats
from geometry.condition import Condition, tip_angle
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.effective_stroke import effective_stroke
from geometry.errors import PartError, SetupError
from geometry.found import condition_of, released_angle
from geometry.linkage import stroke_at_right_angle
from geometry.reasons import Reason
from geometry.setup import Setup, builtin_names, read_setup, read_setup_text
from geometry.setup.write import setup_text
from geometry.states import at_contact, at_pressure, at_stroke
from geometry.tables import stroke_limit
from mechviz.checks import run_checks
from mechviz.checks.case import HOT
from mechviz.study import (
    QUANTITIES,
    CancelledError,
    Listed,
    Outcome,
    Parameter,
    Plan,
    Result,
    Study,
    Uniform,
    run,
    size_parameter,
    solve_at,
)
from mechviz.study.chosen import chosen_setup, point
from mechviz.study.piece import HEATS, WEARS, Heat, Wear

IN = 25.4
DRIVE = read_setup("drive-16.5x7")
LINKS = (
    Parameter("linkage.arm_length", Uniform(5.0 * IN, 6.5 * IN)),
    Parameter("linkage.pin_reach", Uniform(5.0 * IN, 7.0 * IN)),
)
BODY = (
    *LINKS,
    Parameter("foundation.roller_diameter", Uniform(1.5 * IN, 1.7 * IN)),
    Parameter("foundation.friction", Uniform(0.25, 0.45)),
    Parameter("condition.free_stroke", Uniform(0.3 * IN, 1.2 * IN)),
    Parameter("test.pressure", Uniform(0.02, 0.8)),
)
EVERY = tuple(Outcome(name, *at) for name in QUANTITIES for at in (("found", "found"), ("worn-out", "hot")))


def study(parameters: tuple[Parameter, ...] = LINKS, points: int = 64, base: Setup = DRIVE, **more: object) -> Study:
    outcomes = more.get("outcomes", (Outcome("applied-stroke"), Outcome("brake-torque")))
    return Study(base, parameters, outcomes, Plan("monte-carlo", points, seed=3))  # pyright: ignore[reportArgumentType]


def in_condition(setup: Setup, wear: Wear, heat: Heat) -> Condition:
    """The condition by the scalar functions alone: worn by hand, and set to the setup's free stroke."""
    found, brake = setup.as_found, setup.brake
    worn = {
        "found": (found.lining_thickness, found.drum_diameter),
        "new": (brake.lining.thickness, brake.drum.diameter),
        "half-worn": (0.5 * (brake.lining.thickness + IN / 4), brake.drum.diameter),
        "worn-out": (IN / 4, brake.drum.diameter),
        "worn-drum": (IN / 4, brake.drum.diameter + 0.12 * IN),
    }[wear]
    when = found.slack_temperature if wear == "found" else REFERENCE_TEMPERATURE
    slack = floats(found.free_stroke), floats(found.lining_clearance)
    released = released_angle(brake, floats(worn[0]), floats(worn[1]), when, *slack)
    kelvin = {"found": found.drum_temperature, "cold": REFERENCE_TEMPERATURE, "hot": HOT}[heat]
    return Condition(*worn, kelvin, float(released))


def singly(setup: Setup, wear: Wear, heat: Heat) -> dict[str, float | None]:
    """Every quantity of one setup, from the named states."""
    brake, condition = setup.brake, in_condition(setup, wear, heat)
    applied = at_pressure(brake, condition, setup.test.pressure, "applied")
    touch, released = at_contact(brake, condition), at_stroke(brake, condition, 0.0, "released")
    square = stroke_at_right_angle(brake.linkage)
    own = {
        "free-stroke": touch.stroke,
        "applied-stroke": applied.stroke,
        "stroke-reserve": less(2 * IN, applied.stroke),
        "push-reserve": less(effective_stroke(brake.chamber, setup.test.pressure), applied.stroke),
        "arm-angle-released": released.arm_angle,
        "arm-angle-contact": touch.arm_angle,
        "arm-angle-applied": applied.arm_angle,
        "stroke-where-square": square,
        "square-after-contact": less(square, touch.stroke),
        "arm-turn": applied.arm_turn,
        "roller-force-left": applied.left.roller_force,
        "roller-force-right": applied.right.roller_force,
    }
    pushed = ("chamber-force", "camshaft-torque", "brake-torque")
    return own | {name: getattr(applied, name.replace("-", "_")) for name in pushed}


def less(one: float, other: float | None) -> float | None:
    return None if other is None else one - other


CONDITIONS = [(wear, heat) for wear in WEARS for heat in HEATS if wear == "found" or heat != "found"]


@pytest.mark.parametrize(("wear", "heat"), CONDITIONS)
def test_every_outcome_in_every_condition_is_that_of_the_named_states(wear: Wear, heat: Heat) -> None:
    names = tuple(singly(DRIVE, "found", "found"))
    result = run(study(BODY, 24, outcomes=tuple(Outcome(name, wear, heat) for name in names)))
    met = 0
    for n in range(result.size):
        try:
            setup = chosen_setup(result.study, point(result, n))
        except SetupError:  # as found it cannot be; in other conditions it may
            continue
        expected = singly(setup, wear, heat)
        for outcome in result.study.outcomes:
            value, want = result.outcomes[outcome.key][n], expected[outcome.name]
            if want is None:
                assert np.isnan(value), (outcome, n)
            else:
                met += 1
                assert value == pytest.approx(want, rel=1e-9, abs=1e-9), (outcome, n)
    # of the drive axle, hot, the largest drum is out of the cam's reach: only where square would be is known
    assert met >= (20 if (wear, heat) == ("worn-drum", "hot") else 100)


def test_a_missing_outcome_has_the_solvers_reason() -> None:
    slack, air = Uniform(0.3 * IN, 2.6 * IN), Uniform(0.001, 0.3)
    loose = (*LINKS, Parameter("condition.free_stroke", slack), Parameter("test.pressure", air))
    result = run(study(loose, 200, outcomes=(Outcome("applied-stroke"), Outcome("brake-torque"))))
    missing, refused = np.flatnonzero(~result.valid), 0
    assert missing.size
    for n in missing[:40]:
        code = Reason(int(result.why["brake-torque"][n]))
        values = point(result, int(n))
        try:
            setup = chosen_setup(result.study, values)
        except SetupError:
            refused += 1
            continue
        state = at_pressure(setup.brake, in_condition(setup, "found", "found"), setup.test.pressure, "applied")
        unpressed = state.reason == Reason.EXISTS and state.brake_torque is None
        assert code == (Reason.OUT_OF_REACH if unpressed else state.reason)
        assert code != Reason.EXISTS
    assert refused < 40


def profile_left(setup: Setup) -> float:
    """What the named state, applied, leaves of the cam's profile, the whole of the arm's turn counted."""
    condition = condition_of(setup)
    turn = at_pressure(setup.brake, condition, setup.test.pressure, "applied").arm_turn
    assert turn is not None
    return tip_angle(setup.brake) - (float(floats(condition.released_angle)) + turn)


@pytest.mark.parametrize("name", builtin_names())
def test_figures_and_limits_are_those_of_the_checks(name: str) -> None:
    as_read = read_setup(name)
    setup = read_setup_text(setup_text(as_read.values, "without what was measured", "inch"), name)
    pairs = {
        "stroke-reserve-cold": ("stroke-reserve", "cold", "margin"),
        "stroke-reserve-hot": ("push-reserve", "hot", "margin"),
        "cam-profile-used": ("cam-profile-left", "found", "margin"),
        "cam-turn": ("cam-turn", "found", "value"),
        "right-angle-stroke": ("stroke-where-square", "found", "value"),
    }
    outcomes = tuple(Outcome(one, "found", heat) for one, heat, _ in pairs.values())
    same = Parameter("linkage.arm_length", Listed((setup.values["linkage.arm_length"],)))
    result = run(Study(setup, (same,), outcomes, Plan("grid", 1)))
    rows = {row.check: row for row in run_checks(setup)}
    for outcome, (check, (_, _, of)) in zip(outcomes, pairs.items(), strict=True):
        expected = getattr(rows[check], of)
        if expected is None:
            assert np.isnan(result.outcomes[outcome.key][0]), check
            continue
        found = result.outcomes[outcome.key][0]
        if check == "cam-profile-used":  # the check takes the furthest turn with any less slack, too
            assert found >= expected - 1e-9
            expected = profile_left(setup)
        assert found == pytest.approx(expected, abs=1e-9), check
        limit = result.limits[outcome.key]
        if of == "value" and limit is not None and rows[check].limit is not None and check == "cam-turn":
            assert limit.most == rows[check].limit
            assert limit.source == rows[check].source


def test_the_limit_goes_with_the_chamber() -> None:
    sizes = ("16", "24", "30", "36")
    outcomes = Outcome("applied-stroke"), Outcome("stroke-reserve")
    result = run(Study(DRIVE, (size_parameter(sizes),), outcomes, Plan("grid", 4)))
    expected = [stroke_limit("clamp", size) for size in sizes]
    limits = result.limits["applied-stroke"]
    assert limits is not None
    assert [limits.at(n).most for n in range(4)] == [one.limit_mm for one in expected if one is not None]
    reserve = floats(limits.most) - result.outcomes["applied-stroke"]
    np.testing.assert_array_equal(result.outcomes["stroke-reserve"], reserve)


def test_two_sizes_have_a_higher_limit_with_a_longer_stroke() -> None:
    trailer = read_setup("trailer-16.5x7")
    values = {**trailer.values, "chamber.size": "24"}
    base = read_setup_text(setup_text(values, "24 long", "inch"), "24 long")
    rated = Parameter("chamber.rated_stroke", Listed((2.5 * IN, 2.9 * IN, 2.95 * IN, 3.0 * IN)))
    limit = run(Study(base, (rated,), (Outcome("applied-stroke"),), Plan("grid", 4))).limits["applied-stroke"]
    assert limit is not None
    np.testing.assert_allclose(floats(limit.most) / IN, [2.0, 2.0, 2.5, 2.5])


def test_one_float_over_a_limit_is_outside_and_at_it_inside() -> None:
    result = run(study(points=1, outcomes=(Outcome("applied-stroke"), Outcome("free-stroke"))))
    stroke, slack = result.limits["applied-stroke"], result.limits["free-stroke"]
    assert stroke is not None
    assert slack is not None
    high = np.array([2 * IN, np.nextafter(2 * IN, np.inf), np.nan])
    assert stroke.holds(high).tolist() == [True, False, False]
    band = np.array([12.7, np.nextafter(12.7, 0), np.nextafter(19.05, 0), 19.05])
    assert slack.holds(band).tolist() == [True, False, True, False]


def test_a_limit_of_its_own_narrows_the_published_one() -> None:
    own = (Outcome("applied-stroke", most=1.5 * IN), Outcome("brake-torque", least=1.4e7))
    result = run(study(points=200, outcomes=own))
    good = (result.outcomes["applied-stroke"] <= 1.5 * IN) & (result.outcomes["brake-torque"] >= 1.4e7)
    np.testing.assert_array_equal(result.inside, good)
    assert 0 < good.sum() < 200
    limit = result.limits["applied-stroke"]
    assert limit is not None
    assert limit.source == "49 CFR 393.47(e); the study's own"


def test_a_hot_stroke_is_not_held_against_a_cold_limit() -> None:
    hot = Outcome("applied-stroke", "found", "hot"), Outcome("stroke-reserve", "new", "hot")
    result = run(study(points=2, outcomes=hot))
    assert result.limits == {"applied-stroke.found.hot": None, "stroke-reserve.new.hot": None}


def test_pieces_and_threads_change_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    from mechviz.study import running

    def solved(workers: int) -> Result:
        return running.run(study(BODY, 1500, outcomes=EVERY), workers=workers)

    one = solved(1)
    monkeypatch.setattr(running, "PIECE", 97)
    other = solved(3)
    for key, column in one.outcomes.items():
        np.testing.assert_allclose(other.outcomes[key], column, 1e-13, 1e-10)
        np.testing.assert_array_equal(other.why[key], one.why[key])


def test_progress_rises_to_all_points(monkeypatch: pytest.MonkeyPatch) -> None:
    from mechviz.study import running

    monkeypatch.setattr(running, "PIECE", 100)
    told: list[tuple[int, int]] = []
    running.run(study(points=1050), lambda done, size: told.append((done, size)))
    done = [one for one, _ in told]
    assert done == sorted(done)
    assert told[-1] == (1050, 1050)
    assert len(told) > 2


def test_a_run_that_is_cancelled_stops_early(monkeypatch: pytest.MonkeyPatch) -> None:
    from mechviz.study import running

    monkeypatch.setattr(running, "PIECE", 50)
    told: list[int] = []
    with pytest.raises(CancelledError):
        running.run(study(points=50_000), lambda done, _: told.append(done), lambda: len(told) >= 3)
    assert max(told) < 5_000


def test_an_interrupt_in_a_callback_comes_through(monkeypatch: pytest.MonkeyPatch) -> None:
    from mechviz.study import running

    def interrupt(_done: int, _size: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(running, "PIECE", 50)
    with pytest.raises(KeyboardInterrupt):
        running.run(study(points=5_000), interrupt)


def test_equal_studies_give_equal_results() -> None:
    for kind in ("grid", "latin-hypercube", "sobol", "monte-carlo"):
        once, again = (run(Study(DRIVE, LINKS, (Outcome("arm-turn"),), Plan(kind, 100, seed=9))) for _ in range(2))
        np.testing.assert_array_equal(once.outcomes["arm-turn"], again.outcomes["arm-turn"])


def test_a_figure_that_no_part_can_have_is_marked_not_raised() -> None:
    arms, reaches = np.array([140.0, -1.0, np.nan]), np.full(3, 152.0)
    at: dict[str, Array] = {"linkage.arm_length": arms, "linkage.pin_reach": reaches}
    result = solve_at(study(), at)
    assert result.reason.tolist() == [Reason.EXISTS, Reason.PART_IMPOSSIBLE, Reason.PART_IMPOSSIBLE]
    assert np.isnan(result.outcomes["applied-stroke"][1:]).all()


def test_a_study_of_nothing_but_impossible_brakes_is_all_reasons() -> None:
    wrong = (Parameter("linkage.arm_length", Uniform(-2.0, -1.0)), Parameter("cam.tip_radius", Uniform(1.0, 2.0)))
    result = run(study(wrong, 10, outcomes=EVERY))
    assert (result.reason == Reason.PART_IMPOSSIBLE).all()
    assert not result.inside.any()


STROKE = (Outcome("applied-stroke"),)
AREA = Parameter("chamber.effective_area", Uniform(1.0, 2.0))
BAD: list[tuple[str, tuple[Parameter, ...], tuple[Outcome, ...]]] = [
    ("parameters", (), STROKE),
    ("outcomes", LINKS, ()),
    ("twice", (*LINKS, LINKS[0]), STROKE),
    ("same outcome twice", LINKS, (*STROKE, *STROKE)),
    ("no figure of this base", (Parameter("cam.rise", Uniform(1.0, 2.0)),), STROKE),
    ("sets rated stroke", (size_parameter(("30",)), AREA), STROKE),
    ("no published stroke", (size_parameter(("31",)),), STROKE),
]


@pytest.mark.parametrize(("words", "parameters", "outcomes"), BAD, ids=[words for words, _, _ in BAD])
def test_what_cannot_be_studied_is_said(
    words: str, parameters: tuple[Parameter, ...], outcomes: tuple[Outcome, ...]
) -> None:
    with pytest.raises(PartError, match=words):
        Study(DRIVE, parameters, outcomes)
