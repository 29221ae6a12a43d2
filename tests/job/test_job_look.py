"""One wheel judged as far as its readings go: a wrong one has words beside it, and the others still count."""

import pytest

from mechviz.checks import run_checks
from mechviz.job.look import look
from mechviz.job.model import Job
from tests.job.jobs import AXLE, GOOD, job, put


def stroke_result(typed: Job) -> str:
    return next(row.result for row in look(typed, "left").rows if row.check == "stroke-limit")


def test_numbers_are_those_of_the_checks() -> None:
    seen = look(job(), "left")
    assert seen.setup is not None
    assert list(seen.rows) == run_checks(seen.setup)
    assert stroke_result(job()) == "pass"


def test_a_wrong_field_has_its_words_and_the_others_count() -> None:
    wrong = put(job(), "left", {"measured.pin_reach": "six", "measured.arm_angle_released": "300"})
    seen = look(wrong, "left")
    assert set(seen.errors) == {"measured.pin_reach", "measured.arm_angle_released"}
    assert seen.errors["measured.pin_reach"].startswith("Cannot be read as one number and a unit: write it like")
    assert "more than any such brake has" in seen.errors["measured.arm_angle_released"]
    assert stroke_result(wrong) == "pass"
    assert look(wrong, "right").errors == {}


def test_a_clash_stands_beside_a_field_and_what_is_left_is_judged() -> None:
    wrong = put(job(), "left", {"measured.arm_angle_released": "80 deg", "measured.arm_angle_applied": "100 deg"})
    seen = look(wrong, "left")
    assert "the arm angle, released" in seen.errors["measured.arm_angle_applied"]
    assert "measured." not in " ".join(seen.errors.values())
    assert stroke_result(wrong) == "pass"


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("measured.stroke", "44.5", "more than any such brake has"),
        ("measured.stroke", "44 m", "more than any such brake has (4.724 in)"),
        ("measured.stroke", "1,750", "whichever is meant"),
        ("measured.stroke", "-1", "less than any such brake has"),
        ("measured.stroke", "1 3/4 kg", "is a mass"),
        ("measured.stroke", "nan", "number"),
        ("condition.lining_thickness", "2 in", "thicker than a new lining"),
        ("chamber.size", "77", "not in the published tables"),
        ("condition.drum_temperature", "warmish", "write cold, hot, or what a thermometer shows"),
    ],
)
def test_bad_input_is_told_beside_its_field(key: str, text: str, words: str) -> None:
    typed = put(job(), "left", {"chamber.style": "clamp", "chamber.size": "30", key: text})
    assert words in look(typed, "left").errors[key]


def test_a_bare_fraction_is_no_millimetre() -> None:
    typed = put(Job(system="metric"), "left", {"measured.stroke": "1 3/4"})
    assert 'write "1 3/4 in" if that is meant' in look(typed, "left").errors["measured.stroke"]


def test_inches_and_millimetres_say_the_same() -> None:
    inches = put(Job(), "left", {"measured.stroke": "1 3/4", "measured.arm_length": "5.5"})
    metric = put(Job(system="metric"), "left", {"measured.stroke": "44.45", "measured.arm_length": "139.7"})
    left, right = look(inches, "left").setup, look(metric, "left").setup
    assert left is not None
    assert right is not None
    assert (left.measured.stroke, left.measured.arm_length) == (right.measured.stroke, right.measured.arm_length)


def test_ring_and_marks_name_the_chamber() -> None:
    typed = put(put(Job(), "axle", AXLE), "left", {"measured.clamp_diameter": "7 1/4", "measured.stroke": "1 3/4"})
    seen = look(typed, "left").understood.seen
    assert seen is not None
    assert seen.words.startswith("Type 24, standard or long stroke: look for square air ports")
    marked = put(typed, "left", {"measured.long_stroke_marks": "true"})
    found = look(marked, "left")
    assert found.understood.seen is not None
    assert found.understood.seen.words == "By its ring and marks a type 24 clamp long stroke."
    assert found.setup is not None
    assert (found.setup.brake.chamber.style, found.setup.brake.chamber.size) == ("clamp-long-stroke", "24")


def test_a_ring_between_two_sizes_names_none() -> None:
    typed = put(Job(), "left", {"measured.clamp_diameter": "6 9/16", "measured.long_stroke_marks": "false"})
    seen = look(typed, "left").understood.seen
    assert seen is not None
    assert "half-way" in seen.words or "No chamber" in seen.words
    assert seen.named == ()


def test_a_chamber_that_is_named_stands_above_its_ring() -> None:
    typed = put(job(), "left", {"chamber.style": "clamp", "chamber.size": "24"})
    seen = look(typed, "left")
    assert seen.setup is not None
    assert seen.setup.brake.chamber.size == "24"
    assert next(row.result for row in seen.rows if row.check == "chamber-size") == "fail"


def test_cold_and_hot_are_understood_as_they_are_felt() -> None:
    for said, kelvin in (("cold", 294.26), ("Hot", 338.71), ("300 degF", 422.04)):
        seen = look(put(job(), "left", {"condition.drum_temperature": said}), "left").setup
        assert seen is not None
        assert seen.as_found.drum_temperature == pytest.approx(kelvin, abs=0.01)


def test_nothing_that_the_base_has_is_taken_for_a_reading() -> None:
    seen = look(put(Job(), "left", {"measured.stroke": "1 3/4"}), "left")
    assert {row.result for row in seen.rows} == {"not-evaluated"}


def test_any_title_makes_a_setup() -> None:
    for name in ("W" * 120, 'say "x"\\', "line\nline", "\x7f", "\ud800"):
        seen = look(put(Job(vehicle=name), "left", GOOD), "left")
        assert seen.setup is not None, name
