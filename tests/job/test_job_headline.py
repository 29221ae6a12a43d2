"""A wheel's verdict in words, its figures, and what is to be done next."""

import re

import pytest

from mechviz.job.axle import axle_findings
from mechviz.job.causes import causes
from mechviz.job.fit import fit_of
from mechviz.job.headline import headline
from mechviz.job.look import in_labels, look
from mechviz.job.model import Job
from tests.job.jobs import AXLE, GOOD, OVER, adjusted, job, put

NO_SLACK = {key: text for key, text in GOOD.items() if key != "condition.free_stroke"}

WIDE = {"measured.arm_angle_released": "130", "measured.stroke": "1 1/2"}
ANNUAL = {"test.procedure": "annual", "test.reservoir_pressure": "85"}
BOTH_ANGLES = {"measured.arm_angle_released": "130", "measured.arm_angle_applied": "89"}
OWN_LENGTHS = {"measured.pin_reach": "6", "linkage.face_distance": "7 1/2", "linkage.axis_offset": "5 3/8"}


def verdict(left: dict[str, str], axle: dict[str, str] = AXLE) -> tuple[str, str]:
    found = headline(look(put(put(Job(), "axle", axle), "left", left), "left"))
    return found.word, found.result


@pytest.mark.parametrize(
    ("left", "axle", "word", "result"),
    [
        (GOOD, AXLE, "In adjustment", "pass"),
        (OVER, AXLE, "Out of adjustment", "fail"),
        (GOOD | {"measured.stroke": "2"}, AXLE, "No stroke in reserve", "fail"),
        (NO_SLACK | {"measured.stroke": "2"}, AXLE, "At the limit: measure again", "close"),
        (GOOD | {"condition.free_stroke": "3/4"}, AXLE, "Out of adjustment", "fail"),
        (GOOD | {"condition.free_stroke": "1/2"}, AXLE, "Slack at the edge: measure again", "close"),
        (GOOD | {"condition.lining_thickness": "3/16"}, AXLE, "Worn beyond its limit", "fail"),
        (GOOD | {"measured.arm_angle_applied": "75"}, AXLE, "Arm angle out of limits", "fail"),
        (GOOD | WIDE, AXLE, "Arm angle out of limits", "fail"),
        (GOOD | {"measured.arm_angle_released": "95"}, AXLE, "Arm angle at the edge: measure it", "close"),
        (GOOD | {"measured.arm_angle_released": "107"}, AXLE, "In adjustment", "pass"),
        (NO_SLACK | WIDE, AXLE, "Arm angle out of limits", "fail"),
        (GOOD | BOTH_ANGLES, AXLE, "Angle does not fit this brake", "close"),
        (GOOD | OWN_LENGTHS | {"measured.arm_angle_released": "130"}, AXLE, "Angle does not fit this brake", "close"),
        (NO_SLACK | {"measured.stroke": "1 3/4"}, AXLE, "In adjustment", "pass"),
        (NO_SLACK | {"measured.stroke": "1 13/16"}, AXLE, "In adjustment, with little to spare", "close"),
        (OVER | {"measured.stroke": "2 1/2"}, AXLE, "Bottomed: no braking force left", "fail"),
        (NO_SLACK | {"measured.stroke": "2 1/2"}, AXLE, "Bottomed: no braking force left", "fail"),
        (NO_SLACK, AXLE | {"test.reservoir_pressure": "85"}, "Measure again", "close"),
        (NO_SLACK, AXLE | ANNUAL, "In adjustment", "pass"),
        (GOOD, AXLE | {"test.reservoir_pressure": "60"}, "Measure again", "close"),
        (GOOD | {"measured.stroke": "two"}, AXLE, "A reading cannot be used", "not-evaluated"),
        ({"measured.stroke": "1 3/4"}, AXLE, "Not judged yet", "not-evaluated"),
        ({}, AXLE, "Nothing read yet", "not-evaluated"),
    ],
)
def test_the_word_is_that_of_what_matters_most(
    left: dict[str, str], axle: dict[str, str], word: str, result: str
) -> None:
    assert verdict(left, axle) == (word, result)


def test_margin_and_angle_are_in_the_units_of_the_job() -> None:
    found = headline(look(put(job(OVER), "left", {"measured.arm_angle_applied": "88"}), "left"))
    assert found.margin == "2 1/8 in, over 2 in by 1/8 in"
    assert found.angle == "88°, 2° past square"
    assert "cold 0.1" in found.reserve
    assert "short" in found.reserve
    metric = headline(look(put(Job(system="metric"), "left", OVER | {"measured.stroke": "54"}), "left"))
    assert "in" not in metric.margin.split()


def test_what_failed_says_what_to_do_and_never_to_turn_an_automatic_adjuster() -> None:
    found = headline(look(job(OVER), "left"))
    assert found.reasons[0].check == "stroke-limit"
    assert "do not turn it in by hand to hide it" in found.next_step
    assert found.next_key == ""


@pytest.mark.parametrize(
    ("given", "key"),
    [
        ({}, "test.reservoir_pressure"),
        ({"test.reservoir_pressure": "95"}, "measured.clamp_diameter"),
        ({"test.reservoir_pressure": "95", "measured.clamp_diameter": "8 1/8"}, "measured.long_stroke_marks"),
        (
            {
                "test.reservoir_pressure": "95",
                "measured.clamp_diameter": "8 1/8",
                "measured.long_stroke_marks": "false",
            },
            "measured.stroke",
        ),
        ({"test.reservoir_pressure": "95", "chamber.style": "clamp", "chamber.size": "30"}, "measured.stroke"),
    ],
)
def test_the_next_reading_is_the_one_that_the_verdict_waits_for(given: dict[str, str], key: str) -> None:
    typed = put(Job(), "left", {"measured.arm_length": "5 1/2"})
    for name, text in given.items():
        typed = put(typed, "axle" if name in AXLE else "left", {name: text})
    found = headline(look(typed, "left"))
    assert found.next_key == key
    assert found.next_step.startswith("Read next: ")


def test_a_wheel_on_which_nothing_was_read_says_what_to_read_first() -> None:
    assert headline(look(Job(), "left")).next_key == "test.reservoir_pressure"
    assert headline(look(put(Job(), "axle", AXLE), "right")).next_key == "measured.clamp_diameter"


def test_no_word_of_the_setup_file_reaches_the_mechanic() -> None:
    for typed in (job(), job(OVER), put(job(), "left", {"measured.arm_angle_applied": "75"}), Job()):
        found = headline(look(typed, "left"))
        assert "measured." not in found.next_step
        assert "condition." not in found.next_step


def test_a_rod_at_its_end_is_not_to_be_driven() -> None:
    found = headline(look(job(OVER | {"measured.stroke": "2 1/2"}), "left"))
    assert found.next_step.startswith("Do not drive")


@pytest.mark.parametrize("stroke", ["1 5/8", "2 1/8", "1 1/4"])
@pytest.mark.parametrize("heat", ["hot", "cold"])
def test_no_advice_names_a_key_of_the_file(stroke: str, heat: str) -> None:
    typed = job(GOOD | {"measured.stroke": stroke, "condition.drum_temperature": heat})
    one = look(typed, "left")
    told = " ".join(in_labels(row.advice) for row in one.rows)
    assert re.findall(r"[a-z]+\.[a-z]+_[a-z_]+", told) == []


def test_keys_that_no_field_asks_for_are_said_in_words() -> None:
    assert in_labels("write foundation.windup_stiffness.") == "write this brake's own wind-up stiffness."
    assert in_labels("write condition.slack_temperature.") == "write the drum heat at the slack reading."
    assert in_labels("write cam.tip_radius") == "write the tip radius"


def test_before_and_after_stand_apart() -> None:
    typed = adjusted()
    assert headline(look(typed, "left", "before")).word == "Out of adjustment"
    assert headline(look(typed, "left", "after")).result in ("pass", "close")


def test_both_wheels_are_held_against_each_other() -> None:
    right = GOOD | {"measured.clamp_diameter": "7 1/4", "measured.long_stroke_marks": "true"}
    right |= {"measured.arm_length": "6", "measured.stroke": "1 1/4"}
    found = {one.title: one for one in axle_findings(job(right=right))}
    assert found["Chambers"].result == "fail"
    assert found["Chambers"].source == "49 CFR 393.47(b); British Columbia air brake handbook"
    assert "type 30 clamp" in found["Chambers"].words
    assert "type 24 clamp long stroke" in found["Chambers"].words
    assert (found["Arm lengths"].result, found["Arm lengths"].source) == ("fail", "49 CFR 393.47(c)")
    assert found["Applied strokes"].words.startswith("The left rod moves 3/8 in (9.5 mm) further")


def test_arms_one_step_apart_are_too_near_to_tell_and_two_are_not() -> None:
    for text, result in (("5 1/2", "pass"), ("5 9/16", "close"), ("5 5/8", "fail")):
        found = {one.title: one.result for one in axle_findings(job(right=GOOD | {"measured.arm_length": text}))}
        assert found["Arm lengths"] == result


def test_wheels_alike_pass_and_one_wheel_alone_is_compared_with_none() -> None:
    found = {one.title: one for one in axle_findings(job())}
    assert found["Chambers"].result == "pass"
    assert found["Braking, worked out"].words == "Both wheels brake nearly alike."
    assert axle_findings(job(right={})) == ()


def test_a_wheel_that_was_not_adjusted_is_compared_as_it_was_before() -> None:
    found = {one.title: one.words for one in axle_findings(adjusted(), "after")}
    assert found["Applied strokes"].startswith("The right rod moves 1/8 in (3.2 mm) further")
    assert {one.title: one.words for one in axle_findings(adjusted())}["Applied strokes"].startswith("The left rod")


def test_the_wheel_with_less_slack_brakes_no_less() -> None:
    typed = job(right=GOOD | {"condition.free_stroke": "1 1/2", "measured.stroke": "2 3/8"})
    words = {one.title: one.words for one in axle_findings(typed)}["Braking, worked out"]
    assert "the left wheel brakes" in words


def test_likely_causes_come_in_order_with_the_next_reading() -> None:
    found = causes(look(job(OVER), "left"))
    assert found is not None
    assert found.likely[0].title.startswith("Adjuster stuck")
    assert "%" in found.likely[0].weight
    assert all(one.look_for for one in found.likely if "othing wrong" not in one.title)
    assert "mechviz" not in " ".join((*found.above, found.next_words))
    assert causes(look(Job(), "left")) is None


def test_the_fit_says_what_has_to_be_measured_first_and_then_what_to_cut() -> None:
    early = fit_of(look(job(), "left"))
    assert early is not None
    assert not early.good
    assert early.heading == "Example only: do not cut by this"
    assert [key for key, _ in early.missing] == ["linkage.face_distance", "linkage.axis_offset"]
    own = {"linkage.face_distance": "7 1/2", "linkage.axis_offset": "5.35", "clevis.pin_to_inside": "1 1/4"}
    ready = fit_of(look(put(job(), "left", own | {"clevis.rod_reach": "8"}), "left"))
    assert ready is not None
    assert ready.missing == ()
    assert ready.rows[0][1] == "from the chamber's face to the clevis-pin centre"
    assert any("cut off" in words for _, words in ready.rows)
    assert "Cut" in ready.heading or "cut" in ready.heading
    assert any("Never open or strike its housing" in one for one in ready.cautions)


def test_an_arm_that_nobody_measured_is_to_be_measured_first() -> None:
    found = fit_of(look(put(Job(), "left", {"measured.stroke": "1 3/4"}), "left"))
    assert found is not None
    assert "measured.arm_length" in [key for key, _ in found.missing]
    assert not found.good
