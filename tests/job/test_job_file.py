"""A job's file: everything that was typed comes back, and a wrong file says all that is wrong with it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import SetupError
from geometry.setup import builtin_names, builtin_text
from mechviz.job import fields as f
from mechviz.job.file import is_job, job_of_setup, job_text, read_job_text
from mechviz.job.headline import headline
from mechviz.job.look import look
from mechviz.job.model import Job
from tests.job.jobs import adjusted, put


def test_a_job_comes_back_as_it_was() -> None:
    assert read_job_text(job_text(adjusted())) == adjusted()


TEXTS = st.text(st.characters(blacklist_categories=["Cs"]), min_size=1, max_size=60)


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.sampled_from([one.key for one in f.asked("left")]), TEXTS), TEXTS, TEXTS)
def test_whatever_was_typed_comes_back(readings: dict[str, str], note: str, taken: str) -> None:
    typed = Job(note=note, base="steer-15x4", system="metric")
    for key, text in readings.items():
        typed = typed.typed("right", "after", key, text, taken[:40])
    assert read_job_text(job_text(typed)) == typed


def test_what_no_file_can_hold_is_replaced() -> None:
    typed = Job().typed("left", "before", "measured.stroke", "\ud800")
    assert read_job_text(job_text(typed)).text("left", "before", "measured.stroke") == "?"


def test_a_wrong_file_says_everything_at_once() -> None:
    text = """schema = 2
kind = "job"
base = "nothing"
units = "miles"
colour = "red"
[about]
note = 3
[axle.before]
"measured.stroke" = "2 in"
[left.before]
"measured.stroke" = 2
"measured.nothing" = "2 in"
taken = 5
[right.later]
[brake]
"nothing.here" = 1
"""
    with pytest.raises(SetupError) as caught:
        read_job_text(text)
    places = {fault.where for fault in caught.value.faults}
    assert places == {
        "schema",
        "base",
        "units",
        "colour",
        "about.note",
        "axle.before.measured.stroke",
        "left.before.measured.stroke",
        "left.before.measured.nothing",
        "left.before.taken",
        "right.later",
        "brake.nothing.here",
    }


def test_a_setup_is_no_job() -> None:
    assert not is_job(builtin_text("drive-16.5x7"))
    assert is_job(job_text(Job()))
    with pytest.raises(SetupError, match="is not that of a job"):
        read_job_text(builtin_text("drive-16.5x7"))


@pytest.mark.parametrize("name", builtin_names())
def test_a_setup_becomes_one_wheel_with_the_same_readings(name: str) -> None:
    opened = job_of_setup(builtin_text(name), "right")
    seen = look(opened, "right")
    assert seen.errors == {}
    assert seen.setup is not None
    assert not opened.begun("left", "before")
    assert read_job_text(job_text(opened)) == opened


def test_a_worn_setup_opened_as_a_job_has_the_verdict_of_its_check() -> None:
    seen = look(job_of_setup(builtin_text("worn-drive-16.5x7")), "left")
    assert headline(seen).word == "Out of adjustment"
    assert headline(seen).margin == "2 1/8 in, over 2 in by 1/8 in"


def test_keys_that_no_field_asks_for_are_kept_and_count() -> None:
    text = 'schema = 1\nbase = "drive-16.5x7"\n[foundation]\nfriction = 0.41\n[measured]\nresolution = "1/64 in"\n'
    opened = put(job_of_setup(text), "left", {"measured.stroke": "1 3/4"})
    seen = look(opened, "left").setup
    assert seen is not None
    assert seen.brake.lining.friction == 0.41
    assert seen.measured.resolution == pytest.approx(25.4 / 64)


def test_lists_of_a_setup_are_kept_too() -> None:
    text = (
        'schema = 1\nbase = "drive-16.5x7"\n[linkage]\narm_holes = ["5 in", "5.5 in"]\n'
        '[cam]\nprofile = "table"\ntable = [["0 deg", "0.60 in"], ["70 deg", "1.20 in"], ["140 deg", "1.85 in"]]\n'
    )
    opened = put(job_of_setup(text), "left", {"measured.stroke": "1 3/4"})
    seen = look(opened, "left")
    assert seen.understood.general == ()
    assert seen.setup is not None
    assert seen.setup.arm_holes == pytest.approx((127.0, 139.7))
    assert read_job_text(job_text(opened)) == opened


def test_a_key_of_the_file_that_no_longer_fits_gives_way_to_what_is_read() -> None:
    opened = job_of_setup(builtin_text("worn-drive-16.5x7"))
    manual = look(put(opened, "axle", {"adjuster.kind": "manual"}), "left")
    assert manual.setup is not None
    assert manual.setup.brake.adjuster.kind == "manual"
    assert manual.errors == {}
    assert manual.understood.general[0].startswith("adjuster.senses: is stated, and a manual adjuster senses nothing")
    assert headline(manual).word == "Out of adjustment"
