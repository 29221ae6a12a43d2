"""What a longer stroke than solved does to every other figure, and what is open when its pressure is unknown."""

import pytest

from geometry.linkage import arm_state
from geometry.setup import read_setup
from mechviz.checks import CheckRow
from tests.checks.test_checks import checked, result

SOLVED = ("stroke-reserve-cold", "stroke-reserve-hot", "arm-angle-applied", "cam-profile-used")
FITTED = """[linkage]
arm_length = "5 3/4 in"
pin_reach = "6 3/8 in"
face_distance = "7.5 in"
axis_offset = "5.35 in"
[condition]
free_stroke = "9/16 in"
[measured]
stroke = "1 15/16 in"
"""
CAM_TRAIN = """[cam]
base_radius = "0.5 in"
profile = "involute"
heel_radius = "0.60 in"
tip_radius = "1.85 in"
[foundation]
windup_stiffness = "180 N*m/deg"
cam_distance = "6.30 in"
anchor_distance = "6.00 in"
anchor_spacing = "2.50 in"
roller_diameter = "1.60 in"
roller_spread = "2.80 in"
roller_distance = "6.30 in"
"""
OWN = '[foundation]\nwindup_stiffness = "180 N*m/deg"\n'
WEAR = '[condition]\nfree_stroke = "0.5 in"\nlining_thickness = "{lining}"\ndrum_diameter = "16.53 in"\n'


def only(rows: dict[str, list[CheckRow]], check: str) -> CheckRow:
    (row,) = rows[check]
    return row


def test_the_arm_stands_where_the_stroke_that_was_read_puts_it() -> None:
    """79.3 degrees by the linkage alone, in closed form, at the stroke that the tape gave: past the band of 80."""
    angle = only(checked(FITTED), "arm-angle-applied")
    linkage = read_setup("drive-16.5x7").brake.linkage
    fitted = type(linkage)(5.75 * 25.4, linkage.axis_offset, linkage.face_distance, linkage.pivot_depth, 6.375 * 25.4)
    assert angle.value == pytest.approx(float(arm_state(fitted, 1.9375 * 25.4).arm_angle), abs=1e-3)
    assert (angle.result, "more than solved" in angle.advice, "too long" in angle.advice) == ("close", True, True)
    less = only(checked(FITTED.replace("1 15/16", "1 1/2")), "arm-angle-applied")
    assert less.value is not None
    assert angle.value is not None
    assert (less.result, less.value > angle.value) == ("close", True)
    more = only(checked(FITTED.replace("1 15/16", "2 7/16")), "arm-angle-applied")
    assert (more.result, "longer than slack and pressure explain" in more.advice) == ("not-evaluated", True)


def test_a_solved_angle_allows_for_the_wind_up_that_the_model_may_miss() -> None:
    """A quarter of an inch of stroke is more than two and a half degrees at an arm of 5 1/2 in."""
    slack = '[condition]\nfree_stroke = "0.6 in"\n'
    open_ = [only(checked(body + slack), "arm-angle-applied").resolution for body in ("", OWN)]
    assert open_[0] - open_[1] == pytest.approx(0.0465, abs=0.002)


def test_the_cam_turns_as_far_as_the_stroke_that_was_read() -> None:
    worn = WEAR.format(lining="1/4 in")
    solved, read = (only(checked(OWN + worn + stroke), "cam-profile-used") for stroke in ("", MEASURED.format("2 in")))
    assert solved.value is not None
    assert read.value is not None
    assert read.value > solved.value + 0.05
    assert (solved.result, read.result) == ("pass", "not-evaluated")
    few = '[test]\nreservoir_pressure = "20 psi"\n'
    little = only(checked(OWN + worn + few), "cam-profile-used")
    assert little.value == pytest.approx(only(checked(OWN + worn + FULL), "cam-profile-used").value)


MEASURED = '[measured]\nstroke = "{}"\n'
FULL = '[test]\nreservoir_pressure = "90 psi"\n'


def test_nothing_solved_passes_beside_a_stroke_of_unknown_pressure() -> None:
    known = '[chamber]\nstyle = "clamp"\nsize = "30"\n[linkage]\narm_length = "5.5 in"\npin_reach = "6.0 in"\n'
    known += 'face_distance = "7.5 in"\naxis_offset = "5.35 in"\n' + CAM_TRAIN
    known += WEAR.format(lining="0.6 in").replace("0.5", "0.35")
    with_air = checked(known + MEASURED.format("1 1/4 in") + '[test]\nreservoir_pressure = "95 psi"\n', bare=True)
    without = checked(known + MEASURED.format("1 1/4 in"), bare=True)
    unread = checked(known, bare=True)
    for check in SOLVED:
        assert (result(with_air, check), result(unread, check)) == ("pass", "pass")
        assert (result(without, check), only(without, check).missing) == ("not-evaluated", "test.reservoir_pressure")
    over = checked(known.replace("0.35", "2") + MEASURED.format("1 1/4 in").replace("1 1/4", "2"), bare=True)
    assert result(over, "stroke-reserve-cold") == "fail"


@pytest.mark.parametrize("step", [0.125, 0.03125])
def test_the_tape_counts_where_its_reading_was_taken_in(step: float) -> None:
    """With this brake's own wind-up written nothing else is open beside the readings that were solved from."""
    slack = f'{OWN}[condition]\nfree_stroke = "0.5 in"\n[measured]\nresolution = "{step} in"\n'
    read, unread = (only(checked(slack + one), "stroke-reserve-cold") for one in ('stroke = "1 5/8 in"', ""))
    assert read.resolution == pytest.approx(25.4 * step)
    assert unread.resolution > 25.4 * step
    assert read.value == pytest.approx(1.625 * 25.4, abs=0.01)


def test_a_stroke_that_was_read_pins_the_wind_up_either_way() -> None:
    body = '[condition]\nfree_stroke = "0.6 in"\n[measured]\nstroke = "{} in"\n'
    shorter, longer = (only(checked(body.format(stroke)), "stroke-reserve-cold") for stroke in ("1 3/8", "1 5/8"))
    assert (shorter.result, longer.result) == ("pass", "pass")
    assert shorter.value == pytest.approx(1.375 * 25.4, abs=0.01)
    assert longer.value == pytest.approx(1.625 * 25.4, abs=0.01)
    assert "less than solved, which is taken off" in shorter.advice
    assert max(shorter.resolution, longer.resolution) < 6.35


@pytest.mark.parametrize(("stroke", "word"), [("3/4", "shorter"), ("2 1/4", "longer")])
def test_nothing_solved_passes_beside_a_stroke_that_nothing_explains(stroke: str, word: str) -> None:
    body = f'{OWN}[condition]\nfree_stroke = "0.6 in"\n[measured]\nstroke = "{stroke} in"\n'
    rows = checked(body)
    assert result(rows, "stroke-as-solved") == "fail"
    for check in ("stroke-reserve-cold", "stroke-reserve-hot", "arm-angle-applied"):
        row = only(rows, check)
        assert row.result in ("not-evaluated", "fail")
        assert row.result == "fail" or f"{word} than slack and pressure explain" in row.advice


@pytest.mark.parametrize(("reading", "check"), [("released", "arm-angle-contact"), ("applied", "right-angle-stroke")])
def test_no_angle_passes_beside_one_that_was_read_elsewhere(reading: str, check: str) -> None:
    body = '[condition]\nfree_stroke = "0.6 in"\n[measured]\narm_angle_{} = "{} deg"\n'
    angles = {"released": (106, 92), "applied": (89, 99)}[reading]
    right, wrong = (checked(body.format(reading, angle)) for angle in angles)
    assert (result(right, check), result(wrong, check)) == ("pass", "not-evaluated")
    assert "see the row arm angle" in only(wrong, check).advice


def test_a_healthy_brake_of_the_published_budget_is_accused_of_nothing() -> None:
    """Free 0.66 and 1.81 in in all (trade press): legal; only at 600 degF too little of its push would be left."""
    body = '[condition]\nfree_stroke = "0.66 in"\n[measured]\nstroke = "1.81 in"\n'
    body += '[test]\nreservoir_pressure = "100 psi"\n'
    rows = [row for several in checked(body).values() for row in several]
    assert {row.check for row in rows if row.result == "fail"} == {"stroke-reserve-hot"}
    assert not any("something gives" in row.advice for row in rows)


def test_what_gives_at_little_air_may_give_more_at_full() -> None:
    body = (
        OWN + '[condition]\nfree_stroke = "0.5 in"\n[test]\nreservoir_pressure = "{} psi"\n[measured]\nstroke = "2 in"'
    )
    low, full = (only(checked(body.format(psi)), "stroke-reserve-cold").resolution for psi in (60, 90))
    assert low > full + 6.0


# the end of what can be


def test_a_figure_without_bound_names_the_reading_and_the_end() -> None:
    """Near the cam's tip a thinner lining leaves no state; the row names it."""
    tip = checked('[condition]\nlining_thickness = "0.34 in"\ndrum_diameter = "16.78 in"\nfree_stroke = "0.5 in"')
    advice = only(tip, "cam-profile-used").advice
    assert "condition.lining_thickness one step" in advice
    assert "past its tip" in advice


def test_a_bounded_figure_blames_no_reading() -> None:
    for check in ("stroke-reserve-cold", "arm-angle-applied"):
        assert "one step of its reading" not in only(checked('[condition]\nfree_stroke = "0.7 in"'), check).advice


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ('[condition]\nfree_stroke = "1 in"', "should have taken this up"),
        ('[condition]\nfree_stroke = "0.6 in"\n[measured]\nstroke = "2 1/4 in"', "not the slack"),
        ('[condition]\nfree_stroke = "0.65 in"', "measure the stroke itself."),
        ('[condition]\nfree_stroke = "0.73 in"\n[measured]\nstroke = "2 1/2 in"', "edge of too much: measure it again"),
    ],
)
def test_slack_is_blamed_only_where_there_is_too_much_of_it(body: str, said: str) -> None:
    row = only(checked(body), "stroke-reserve-hot")
    assert row.result in ("fail", "close")
    assert said in row.advice, row.advice
    others = {"should have taken this up", "not the slack", "The slack is not too much", "edge of too much"}
    others = {other for other in others if other not in said}
    assert not any(other in row.advice for other in others)


@pytest.mark.parametrize(("condition", "said"), [
    ('drum_temperature = "500 degF"\n', True),
    ('drum_temperature = "500 degF"\nslack_temperature = "70 degF"\n', False),
    ('drum_temperature = "75 degF"\n', False),
])  # fmt: skip
def test_slack_found_on_a_hot_drum_asks_when_it_was_read(condition: str, said: bool) -> None:
    (row,) = checked(f'[condition]\nfree_stroke = "0.6 in"\n{condition}')["free-stroke"]
    assert ("write condition.slack_temperature" in row.advice) == said
