"""Verdicts that must not rest on the base's parts, on another pressure, or on one side of a reading."""

import pytest

from tests.checks.test_checks import checked, result

FULL = '[condition]\nlining_thickness = "0.62 in"\ndrum_diameter = "16.53 in"\nfree_stroke = "0.62 in"\n'
AIR = '[test]\nreservoir_pressure = "95 psi"\n'
READ = '[measured]\nstroke = "{} in"\n'


@pytest.mark.parametrize(
    "chamber",
    [
        'marked_limit = "2 1/4 in"',
        'size = "30"\nmarked_limit = "2 1/4 in"',
        'marked_limit = "2 1/4 in"\nrated_stroke = "3 in"',
    ],
)  # fmt: skip
def test_a_mark_names_no_chamber(chamber: str) -> None:
    rows = checked(f"[chamber]\n{chamber}\n{FULL}{AIR}" + READ.format("2 1/8"), bare=True)
    assert result(rows, "stroke-limit") == "not-evaluated"


def test_the_australian_share_fails_no_chamber_that_nobody_named() -> None:
    rows = checked(FULL + AIR + READ.format("2 1/4"), bare=True, rules=("us", "australia"))
    assert {row.result for row in rows["stroke-limit"]} == {"not-evaluated"}


LONG_24 = '[chamber]\nstyle = "clamp-long-stroke"\nsize = "24"\n{}'
SEEN_24 = 'clamp_diameter = "7 7/32 in"\nlong_stroke_marks = true\n'


def test_a_size_with_two_strokes_fails_nothing_by_the_shorter_one_unwritten() -> None:
    body = FULL.replace("0.62 in", "0.60 in") + READ.format("2 1/4") + SEEN_24
    unsaid, said = (checked(LONG_24.format(rated) + body) for rated in ("", 'rated_stroke = "2 1/2 in"\n'))
    for check in ("stroke-limit", "stroke-reserve-cold", "stroke-reserve-hot"):
        assert (result(unsaid, check), result(said, check)) == ("not-evaluated", "fail")
    (row,) = unsaid["stroke-reserve-cold"]
    assert row.missing == "chamber.rated_stroke"


def test_a_rated_stroke_of_another_class_lets_nothing_fail_by_the_written_one() -> None:
    rows = checked('[chamber]\nstyle = "clamp"\nsize = "30"\nrated_stroke = "3 in"\n' + FULL + READ.format("2 1/8"))
    assert result(rows, "stroke-limit") == "not-evaluated"


def test_no_stroke_is_expected_of_the_bases_chamber_and_arm() -> None:
    body = FULL + AIR + READ.format("2 1/8")
    assert result(checked(body, bare=True), "stroke-as-solved") == "not-evaluated"
    named = '[chamber]\nstyle = "clamp"\nsize = "30"\n'
    (row,) = checked(named + body, bare=True)["stroke-as-solved"]
    assert (row.result, row.missing) == ("not-evaluated", "measured.arm_length")
    assert result(checked(named + body + 'arm_length = "5.5 in"\n', bare=True), "stroke-as-solved") == "fail"


def test_nothing_that_was_solved_passes_on_an_unproven_chamber() -> None:
    ring = '[measured]\nclamp_diameter = "9 in"\nlong_stroke_marks = false\n'
    for rows in (checked(FULL + ring),):
        for check in ("arm-angle-applied", "cam-profile-used", "interference", "stroke-reserve-cold"):
            assert result(rows, check) == "not-evaluated", check


def test_an_angle_is_expected_where_the_stroke_that_was_read_puts_it() -> None:
    read = FULL + READ.format("1 3/4") + 'arm_angle_applied = "86.2 deg"\nangle_resolution = "0.5 deg"\n'
    rows = checked(read)
    (row,) = rows["arm-angle-applied-as-solved"]
    assert (row.result, result(rows, "right-angle-stroke")) == ("pass", "pass")
    (off,) = checked(read.replace("86.2", "94"))["arm-angle-applied-as-solved"]
    assert off.result == "fail"


@pytest.mark.parametrize(("lining", "expected", "words"), [
    ("3/16 in", "fail", "turned too far"),
    ("0.31 in", "close", "Over the limit by less than"),
    ("0.34 in", "close", "Inside the limit by less than"),
])  # fmt: skip
def test_a_cam_turn_that_is_over_says_so_and_by_much_it_fails(lining: str, expected: str, words: str) -> None:
    """A lining one step thinner has no state at all: that absolves nothing that is over with one a step thicker."""
    worn = f'[condition]\nlining_thickness = "{lining}"\ndrum_diameter = "16.57 in"\nfree_stroke = "0.6 in"'
    (row,) = checked(worn)["cam-turn"]
    assert (row.result, words in row.advice) == (expected, True), row


def test_the_bases_cam_turns_no_brake_away() -> None:
    body = '[condition]\nlining_thickness = "0.252 in"\ndrum_diameter = "16.615 in"\nfree_stroke = "0.62 in"\n'
    rows = checked(body + READ.format("1 9/16"), cam=False)
    assert (result(rows, "stroke-reserve-hot"), rows["stroke-reserve-hot"][0].missing) == (
        "not-evaluated",
        "cam.profile",
    )
    other = '[condition]\ndrum_diameter = "18.05 in"\nlining_thickness = "0.6 in"\nfree_stroke = "0.62 in"\n'
    rows = checked(other, cam=False)
    assert {row.result for row in rows["drum-diameter"]} <= {"not-evaluated"}
    assert {row.result for row in rows["within-reach"]} == {"not-evaluated"}


def test_too_little_slack_on_a_hot_drum_is_no_matter_of_reserve() -> None:
    rows = checked('[condition]\ndrum_temperature = "300 degF"\nfree_stroke = "0.24 in"\n' + READ.format("1 3/16"))
    assert result(rows, "free-stroke") == "fail"
    for check in ("stroke-reserve-cold", "stroke-reserve-hot"):
        assert result(rows, check) != "fail"


@pytest.mark.parametrize("psi", [20, 70])
def test_a_stroke_read_at_too_little_air_pins_nothing(psi: int) -> None:
    body = f'{FULL}[test]\nreservoir_pressure = "{psi} psi"\n' + READ.format("15/16")
    for check in ("stroke-reserve-cold", "arm-angle-applied", "cam-profile-used"):
        assert result(checked(body), check) != "pass"


def test_more_air_than_a_test_has_fails_no_reserve_and_no_angle() -> None:
    body = '[foundation]\nwindup_stiffness = "140 N*m/deg"\n[condition]\nfree_stroke = "0.8 in"\n'
    body += '[test]\nreservoir_pressure = "125 psi"\n'
    row = checked(body)["stroke-reserve-cold"][0]
    assert "Solved for 100 psi" in row.advice
    assert result(checked(body + READ.format("2 1/8")), "stroke-limit") == "not-evaluated"
    angle = '[test]\nreservoir_pressure = "125 psi"\n[measured]\narm_angle_applied = "{} deg"\n'
    assert [result(checked(angle.format(deg)), "arm-angle-applied") for deg in (79, 104)] == ["not-evaluated", "fail"]


def test_no_cam_profile_passes_without_the_slack() -> None:
    body = '[condition]\nlining_thickness = "0.4 in"\ndrum_diameter = "16.53 in"\n'
    (row,) = checked(body)["cam-profile-used"]
    assert (row.result, row.missing) == ("not-evaluated", "condition.free_stroke")


def test_no_lining_passes_by_the_limit_of_the_bases_axle() -> None:
    lining = '[foundation]\nlining_attachment = "riveted"\n[condition]\nlining_thickness = "{} mm"\n'
    unsaid = checked(lining.format(6), "steer-15x4", rules=("quebec",), cam=False)["lining-thickness"]
    assert {(row.result, row.missing) for row in unsaid} == {("not-evaluated", "foundation.axle")}
    thick = checked(lining.format(12), "steer-15x4", rules=("quebec",), cam=False)["lining-thickness"]
    assert {row.result for row in thick} == {"pass"}
