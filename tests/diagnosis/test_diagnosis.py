"""The diagnosis: Bayes' rule over the model, held against brakes whose cause is known."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.arrays import floats
from geometry.defects import DEFECTS, Wheel, solve_wheel
from geometry.diagnosis import (
    NOTHING,
    Belief,
    Predictions,
    Readings,
    believed,
    groups_of,
    left_over,
    marks_left_over,
    predict,
    readings_of,
    sobered,
    speaks_for,
    telling_apart,
    worths,
)
from geometry.diagnosis.apart import TOLD
from geometry.diagnosis.next_reading import evenly_below, information
from geometry.diagnosis.nodes import normal_nodes
from geometry.diagnosis.posterior import evenly_log, misfit_of, once_in_a_thousand
from geometry.diagnosis.priors import WEIGHTS, amount_at, amount_nodes
from geometry.diagnosis.readings import BLOCK, READINGS, offs
from geometry.diagnosis.tape import cleared, taped
from geometry.diagnosis.tight import CAUSES, TIGHT
from geometry.found import condition_of
from geometry.linkage import arm_state
from geometry.reasons import Reason
from geometry.setup import Setup, read_setup
from geometry.setup.read import read_setup_text
from mechviz.diagnosis.study import study
from tests.brakes import IN
from tests.diagnosis.draws import EVERYTHING, WORKSHOP, draw
from tests.diagnosis.score import scored

DRIVE = read_setup("drive-16.5x7")
SOUND = Wheel(DRIVE.brake, condition_of(DRIVE), DRIVE.test.pressure)
STATED = '[chamber]\nstyle = "clamp"\nsize = "30"\n[linkage]\narm_length = "5.5 in"\npin_reach = "6 in"\n'
STATED += 'face_distance = "7.5 in"\naxis_offset = "5.35 in"\n[test]\nreservoir_pressure = "95 psi"\n'


@cache
def predictions() -> Predictions:
    return predict(DRIVE)


@cache
def apart() -> np.ndarray:
    return telling_apart(predictions(), Readings({}, offs(DRIVE)))


def place(name: str) -> int:
    return predictions().names.index(name)


def belief(**values: float) -> Belief:
    return believed(predictions(), Readings(values, offs(DRIVE)))


def first(setup: Setup) -> str:
    found = believed(predict(setup), readings_of(setup))
    return found.predictions.names[found.order[0]]


def written(text: str) -> Setup:
    return read_setup_text(f'schema = 1\nbase = "drive-16.5x7"\n{STATED}{text}', "test", judging=True)


def healthy() -> dict[str, float]:
    one = solve_wheel(SOUND)
    return {
        "stroke": float(one.stroke),
        "free_stroke": float(one.free_stroke),
        "arm_angle_released": float(one.released_angle),
        "arm_angle_applied": float(one.applied_angle),
    }


@pytest.mark.parametrize("one", CAUSES, ids=lambda d: d.name)
def test_what_a_tape_reads_is_what_the_solver_of_defects_gives(one) -> None:
    slack = floats(SOUND.condition.released_angle) - np.linspace(0, 0.05, 3)
    wheel = one.on(replace(SOUND, condition=replace(SOUND.condition, released_angle=slack)))
    tape, whole = taped([SOUND, wheel], (3,))[1], solve_wheel(wheel)
    bottomed = whole.reason == Reason.BOTTOMED
    for key in ("stroke", "free_stroke", "applied_angle"):
        there = np.where(bottomed, np.nan, getattr(tape, key))
        np.testing.assert_allclose(there, getattr(whole, key), rtol=1e-12)
    assert np.array_equal(tape.dead, (whole.reason != Reason.EXISTS) & ~bottomed)
    assert np.isclose(tape.released_angle, whole.released_angle)[~tape.dead].all()


def test_a_chamber_that_bottoms_is_read_at_its_rated_stroke() -> None:
    far = replace(SOUND.condition, released_angle=floats(SOUND.condition.released_angle) - 0.45)
    tape = taped([replace(SOUND, condition=far)], ())[0]
    assert solve_wheel(replace(SOUND, condition=far)).reason == Reason.BOTTOMED
    assert (tape.stroke, tape.dead) == (DRIVE.brake.chamber.rated_stroke, False)


def test_a_shoe_that_stays_on_the_drum_leaves_no_gap() -> None:
    by_name = {one.name: one.on(SOUND) for one in DEFECTS}
    gaps = cleared([SOUND, by_name["anchor-frozen-applied"], by_name["return-spring-broken"]], ())
    assert (float(gaps[1]), float(gaps[2])) == (0.0, 0.0)
    assert gaps[0] > 0.2


def test_every_cause_has_a_weight_and_there_are_no_others() -> None:
    assert set(WEIGHTS) == {one.name for one in CAUSES}
    assert min(WEIGHTS.values()) > 0


@pytest.mark.parametrize("one", CAUSES, ids=lambda d: d.name)
def test_amounts_run_from_nothing_to_the_most_about_the_usual(one) -> None:
    even = amount_at(one, (np.arange(4000) + 0.5) / 4000)
    assert even.mean() == pytest.approx(one.usual, rel=2e-3)
    assert (even >= 0).all()
    assert (even <= one.most).all()
    nodes, spread = amount_nodes(one, 8)
    assert nodes.mean() == pytest.approx(one.usual, rel=0.02)
    assert (spread > 0).all() == (one.usual < one.most)


def test_nodes_are_a_normal_distribution_to_its_fourth_moment() -> None:
    nodes = normal_nodes(0.0, 1.0, 5)
    moments = [float(nodes.weight @ f) for f in (nodes.at**2 + nodes.sd**2, nodes.at**3 + 3 * nodes.at * nodes.sd**2)]
    fourth = float(nodes.weight @ (nodes.at**4 + 6 * nodes.at**2 * nodes.sd**2 + 3 * nodes.sd**4))
    assert [*moments, fourth] == pytest.approx([1.0, 0.0, 3.0], abs=1e-9)


def test_weights_are_distributions() -> None:
    p = predictions()
    assert p.prior.sum() == pytest.approx(1)
    sums = np.bincount(p.cause, p.lining_weight.sum(axis=1))
    assert sums == pytest.approx(np.ones(len(p.names)))
    assert np.isfinite(p.mean).all()
    assert (np.linalg.eigvalsh(p.covariance) > -1e-9).all()


READ = st.fixed_dictionaries(
    {},
    optional={
        "stroke": st.floats(0, 70),
        "free_stroke": st.floats(0, 64),
        "arm_angle_released": st.floats(0.5, 3.0),
        "arm_angle_applied": st.floats(0.5, 3.0),
        "arm_length": st.floats(50, 300),
        "pin_reach": st.floats(50, 300),
        "clamp_diameter": st.floats(50, 400),
        "lining_thickness": st.floats(0.1, 30),
        "drum_diameter": st.floats(300, 600),
        "long_stroke_marks": st.sampled_from([0.0, 1.0]),
    },
)


@settings(max_examples=12, deadline=None)
@given(READ, st.randoms(use_true_random=False))
def test_whatever_was_read_probabilities_sum_to_one_in_any_order(values: dict[str, float], random) -> None:
    one = belief(**values)
    assert one.probability.sum() == pytest.approx(1, abs=1e-12)
    assert (one.probability >= 0).all()
    keys = list(values)
    random.shuffle(keys)
    assert np.array_equal(belief(**{key: values[key] for key in keys}).probability, one.probability)
    found = worths(one)
    assert [worth.bits for worth in found] == sorted((worth.bits for worth in found), reverse=True)
    assert all(np.isfinite(worth.ranges).all() for worth in found)


def test_nothing_read_leaves_the_priors() -> None:
    assert belief().probability == pytest.approx(predictions().prior, abs=1e-12)


def test_a_healthy_brake_has_nothing_wrong() -> None:
    found = belief(**healthy())
    group = next(one for one in groups_of(apart()) if place(NOTHING) in one)
    assert found.order[0] == place(NOTHING)
    assert found.probability[group].sum() > 0.7


@pytest.mark.parametrize("extra", ["", 'lining_thickness = "7/16 in"\n'])
def test_half_an_inch_over_with_a_long_free_stroke_is_a_stuck_adjuster(extra: str) -> None:
    setup = written(f'[condition]\nfree_stroke = "1 1/4 in"\n{extra}[measured]\nstroke = "2 1/2 in"\n')
    found = believed(predict(setup), readings_of(setup))
    assert found.predictions.names[found.order[0]] == "adjuster-stuck"
    assert found.probability[found.order[0]] > 0.6


@pytest.mark.parametrize("share", [0.2, 0.6, 0.95])
def test_too_tight_takes_its_share_of_the_slack_and_of_the_gap(share: float) -> None:
    tight = TIGHT.on(SOUND, share)
    slack = [float(solve_wheel(one).free_stroke) for one in (SOUND, tight)]
    gaps = [float(gap) for gap in cleared([SOUND, tight], ())]
    assert slack[1] == pytest.approx((1 - share) * slack[0], rel=0.03)
    assert gaps[1] == pytest.approx((1 - share) * gaps[0], rel=0.03)


@pytest.mark.parametrize(
    ("text", "cause"),
    [
        ('[condition]\nfree_stroke = "3/16 in"\n[measured]\nstroke = "1 1/16 in"\n', "adjusted-too-tight"),
        ('[condition]\nfree_stroke = "5/8 in"\ndrum_temperature = "500 degF"\n', "adjusted-too-tight"),
        ('[condition]\nfree_stroke = "0 in"\n[measured]\nstroke = "1 in"\n', "anchor-frozen-released"),
        ('[condition]\nlining_thickness = "1/8 in"\n', "lining-thin"),
        ('[condition]\ndrum_diameter = "16.7 in"\n', "drum-oversize"),
        ('[measured]\narm_length = "6 in"\n', "arm-too-long"),
        ('[measured]\npin_reach = "6 3/4 in"\n', "pushrod-too-long"),
        ('[measured]\nclamp_diameter = "7 7/32 in"\n', "chamber-too-small"),
        ('[measured]\nlong_stroke_marks = true\nclamp_diameter = "8 3/32 in"\n', "stroke-class"),
        ('[condition]\nfree_stroke = "5/8 in"\n[measured]\nstroke = "2 5/16 in"\n', "loose-bracket"),
    ],
)
def test_what_speaks_for_one_cause_names_it(text: str, cause: str) -> None:
    assert first(written(text)) == cause


def test_a_figure_of_the_base_is_no_reading() -> None:
    assert readings_of(written("")).values == {}
    assert set(readings_of(DRIVE).values) == {"free_stroke", "lining_thickness", "drum_diameter"}


def test_an_arm_that_no_one_stated_cannot_be_wrong_by_much() -> None:
    text = '[measured]\narm_length = "6 in"\n'
    known = written(text)
    bare = read_setup_text(f'schema = 1\nbase = "drive-16.5x7"\n{text}', "test")
    sure, unsure = (
        believed(predict(one), readings_of(one)).probability[place("arm-too-long")] for one in (known, bare)
    )
    assert sure > 0.9
    assert unsure < 0.2


def test_millimetres_and_inches_say_the_same() -> None:
    inch = written(
        '[condition]\nfree_stroke = "1 in"\nlining_thickness = "0.5 in"\n[measured]\nstroke = "2 in"\n'
        'arm_angle_applied = "84 deg"\n'
    )
    metric = written(
        '[condition]\nfree_stroke = "25.4 mm"\nlining_thickness = "12.7 mm"\n[measured]\nstroke = "50.8 mm"\n'
        'arm_angle_applied = "84 deg"\n'
    )
    one, other = (believed(predict(setup), readings_of(setup)) for setup in (inch, metric))
    assert one.probability == pytest.approx(other.probability, abs=1e-12)


def test_heat_explains_a_stroke_that_a_cold_drum_does_not() -> None:
    readings = '[measured]\nstroke = "2 1/4 in"\n'
    cold = written(f'[condition]\nfree_stroke = "5/8 in"\ndrum_temperature = "70 degF"\n{readings}')
    hot = written(
        '[condition]\nfree_stroke = "5/8 in"\nslack_temperature = "70 degF"\ndrum_temperature = "550 degF"\n' + readings
    )
    at_rest = [believed(predict(one), readings_of(one)).probability[place(NOTHING)] for one in (cold, hot)]
    assert at_rest[0] < 0.15
    assert at_rest[1] > 0.4


def test_figures_far_from_everything_are_said_not_to_fit() -> None:
    assert belief(**healthy()).misfit < 5
    assert belief(stroke=30.0, free_stroke=60.0, arm_angle_released=2.6).misfit > 30


def test_what_a_brake_that_does_not_work_may_show_explains_no_reading() -> None:
    """More stroke by hand than under air: only the broad cells of a brake that does not work come near."""
    odd = belief(free_stroke=38.1, stroke=31.75, lining_thickness=15.24, drum_diameter=419.6)
    assert odd.lost > 0.5
    assert not odd.fits
    never = place("cam-past-profile")
    assert misfit_of(predictions(), odd.readings, never) == np.inf
    works = believed(predictions(), odd.readings, working=True)
    assert works.lost == 0
    assert works.probability[never] == 0
    assert works.probability.sum() == pytest.approx(1)
    assert odd.order[0] == never
    assert left_over(odd) == []


def test_where_a_brake_does_not_work_the_arm_still_goes_with_the_rod() -> None:
    mine = predictions().mean[~predictions().works], predictions().covariance[~predictions().works]
    stroke, free, pushed = (BLOCK.index(name) for name in ("stroke", "free_stroke", "arm_angle_applied"))
    rated = DRIVE.brake.chamber.rated_stroke
    assert len(mine[0]) > 0
    assert np.all(mine[0][:, free] < mine[0][:, stroke])
    link = mine[1][:, stroke, pushed] / np.sqrt(mine[1][:, stroke, stroke] * mine[1][:, pushed, pushed])
    assert np.all(link < -0.9)
    slope = mine[1][:, stroke, pushed] / mine[1][:, stroke, stroke]
    turned = [float(arm_state(DRIVE.brake.linkage, s).arm_angle) for s in (0.0, rated)]
    typical = (turned[1] - turned[0]) / rated
    assert np.all((slope > 1.6 * typical) & (slope < 0.5 * typical))
    assert np.all(np.linalg.eigvalsh(mine[1]) > 0)


def test_slack_that_was_not_read_is_foretold_at_the_heat_at_which_it_would_be() -> None:
    hot = written('[condition]\ndrum_temperature = "500 degF"\n[measured]\nstroke = "2 in"\n')
    said = written(
        '[condition]\ndrum_temperature = "500 degF"\nslack_temperature = "500 degF"\n[measured]\nstroke = "2 in"\n'
    )
    cold = written('[measured]\nstroke = "2 in"\n')
    ranges = []
    for setup in (hot, said, cold):
        found = {one.reading.name: one for one in worths(believed(predict(setup), readings_of(setup)))}
        ranges.append(found["free_stroke"].ranges[place(NOTHING)])
    np.testing.assert_array_equal(ranges[0], ranges[1])
    assert ranges[0][0] > ranges[2][1]


def test_marks_that_the_nearest_cause_would_not_show_are_left_over() -> None:
    for marks, left in (("", False), ("long_stroke_marks = false\n", False), ("long_stroke_marks = true\n", True)):
        setup = written(f'[condition]\nfree_stroke = "5/8 in"\n[measured]\nstroke = "2 1/4 in"\n{marks}')
        assert marks_left_over(believed(predict(setup), readings_of(setup))) == left


def test_defects_that_do_the_same_cannot_be_told_apart() -> None:
    distance = apart()
    alike = [
        ("loose-bracket", "drum-cracked"),
        ("lining-glazed", "lining-oil-soaked"),
        ("lining-glazed", NOTHING),
    ]
    for one, other in alike:
        assert distance[place(one), place(other)] == pytest.approx(0, abs=1e-9)
    assert distance[place("adjuster-stuck"), place(NOTHING)] > 0.5
    assert np.array_equal(distance, distance.T)
    groups = groups_of(distance)
    assert sorted(n for group in groups for n in group) == list(range(len(distance)))
    for group in groups:
        for one in group:
            assert len(group) == 1 or min(distance[one, n] for n in group if n != one) < TOLD


def test_a_shoe_on_the_drum_is_told_by_a_feeler_though_free_stroke_was_read() -> None:
    """Free stroke does not tell it; a feeler beside it does, and is offered."""
    shoe, nothing = place("anchor-frozen-applied"), place(NOTHING)
    spring = place("return-spring-broken")
    assert apart()[shoe, nothing] > 0.9
    assert apart()[shoe, spring] < TOLD
    free = healthy()["free_stroke"]
    before = belief(free_stroke=free)
    worth = next(one for one in worths(before) if one.reading.name == "lining_clearance")
    assert worth.bits > 0.1
    assert worth.ranges[shoe][1] < worth.ranges[nothing][0]
    dragging, clear = (belief(free_stroke=free, lining_clearance=gap) for gap in (0.0, 0.76))
    assert dragging.probability[[shoe, spring]].sum() > 0.95
    assert clear.probability[[shoe, spring]].sum() < 0.01 < before.probability[[shoe, spring]].sum()


def test_what_the_nearest_cause_leaves_over_names_the_second() -> None:
    """A long rod and a stuck adjuster at once: the rod takes all the probability, the slack is left over."""
    both = written(
        '[condition]\nfree_stroke = "1 1/4 in"\n[measured]\npin_reach = "6 1/2 in"\nstroke = "2 1/8 in"\n'
        'arm_angle_released = "100 deg"\narm_angle_applied = "77 deg"\narm_length = "5 1/2 in"\n'
    )
    found = believed(predict(both), readings_of(both))
    assert found.predictions.names[found.order[0]] == "pushrod-too-long"
    assert not found.fits
    (left,) = left_over(found)
    assert left.reading.name == "free_stroke"
    assert left.expected[1] < 1.25 * IN
    assert speaks_for(found) == "adjuster-stuck"


def test_no_more_is_left_over_than_has_to_be() -> None:
    """Two readings against one: without the two the rest fits, and neither of them could have stayed."""
    found = belief(free_stroke=15.9, stroke=38.1, pin_reach=127.0, arm_angle_released=1.71, arm_angle_applied=1.40)
    names = [one.reading.name for one in left_over(found)]
    assert not found.fits
    rest = believed(predictions(), found.readings.without(*names))
    cause = int(found.order[0])
    assert misfit_of(predictions(), rest.readings, cause) <= once_in_a_thousand(5 - len(names))
    for name in names:
        kept = found.readings.without(*(set(names) - {name}))
        assert misfit_of(predictions(), kept, cause) > once_in_a_thousand(6 - len(names))


def test_nothing_is_left_over_where_a_cause_fits() -> None:
    found = belief(**healthy())
    assert found.fits
    assert left_over(found) == []
    assert speaks_for(found) is None


def test_chi_squared_is_that_of_the_tables() -> None:
    """Once in a thousand: 10.83, 16.27 and 26.12 with 1, 3 and 8 degrees of freedom; with 1 it is 3 % off."""
    assert once_in_a_thousand(0) == 0
    assert [once_in_a_thousand(n) for n in (1, 3, 8)] == pytest.approx([10.83, 16.27, 26.12], rel=0.031)


def test_information_is_that_of_the_textbook() -> None:
    half = floats([0.5, 0.5])
    assert information(half, floats([[1, 0], [0, 1]])) == pytest.approx(1)
    assert information(half, floats([[0.3, 0.7], [0.3, 0.7]])) == pytest.approx(0, abs=1e-15)
    assert information(half, floats([[0.89, 0.11], [0.11, 0.89]])) == pytest.approx(1 - 0.4999, abs=1e-3)


@pytest.mark.parametrize("name", ["stroke", "arm_angle_applied", "lining_thickness", "drum_diameter"])
def test_what_a_reading_is_worth_is_by_how_much_doubt_falls_once_it_is_taken(name: str) -> None:
    """Against a slow way: every value that it could have is taken in turn, weighed by how probable it is."""
    known = {"free_stroke": 22.0, "arm_length": 139.7}
    before = belief(**known)
    worth = next(one for one in worths(before) if one.reading.name == name)
    expected = before.probability @ worth.share
    kept = expected > 1e-6
    after = [belief(**known, **{name: float(value)}).doubt for value in worth.at[kept]]
    assert before.doubt - expected[kept] @ after == pytest.approx(worth.bits, abs=0.01)
    assert worth.bits > 0.01


def test_an_even_stretch_is_integrated() -> None:
    x = floats(np.linspace(3, 8, 200_001))
    for y, off in ((2.0, 0.5), (5.0, 0.1), (9.0, 2.0)):
        slow = np.mean(np.exp(-0.5 * ((y - x) / off) ** 2)) / (off * np.sqrt(2 * np.pi))
        assert np.exp(evenly_log(floats(y), floats([3.0, 8.0]), floats(off))) == pytest.approx(slow, rel=1e-4)
    far = [float(evenly_log(floats(y), floats([3.0, 8.0]), floats(0.01))) for y in (8.5, 9.0, -50.0)]
    assert far[0] > far[1] > far[2]
    assert np.isfinite(far).all()
    assert evenly_below(floats([-9.0, 5.5, 20.0]), floats([[3.0, 8.0]]), floats([[1.0]])) == pytest.approx(
        floats([[0, 0.5, 1]]), abs=1e-12
    )


def test_every_reading_can_be_written_in_a_file() -> None:
    keys = {one.key for one in READINGS}
    assert len(keys) == len(READINGS)
    for one in READINGS:
        section, name = one.key.split(".")
        assert hasattr(DRIVE.measured if section == "measured" else DRIVE.as_found, name)


BRAKES, EACH = 150, 8
PLAIN = (
    "anchor-frozen-released",
    "arm-too-long",
    "arm-too-short",
    "chamber-too-small",
    "chamber-too-large",
    "drum-oversize",
    "lining-thin",
    "pushrod-too-long",
    "pushrod-too-short",
)


@cache
def as_met():
    often = np.random.default_rng(5).choice(predictions().names, BRAKES, p=predictions().prior)
    return draw(DRIVE, [str(name) for name in often], EVERYTHING, 6)


def test_stated_probabilities_come_true() -> None:
    """On brakes drawn as often as the priors say: the best guess, and the Brier score, are what they say of themselves.

    Bounds of three standard deviations of what so many brakes scatter.
    """
    found = scored(predictions(), as_met()).grouped(groups_of(apart()))
    best = found.probability.max(axis=1)
    right = found.among_first(1, found.truth >= 0)
    assert right == pytest.approx(best.mean(), abs=3 * np.sqrt((best * (1 - best)).sum()) / BRAKES)
    assert found.brier == pytest.approx(float(np.mean(1 - (found.probability**2).sum(axis=1))), abs=0.1)
    for low, high, count, stated, came_true in found.calibration((0.0, 0.1, 0.5, 0.9, 1.0)):
        spread = 3 * np.sqrt(stated * (1 - stated) / count) + 0.01
        assert came_true == pytest.approx(stated, abs=spread), (low, high)
    assert right > 0.65


def doubt_with(kit: tuple[str, ...]) -> float:
    """The doubt that some readings leave, on average over brakes drawn as often as the priors say."""
    left_out = set(EVERYTHING) - set(kit)
    return float(np.mean([believed(predictions(), one.readings.without(*left_out)).doubt for one in as_met()]))


def test_more_readings_leave_less_doubt_on_average() -> None:
    """Each of a workshop's readings tells by itself; with everything read the released angle tells nothing any more."""
    doubts = [doubt_with(kit) for kit in ((), ("stroke",), ("stroke", "free_stroke"), WORKSHOP, EVERYTHING)]
    assert doubts == sorted(doubts, reverse=True)
    for name in WORKSHOP:
        assert doubt_with(tuple(one for one in WORKSHOP if one != name)) > doubts[3] + 0.01
    assert doubt_with(tuple(one for one in EVERYTHING if one != "lining_clearance")) > doubts[4] + 0.01


def test_causes_that_can_be_measured_are_found() -> None:
    drawn = draw(DRIVE, [name for name in PLAIN for _ in range(EACH)], EVERYTHING, 7)
    found = scored(predictions(), drawn)
    rates = {name: found.among_first(1, found.truth == place(name)) for name in PLAIN}
    assert found.among_first(1, found.truth >= 0) > 0.85
    assert min(rates.values()) >= 0.5, rates
    assert found.among_first(3, found.truth >= 0) > 0.93


def test_draws_are_honest_about_a_brake_that_does_not_work() -> None:
    drawn = draw(DRIVE, ["cam-past-profile"] * 12, ("stroke",), 3)
    strokes = [one.readings.values["stroke"] for one in drawn]
    assert max(strokes) - min(strokes) > IN


def test_an_angle_that_no_rod_reaches_is_no_sign_of_a_brake_that_does_not_work() -> None:
    """The arm 15 degrees past square takes more than the rated stroke, unless another rod or arm is fitted."""
    past = written('[measured]\narm_angle_applied = "75 deg"\n')
    found = believed(predict(past), readings_of(past))
    assert found.lost < 0.01
    assert found.probability[place("lining-thin")] < 0.02
    assert found.predictions.names[found.order[0]] == "pushrod-too-long"


@pytest.mark.parametrize(
    "text",
    [
        '[measured]\narm_angle_applied = "75 deg"\n',
        '[condition]\nfree_stroke = "2 1/2 in"\n',
        '[condition]\nlining_clearance = "0.2 in"\n',
    ],
)
def test_no_rod_is_foretold_to_go_beyond_the_rated_stroke(text: str) -> None:
    setup = written(text)
    found = believed(predict(setup), readings_of(setup))
    rods = [one for one in worths(found) if one.reading.name in ("stroke", "free_stroke")]
    assert rods
    for one in rods:
        rated = np.full(len(found.predictions.names), DRIVE.brake.chamber.rated_stroke)
        for other in ("stroke-class", "chamber-too-large"):
            rated[found.predictions.names.index(other)] = 3.0 * IN
        assert (one.ranges <= rated[:, None] + 1e-9).all()
        assert one.ranges.max() > 1.5 * IN


def test_readings_that_no_working_brake_gives_speak_for_no_cause() -> None:
    for text in ('[measured]\nstroke = "1/4 in"\n', '[condition]\nlining_clearance = "0.2 in"\n'):
        setup = written(text)
        assert speaks_for(believed(predict(setup), readings_of(setup), working=True)) not in {
            "lining-thin",
            "cam-past-profile",
        }


@pytest.mark.parametrize(
    "text",
    [
        '[condition]\nlining_clearance = "0.060 in"\n',
        '[condition]\ndrum_temperature = "500 degF"\nfree_stroke = "5/8 in"\n[measured]\nstroke = "1 1/2 in"\n',
        '[condition]\ndrum_temperature = "500 degF"\nlining_clearance = "0.020 in"\n[measured]\nstroke = "1 1/2 in"\n',
        '[measured]\nstroke = "2 1/2 in"\n',
    ],
)
def test_a_brake_that_does_not_work_gains_nothing_by_being_read_anyhow(text: str) -> None:
    setup = written(text)
    found = believed(predict(setup), readings_of(setup))
    sober = sobered(found)
    before = believed(predict(setup), Readings({}, found.readings.off))
    thin = place("lining-thin")
    assert sober.probability.sum() == pytest.approx(1, abs=1e-12)
    assert sober.lost <= before.lost + 1e-12
    assert sober.probability[thin] < 1.02 * before.probability[thin]
    working = believed(predict(setup), readings_of(setup), working=True).probability
    assert sober.probability == pytest.approx((1 - sober.lost) * working + _lost_by_cause(sober), abs=1e-9)


def _lost_by_cause(found: Belief) -> np.ndarray:
    weight = np.where(found.predictions.works, 0.0, np.exp(found.cells).sum(axis=1))
    return np.bincount(found.predictions.cause, weight, len(found.predictions.names))


def test_what_would_be_read_is_that_of_a_brake_that_works() -> None:
    """A clearance of 0.060 in is about 1 in of free stroke with the cam so far round."""
    setup = written('[condition]\nlining_clearance = "0.060 in"\n')
    found = believed(predict(setup), readings_of(setup))
    free = next(one for one in worths(found) if one.reading.name == "free_stroke")
    low, high = free.ranges[place("lining-thin")] / IN
    assert 0.9 < low < high < 1.5


def test_lining_and_drum_still_tell_a_brake_that_does_not_work() -> None:
    setup = written('[condition]\nlining_thickness = "0.1 in"\n[measured]\nstroke = "1 in"\n')
    assert sobered(believed(predict(setup), readings_of(setup))).lost > 0.9


def test_a_ring_read_on_a_chamber_without_one_is_left_over_without_a_prediction() -> None:
    text = (
        'schema = 1\nbase = "drive-16.5x7"\n[chamber]\nstyle = "rotochamber"\nsize = "30"\nrated_stroke = "2.5 in"\n'
        '[condition]\nfree_stroke = "1/2 in"\n[measured]\nclamp_diameter = "8 1/8 in"\nstroke = "1 3/4 in"\n'
        'arm_angle_released = "107 deg"\narm_angle_applied = "91 deg"\narm_length = "5 1/2 in"\npin_reach = "6 in"\n'
    )
    found = study(read_setup_text(text, "rotochamber", judging=True))
    assert "clamp_diameter" not in {one.reading.name for one in found.left_over}
