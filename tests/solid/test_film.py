"""Films: takes whose figures are the solver's, frames that differ while something moves, a file that plays."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import imageio_ffmpeg
import numpy as np
import pytest

from geometry.applied import solve_applied
from geometry.condition import Condition
from geometry.errors import AssemblyError
from geometry.found import condition_of
from mechviz.checks.case import COLD, HOT
from mechviz.solid.encode import encoded
from mechviz.solid.film import Screen, film_frames, laid
from mechviz.solid.shot import OUTSIDE, Shot
from mechviz.solid.story import FPS, ages, apart_film, full_story, press_film
from mechviz.solid.take import Take, held, ramp
from mechviz.solid.views import VIEWS
from tests.drawing.scenes import BUILT_IN, NAMES, WORN, setup

SMALL = Screen(320, 180)


@pytest.mark.parametrize("name", NAMES)
def test_the_story_is_told_of_any_brake(name: str) -> None:
    read = setup(name)
    for take in full_story(read):
        assert take.frames > 0
        assert take.words.endswith(".")
        assert np.isfinite(take.strokes).all(), take.title
        assert (take.strokes >= 0).all()
        assert (take.strokes <= read.brake.chamber.rated_stroke).all()


@pytest.mark.parametrize("name", BUILT_IN)
def test_the_storys_strokes_are_those_that_the_pressure_holds(name: str) -> None:
    read = setup(name)
    for take in full_story(read):
        if take.pressure is not None:
            expected = solve_applied(read.brake, take.condition, take.pressure).stroke
            assert np.allclose(take.strokes, expected, atol=1e-6), take.title


def test_the_story_walks_to_the_limit_and_past_it_and_the_drum_heats() -> None:
    read = setup(WORN)
    told = ages(read)
    takes = {take.title: take for take in full_story(read)}
    wearing, further = takes["The linings wear"], takes["The linings wear on"]
    assert wearing.strokes[-1] < told.limit < further.strokes[-1]
    assert (np.diff(np.concatenate([wearing.strokes, further.strokes])) > -1e-9).all()
    assert (np.diff(np.broadcast_to(wearing.condition.lining_thickness, wearing.frames)) <= 0).all()
    heating = takes["A long hill: the drum heats"]
    assert float(np.min(heating.condition.drum_temperature)) == pytest.approx(COLD)
    assert float(np.max(heating.condition.drum_temperature)) == pytest.approx(HOT)
    assert heating.strokes[-1] > heating.strokes[0]
    assert takes["Past the limit"].strokes[0] == pytest.approx(further.strokes[-1])
    assert takes["Hot"].strokes[0] == pytest.approx(heating.strokes[-1])
    assert "fail" in takes["The tape, cold again"].words.lower()


def test_a_caption_with_a_figure_stands_under_a_picture_that_has_it() -> None:
    """A caption is read during the whole take: what it tells as a figure must not change in it."""
    for name in NAMES:
        for take in full_story(setup(name)):
            if any(sign.isdigit() for sign in take.words):
                assert np.ptp(take.strokes) == 0.0, take.words


def test_the_brake_is_taken_in_whole_when_it_is_all_apart() -> None:
    read = setup(WORN)
    takes = apart_film(condition_of(read), Shot(ghost=frozenset()))
    apart = replace(takes[1], strokes=held(0.0, 1), apart=held(1.0, 1), names=())
    (frame,) = film_frames(read, [apart], SMALL)
    left, top = round(430 * SMALL.scale), round(24 * SMALL.scale)
    right, foot = round(1584 * SMALL.scale) - 1, round(768 * SMALL.scale) - 1
    for edge in (frame[top:foot, left], frame[top:foot, right], frame[top, left:right], frame[foot, left:right]):
        assert np.abs(edge.astype(int) - [251, 250, 246]).max() < 12


def test_a_caption_fits_under_the_picture() -> None:
    from mechviz.drawing.layout import MARGIN, WIDTH
    from mechviz.drawing.lettering import folded

    for name in NAMES:
        for take in full_story(setup(name)):
            assert len(folded(take.words, WIDTH - 2 * MARGIN, "figure")) <= 2, take.words


def one_take(**more: object) -> Take:
    read = setup(WORN)
    take = Take("Pressed", "Air pushes.", Shot(VIEWS["wheel-side"]), condition_of(read), ramp(0.0, 45.0, 3))
    return replace(take, **more)  # type: ignore[arg-type]


def test_frames_differ_while_something_moves_and_rest_when_it_rests() -> None:
    frames = list(film_frames(setup(WORN), [one_take(strokes=np.array([0.0, 30.0, 45.0, 45.0]))], SMALL))
    assert all(frame.shape == (180, 320, 3) for frame in frames)
    for one, other in pairwise(frames[:3]):
        assert (np.abs(one.astype(int) - other.astype(int)).max(axis=2) > 20).sum() > 100
    assert (frames[2] == frames[3]).all()


def test_what_leaves_is_gone_at_the_end() -> None:
    leaving = one_take(
        shot=Shot(hidden=frozenset(), ghost=frozenset()), strokes=held(0.0, 2), apart=np.array([0.0, 0.6]),
        end=VIEWS["wheel-side"], leaves=frozenset({"wheel", "drum", "hub"}),
    )  # fmt: skip
    stays = one_take(
        shot=Shot(VIEWS["wheel-side"], hidden=OUTSIDE | {"drum", "hub"}, ghost=frozenset()),
        strokes=held(0.0, 1),
        names=(),
    )
    last = list(film_frames(setup(WORN), [leaving], SMALL))[-1].astype(int)
    alone = next(film_frames(setup(WORN), [stays], SMALL)).astype(int)
    right = np.s_[:150, 100:]
    assert np.abs(last[right] - alone[right]).mean() < 4.0


def test_a_take_knows_when_it_rests() -> None:
    take = one_take(strokes=np.array([0.0, 5.0, 5.0]))
    assert [take.rests(n) for n in (1, 2)] == [False, True]
    wearing = one_take(
        strokes=held(5.0, 3), condition=replace(take.condition, lining_thickness=np.array([9.0, 8.0, 8.0]))
    )
    assert wearing.wears
    assert [wearing.rests(n) for n in (1, 2)] == [False, True]
    assert isinstance(wearing.condition_at(1), Condition)
    assert wearing.condition_at(1).lining_thickness == 8.0


def test_words_are_laid_over_the_render() -> None:
    words = np.zeros((180, 320, 4), dtype=np.uint8)
    words[10, 20] = (10, 20, 30, 255)
    frame = laid(np.full((20, 30, 3), 200, dtype=np.uint8), words, SMALL, (251, 250, 246))
    assert frame[10, 20].tolist() == [10, 20, 30]
    assert frame[0, 0].tolist() == [251, 250, 246]
    assert (frame == 200).all(axis=2).sum() == 600


@pytest.mark.parametrize("suffix", [".mp4", ".gif"])
def test_a_film_plays_as_long_as_it_has_frames(suffix: str, tmp_path: Path) -> None:
    rng = np.random.default_rng(3)
    frames = (np.repeat(np.repeat(rng.integers(0, 255, (9, 16, 3), dtype=np.uint8), 20, 0), 20, 1) for _ in range(12))
    out = tmp_path / f"film{suffix}"
    assert list(encoded(frames, out, FPS, SMALL)) == list(range(1, 13))
    count, seconds = imageio_ffmpeg.count_frames_and_secs(str(out))
    assert count == (12 if suffix == ".mp4" else 4)
    assert seconds == pytest.approx(0.5, abs=0.1)


def test_a_press_and_a_taking_apart_begin_and_end_alike() -> None:
    read = setup(WORN)
    press = press_film(read, condition_of(read), Shot())
    assert press[0].strokes[0] == press[-1].strokes[-1] == 0.0
    assert press[0].strokes[-1] == pytest.approx(press[1].strokes[0]) == pytest.approx(press[2].strokes[0])
    going, there, back = (take.apart for take in apart_film(condition_of(read), Shot()))
    assert going is not None
    assert there is not None
    assert back is not None
    assert going[0] == back[-1] == 0.0
    assert going[-1] == back[0] == there.min() == there.max() == 1.0


def test_a_brake_that_cannot_be_applied_is_refused_before_any_frame() -> None:
    read = setup(WORN)
    worn_out = replace(condition_of(read), lining_thickness=1.0)
    with pytest.raises(
        AssemblyError, match=r"cannot be applied, so that there is nothing to film; see what mechviz check"
    ):
        press_film(read, worn_out, Shot())
    assert len(apart_film(worn_out, Shot())) == 3
