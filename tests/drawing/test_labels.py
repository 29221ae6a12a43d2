"""Labels: near their parts, never on each other, never cut, never across a moving edge; for many states and brakes."""

import pytest
from shapely.geometry import Point, box

from geometry.quantity import System
from mechviz.drawing.lettering import Text
from mechviz.drawing.names import FEW, Labels
from mechviz.drawing.picture import picture
from mechviz.drawing.placing import Room, Wanted, union
from tests.drawing.measure import SVG, Drawn, Lettered, on_edges, outside, overlaps
from tests.drawing.scenes import BUILT_IN, NAMES, SETUPS, WORN, pictured, scene, unlike
from tests.sweeps import only, sweep

STATES: tuple[str | float, ...] = ("released", "contact", "applied", 12.0, 38.0)
SMALLEST = 900 / 40


def fault_free(found: Drawn) -> None:
    assert overlaps(found.texts()) == []
    assert outside(found) == []
    near = [text for note in ("note-labels", "note-angle", "note-stroke") for text in _in(found, note)]
    assert on_edges(found, near) == []


def _in(found: Drawn, note: str) -> list[Lettered]:
    wanted = {"".join(t.itertext()) for t in found.by_id[note].iter(f"{SVG}text")}
    return [text for text in found.texts() if text.words in wanted]


@pytest.mark.parametrize("name", only(BUILT_IN, lambda name: name != "drive-16.5x7"))
@pytest.mark.parametrize("at", [*STATES[:3], *(pytest.param(at, marks=pytest.mark.wide) for at in STATES[3:])])
@pytest.mark.parametrize("system", ["inch", pytest.param("metric", marks=pytest.mark.wide)])
def test_no_label_is_in_the_way(name: str, at: str | float, system: System) -> None:
    found = Drawn(pictured(scene(name, at, system)).svg)
    fault_free(found)
    words = ["".join(t.itertext()) for t in found.by_id["note-labels"].iter(f"{SVG}text")]
    assert all(any(w.startswith(one.words) for w in words) for one in FEW)
    assert "value-arm-angle" in found.by_id


@pytest.mark.parametrize("name", sweep(SETUPS, always=len(SETUPS) // 2))
@pytest.mark.parametrize("at", ["released", "applied"])
def test_no_label_is_in_the_way_in_odd_brakes(name: str, at: str) -> None:
    fault_free(Drawn(pictured(scene(name, at, hot=name == "one-anchor")).svg))


@pytest.mark.parametrize("name", only(NAMES, unlike))
@pytest.mark.parametrize("column", [True, pytest.param(False, marks=pytest.mark.wide)])
def test_no_label_is_in_the_way_where_every_part_is_named(name: str, column: bool) -> None:
    labels: Labels = "all"
    found = Drawn(picture(scene(name), labels=labels, column=column).svg)
    fault_free(found)
    assert len(list(found.by_id["note-labels"].iter(f"{SVG}text"))) >= 19


def test_text_that_matters_can_be_read_in_the_last_row() -> None:
    found = Drawn(pictured(scene(WORN)).svg)
    assert {text.words for text in found.texts() if text.size < SMALLEST - 1e-6} == set()
    released = Drawn(pictured(scene(WORN, "released")).svg)
    small = [text.words for text in released.texts() if text.size < SMALLEST - 1e-6]
    assert all(words.endswith(" mm") for words in small)  # each is also there in inches, large


def test_the_overlap_test_finds_a_planted_overlap() -> None:
    svg = pictured(scene(WORN)).svg
    planted = svg.replace("</svg>", '<text class="mv-label" x="30" y="60">planted</text></svg>')
    assert [pair for pair in overlaps(Drawn(planted).texts()) if "planted" in pair]
    cut = svg.replace("</svg>", '<text class="mv-label" x="1590" y="600">planted</text></svg>')
    assert outside(Drawn(cut)) == ["planted"]


def test_the_edge_test_finds_a_label_on_a_shoe() -> None:
    found = Drawn(pictured(scene(WORN)).svg)
    shoe = found.matrix("plane-wheel")
    text = Lettered("planted", (shoe[4] + 190, shoe[5], shoe[4] + 280, shoe[5] + 20), 22.5)
    assert on_edges(found, [text]) == ["planted"]


def room(*parts: tuple[float, float, float, float]) -> Room:
    return Room((0, 0, 400, 400), union([box(*part) for part in parts]))


def test_a_label_stands_beside_its_part_without_a_leader_where_there_is_room() -> None:
    placed = room((180, 180, 220, 220)).place(Wanted((Text("arm"),), box(180, 180, 220, 220)))
    assert placed is not None
    assert placed.leader == ""
    assert box(*placed.texts[0].box).distance(box(180, 180, 220, 220)) < 14


def test_a_label_that_has_to_go_far_gets_a_leader_into_its_part() -> None:
    shown = room((100, 100, 300, 300), (0, 0, 400, 20))
    placed = shown.place(Wanted((Text("pin"),), Point(200, 200).buffer(15)))
    assert placed is not None
    assert "mv-leader" in placed.leader
    end = shown.leaders[0].bounds
    assert Point(200, 200).distance(box(*end)) <= 15


def test_a_label_without_any_room_is_left_out() -> None:
    assert room((0, 0, 400, 400)).place(Wanted((Text("arm"),), box(180, 180, 220, 220))) is None


def test_labels_take_the_room_from_the_next_ones() -> None:
    shown = room((180, 180, 220, 220))
    placed = [shown.place(Wanted((Text("arm"),), box(180, 180, 220, 220))) for _ in range(6)]
    boxes = [box(*one.texts[0].box) for one in placed if one is not None]
    assert len(boxes) == 6
    assert not any(a.intersects(b) for i, a in enumerate(boxes) for b in boxes[:i])
