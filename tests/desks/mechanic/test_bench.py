"""A job on the bench, without a server: kept with every change, taken back, opened, never written over by another."""

from pathlib import Path

import pytest

from apps.web.draft import Draft
from apps.web.mechanic.bench import Bench, begun_on, begun_with
from apps.web.mechanic.store import JobStore
from geometry.errors import MechvizError
from geometry.setup import builtin_names, builtin_text
from mechviz.job.file import job_text, read_job_text
from mechviz.job.headline import headline
from mechviz.job.look import look
from mechviz.job.model import Job
from tests.job.jobs import adjusted, job

STROKE = ("left", "before", "measured.stroke")


@pytest.fixture
def store(tmp_path: Path) -> JobStore:
    return JobStore(tmp_path)


def bench(store: JobStore, name: str = "0123456789ab", **given: Job) -> Bench:
    return Bench(store, name, clock=lambda: "2026-11-26 03:28", **given)


def stroke(one: Bench) -> str:
    return one.current.text(*STROKE)


def test_nothing_is_kept_before_something_was_typed(store: JobStore, tmp_path: Path) -> None:
    one = bench(store)
    assert list(tmp_path.rglob("*")) == []
    one.type(*STROKE, "1 3/4")
    assert [path.name for path in tmp_path.rglob("*.toml")] == ["0123456789ab.toml"]


def test_every_change_outlives_the_bench(store: JobStore) -> None:
    one = bench(store)
    one.type(*STROKE, "1 3")
    one.type(*STROKE, "1 3/4")
    one.tell("vehicle", "Tipper")
    one.use_units("metric")
    one.use_base("steer-15x4")
    again = bench(store)
    assert again.current == one.current
    assert stroke(again) == "1 3/4 in"
    assert again.current.taken["left", "before"] == "2026-11-26 03:28"
    assert (again.current.vehicle, again.current.base, again.current.system) == ("Tipper", "steer-15x4", "metric")


def test_the_letters_of_one_reading_are_one_step_back(store: JobStore) -> None:
    one = bench(store)
    for text in ("1", "1 ", "1 3", "1 3/4"):
        one.type(*STROKE, text)
    one.type("right", "before", "measured.stroke", "2")
    one.undo()
    assert stroke(one) == "1 3/4"
    one.undo()
    assert stroke(one) == ""
    assert not one.can_undo
    one.redo()
    assert stroke(one) == "1 3/4"
    assert read_job_text(store.text("0123456789ab") or "") == one.current


def test_two_windows_on_one_job_lose_nothing(store: JobStore) -> None:
    first, second = bench(store), bench(store)
    first.type(*STROKE, "1 3/4")
    second.type("right", "before", "measured.stroke", "1 1/2")
    first.type("left", "before", "measured.pin_reach", "6")
    for one in (first.current, bench(store).current):
        assert one.text(*STROKE) == "1 3/4"
        assert one.text("right", "before", "measured.stroke") == "1 1/2"
        assert one.text("left", "before", "measured.pin_reach") == "6"


def test_an_idle_window_takes_over_what_the_other_one_wrote(store: JobStore) -> None:
    first, second = bench(store), bench(store)
    first.type(*STROKE, "1 3/4")
    second.catch_up()
    assert stroke(second) == "1 3/4"
    second.undo()
    assert stroke(second) == ""


def test_a_job_opens_and_a_setup_opens_as_the_left_wheel(store: JobStore) -> None:
    one = bench(store)
    assert one.open(job_text(adjusted()).encode(), "job.toml")
    assert one.current == adjusted()
    assert one.open(builtin_text("worn-drive-16.5x7"), "worn.toml")
    assert headline(look(one.current, "left")).word == "Out of adjustment"
    one.undo()
    assert one.current == adjusted()


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b'kind = "job"\nschema = 1\nbase = "x"\n', "is no built-in setup"),
        (b"\xff\xfe", "UTF-16"),
        (b"<html>", "line 1"),
        (b"schema = 1\n" + b"#" * 200_000, "bytes"),
        (b'schema = 1\nbase = "drive-16.5x7"\n[measured]\nstroke = "2"\n', "has no unit"),
    ],
)
def test_what_cannot_be_opened_is_told_and_changes_nothing(store: JobStore, data: bytes, said: str) -> None:
    one = bench(store, job=job())
    assert not one.open(data, "wrong.toml")
    assert one.refused is not None
    assert said in " ".join(one.refused.lines)
    assert one.current == job()
    assert one.open(job_text(Job()), "right.toml")
    assert one.refused is None


def test_what_no_field_takes_is_refused_and_changes_nothing(store: JobStore) -> None:
    one = bench(store)
    with pytest.raises(MechvizError):
        one.type("left", "before", "foundation.friction", "1")
    with pytest.raises(MechvizError):
        one.use_base("../../etc")
    with pytest.raises(MechvizError):
        one.tell("note", "x" * 601)
    assert one.current == Job()


@pytest.mark.parametrize(
    "name", ["", "..", "../../etc/passwd", "0123456789ab/x", "0123456789aB", "0123456789abc", "a\0b"]
)
def test_no_name_leads_out_of_the_folder(store: JobStore, name: str) -> None:
    assert store.text(name) is None
    with pytest.raises(MechvizError):
        store.save(name, Job())


def test_names_are_not_guessed(store: JobStore) -> None:
    assert len({store.new_name() for _ in range(100)}) == 100


def test_a_job_that_somebody_has_spoilt_is_told_and_left_alone(store: JobStore, tmp_path: Path) -> None:
    spoilt = tmp_path / "jobs" / "0123456789ab.toml"
    spoilt.parent.mkdir()
    spoilt.write_text("kind = 'job'\nschema = 7\n")
    one = bench(store)
    assert one.refused is not None
    one.type(*STROKE, "2")
    assert one.name_kept != "0123456789ab"
    assert spoilt.read_text() == "kind = 'job'\nschema = 7\n"
    assert store.recent()[0].name == one.name_kept


def test_a_folder_that_cannot_be_written_to_is_told_and_the_job_goes_on(tmp_path: Path) -> None:
    (tmp_path / "jobs").write_text("in the way")
    one = bench(JobStore(tmp_path))
    one.type(*STROKE, "2")
    assert stroke(one) == "2"
    assert "cannot be" in one.unsaved
    (tmp_path / "jobs").unlink()
    one.type(*STROKE, "2 1/8")
    assert one.unsaved == ""


def test_jobs_are_listed_the_newest_first(store: JobStore, tmp_path: Path) -> None:
    import os

    for n, vehicle in enumerate(("first", "second", "third")):
        name = f"{n:012x}"
        store.save(name, Job(vehicle=vehicle))
        os.utime(tmp_path / "jobs" / f"{name}.toml", (1_700_000_000 + n,) * 2)
    (tmp_path / "jobs" / "notes.txt").write_text("not a job")
    (tmp_path / "jobs" / "abcdefabcdef.toml").write_text("spoilt")
    assert [one.title for one in store.recent()] == ["third", "second", "first"]
    assert [one.title for one in store.recent(2)] == ["third", "second"]


@pytest.mark.parametrize("name", builtin_names())
def test_a_built_in_brake_lends_no_readings_unless_it_is_an_example(name: str) -> None:
    begun = begun_on(name)
    assert bool(begun.entries) == ("[measured]" in builtin_text(name))
    assert begun_with(builtin_text(name)) == begun
    assert begun_with(f'schema = 1\nbase = "{name}"\n').base == (begun.base if begun.entries else name)


def test_a_setup_in_the_address_brings_its_readings() -> None:
    begun = begun_with('schema = 1\nbase = "steer-15x4"\n[measured]\nstroke = "1 1/2 in"\n')
    assert (begun.text(*STROKE), begun.base) == ("1 1/2 in", "steer-15x4")


def test_a_bench_offers_the_bar_what_a_draft_offers(store: JobStore) -> None:
    one = bench(store)
    for name in ("text", "can_undo", "can_redo", "refused", "open", "start_from", "undo", "redo", "value", "param"):
        assert hasattr(one, name)
        assert hasattr(Draft(), name)
    one.start_from("trailer-16.5x7")
    assert one.current.base == "trailer-16.5x7"


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "is empty"),
        (b" \n", "is empty"),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF", "is a photo"),
        (b"\x89PNG\r\n\x1a\n", "is a picture"),
        (b"%PDF-1.7\n", "is a PDF"),
        ("%PDF-1.7", "is a PDF"),
    ],
)
def test_what_was_dropped_by_mistake_is_told_in_one_line_and_nothing_is_lost(
    store: JobStore, data: bytes | str, said: str
) -> None:
    one = bench(store)
    one.type(*STROKE, "1 3/4")
    assert not one.open(data, "dropped")
    assert one.refused is not None
    (line,) = one.refused.lines
    assert said in line
    assert "open a job that was saved here" in line
    assert stroke(one) == "1 3/4"
