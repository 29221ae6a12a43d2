"""The window on the desktop, without a screen: every act shows what it says."""

from collections.abc import Iterator

import numpy as np
import pytest

from mechviz.drawing.foot import CAUTION
from mechviz.solid.gl import NoGraphicsError
from mechviz.solid.shot import OUTSIDE, WHEEL_END, Shot
from mechviz.solid.views import VIEWS
from mechviz.solid.window import KEYS, SECONDS, Window
from tests.drawing.scenes import WORN, setup


@pytest.fixture(scope="module")
def window() -> Iterator[Window]:
    made = Window(setup(WORN), Shot(), (320, 200), shown=False)
    yield made
    made.close()


def test_pressing_moves_the_rod_and_tells_the_stroke(window: Window) -> None:
    window.press_to(0.0)
    before = window.stage.matrices["pushrod"].copy()
    window.press_to(1.5)
    assert window.stage.matrices["pushrod"][0, 3] - before[0, 3] == pytest.approx(-1.5 * 25.4, abs=0.3)
    assert "stroke 1.50 in, limit 2.00 in" in window.figures


def test_it_plays_there_and_back(window: Window) -> None:
    window.play_at(SECONDS / 2)
    assert window.place == window.applied
    assert "stroke 2.1" in window.figures
    window.play_at(SECONDS)
    assert window.place == 0


def test_it_is_cut_dressed_and_taken_apart(window: Window) -> None:
    whole = window.stage.meshes["chamber_pressure"].n_points
    window.cut()
    assert window.stage.meshes["chamber_pressure"].n_points != whole
    window.cut()
    assert window.stage.meshes["chamber_pressure"].n_points == whole
    window.next_drum()
    assert "hub" in window.stage.actors
    window.next_drum()
    assert not (OUTSIDE | WHEEL_END) & window.stage.actors.keys()
    window.next_drum()
    window.wheel_on()
    assert "wheel" in window.stage.actors
    window.wheel_on()
    window.take_apart(1.0)
    far = window.stage.matrices["drum"][2, 3]
    window.take_apart(0.0)
    assert window.stage.matrices["drum"][2, 3] - far > 300


def test_views_come_round(window: Window) -> None:
    seen = [window.shot.view.name]
    for _ in VIEWS:
        window.next_view()
        seen.append(window.shot.view.name)
    assert seen[0] == seen[-1]
    assert set(seen) == set(VIEWS)


def test_a_part_under_the_mouse_is_named_with_what_to_look_for(window: Window) -> None:
    window.stage.image()
    found = {window.point_at(x, y) for x in range(10, 320, 12) for y in range(10, 200, 12)}
    assert {"", "slack_adjuster", "bracket", "axle_tube"} <= found
    window._tell("slack_adjuster")
    assert "Look for:" in window._words["part"]
    assert max(len(line) for line in window._words["part"].splitlines()) < 60


def test_help_lists_every_key_and_goes_again(window: Window) -> None:
    window.help()
    assert all(f"{key}: {does}" in window._words["foot"] for key, does in KEYS)
    window.help()
    assert window._words["foot"].startswith("h: keys\n")


def test_the_caution_stands_in_the_window_whatever_is_shown(window: Window) -> None:
    for act in (window.help, window.help, window.cut, window.cut):
        act()
        assert " ".join(window._words["foot"].split()).endswith(CAUTION)


def test_without_a_screen_it_says_so(window: Window) -> None:
    with pytest.raises(NoGraphicsError, match="no window can be opened here"):
        window.show()


def test_the_last_pose_is_the_last_that_there_is(window: Window) -> None:
    assert np.isfinite(window.poses.stroke).all()
    assert window.poses.stroke[-1] <= setup(WORN).brake.chamber.rated_stroke
