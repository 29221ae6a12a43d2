"""An automatic adjuster that was out and is in again is no pass until somebody says what was found."""

import pytest

from mechviz.job import fields as f
from mechviz.job.file import job_text, read_job_text
from mechviz.job.headline import headline
from mechviz.job.look import look
from mechviz.job.model import Job
from mechviz.job.sheet import sheet_of
from tests.job.jobs import AXLE, GOOD, OVER, put

WORD = "Stroke brought in, cause not found"
AFTER = {"condition.drum_temperature": "cold", "measured.stroke": "1 1/2", "condition.free_stroke": "5/8"}


def turned_in(kind: str = "automatic", before: dict[str, str] = OVER, cause: str = "") -> Job:
    typed = put(Job(), "axle", AXLE | {"adjuster.kind": kind})
    typed = put(typed, "axle", {"test.reservoir_pressure": "95"}, "after")
    typed = put(put(typed, "left", before), "left", AFTER, "after")
    return typed.typed("left", "after", f.CAUSE, cause)


@pytest.mark.parametrize(
    "before",
    [
        OVER,
        GOOD | {"condition.free_stroke": "7/8"},
        OVER | {"measured.stroke": "2 1/4", "condition.free_stroke": "7/8"},
    ],
)
@pytest.mark.parametrize("kind", ["automatic", ""])
def test_an_automatic_adjuster_turned_in_by_hand_is_no_pass(before: dict[str, str], kind: str) -> None:
    found = headline(look(turned_in(kind, before), "left", "after"))
    assert (found.word, found.result) == (WORD, "fail")
    assert found.next_step.startswith("Find the cause, do not send it out")
    assert "control arm" in found.next_step
    assert found.next_key == f.CAUSE


@pytest.mark.parametrize("cause", ["", "no", "?", " - "])
def test_what_says_no_cause_is_none(cause: str) -> None:
    assert headline(look(turned_in(cause=cause), "left", "after")).word == WORD


@pytest.mark.parametrize(
    "typed",
    [
        turned_in(cause="adjuster replaced"),
        turned_in("manual"),
        turned_in(before=GOOD),
    ],
)
def test_a_cause_that_was_said_a_manual_adjuster_and_one_that_was_not_out_pass(typed: Job) -> None:
    assert headline(look(typed, "left", "after")).result == "pass"


def test_before_and_still_out_keep_their_words() -> None:
    still = put(turned_in(), "left", {"measured.stroke": "2 1/8"}, "after")
    assert headline(look(still, "left", "after")).word == "Out of adjustment"
    assert headline(look(still, "left", "before")).word == "Out of adjustment"


def test_the_sheet_says_so_and_carries_the_cause_that_was_found() -> None:
    wheel = sheet_of(turned_in(), why=False).wheels[0]
    assert (wheel.word, wheel.result) == (WORD, "fail")
    cause = "control arm bracket was loose, new bracket and adjuster fitted, both sides"
    wheel = sheet_of(turned_in(cause=cause), why=False).wheels[0]
    assert wheel.word == "In adjustment"
    assert f"Cause found and mended: {cause}." in wheel.before


def test_the_sheet_has_the_causes_of_the_readings_before() -> None:
    assert "Adjuster stuck" in str(sheet_of(turned_in()).results[0].rows)


def test_a_cause_is_kept_in_the_file_and_is_no_reading() -> None:
    typed = turned_in(cause="adjuster replaced")
    assert read_job_text(job_text(typed)) == typed
    assert f.CAUSE not in typed.wheel("left", "after")
    alone = Job().typed("left", "after", f.CAUSE, "adjuster replaced")
    assert not alone.begun("left", "after")
