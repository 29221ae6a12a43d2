"""The film of a lesson: its plan, its pictures, and a file that plays."""

from pathlib import Path

import imageio_ffmpeg
import numpy as np
import pytest

from mechviz.lessons import build_lesson, load_lesson, read_lesson
from mechviz.lessons.film import FPS, lesson_film
from mechviz.lessons.scenes import step_scene
from mechviz.solid.encode import GIF_EVERY

SHORT = """+++
lesson = 1
title = "Short"
free_stroke = "healthy"
lining = "new"
+++
+++
title = "Press"
move = { what = "brake", to = "applied" }
light = ["pushrod"]
+++
Now.

## Question
How far?

## Answer
{stroke}.
"""


def test_the_question_comes_before_the_motion_and_the_answer_after_it() -> None:
    film = lesson_film(build_lesson(read_lesson(SHORT)))
    shares = [hold.share for hold in film.holds]
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0.0, 1.0)
    assert "question" in film.holds[0].sections
    assert [("answer" in hold.sections) for hold in film.holds] == [False] * (len(shares) - 1) + [True]
    assert film.frames == sum(hold.frames for hold in film.holds) > 3 * FPS


def test_on_the_way_the_rod_only_goes_out() -> None:
    (step,) = build_lesson(read_lesson(SHORT)).steps
    scenes = [step_scene(step, share) for share in np.linspace(0, 1, 9)]
    strokes = [scene.state.stroke for scene in scenes if scene is not None and scene.state.stroke is not None]
    assert len(strokes) == 9
    assert strokes == sorted(strokes)
    assert strokes[0] == 0.0
    assert strokes[-1] == step.at.state(step.setup, step.end).stroke


def test_air_is_drawn_as_the_scenario_holds_it() -> None:
    steps = build_lesson(load_lesson("08-parking-and-loss-of-air")).steps
    parked = next(step for step in steps if step.keys.title == "Parked")
    first, last = step_scene(parked, 0.0), step_scene(parked, 1.0)
    assert first is not None
    assert last is not None
    assert first.state.stroke == 0.0
    assert (last.state.stroke or 0.0) > 20.0


def test_a_film_is_written_as_long_as_it_was_planned(tmp_path: Path) -> None:
    film = lesson_film(build_lesson(read_lesson(SHORT)), suffix=".gif")
    path = tmp_path / "short.gif"
    assert list(film.write(path)) == list(range(1, film.frames + 1))
    count, seconds = imageio_ffmpeg.count_frames_and_secs(str(path))
    assert count == len(range(1, film.frames + 1, GIF_EVERY))
    assert seconds == pytest.approx(film.frames / FPS, abs=0.5)


def test_its_pictures_are_as_large_as_asked_for_and_differ() -> None:
    film = lesson_film(build_lesson(read_lesson(SHORT)), suffix=".gif")
    first, last = (film.frame(film.holds[n]) for n in (0, -1))
    assert first.shape == last.shape == (450, 800, 3)
    assert 0.01 < float(np.mean(first != last)) < 0.5


def test_over_a_life_the_working_adjuster_holds_the_stroke_on_the_way_too() -> None:
    steps = build_lesson(load_lesson("04-adjuster")).steps
    follows = next(step for step in steps if step.keys.title == "It follows the wear")
    scenes = [step_scene(follows, share) for share in np.linspace(0, 1, 7)]
    strokes = [scene.state.stroke or 0.0 for scene in scenes if scene is not None]
    assert len(strokes) == 7
    assert max(strokes) - min(strokes) < 3.0
