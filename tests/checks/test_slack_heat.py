"""Slack felt cold and a stroke read hot: what rests on when the slack was read is not judged until that is written."""

import pytest

from geometry.setup import read_setup_text
from mechviz.checks.case import Case
from mechviz.checks.in_use import surely_unexplained, unexplained
from mechviz.diagnosis.notices import as_written
from tests.checks.test_checks import checked, result
from tests.sweeps import sweep

HOT = '[condition]\nfree_stroke = "{} in"\ndrum_temperature = "{} degF"\n{}[measured]\nstroke = "{} in"\n'
COLD_SLACK = 'slack_temperature = "70 degF"\n'
HOT_SLACK = 'slack_temperature = "500 degF"\n'


def test_heat_alone_is_no_fault_of_a_brake_whose_slack_was_read_cold() -> None:
    unsaid, cold, hot = (checked(HOT.format("1/2", 500, when, "1 15/16")) for when in ("", COLD_SLACK, HOT_SLACK))
    (row,) = unsaid["stroke-as-solved"]
    assert (row.result, row.missing, row.limit) == ("not-evaluated", "condition.slack_temperature", None)
    assert (result(cold, "stroke-as-solved"), result(hot, "stroke-as-solved")) == ("pass", "fail")
    assert not any("soft or worn" in one.advice for several in unsaid.values() for one in several)


def test_the_reported_growth_with_heat_is_not_laid_to_parts() -> None:
    """85 psi, 1 1/2 in at 70 degF and 2 1/8 in at 600 degF (reported brake-temperature tests)."""
    air = '[test]\nprocedure = "annual"\nreservoir_pressure = "85 psi"\n'
    rows = checked(air + HOT.format("0.60", 600, "", "2 1/8"))
    assert result(rows, "stroke-as-solved") == "not-evaluated"
    (limit,) = rows["stroke-limit"]
    assert (limit.result, "write condition.slack_temperature" in limit.advice) == ("fail", True)
    words = " ".join(row.advice for several in rows.values() for row in several)
    assert "not the slack" not in words
    assert "something gives" not in words


@pytest.mark.parametrize(("stroke", "expected"), [("2 7/16", "fail"), ("1/2", "fail"), ("1 15/16", "not-evaluated")])
def test_a_stroke_that_neither_slack_explains_fails(stroke: str, expected: str) -> None:
    assert result(checked(HOT.format("0.4", 300, "", stroke)), "stroke-as-solved") == expected


@pytest.mark.parametrize("temperature", sweep([75, 500, 300], always=2))
@pytest.mark.parametrize("slack", [0.3, 0.5, 0.7, 1.0, 1.4])
def test_what_is_judged_unsaid_holds_read_hot_and_read_cold(slack: float, temperature: int) -> None:
    body = f'[condition]\nfree_stroke = "{slack} in"\ndrum_temperature = "{temperature} degF"\n'
    body += 'lining_thickness = "0.5 in"\ndrum_diameter = "16.55 in"\n'
    hot = f'slack_temperature = "{temperature} degF"\n'
    unsaid, read_hot, read_cold = (checked(body + when) for when in ("", hot, COLD_SLACK))
    for check, rows in unsaid.items():
        for one, other, third in zip(rows, read_hot[check], read_cold[check], strict=True):
            sure = other.result == third.result or temperature == 75
            assert one.result == (other.result if sure else "not-evaluated"), (check, other.result, third.result)


def test_a_clearance_by_feeler_is_asked_for_its_temperature_too() -> None:
    body = '[condition]\nlining_clearance = "0.07 in"\ndrum_temperature = "600 degF"\n'
    results = {when: result(checked(body + when), "stroke-reserve-hot") for when in ("", COLD_SLACK)}
    assert results == {"": "not-evaluated", COLD_SLACK: "fail"}


def test_only_what_neither_slack_explains_is_surely_unexplained() -> None:
    head = 'schema = 1\nbase = "drive-16.5x7"\n[chamber]\nstyle = "clamp"\nsize = "30"\n[test]\n'
    head += 'reservoir_pressure = "95 psi"\n' + HOT.format("1/2", 500, "", "1 15/16") + 'arm_length = "5.5 in"\n'
    case = Case(read_setup_text(head, "t"), ("us",))
    assert (unexplained(case), surely_unexplained(case)) == ("longer", "")
    far = Case(read_setup_text(head.replace("1 15/16", "2 1/2"), "t"), ("us",))
    assert (unexplained(far), surely_unexplained(far)) == ("longer", "longer")


@pytest.mark.parametrize("chamber", ["6", "12"])
def test_heat_is_not_blamed_on_a_brake_read_cold(chamber: str) -> None:
    body = f'[chamber]\nstyle = "clamp"\nsize = "{chamber}"\n[test]\nreservoir_pressure = "95 psi"\n'
    body += '[condition]\nfree_stroke = "1/2 in"\ndrum_temperature = "70 degF"\nslack_temperature = "70 degF"\n'
    (row,) = checked(body + '[measured]\nstroke = "1 7/16 in"\n')["stroke-limit"]
    assert row.result == "fail"
    assert "heat" not in row.advice
    assert "slack_temperature" not in row.advice
    assert "the wind-up is the base's" in row.advice


def test_a_hot_stroke_that_heat_explains_is_laid_to_heat() -> None:
    body = '[chamber]\nstyle = "clamp"\nsize = "30"\n[test]\nreservoir_pressure = "95 psi"\n'
    (row,) = checked(body + HOT.format("0.5", 600, COLD_SLACK, "2 1/8"))["stroke-limit"]
    assert row.result == "fail"
    assert (
        "The drum is hot, and one that grows takes stroke: let it cool and measure again, do not adjust hot"
        in row.advice
    )
    assert "check that chamber" not in row.advice


# lengths are not to blame for slack that was read hot

ANGLES = 'arm_length = "5.5 in"\npin_reach = "{} in"\n'
LINKAGE = '[linkage]\nface_distance = "7.5 in"\naxis_offset = "5.35 in"\n'
TOO_LONG = "the pushrod or the arm is too long"
LET_COOL = "let it cool first, do not adjust hot"


@pytest.mark.parametrize("when", ["", 'slack_temperature = "300 degF"\n'])
@pytest.mark.parametrize("slack", ['free_stroke = "1 7/8 in"', 'lining_clearance = "0.09 in"'])
def test_slack_read_hot_is_not_laid_to_the_lengths(slack: str, when: str) -> None:
    body = LINKAGE + HOT.format("", 300, when, "2 7/16").replace('free_stroke = " in"', slack) + ANGLES.format(6)
    rows = checked(body)
    for check in ("arm-angle-contact", "right-angle-stroke", "arm-angle-applied"):
        (row,) = rows[check]
        assert row.result in ("fail", "close"), check
        assert LET_COOL in row.advice, check
        assert ("write condition.slack_temperature" in row.advice) == (not when), check
        assert "too long" not in row.advice, check
    assert rows["arm-angle-contact"][0].result == rows["right-angle-stroke"][0].result == "fail"


def test_slack_inside_the_band_when_hot_leaves_a_long_rod_to_blame() -> None:
    rows = checked(
        LINKAGE + HOT.format("0.6", 400, 'slack_temperature = "400 degF"\n', "1 3/4") + ANGLES.format("7 1/2")
    )
    (row,) = rows["right-angle-stroke"]
    assert row.result == "fail"
    assert TOO_LONG in row.advice.lower()
    assert LET_COOL not in row.advice


def test_where_the_arm_stands_released_is_no_matter_of_slack() -> None:
    body = LINKAGE + HOT + ANGLES.format("7 1/2")
    tight, loose = (checked(body.format(slack, 70, "", "2 1/8"))["arm-angle-released"] for slack in ("0.6", "1 7/8"))
    assert tight == loose
    (row,) = loose
    assert (row.result, TOO_LONG in row.advice) == ("close", True)


def test_a_diagnosis_takes_no_angle_for_that_of_the_lengths_by_slack_that_may_be_cold() -> None:
    """Read hot, slack and lengths put the arm at the angle read; read cold, at a smaller one."""
    body = 'schema = 1\nbase = "drive-16.5x7"\n[chamber]\nstyle = "clamp"\nsize = "30"\n'
    body += (
        '[linkage]\narm_length = "5.5 in"\nface_distance = "7.5 in"\naxis_offset = "5.35 in"\npin_reach = "5.2 in"\n'
    )
    body += (
        '[test]\nreservoir_pressure = "95 psi"\n[condition]\nfree_stroke = "0.6 in"\ndrum_temperature = "600 degF"\n'
    )
    angle = '[measured]\narm_angle_applied = "105 deg"\n'
    said = ("", 'slack_temperature = "600 degF"\n', COLD_SLACK)
    told = [as_written(read_setup_text(body + when + angle, "t", judging=True)) for when in said]
    assert told == [False, True, False]
