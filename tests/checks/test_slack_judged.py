"""Slack is judged however it was found: read on a warm drum, or as a lining clearance; and what follows from it."""

from typing import Any

import pytest

from geometry.setup import read_setup_text
from mechviz.checks import CheckRow, run_checks
from mechviz.checks.case import Case
from mechviz.checks.slack_cold import left_when_cold

LONG, SHORT = ('style = "clamp-long-stroke"\nsize = "30"\nrated_stroke = "3 in"', 'style = "clamp"\nsize = "30"')
CAM = '[cam]\nprofile = "involute"\nbase_radius = "0.5 in"\nheel_radius = "0.60 in"\ntip_radius = "1.85 in"\n'
LINKAGE = '[linkage]\narm_length = "5.5 in"\npin_reach = "6.0 in"\nface_distance = "7.5 in"\naxis_offset = "5.35 in"\n'
SHOES = (
    '[foundation]\ndrum_diameter = "16.5 in"\ncam_distance = "6.30 in"\nanchor_distance = "6.00 in"\n'
    'anchor_spacing = "2.50 in"\nroller_diameter = "1.60 in"\nroller_spread = "2.80 in"\nroller_distance = "6.30 in"\n'
    'lining_thickness = "0.75 in"\nwindup_stiffness = "180 N*m/deg"\naxle = "non-steering"\n'
)
AIR = 'pressure = "95 psi"\nreservoir_pressure = "95 psi"'


def written(
    condition: str,
    measured: str = "",
    *,
    chamber: str = SHORT,
    cam: str = CAM + SHOES,
    air: str = AIR,
    lining: str = "0.5",
    drum: str = "16.53",
) -> str:
    """A brake of which everything is written but for what is named."""
    marks = str(chamber == LONG).lower()
    return (
        f'schema = 1\nbase = "drive-16.5x7"\n[chamber]\n{chamber}\n{LINKAGE}{cam}[adjuster]\nkind = "automatic"\n'
        f'[test]\n{air}\n[condition]\nlining_thickness = "{lining} in"\ndrum_diameter = "{drum} in"\n{condition}\n'
        f'[measured]\nclamp_diameter = "8 3/32 in"\nlong_stroke_marks = {marks}\n{measured}\n'
    )


def judged(*args: str, **rest: Any) -> dict[str, CheckRow]:
    return {row.check: row for row in run_checks(read_setup_text(written(*args, **rest), "t", judging=True))}


def hot(slack: str, heat: int) -> str:
    return f'{slack}\ndrum_temperature = "{heat} degF"\nslack_temperature = "{heat} degF"'


# slack read on a warm drum


@pytest.mark.parametrize("heat", [105, 107, 150])
@pytest.mark.parametrize(("chamber", "slack", "stroke"), [(LONG, "1 1/2", "2 1/4"), (SHORT, "1", "1 3/4")])
def test_a_warm_drum_hides_no_slack_that_is_too_much_without_it(
    chamber: str, slack: str, stroke: str, heat: int
) -> None:
    row = judged(hot(f'free_stroke = "{slack} in"', heat), f'stroke = "{stroke} in"', chamber=chamber)["free-stroke"]
    assert row.result == "fail"
    assert ("do not adjust hot" in row.advice) == (heat > 105)


def test_slack_that_the_heat_may_explain_is_not_judged() -> None:
    row = judged(hot('free_stroke = "0.8 in"', 107))["free-stroke"]
    assert row.result == "not-evaluated"
    assert "let it cool" in row.advice


def test_slack_hot_fails_only_beyond_what_reading_and_heat_leave_open() -> None:
    """1.25 in read at 500 degF: more than 3/4 in with the heat taken off, by less than that may be short by."""
    far, near = (judged(hot(f'free_stroke = "{slack} in"', 500))["free-stroke"] for slack in ("1.5", "1.25"))
    assert (far.result, near.result) == ("fail", "not-evaluated")


@pytest.mark.parametrize(("slack", "expected"), [("1.0", "fail"), ("0.85", "not-evaluated")])
def test_on_another_cam_twice_the_heat_is_allowed_for(slack: str, expected: str) -> None:
    row = judged(hot(f'free_stroke = "{slack} in"', 150), cam="")["free-stroke"]
    assert row.result == expected


@pytest.mark.parametrize("slack", ['free_stroke = "1.2 in"', 'lining_clearance = "0.06 in"'])
def test_slack_left_when_cold_is_that_of_the_same_setting(slack: str) -> None:
    """Where the first lining touches a cold drum with the adjuster as it was set when the slack was read hot."""
    body = written(f'{slack}\ndrum_temperature = "70 degF"\nslack_temperature = "400 degF"')
    case = Case(read_setup_text(body, "t"), ("us",))
    assert left_when_cold(case) == pytest.approx(case.found["contact"].stroke, abs=1e-9)


def test_worn_out_linings_do_not_undo_a_slack_that_fails_hot() -> None:
    for lining in ("0.5", "0.25", "0.20"):
        assert judged(hot('free_stroke = "1.5 in"', 300), lining=lining)["free-stroke"].result == "fail", lining


# slack found as a clearance


def test_a_clearance_is_judged_by_the_free_stroke_worked_out() -> None:
    row = judged('lining_clearance = "0.060 in"', chamber=LONG)["free-stroke"]
    assert (row.result, row.basis) == ("fail", "solved")
    assert row.value == pytest.approx(1.28 * 25.4, abs=0.01 * 25.4)
    assert row.resolution > 0.5  # the feeler's 0.001 in, as a stroke


@pytest.mark.parametrize(
    ("clearance", "expected"),
    [
        *((one, "fail") for one in ("0", "0.003", "0.040", "0.05")),
        *((one, "close") for one in ("0.008", "0.014", "0.035", "0.0365")),
        *((one, "pass") for one in ("0.015", "0.0175", "0.020", "0.025", "0.032")),
    ],
)
def test_a_clearance_at_each_side_of_what_is_published(clearance: str, expected: str) -> None:
    row = judged(f'lining_clearance = "{clearance} in"', chamber=LONG)["free-stroke"]
    assert row.result == expected, row


def test_a_clearance_on_the_bases_cam_asks_for_the_cam() -> None:
    row = judged('lining_clearance = "0.060 in"', cam="")["free-stroke"]
    assert (row.result, row.missing) == ("not-evaluated", "cam.profile")


def test_a_clearance_measured_hot_is_judged_as_a_cold_one() -> None:
    sure, unsure, tight = (
        judged(hot(f'lining_clearance = "{one} in"', 300))["free-stroke"] for one in ("0.08", "0.04", "0.001")
    )
    assert (sure.result, unsure.result, tight.result) == ("fail", "not-evaluated", "fail")


def test_a_clearance_beyond_the_brake_fails_as_slack_too() -> None:
    row = judged('lining_clearance = "0.15 in"', lining="0.70", drum="16.50")["free-stroke"]
    assert row.result == "fail"
    assert "within reach" in row.advice


@pytest.mark.parametrize("clearance", ["0.02", "0.034", "0.036", "0.038", "0.06", "0.15"])
def test_what_mends_too_much_stroke_takes_the_slack_as_its_row_does(clearance: str) -> None:
    setup = read_setup_text(written(f'lining_clearance = "{clearance} in"'), "t", judging=True)
    case = Case(setup, ("us",))
    row = next(one for one in run_checks(setup) if one.check == "free-stroke")
    assert case.slack_result == row.result


# the released angle of a brake whose slack leaves nothing to work out


def test_the_released_angle_is_that_of_the_linkage_where_the_slack_is_beyond_the_chamber() -> None:
    beyond = judged('lining_clearance = "0.15 in"', lining="0.70", drum="16.50")
    usual = judged('lining_clearance = "0.02 in"', lining="0.70", drum="16.50")
    row, same = beyond["arm-angle-released"], usual["arm-angle-released"]
    assert (row.result, row.value, row.resolution) == ("pass", same.value, same.resolution)
    assert row.value == pytest.approx(1.855, abs=0.001)  # 106.3 degrees
    words = " ".join(one.advice for one in beyond.values())
    assert "missing or not a number" not in words
    assert "bottoms before the linings touch" in beyond["arm-angle-applied"].advice


def test_an_angle_read_released_is_compared_where_the_slack_is_beyond_the_chamber() -> None:
    for angle, expected in (("106", "pass"), ("95", "fail")):
        rows = judged('free_stroke = "2.6 in"', f'arm_angle_released = "{angle} deg"')
        assert rows["arm-angle-released-as-solved"].result == expected


# the same stroke read beside more and more slack


def test_the_same_stroke_leaves_the_same_whatever_slack_was_felt() -> None:
    rows = [judged(f'free_stroke = "{slack} in"', 'stroke = "1 23/32 in"') for slack in ("9/16", "11/16", "3/4", "1")]
    for check in ("stroke-reserve-cold", "stroke-reserve-hot"):
        first, *others = (row[check] for row in rows)
        assert all(other.value == pytest.approx(first.value) for other in others)
        assert {one.result for one in (first, *others)} == {first.result}
    assert rows[0]["stroke-reserve-hot"].result == "fail"


def test_a_stroke_read_on_a_cold_drum_stands_for_itself() -> None:
    row = judged('free_stroke = "0.6 in"', 'stroke = "1 1/2 in"')["stroke-reserve-cold"]
    assert row.value == pytest.approx(1.5 * 25.4)


def test_growth_with_heat_is_between_the_two_that_are_reported() -> None:
    """1 1/2 in at 70 degF is 2 1/8 in at 600 degF (brake-temperature tests); a hot drum adds 1/2 in (handbook)."""
    row = judged('free_stroke = "0.6 in"', 'stroke = "1 1/2 in"')["stroke-reserve-hot"]
    assert row.value is not None
    assert 2.0 <= row.value / 25.4 <= 2.125


def test_a_stroke_that_was_read_over_the_limit_is_no_near_miss_of_the_cold_reserve() -> None:
    rows = judged('free_stroke = "0.6 in"', 'stroke = "2 1/16 in"')
    assert {rows[check].result for check in ("stroke-limit", "stroke-reserve-cold")} == {"fail"}


@pytest.mark.parametrize("stroke", ["2 1/32", "2 1/16", "2 1/4"])
def test_over_the_limit_with_too_little_air_is_over_with_enough(stroke: str) -> None:
    air = 'reservoir_pressure = "80 psi"'
    rows = judged('free_stroke = "0.6 in"', f'stroke = "{stroke} in"', air=air)
    assert {rows[check].result for check in ("stroke-limit", "stroke-reserve-cold")} == {"fail"}


# the rest


@pytest.mark.parametrize(
    ("air", "angle", "expected"),
    [(91, 65, "fail"), (91, 79, "fail"), (91, 79.8, "not-evaluated"), (120, 65, "fail"), (120, 75, "not-evaluated")],
)
def test_an_angle_read_with_too_much_air_fails_where_less_would_not_open_it(
    air: int, angle: float, expected: str
) -> None:
    rows = judged(
        'free_stroke = "0.6 in"',
        f'arm_angle_applied = "{angle} deg"',
        air=f'procedure = "annual"\nreservoir_pressure = "{air} psi"',
    )
    assert rows["arm-angle-applied"].result == expected


@pytest.mark.parametrize(("air", "said"), [("85", True), ("79", False), ("95", False), ("110", False)])
def test_a_pressure_that_suits_the_other_procedure_names_it(air: str, said: bool) -> None:
    slack, stroke = 'free_stroke = "0.6 in"', 'stroke = "1 1/2 in"'
    rows = judged(slack, stroke, air=f'reservoir_pressure = "{air} psi"')
    assert ('procedure = "annual"' in rows["test-pressure"].advice) == said
    meant = judged(slack, stroke, air=f'procedure = "roadside"\nreservoir_pressure = "{air} psi"')
    assert "procedure =" not in meant["test-pressure"].advice


@pytest.mark.parametrize("lining", ["0.3", "0.25", "0.22", "0.215", "0.21", "0.2"])
def test_a_cam_past_its_tip_makes_no_application_of_too_little_stroke(lining: str) -> None:
    rows = judged('free_stroke = "0.6 in"', 'stroke = "1 in"', lining=lining, drum="16.60")
    assert rows["stroke-limit"].result == "not-evaluated"
    rows = judged('free_stroke = "0.6 in"', 'stroke = "1 1/2 in"', lining=lining, drum="16.60")
    assert rows["stroke-limit"].result == "pass"
