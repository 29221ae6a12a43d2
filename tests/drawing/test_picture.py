"""The picture of one state: every part where the pose table puts it, every figure the solver's."""

import json
from dataclasses import replace
from math import degrees, pi

import numpy as np
import pytest

from geometry.found import condition_of
from geometry.linkage import arm_state
from geometry.quantity import System
from geometry.setup import read_setup_text
from mechviz.drawing.gaps import gap_profile
from mechviz.drawing.layout import layout
from mechviz.drawing.names import FEW
from mechviz.drawing.picture import picture
from mechviz.drawing.pushes import rub_at, rubbing
from mechviz.drawing.scene import Scene, scene_at
from mechviz.drawing.verdict import judged
from mechviz.drawing.words import bound, figure, length, small
from mechviz.export import svg_to_png
from mechviz.look.colours import THEMES, VERBS, colours
from mechviz.look.vision import contrast
from tests.drawing.measure import NUMBER, SVG, Drawn
from tests.drawing.scenes import BUILT_IN, NAMES, WORN, pictured, scene, setup

AT = (-0.55, -0.05, 0.45)
"""Where the arrows on a usual lining stand, rad from the level."""

STATES = ("released", "contact", "applied")
NOTES = ["title", "shaft", "magnifier", "cam", "verdict", "stroke", "push", "drum", "gap", "chain", "angle", "labels"]


_DRAWN: dict[int, Drawn] = {}


def drawn(shown: Scene) -> Drawn:
    """The picture of a scene that `scene` keeps, drawn once."""
    if id(shown) not in _DRAWN:
        _DRAWN[id(shown)] = Drawn(pictured(shown).svg)
    return _DRAWN[id(shown)]


@pytest.mark.parametrize("name", NAMES)
def test_every_part_is_there_with_its_words_where_the_pose_table_puts_it(name: str) -> None:
    shown = scene(name)
    found = drawn(shown)
    for outline in shown.outlines:
        part = found.by_id[f"part-{outline.name.replace('_', '-')}"]
        assert part.get("data-body") == outline.body
        assert part.get("class") == f"part verb-{outline.verb}"
        assert (part.findtext(f"{SVG}title"), part.findtext(f"{SVG}desc")) == (outline.title, outline.does)
        numbers = found.matrix(str(part.get("id")))
        stands = [1, 0, 0, 1, 0, 0] if outline.body == "deforms" else shown.table.matrices[outline.body][0]
        np.testing.assert_allclose(numbers, stands, atol=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_both_planes_have_one_scale_and_one_camshaft_height(name: str) -> None:
    shown = scene(name)
    found = drawn(shown)
    wheel, arm = found.matrix("plane-wheel"), found.matrix("plane-arm")
    assert wheel[0] == -wheel[3] == -arm[0] == -arm[3]
    assert wheel[1] == wheel[2] == arm[1] == arm[2] == 0
    camshaft = wheel[5] + wheel[3] * shown.brake.shoe.cam_distance
    assert camshaft == pytest.approx(arm[5], abs=1e-3)


@pytest.mark.parametrize("name", BUILT_IN)
def test_the_mechanism_fills_two_thirds_of_the_picture_and_stays_in_it(name: str) -> None:
    shown = scene(name)
    where = layout(shown.brake, shown.outlines)
    corners = [
        where.at(outline.plane, x, y)
        for outline in shown.outlines
        if outline.body in ("ground_wheel", "ground_arm")
        for x, y in np.reshape(outline.geometry.bounds, (2, 2))
    ]
    (left, top), (right, bottom) = np.min(corners, axis=0), np.max(corners, axis=0)
    assert min(left, top) > 0
    assert bottom < where.height
    assert right <= where.edge < where.width
    assert where.edge <= where.figures[0] or where.parked
    for x, y, wide, tall in where.behind:  # the column of figures begins under a parking section
        assert (x + wide, y + tall) <= (where.edge, where.figures[1])
    assert (right - left) * (bottom - top) > 0.6 * where.width * where.height
    assert right - left > where.width * 2 / 3


def test_the_arm_turns_counter_clockwise_as_seen_like_the_cam() -> None:
    before, after = drawn(scene(WORN, "released")), drawn(scene(WORN, "applied"))
    mirror = before.matrix("plane-arm")[0] * before.matrix("plane-arm")[3]
    plain = before.matrix("plane-wheel")[0] * before.matrix("plane-wheel")[3]

    def turned(part: str) -> float:
        return float(np.arctan2(after.matrix(part)[1], after.matrix(part)[0]) - np.arctan2(*before.matrix(part)[1::-1]))

    assert mirror > 0 > plain
    assert turned("part-s-cam") > 0  # +y up: counter-clockwise
    assert turned("part-slack-adjuster") < 0  # and this plane is mirrored


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("system", ["inch", pytest.param("metric", marks=pytest.mark.wide)])
def test_figures_are_the_solvers(name: str, system: System) -> None:
    shown = scene(name, "applied", system)
    found, state = drawn(shown), shown.state
    assert state.stroke is not None
    limit = shown.case.limit.limit_mm
    assert found.words("value-stroke") == length(state.stroke, system)
    assert found.words("value-limit") == bound(limit, system)
    known = shown.case.knows_chamber
    told = ("over" if state.stroke > limit else "inside") if known else "which chamber it is"
    assert told in found.words("value-margin")
    assert found.words("value-pressure") == figure(state.pressure, "pressure", system)
    assert found.words("value-chamber-force") == figure(state.chamber_force, "force", system)
    assert found.words("value-arm-angle") == figure(state.arm_angle, "angle", system)
    assert found.words("value-cam-turn") == figure(state.cam_turn, "angle", system)
    assert found.words("value-brake-torque") == figure(state.brake_torque, "torque", system)
    assert found.words("value-gap-least") == "touches"


def test_what_does_not_exist_in_a_state_is_not_written() -> None:
    for at in ("released", "contact"):
        found = drawn(scene(WORN, at))
        for name in ("value-pressure", "value-chamber-force", "value-brake-torque"):
            assert name not in found.by_id
    shown = scene(WORN, "released")
    gaps = [shown.state.left.gap_least, shown.state.right.gap_least]
    assert drawn(shown).words("value-gap-least") == small(min(gap for gap in gaps if gap is not None), "inch")


@pytest.mark.parametrize(("at", "pushed"), [("released", set()), ("contact", {"push", "turn", "spread"})])
def test_arrows_stand_only_where_something_pushes(at: str, pushed: set[str]) -> None:
    assert arrows(scene(WORN, at)) == pushed
    assert arrows(scene(WORN, "applied")) == {"push", "turn", "spread", "rub"}


def arrows(shown: Scene) -> set[str]:
    found = drawn(shown)
    kinds = [e.get("class", "") for e in found.by_id["note-push"].iter(f"{SVG}path")]
    return {kind.split("mv-line-")[1] for kind in kinds}


@pytest.mark.parametrize(("at", "mark"), [("released", "mv-dots"), ("applied", "mv-block")])
def test_the_verdict_is_a_word_and_a_shape(at: str, mark: str) -> None:
    found = drawn(scene(WORN, at))
    note = found.by_id["note-verdict"]
    assert any(mark in e.get("class", "") for e in note.iter())
    words = "".join(note.itertext())
    assert ("fail: " in words) == (at == "applied")
    assert ("not evaluated: " in words) == (at == "released")


def test_a_stroke_inside_the_limit_passes_with_an_open_ring() -> None:
    found = drawn(scene("drive-16.5x7"))
    note = found.by_id["note-verdict"]
    assert "pass: inside the limit" in "".join(note.itertext())
    assert [e.get("class") for e in note.iter(f"{SVG}ellipse")] == ["mv-ring"]


@pytest.mark.parametrize("name", BUILT_IN)
def test_the_rule_has_the_scale_of_the_mechanism(name: str) -> None:
    shown = scene(name)
    where = pictured(shown).where
    x, _ = where.rule
    assert x == pytest.approx(where.at("arm", float(arm_state(shown.brake.linkage, 0.0).pin_x), 0.0)[0])
    stop = next(e for e in drawn(shown).by_id["note-stroke"].iter() if e.get("class") == "mv-stop")
    at = float(stop.get("d", "").split()[0].removeprefix("M"))
    assert (x - at) / where.scale == pytest.approx(shown.case.limit.limit_mm, abs=0.01)


@pytest.mark.parametrize("at", STATES)
def test_the_magnifier_and_the_gap_diagram_show_true_gaps_at_the_scale_they_state(at: str) -> None:
    shown = scene(WORN, at)
    found, gap = drawn(shown), float(shown.poses.right.gap_middle[0])
    scale = pictured(shown).where.scale
    note = found.by_id["note-magnifier"]
    lining, drum = (float(e.get(k, "")) for e, k in zip(list(note.iter(f"{SVG}rect"))[:2], ("width", "x"), strict=True))
    start = float(next(note.iter(f"{SVG}rect")).get("x", ""))
    times = next(int(t.text.split("×")[0]) for t in note.iter(f"{SVG}text") if t.text and "×" in t.text)
    assert drum - start - lining == pytest.approx(max(gap, 0.0) * scale * times, abs=0.02)
    written = "".join(found.by_id["note-gap"].itertext())
    for shoe in (shown.state.left, shown.state.right):
        for value in (shoe.gap_anchor_end, shoe.gap_middle, shoe.gap_cam_end):
            assert value is not None
            assert small(value, "inch") in written
            assert small(value, "metric") in written


def test_the_gap_diagram_is_the_solvers_gap_at_its_ends_and_middle() -> None:
    shown = scene(WORN, "released")
    for side, shoe in (("left", shown.state.left), ("right", shown.state.right)):
        gaps = gap_profile(shown, side)  # pyright: ignore[reportArgumentType]
        assert gaps[0] == pytest.approx(shoe.gap_anchor_end)
        assert gaps[20] == pytest.approx(shoe.gap_middle)
        assert gaps[-1] == pytest.approx(shoe.gap_cam_end)


def test_linings_that_touch_wear_the_denser_hatch() -> None:
    def texture(at: str) -> str | None:
        part = drawn(scene("drive-16.5x7", at)).by_id["part-lining-left"]
        return next(part.iter(f"{SVG}path")).get("class")

    assert texture("released") == "mv-rub"
    assert texture("applied") == "mv-rub mv-rub-touch"


def test_the_linings_are_cut_at_the_friction_surface() -> None:
    shown = scene(WORN, hot=True)
    found = drawn(shown)
    circle = found.by_id["clip-drum"].find(f"{SVG}circle")
    assert circle is not None
    assert float(circle.get("r", "")) == pytest.approx(float(shown.contact.radius[0]), abs=1e-3)
    cut = [e for e in found.root.iter() if e.get("clip-path") == "url(#clip-drum)"]
    assert {next(iter(e)).get("id") for e in cut} == {"part-lining-left", "part-lining-right"}


def test_a_hot_drum_is_coloured_and_says_how_hot_it_is() -> None:
    hot, cold = drawn(scene(WORN, hot=True)), drawn(scene(WORN))
    assert hot.words("value-drum") == "600 °F"
    assert len([e for e in hot.root.iter() if e.get("class") == "heat"]) == 1
    assert not [e for e in cold.root.iter() if e.get("class") == "heat"]


@pytest.mark.parametrize(("at", "side", "mark"), [("applied", "over", "rect"), ("released", "inside", "ellipse")])
def test_a_hot_stroke_is_told_against_the_limit_of_a_cold_drum_and_not_judged(at: str, side: str, mark: str) -> None:
    shown = scene(WORN, at, hot=True)
    verdict = judged(shown)
    assert (verdict.name, verdict.why) == ("not evaluated", "limit is for cold drums")
    assert verdict.said.startswith(f"{side} the limit of a cold drum by ")
    note = drawn(shown).by_id["note-verdict"]
    assert [e.tag for e in note.iter() if e.get("class") == "mv-ring mv-dots"] == [SVG + mark]
    assert "cold limit 2 in" in "".join(note.itertext())
    assert not {"pass", "close", "fail"} & set("".join(note.itertext()).replace(":", " ").split())


def test_every_note_is_there_with_a_title_and_no_id_twice() -> None:
    found = drawn(scene(WORN))
    assert len(found.ids) == len(set(found.ids))
    for name in NOTES:
        assert found.by_id[f"note-{name}"].findtext(f"{SVG}title")
    assert found.root.findtext(f"{SVG}title") == "Quarry tipper, rear axle, right: applied at 95 psi"
    assert "fail" in str(found.root.findtext(f"{SVG}desc"))


@pytest.mark.parametrize("labels", ["all", "few", "none"])
def test_as_many_parts_are_named_as_asked_for(labels: str) -> None:
    svg = picture(scene(WORN), labels=labels).svg  # pyright: ignore[reportArgumentType]
    words = ["".join(t.itertext()) for t in Drawn(svg).by_id["note-labels"].iter(f"{SVG}text")]
    assert all(any(w.startswith(n.words) for w in words) for n in FEW) == (labels != "none")
    assert ("spider" in words) == (labels == "all")


def test_the_arrow_in_the_axle_turns_the_way_the_drum_does() -> None:
    def way(name: str) -> tuple[str, str]:
        found = drawn(scene(name))
        arrow = next(found.by_id["note-drum"].iter(f"{SVG}path")).get("d", "")
        return arrow.split("A")[1].split()[4], "".join(found.by_id["note-gap"].itertext())

    assert way(WORN)[0] != way("clockwise")[0]
    assert "left, leading" in way(WORN)[1]
    assert "left, trailing" in way("clockwise")[1]
    assert "left shoe, leading" in way("steer-15x4")[1]


def test_the_layout_is_plain_data() -> None:
    shown = scene(WORN)
    data = json.loads(json.dumps(layout(shown.brake, shown.outlines).data()))
    assert (data["width"], data["height"]) == (1600, 900)
    assert {"scale", "wheel", "arm", "rule", "title", "stroke", "figures", "gaps", "magnifier"} <= set(data)


@pytest.mark.parametrize("theme", THEMES)
def test_words_and_arrows_can_be_told_from_the_ground_in_every_theme(theme: str) -> None:
    palette = colours(theme)  # pyright: ignore[reportArgumentType]
    for rank in ("ink", "soft", *VERBS):
        assert contrast(palette[rank], palette["paper"]) >= 4.5, rank


def test_a_picture_is_the_same_every_time_and_can_be_rendered_in_either_theme() -> None:
    for theme in ("light", "dark"):
        once = picture(scene(WORN), theme).svg  # pyright: ignore[reportArgumentType]
        assert once == picture(scene(WORN), theme).svg  # pyright: ignore[reportArgumentType]
        assert svg_to_png(once, 800, theme).startswith(b"\x89PNG")  # pyright: ignore[reportArgumentType]


def test_a_title_is_text_and_never_markup() -> None:
    found = drawn(scene("long-title"))
    assert str(found.root.findtext(f"{SVG}title")).startswith("A <title> & more")


def test_the_arms_arc_spans_the_angle_that_is_written() -> None:
    shown = scene(WORN)
    assert shown.state.arm_angle is not None
    arc = next(e for e in drawn(shown).by_id["note-angle"].iter() if e.get("class") == "mv-angle").get("d", "")
    numbers = [float(n) for part in arc.replace("M", "").split("A") for n in part.split()]
    start, radius, end = np.array(numbers[:2]), numbers[2], np.array(numbers[-2:])
    swept = 2 * np.arcsin(np.hypot(*(end - start)) / (2 * radius))
    assert degrees(swept) == pytest.approx(degrees(shown.state.arm_angle), abs=0.1)


@pytest.mark.parametrize("system", ["inch", "metric"])
def test_the_foot_has_the_caution_and_a_bar_of_the_length_that_it_states(system: System) -> None:
    shown = scene(WORN, "applied", system)
    found = drawn(shown)
    assert "licensed practice decide" in found.words("caution")
    amount, unit = found.words("scale").split()
    left, _, right, _ = (float(n) for n in NUMBER.findall(found.by_id["scale-bar"].get("d", "")))
    length_mm = float(amount) * (25.4 if unit == "in" else 1.0)
    assert right - left == pytest.approx(length_mm * found.matrix("plane-wheel")[0], abs=0.02)


@pytest.mark.parametrize("name", BUILT_IN)
@pytest.mark.parametrize("at", ["released", "contact", "applied"])
def test_what_moves_is_named_in_every_state(name: str, at: str) -> None:
    words = "".join(drawn(scene(name, at)).by_id["note-labels"].itertext())
    for part in ("S-cam", "roller", "slack adjuster", "pushrod", "diaphragm", "shoe", "lining", "drum", "chamber"):
        assert part in words, part


def test_a_chamber_that_only_the_base_has_passes_no_stroke() -> None:
    text = 'schema = 1\nbase = "drive-16.5x7"\n'
    known = '[chamber]\nstyle = "clamp"\nsize = "30"\n'
    names: list[str] = []
    for body in (text, text + known):
        read = read_setup_text(body, "test")
        names.append(judged(scene_at(read, condition_of(read), "applied")).name)
    assert names == ["not evaluated", "pass"]


def test_a_lining_has_arrows_only_where_it_touches() -> None:
    found = scene("drive-16.5x7").state.left
    pressed = replace(found, gap_anchor_end=0.0, gap_middle=0.0, gap_cam_end=0.0, gap_least=0.0)
    assert rubbing(pressed, AT) == list(AT)
    clear = replace(found, gap_anchor_end=0.2, gap_middle=0.18, gap_cam_end=0.3, gap_least=0.17)
    assert rubbing(clear, AT) == []
    hot = replace(found, gap_anchor_end=0.15, gap_middle=0.06, gap_cam_end=0.45, gap_least=0.0)
    assert rubbing(hot, AT) == [AT[1]]
    ends = replace(found, gap_anchor_end=0.0, gap_middle=0.2, gap_cam_end=0.03, gap_least=0.0)
    assert rubbing(ends, AT) == [AT[0], AT[2]]
    near = replace(found, gap_anchor_end=0.01, gap_middle=0.2, gap_cam_end=0.03, gap_least=0.01)
    assert rubbing(near, AT) == []


def test_arrows_stand_on_the_lining_however_much_of_it_is_left() -> None:
    whole = setup(WORN).brake.lining
    for lining in (whole, replace(whole, end=whole.end - 1.0)):
        ends = [angle - pi / 2 for angle in (lining.start, lining.end)]
        directions = rub_at(lining)
        assert ends[0] < directions[0] < directions[1] < directions[2] < ends[1]
    assert rub_at(whole) == pytest.approx(AT, abs=1e-3)
