"""The stage: what is on it and where, what a picture of it shows, and that nothing of it stays behind."""

import gc
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from shapely.geometry import box
from vtkmodules.vtkCommonCore import vtkObjectBase

from geometry.found import condition_of
from geometry.kinematics import solve_poses
from mechviz.drawing.scene import found_scene
from mechviz.solid.dress import colour_of
from mechviz.solid.fineness import MOVING
from mechviz.solid.frames import frames
from mechviz.solid.labels import label_note
from mechviz.solid.shot import CHAMBER_SIDE, DRUM_SIDE, OUTSIDE, WHEEL_END, Shot, cut_half, shown
from mechviz.solid.stage import Pixels, Stage
from mechviz.solid.still import BOUNDS, still
from mechviz.solid.views import VIEWS, eye
from tests.drawing.scenes import WORN, setup

SIZE = (320, 180)
GOLDEN = Path(__file__).parent / "golden"
"""Renders at `SIZE`; `python -m tests.solid.golden` writes them anew. Look at them then."""
FAINT, PLAIN, FEW = 0.5, 40, 12
"""A render is like its golden one where it differs by less than `FAINT` on the average, of 255, and fewer than `FEW`
pixels by more than `PLAIN`: the average alone would pass a brake without a roller."""


def stage(shot: Shot, name: str = WORN, stroke: float = 30.0) -> Stage:
    read = setup(name)
    made = Stage(read.brake, condition_of(read), shot, SIZE, parking=True, fineness=MOVING)
    made.pose(solve_poses(read.brake, condition_of(read), [stroke]))
    made.look()
    return made


SHOTS = {
    "ghost": Shot(),
    "open": Shot(VIEWS["wheel-side"], hidden=OUTSIDE | WHEEL_END, ghost=frozenset()),
    "cut": Shot(cut=True, ghost=frozenset(), theme="dark"),
    "apart": Shot(VIEWS["wheel-side"], apart=1.0, ghost=frozenset(), hidden=OUTSIDE),
}


@pytest.mark.parametrize("name", SHOTS)
def test_a_render_is_like_its_golden_one(name: str) -> None:
    with stage(SHOTS[name]) as made:
        image = made.image()
    assert alike(image, np.asarray(Image.open(GOLDEN / f"{name}.png")))


def alike(one: Pixels, other: Pixels) -> bool:
    off = np.abs(one.astype(int) - other.astype(int))
    return bool(off.mean() < FAINT and (off.max(axis=2) > PLAIN).sum() < FEW)


def test_the_golden_limit_tells_a_missing_part() -> None:
    with stage(SHOTS["open"]) as made:
        whole = made.image()
        for part in ("roller_left", "roller_right", "anchor_pin_left", "shoe_return_spring", "s_cam"):
            made.actors[part].visibility = made.lines[part].visibility = False
            assert not alike(made.image(), whole), part
            made.actors[part].visibility = made.lines[part].visibility = True
        assert alike(made.image(), whole)


def test_every_part_has_its_actor_its_colour_and_its_place() -> None:
    shot = SHOTS["ghost"]
    with stage(shot) as made:
        assert set(made.actors) == {solid.name for solid in made.all if solid.name not in shot.hidden}
        read = setup(WORN)
        placed = frames(read.brake, solve_poses(read.brake, condition_of(read), [30.0]), made.where)
        for name, actor in made.actors.items():
            solid = made.solids[name]
            assert np.allclose(np.asarray(actor.user_matrix), placed[solid.body][0])
            assert actor.prop.color.hex_rgb.upper() == colour_of(solid, "light").upper()
            assert actor.prop.opacity == (pytest.approx(0.13) if name == "drum" else 1.0)
        low = solid_box(made, "lining_left")
        assert low[0] < -100
        assert solid_box(made, "chamber_pressure")[0] > 100  # the chamber is on +x, the pushrod goes to -x


def solid_box(made: Stage, name: str) -> np.ndarray:
    points = made.meshes[name].points @ made.matrices[name][:3, :3].T + made.matrices[name][:3, 3]
    return points.min(axis=0)


def test_cut_open_half_of_the_shells_is_left() -> None:
    with stage(Shot(), stroke=0.0) as whole, stage(Shot(cut=True), stroke=0.0) as cut:
        for name in (CHAMBER_SIDE | DRUM_SIDE) & whole.meshes.keys() - {"diaphragm", "parking_diaphragm"}:
            share = cut.meshes[name].clean().volume / whole.meshes[name].clean().volume
            assert 0.35 < share < 0.65, name
        assert cut.meshes["s_cam"].n_points == whole.meshes["s_cam"].n_points


@pytest.mark.parametrize("name", VIEWS)
def test_what_is_cut_away_is_on_the_eyes_side(name: str) -> None:
    view = VIEWS[name]
    x, _, z = cut_half("drum", view) or (0.0, 0.0, 0.0)
    assert np.dot((x, 0.0, z), view.direction) < 0
    plane = cut_half("chamber_pressure", view) or (0.0, 0.0, 0.0)
    assert -plane[2] * view.direction[2] <= 0 or abs(view.direction[2]) < 1e-9  # that frame looks the other way
    assert cut_half("s_cam", view) is None


def test_a_part_that_is_cut_away_whole_is_not_there() -> None:
    with stage(Shot(VIEWS["into-drum"], cut=True, ghost=frozenset(), hidden=OUTSIDE)) as made:
        assert "hub" not in made.actors
        assert "drum" in made.actors
        assert made.image().std() > 5


def test_what_is_seen_is_numbered_and_what_is_looked_through_hides_nothing() -> None:
    with stage(SHOTS["ghost"]) as made:
        numbers, names = made.seen()
        before = made.image()
        again, _ = made.seen()
        assert (numbers == again).all()
        assert (before == made.image()).all()
    seen = Counter(names.get(int(n), "") for n in numbers.ravel())
    assert seen["drum"] == 0
    assert seen["lining_left"] > 200
    assert seen["slack_adjuster"] > 50


def test_a_point_of_a_part_is_found_again() -> None:
    with stage(SHOTS["open"]) as made:
        numbers, names = made.seen()
        number = next(n for n, name in names.items() if name == "lining_right")
        y, x = (int(v) for v in np.argwhere(numbers == number)[len(np.argwhere(numbers == number)) // 2])
        point = made.point_at("lining_right", x, y)
        assert point is not None
        assert np.allclose(made.pixel_of("lining_right", point), (x, y), atol=1.0)
        assert made.point_at("lining_right", 1, 1) is None


@pytest.mark.parametrize("name", VIEWS)
def test_from_every_view_all_points_are_in_the_picture(name: str) -> None:
    rng = np.random.default_rng(7)
    points = rng.uniform([-300, -250, -200], [450, 420, 300], (200, 3))
    place, target = eye(VIEWS[name], points, 1.6)
    ahead = (target - place) / np.linalg.norm(target - place)
    assert np.allclose(ahead, -VIEWS[name].direction, atol=1e-9)
    right = np.cross(ahead, [0.0, 1.0, 0.0])
    right /= np.linalg.norm(right)
    up = np.cross(right, ahead)
    depth = (points - place) @ ahead
    half = np.tan(np.radians(9.0))
    across, high = ((points - place) @ right) / depth / (1.6 * half), ((points - place) @ up) / depth / half
    assert max(np.abs(across).max(), np.abs(high).max()) == pytest.approx(1 / 1.08, abs=1e-3)
    assert across.max() == pytest.approx(-across.min(), abs=0.02)
    assert high.max() == pytest.approx(-high.min(), abs=0.02)


def test_which_parts_are_off_follows_from_view_drum_and_wheel() -> None:
    assert shown(VIEWS["three-quarter"], None, False) == (OUTSIDE | {"hub"}, frozenset({"drum"}))
    assert shown(VIEWS["into-drum"], None, False) == (OUTSIDE | WHEEL_END, frozenset())
    assert shown(VIEWS["into-drum"], "whole", False) == (OUTSIDE, frozenset())
    assert shown(VIEWS["three-quarter"], None, True) == (frozenset(), frozenset())


def test_a_still_names_its_parts_on_no_part_and_on_no_other_name() -> None:
    made = still(found_scene(setup(WORN)), SHOTS["open"], "all")
    labels = next(note for note in made.notes if note.name == "labels")
    said = {text.words for text in labels.texts}
    assert {"S-cam", "slack adjuster", "pushrod", "roller", "shoe", "lining", "camshaft tube"} <= said
    boxes = [box(*text.box) for text in made.texts]
    for n, one in enumerate(boxes):
        assert one.within(box(0, 0, 1600, 900))
        assert not any(one.intersects(other) for other in boxes[:n])
    for text in labels.texts:
        assert text.box[0] >= BOUNDS[0] - 1
        assert text.box[2] <= BOUNDS[2] + 1
        assert not any(box(*text.box).intersects(shape) for shape in made.shapes.values())
    words = " ".join(text.lead + text.words for text in made.texts)
    assert "stroke 2.12 in" in words
    assert "fail: over the limit by 0.12 in" in words
    assert "Caution" in words


def test_no_label_without_a_place() -> None:
    assert label_note(()).texts == ()


def test_nothing_of_vtk_is_alive_after_a_render() -> None:
    with stage(Shot()) as made:  # whatever a first one leaves in VTK's own registers
        made.image()
    del made
    gc.collect()
    before = alive()
    for _ in range(3):
        with stage(Shot()) as made:
            made.image()
            made.seen()
        del made
    gc.collect()
    assert alive() - before == Counter()


def test_the_leak_check_finds_a_planted_leak() -> None:
    gc.collect()
    before = alive()
    kept = stage(Shot())
    assert (alive() - before).total() > 50
    kept.close()


def alive() -> Counter[str]:
    return Counter(type(thing).__name__ for thing in gc.get_objects() if isinstance(thing, vtkObjectBase))
