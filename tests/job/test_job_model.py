"""A job as it is typed: kept as typed, never changed in place, its units never shifting under the hand."""

import pytest

from geometry.errors import MechvizError
from mechviz.job.model import Job
from tests.job.jobs import GOOD, NOW, adjusted, job, put


def test_a_text_is_kept_as_it_was_typed() -> None:
    typed = Job().typed("left", "before", "measured.stroke", "  1 3/4  ", NOW)
    assert typed.text("left", "before", "measured.stroke") == "  1 3/4  "
    assert typed.taken["left", "before"] == NOW
    assert Job().text("left", "before", "measured.stroke") == ""


def test_an_empty_text_takes_the_entry_away() -> None:
    typed = put(Job(), "left", {"measured.stroke": "2"})
    assert typed.typed("left", "before", "measured.stroke", "").entries == {}


def test_what_holds_is_taken_over_after_an_adjustment_and_a_stroke_is_not() -> None:
    after = adjusted().wheel("left", "after")
    assert after["measured.arm_length"] == GOOD["measured.arm_length"]
    assert after["measured.stroke"] == "1 1/2"
    assert "measured.stroke" not in adjusted().wheel("right", "after")
    assert "test.reservoir_pressure" not in job().wheel("left", "after")


def test_a_part_that_was_changed_counts_after_the_adjustment_only() -> None:
    changed = put(adjusted(), "left", {"measured.arm_length": "6"}, "after")
    assert changed.wheel("left", "before")["measured.arm_length"] == "5 1/2"
    assert changed.wheel("left", "after")["measured.arm_length"] == "6"


def test_switching_the_units_changes_no_reading() -> None:
    switched = put(Job(), "left", {"measured.stroke": "1 3/4", "measured.arm_angle_applied": "91"}).in_units("metric")
    assert switched.text("left", "before", "measured.stroke") == "1 3/4 in"
    assert switched.text("left", "before", "measured.arm_angle_applied") == "91 deg"
    assert switched.system == "metric"


def test_a_text_that_cannot_be_read_survives_the_switch_as_it_is() -> None:
    switched = put(Job(), "left", {"measured.stroke": "abc", "chamber.size": "30"}).in_units("metric")
    assert switched.text("left", "before", "measured.stroke") == "abc"
    assert switched.text("left", "before", "chamber.size") == "30"


@pytest.mark.parametrize(
    ("place", "key", "text"),
    [
        ("left", "measured.nothing", "1"),
        ("axle", "measured.stroke", "1"),
        ("left", "foundation.axle", "steering"),
        ("left", "measured.stroke", "1" * 61),
    ],
)
def test_what_is_no_reading_there_is_refused(place: str, key: str, text: str) -> None:
    where = "axle" if place == "axle" else "left"
    with pytest.raises(MechvizError):
        Job().typed(where, "before", key, text)


def test_a_line_about_the_job_is_bounded_and_known() -> None:
    assert Job().about("note", "two\nlines").note == "two\nlines"
    with pytest.raises(MechvizError, match="at most 120"):
        Job().about("mechanic", "x" * 121)
    with pytest.raises(MechvizError, match="is nothing that a job says"):
        Job().about("colour", "x")


def test_a_job_is_called_after_vehicle_and_axle() -> None:
    assert job().title == "Quarry tipper, axle 2"
    assert Job(vehicle="  ").title == "Brake job"
