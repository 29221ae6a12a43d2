"""What is worked out once: under the same name in every process, kept for the next time, never for another program."""

import asyncio
import gzip
import json
import subprocess
import sys
from collections.abc import Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from apps.web import cache
from apps.web.brakes import MOST, Brakes, UnknownJobError, packed
from apps.web.making import Job, Made, brake, in_words, lesson
from geometry.setup import builtin_text
from mechviz.lessons import LessonError
from tests.desks.test_teaching import SHORT

CALLS: list[str] = []


def counted(text: str) -> Made:
    CALLS.append(text)
    return Made(text.encode())


def failing(text: str) -> Made:
    raise ValueError(text)


@pytest.fixture(autouse=True)
def own_cache(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(cache, "cache_folder", lambda: tmp_path / "cache")
    CALLS.clear()


def run(ask: Callable[[], Coroutine[Any, Any, Any]]) -> Any:
    """Run in a thread of its own: that of a worker may have the browser's loop running."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(lambda: asyncio.run(ask())).result()


def brakes() -> Brakes:
    return Brakes(ThreadPoolExecutor(1))


def test_a_job_is_worked_out_once_for_all_who_ask_at_once_and_once_more_for_none_later() -> None:
    async def ask() -> list[bytes]:
        store = brakes()
        key = store.named(Job(counted, ("a",)))
        return list(await asyncio.gather(*(store.data(key) for _ in range(40))))

    assert {gzip.decompress(data) for data in run(ask)} == {b"a"}
    assert {gzip.decompress(data) for data in run(ask)} == {b"a"}
    assert CALLS == ["a"], "the second server found it in the user's folder"


def test_another_program_works_it_out_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    packed(Job(counted, ("a",)))
    monkeypatch.setattr(cache, "program", lambda: "another")
    packed(Job(counted, ("a",)))
    assert CALLS == ["a", "a"]


def test_the_folder_does_not_grow_without_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "MOST_FILES", 3)
    for number in range(6):
        packed(Job(counted, (str(number),)))
    assert len(list(cache.cache_folder().iterdir())) == 3
    assert cache.kept(Job(counted, ("5",)).key) is not None


def test_a_folder_that_cannot_be_written_to_only_costs_time(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setattr(cache, "cache_folder", lambda: tmp_path / "file" / "cache")
    assert gzip.decompress(packed(Job(counted, ("a",)))[0]) == b"a"


def test_what_fails_is_told_to_who_asked_and_tried_again_the_next_time() -> None:
    async def ask() -> None:
        store = brakes()
        key = store.named(Job(failing, ("no",)))
        for _ in range(2):
            with pytest.raises(ValueError, match="no"):
                await store.data(key)
        with pytest.raises(UnknownJobError):
            await store.data("0" * 32)

    run(ask)


def test_jobs_that_nobody_names_any_more_are_forgotten() -> None:
    async def ask() -> None:
        store = brakes()
        first = store.named(Job(counted, ("first",)))
        for number in range(MOST):
            store.named(Job(counted, (str(number),)))
        with pytest.raises(UnknownJobError):
            await store.data(first)

    run(ask)


def naming(text: str) -> Made:
    inner = Job(counted, (f"inner of {text}",))
    return Made(text.encode(), {inner.key: inner})


def test_what_a_lesson_names_can_be_had_as_long_as_the_lesson() -> None:
    async def ask() -> bytes:
        store = brakes()
        outer = store.named(Job(naming, ("a",)))
        await store.data(outer)
        for number in range(MOST - 1):
            store.named(Job(counted, (str(number),)))
        store.named(Job(naming, ("a",)))
        await store.data(outer)
        return await store.data(Job(counted, ("inner of a",)).key)

    assert gzip.decompress(run(ask)) == b"inner of a"


def test_a_lesson_names_its_brakes_the_same_in_every_process() -> None:
    here = lesson_brakes()
    line = [sys.executable, "-c", "from tests.desks.test_making import lesson_brakes; print(*lesson_brakes())"]
    there = subprocess.run(line, capture_output=True, text=True, check=True, cwd=Path(__file__).parents[2])
    assert there.stdout.split() == here


def lesson_brakes() -> list[str]:
    job = lesson(SHORT, "short")
    made = job.make(*job.told)
    assert list(made.more) == json.loads(made.data)["brakes"]
    return list(made.more)


def test_a_lesson_that_cannot_be_on_its_brake_says_so() -> None:
    job = lesson(SHORT.replace("{stroke}", "{no.such}"), "short")
    with pytest.raises(LessonError, match="no"):
        job.make(*job.told)


def test_words_tell_values_apart_and_sets_in_any_order_together() -> None:
    assert in_words({"b": 1, "a": frozenset("xy")}) == in_words({"a": frozenset("yx"), "b": 1})
    assert in_words((1.0,)) != in_words((1,))
    text = builtin_text("drive-16.5x7")
    assert brake(text).key != brake(text, "moving").key
