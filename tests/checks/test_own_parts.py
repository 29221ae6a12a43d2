"""Nothing is judged on the base's chamber, arm or cam: what was worked out with them waits for this brake's own."""

import pytest

from mechviz.checks import CheckRow
from tests.checks.test_checks import checked, result

NAMED = '[chamber]\nstyle = "clamp"\nsize = "30"\n[test]\nreservoir_pressure = "95 psi"\n'
ARM = '[linkage]\narm_length = "5.5 in"\n'
RESERVES = ("stroke-reserve-cold", "stroke-reserve-hot")


def bare(body: str, base: str = "drive-16.5x7") -> dict[str, list[CheckRow]]:
    return checked(body, base, bare=True)


# slack beyond what chamber and cam can take up


@pytest.mark.parametrize(
    ("kind", "cure"), [("manual", "Adjust, then find out why"), ("automatic", "should have taken this up")]
)
@pytest.mark.parametrize("slack", ['lining_clearance = "0.15 in"', 'free_stroke = "2 5/8 in"'])
def test_slack_that_bottoms_the_chamber_is_too_much_slack(kind: str, cure: str, slack: str) -> None:
    rows = checked(f'[adjuster]\nkind = "{kind}"\n[condition]\n{slack}\n')
    failed = [row for check in ("within-reach", *RESERVES) for row in rows[check] if row.result == "fail"]
    assert "within-reach" in {row.check for row in failed}
    assert all(cure in row.advice for row in failed), failed
    assert not any("slack is not too much" in row.advice for several in rows.values() for row in several)


# within reach, by whose chamber


@pytest.mark.parametrize("marks", ["", 'clamp_diameter = "6 25/32 in"\nlong_stroke_marks = true\n'])
def test_a_stroke_beyond_the_bases_chamber_is_beyond_no_chamber_that_nobody_named(marks: str) -> None:
    """A long-stroke 20 of 3 in rated stroke has a limit of 2 1/2 in: 2 3/8 in is legal there."""
    read = f'[test]\nreservoir_pressure = "95 psi"\n[measured]\nstroke = "2 3/8 in"\n{marks}'
    (row,) = bare(read, "steer-15x4")["within-reach"]
    assert (row.result, bool(row.missing)) == ("not-evaluated", True)
    named = '[chamber]\nstyle = "clamp"\nsize = "20"\n'
    assert result(bare(named + read.replace("true", "false"), "steer-15x4"), "within-reach") == "fail"


def test_a_size_that_comes_with_a_longer_stroke_puts_no_slack_beyond_the_shorter_one() -> None:
    long = '[chamber]\nstyle = "clamp-long-stroke"\nsize = "24"\n{}[condition]\nfree_stroke = "2 5/8 in"\n'
    unsaid, said = (checked(long.format(rated))["within-reach"][0] for rated in ("", 'rated_stroke = "2 1/2 in"\n'))
    assert (unsaid.result, unsaid.missing, said.result) == ("not-evaluated", "chamber.rated_stroke", "fail")


def test_a_clearance_beyond_the_bases_arm_and_cam_is_beyond_nothing() -> None:
    clearance = '[condition]\nlining_clearance = "0.15 in"\n'
    (no_arm,) = bare(NAMED + clearance)["within-reach"]
    assert (no_arm.result, no_arm.missing) == ("not-evaluated", "measured.arm_length")
    (no_cam,) = bare(NAMED + ARM + clearance)["within-reach"]
    assert (no_cam.result, no_cam.missing) == ("not-evaluated", "cam.profile")
    (slack,) = bare(NAMED + '[condition]\nfree_stroke = "2 5/8 in"\n')["within-reach"]
    assert slack.result == "fail"


# the base's arm


@pytest.mark.parametrize(
    "slack", ['free_stroke = "5/8 in"', 'free_stroke = "1 1/2 in"', 'lining_clearance = "0.02 in"']
)
def test_no_reserve_is_judged_on_the_bases_arm(slack: str) -> None:
    """Arms of 6 to 7 in bring the same slack from 1.70 to 2.02 in of stroke, which is over the limit."""
    rows = bare(f"{NAMED}[condition]\n{slack}\n")
    assert {(row.result, row.missing) for check in RESERVES for row in rows[check]} == {
        ("not-evaluated", "measured.arm_length")
    }
    assert "the arm is the base's" in rows["stroke-reserve-cold"][0].advice


def test_a_stroke_that_was_read_needs_no_arm_cold() -> None:
    body = NAMED + '[condition]\nfree_stroke = "5/8 in"\n[measured]\nstroke = "1 1/2 in"\n'
    rows = bare(body)
    assert (result(rows, "stroke-reserve-cold"), result(rows, "stroke-reserve-hot")) == ("pass", "not-evaluated")
    warm = bare(body.replace("[measured]", 'drum_temperature = "400 degF"\nslack_temperature = "70 degF"\n[measured]'))
    assert result(warm, "stroke-reserve-cold") == "not-evaluated"


def test_slack_that_is_over_the_limit_by_itself_needs_no_arm() -> None:
    rows = bare(NAMED + '[condition]\nfree_stroke = "2 1/4 in"\n')
    assert [result(rows, check) for check in RESERVES] == ["fail", "fail"]


def test_a_clearance_needs_the_cam_as_well() -> None:
    rows = bare(NAMED + ARM + '[condition]\nlining_clearance = "0.02 in"\n')
    assert {row.missing for check in RESERVES for row in rows[check]} == {"cam.profile"}


def test_a_cam_turn_worked_out_with_the_bases_arm_is_not_judged() -> None:
    body = '[condition]\nlining_thickness = "0.6 in"\ndrum_diameter = "16.53 in"\nfree_stroke = "0.5 in"\n'
    known = checked(body)["cam-profile-used"][0]
    assert known.result == "pass"
    cam = '[cam]\nprofile = "involute"\nbase_radius = "0.5 in"\nheel_radius = "0.60 in"\ntip_radius = "1.85 in"\n'
    cam += '[foundation]\ncam_distance = "6.30 in"\nanchor_distance = "6.00 in"\nanchor_spacing = "2.50 in"\n'
    cam += 'roller_diameter = "1.60 in"\nroller_spread = "2.80 in"\nroller_distance = "6.30 in"\n'
    (row,) = bare(NAMED + cam + body)["cam-profile-used"]
    assert (row.result, row.missing) == ("not-evaluated", "measured.arm_length")


# the base's chamber


def test_no_solved_angle_fails_on_a_chamber_that_nobody_named() -> None:
    body = '[linkage]\narm_length = "5.5 in"\npin_reach = "7.9 in"\nface_distance = "7.5 in"\naxis_offset = "5.35 in"\n'
    body += '[test]\nreservoir_pressure = "95 psi"\n[condition]\nfree_stroke = "5/8 in"\n'
    named = '[chamber]\nstyle = "clamp"\nsize = "30"\n'
    assert result(bare(named + body), "arm-angle-applied") == "fail"
    (row,) = bare(body)["arm-angle-applied"]
    assert (row.result, row.missing) == ("not-evaluated", "chamber.style")
    assert result(bare(body + '[measured]\nstroke = "1 1/2 in"\n'), "arm-angle-applied") == "fail"


def test_no_swing_fails_with_a_chamber_that_nobody_named() -> None:
    body = '[linkage]\narm_length = "5.5 in"\npin_reach = "1.6 in"\nface_distance = "1.6 in"\naxis_offset = "5.35 in"\n'
    named = '[chamber]\nstyle = "clamp"\nsize = "30"\n'
    assert (result(bare(named + body), "interference"), result(bare(body), "interference")) == (
        "fail",
        "not-evaluated",
    )
