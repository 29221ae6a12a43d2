"""Where to put the tape: every picture drawn on every brake, its dimension where the length really is."""

import re
from itertools import combinations
from xml.etree import ElementTree as Tree

import pytest

from geometry.setup import builtin_names
from mechviz.job.dimension import HEIGHT, WIDTH, Frame, dimension
from mechviz.job.drawn import wheel_drawing
from mechviz.job.look import look
from mechviz.job.model import Job
from mechviz.job.pictures import names, picture_of
from mechviz.look import fractions
from tests.job.jobs import OVER, job, put

SVG = "{http://www.w3.org/2000/svg}"
WITH_WORDS = set(names()) - {"hub"}


@pytest.mark.parametrize("name", names())
@pytest.mark.parametrize("base", builtin_names())
def test_a_picture_is_whole_and_its_words_stand_inside(name: str, base: str) -> None:
    root = Tree.fromstring(picture_of(name, base))
    assert root.get("viewBox") == f"0 0 {WIDTH:g} {HEIGHT:g}"
    assert root.findtext(f"{SVG}title")
    words = list(root.iter(f"{SVG}text"))
    assert bool(words) == (name in WITH_WORDS)
    for one in words:
        assert 0 < float(one.get("x", "nan")) < WIDTH
        assert 0 < float(one.get("y", "nan")) < HEIGHT


@pytest.mark.parametrize(
    ("name", "parts"),
    [
        ("stroke", {"pushrod", "clevis", "chamber-non-pressure"}),
        ("ring", {"clamp-ring"}),
        ("lining", {"lining-right", "shoe-right-platform", "drum"}),
        ("arm", {"slack-adjuster", "clevis-pin", "camshaft-end"}),
        ("spring", {"parking-housing"}),
    ],
)
@pytest.mark.parametrize("base", ["drive-16.5x7", "steer-15x4"])
def test_a_picture_shows_the_parts_that_the_tape_touches(name: str, parts: set[str], base: str) -> None:
    root = Tree.fromstring(picture_of(name, base))
    shown = {(one.get("id") or "").removeprefix("part-") for one in root.iter(f"{SVG}g")}
    assert parts <= shown


def test_a_frame_shows_its_window_whole_and_mirrors_the_arm_plane() -> None:
    for plane in ("arm", "wheel"):
        frame = Frame.over(plane, (-100, -50, 100, 50))
        corners = [frame.at(x, y) for x in (-100, 100) for y in (-50, 50)]
        assert all(-1e-9 <= x <= WIDTH + 1e-9 and -1e-9 <= y <= HEIGHT + 1e-9 for x, y in corners)
        assert (frame.at(10, 0)[0] < frame.at(0, 0)[0]) == (plane == "arm")


def test_a_dimension_is_as_long_as_what_it_measures() -> None:
    frame = Frame.over("wheel", (-100, -75, 100, 75))
    drawn = Tree.fromstring(
        f'<svg xmlns="http://www.w3.org/2000/svg">{dimension(frame, [(0, 0), (50, 0)], "", ())}</svg>'
    )
    taken = next(one for one in drawn.iter(f"{SVG}path") if one.get("class") == "take")
    (x1, _), (x2, _) = (
        [float(v) for v in part.split()] for part in (taken.get("d") or "M").removeprefix("M").split("L")
    )
    assert x2 - x1 == pytest.approx(50 * frame.scale, abs=0.02)


def words_of(svg: str) -> list[str]:
    return ["".join(one.itertext()) for one in Tree.fromstring(svg).iter(f"{SVG}text")]


def test_a_wheel_is_drawn_at_the_stroke_that_was_read_with_its_limit() -> None:
    words = words_of(wheel_drawing(look(put(job(), "left", {"measured.arm_angle_applied": "88"}), "left")))
    assert words == [fractions("1 5/8 in"), "limit 2 in", "88°"]


def test_what_was_not_read_has_a_question_mark_and_no_limit_of_a_chamber_that_is_not_known() -> None:
    words = words_of(wheel_drawing(look(put(Job(), "left", {"condition.free_stroke": "5/8"}), "left")))
    assert words[0].endswith("?")
    assert not any(one.startswith("limit") for one in words)


def test_a_wheel_on_which_nothing_was_read_is_not_drawn() -> None:
    assert wheel_drawing(look(Job(), "left")) == ""
    assert wheel_drawing(look(job(OVER, right={}), "right")) == ""


@pytest.mark.parametrize(
    ("readings", "angle"),
    [
        ({}, []),
        ({"measured.arm_angle_released": "130", "measured.stroke": "1 1/2"}, ["106\N{DEGREE SIGN}?"]),
        ({"measured.arm_angle_released": "130", "measured.arm_angle_applied": "89"}, ["89\N{DEGREE SIGN}"]),
    ],
)
def test_no_angle_is_drawn_that_is_another_brakes(readings: dict[str, str], angle: list[str]) -> None:
    words = words_of(wheel_drawing(look(put(job(), "left", readings), "left")))
    assert [one for one in words if "\N{DEGREE SIGN}" in one] == angle


@pytest.mark.parametrize("stroke", ["1/2", "1 1/2", "1 15/16", "2", "2 1/4", "2 1/2"])
@pytest.mark.parametrize("ring", ["8 1/8", "6 3/8"])
def test_words_of_a_wheel_lie_neither_on_each_other_nor_on_its_arrow(stroke: str, ring: str) -> None:
    readings = {"measured.stroke": stroke, "measured.clamp_diameter": ring}
    svg = wheel_drawing(look(put(job(), "left", readings), "left"))
    plates = [[float(x) for x in re.findall(r' (?:x|y|width|height)="([-\d.]+)"', one)] for one in PLATE.findall(svg)]
    assert len(plates) >= 2
    for (x1, y1, w1, h1), (x2, y2, w2, h2) in combinations(plates, 2):
        assert x1 + w1 <= x2 or x2 + w2 <= x1 or y1 + h1 <= y2 or y2 + h2 <= y1


PLATE = re.compile(r'<rect[^>]*class="plate"[^>]*>')
