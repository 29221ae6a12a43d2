"""The instructor's state without a server: choosing, writing, keeping, and what another program writes."""

import os
from collections.abc import Callable
from multiprocessing import Pipe
from pathlib import Path
from time import monotonic

import pytest

from apps.web.instructor import filming
from apps.web.instructor.filming import Filming, part_of, write_film
from apps.web.instructor.shelf import MOST_LESSONS, Shelf, slug, title_of
from apps.web.instructor.teaching import Teaching
from geometry.errors import MechvizError
from mechviz.lessons import shipped_names, shipped_text, starter_text
from mechviz.lessons.split import MOST_BYTES

FIRST = shipped_names()[0]
SHORT = """+++
lesson = 1
title = "Very short"
about = "One step."
minutes = 1
brake = "drive-16.5x7"
+++

+++
title = "Applied"
at = "applied"
+++
The rod has moved {stroke}.
"""


@pytest.fixture
def teaching(tmp_path: Path) -> Teaching:
    return Teaching(Shelf(tmp_path))


def test_every_shipped_lesson_is_listed_and_can_be_chosen(teaching: Teaching) -> None:
    assert [lesson["name"] for lesson in teaching.listed] == list(shipped_names())
    for name in shipped_names():
        teaching.choose(name)
        assert (teaching.chosen, teaching.faults, teaching.playing) == (name, [], shipped_text(name))
    assert not teaching.is_own


@pytest.mark.parametrize("name", ["no-such-lesson", "../../etc/passwd", "", "A" * 200, "a/b"])
def test_a_lesson_that_there_is_not_is_said(teaching: Teaching, name: str) -> None:
    teaching.choose(FIRST)
    teaching.choose(name)
    assert teaching.said
    assert teaching.chosen == FIRST, "what was open stays open"


def test_what_is_written_is_played_where_nothing_is_wrong_and_kept_where_something_is(teaching: Teaching) -> None:
    teaching.begin()
    assert (teaching.writing, teaching.text, teaching.faults) == (True, starter_text(), [])
    teaching.write(SHORT)
    assert teaching.playing == SHORT
    broken = SHORT.replace("at = ", "att = ")
    teaching.write(broken)
    assert (teaching.text, teaching.playing) == (broken, SHORT)
    assert any("att" in line and "at" in line for line in teaching.faults)
    teaching.undo()
    assert (teaching.text, teaching.faults) == (SHORT, [])
    teaching.redo()
    assert teaching.text == broken


def test_a_shipped_lesson_is_saved_as_a_copy_and_an_own_one_over_itself(teaching: Teaching, tmp_path: Path) -> None:
    teaching.choose(FIRST)
    teaching.edit()
    assert not teaching.unsaved
    teaching.write(shipped_text(FIRST).replace("What is behind the wheel", "Mine"))
    assert teaching.unsaved
    teaching.save()
    assert (teaching.chosen, teaching.is_own, teaching.unsaved) == ("mine", True, False)
    teaching.write(SHORT)
    teaching.save()
    assert [path.name for path in tmp_path.iterdir()] == ["mine.md"]
    assert (tmp_path / "mine.md").read_text() == SHORT
    assert teaching.listed[0]["own"]


def test_a_file_that_another_program_writes_is_played_at_once_unless_something_here_is_unsaved(
    teaching: Teaching, tmp_path: Path
) -> None:
    teaching.open(SHORT, "short.md")
    teaching.save()
    file = tmp_path / f"{teaching.chosen}.md"
    file.write_text(SHORT.replace("One step", "Another"))
    os.utime(file, (1, 1))
    teaching.look_again()
    assert "Another" in teaching.playing
    teaching.write(SHORT)
    file.write_text(SHORT.replace("One step", "A third"))
    os.utime(file, (2, 2))
    teaching.look_again()
    assert teaching.text == SHORT, "nothing that was typed is lost"
    teaching.save()
    assert teaching.elsewhere
    assert "A third" in file.read_text(), "nor what another program wrote"
    teaching.take_theirs()
    assert "A third" in teaching.text
    teaching.undo()
    assert (teaching.text, teaching.elsewhere) == (SHORT, False)
    os.utime(file, (3, 3))
    file.write_text(SHORT.replace("One step", "A fourth"))
    os.utime(file, (4, 4))
    teaching.save()
    assert teaching.elsewhere
    teaching.keep_mine()
    assert (file.read_text(), teaching.unsaved, teaching.elsewhere) == (SHORT, False, False)


def test_what_a_brake_refuses_is_said_and_the_lesson_before_is_played_on(teaching: Teaching) -> None:
    teaching.begin()
    teaching.write(SHORT)
    teaching.seen()
    other = SHORT.replace("One step", "Another")
    teaching.write(other)
    teaching.refuse(["step 1: cannot be"])
    assert (teaching.text, teaching.playing, teaching.faults) == (other, SHORT, ["step 1: cannot be"])


def test_what_is_closed_unsaved_is_still_unsaved(teaching: Teaching) -> None:
    teaching.open(SHORT, "short.md")
    teaching.edit()
    assert teaching.unsaved


def test_a_film_tells_what_is_left_by_its_pace(tmp_path: Path) -> None:
    film = Filming(tmp_path)
    film._on(0.1, 100.0)
    assert film.left is None
    film._on(0.3, 110.0)
    assert film.left == pytest.approx(35.0)


def test_own_lessons_with_a_fault_are_listed_with_it_and_odd_names_are_not(teaching: Teaching, tmp_path: Path) -> None:
    (tmp_path / "broken.md").write_text('+++\nlesson = 1\ntitle = "Half"\n')
    (tmp_path / "binary.md").write_bytes(b"\xff\xfe\x00")
    (tmp_path / "Big Name.md").write_text(SHORT)
    own = [lesson for lesson in teaching.listed if lesson["own"]]
    assert {lesson["name"]: lesson["title"] for lesson in own} == {"binary": "binary", "broken": "Half"}
    assert all(lesson["fault"] for lesson in own)
    assert any("is not UTF-8 text" in str(lesson["fault"]) for lesson in own)
    assert not any("codec" in str(lesson["fault"]) for lesson in own)


def test_a_lesson_longer_than_one_may_be_is_not_written(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    with pytest.raises(MechvizError, match="longer"):
        shelf.save("x" * (MOST_BYTES + 1))
    assert list(tmp_path.iterdir()) == []


def test_names_never_run_out_nor_meet(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    names = {shelf.save(SHORT) for _ in range(5)}
    assert names == {"very-short", "very-short-2", "very-short-3", "very-short-4", "very-short-5"}
    assert slug("../..") == "lesson"
    assert title_of("") == "Lesson"
    assert len(names) < MOST_LESSONS


class FakeFilm:
    """Four pictures; the third cannot be drawn where it is told so."""

    frames = 4

    def __init__(self, fails: bool) -> None:
        self.fails = fails

    def write(self, path: Path):
        for count in range(1, self.frames + 1):
            if self.fails and count == 3:
                raise OSError("the disk is full")
            path.write_text("film")
            yield count


@pytest.mark.parametrize("fails", [False, True])
def test_a_film_is_there_whole_or_not_at_all(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, fails: bool) -> None:
    monkeypatch.setattr("mechviz.lessons.film.lesson_film", lambda _: FakeFilm(fails))
    heard, told = Pipe(duplex=False)
    path = tmp_path / "film.mp4"
    write_film(SHORT, "new", path, told)
    said = [heard.recv() for _ in range(3 if fails else 5)]
    assert said == ([0.25, 0.5, "the disk is full"] if fails else [0.25, 0.5, 0.75, 1.0, ""])
    assert path.exists() is not fails
    assert not part_of(path).exists()
    heard.close()
    told.close()


def until(done: Callable[[], bool], film: Filming) -> None:
    end = monotonic() + 60
    while not done():
        film.look()
        assert monotonic() < end


def test_a_film_tells_how_far_it_is_and_ends_when_asked_to(tmp_path: Path) -> None:
    film = Filming(tmp_path)
    film.begin(SHORT, "new", "short.mp4")
    until(lambda: film.share > 0 or film.state != "running", film)
    assert film.state == "running", film.said
    film.cancel()
    assert (film.state, film.share, film.left) == ("", 0.0, None)
    assert "Nothing of it was kept" in film.said
    assert list(tmp_path.iterdir()) == []


def test_a_film_of_what_is_no_lesson_says_why(tmp_path: Path) -> None:
    film = Filming(tmp_path)
    film.begin("nothing", "new", "short.mp4")
    until(lambda: film.state != "running", film)
    assert (film.state, bool(film.said)) == ("failed", True)
    assert filming.POLL < 1000
