"""The solids: closed, as large as their outlines say, standing where the pose table says, through nothing."""

from functools import cache
from itertools import combinations

import numpy as np
import pytest
import pyvista as pv
import shapely

from geometry.found import condition_of
from geometry.kinematics import solve_poses
from geometry.outlines import Outline, brake_outlines
from geometry.outlines.shapes import chords
from geometry.pose_table import pose_table
from geometry.setup import Setup, read_setup
from geometry.states import events
from mechviz.solid.apart import share_of, shift, way_of
from mechviz.solid.assembly import brake_solids, sheets
from mechviz.solid.fineness import FILM, MOVING, STILL, Fineness
from mechviz.solid.frames import WHEEL_BODIES, frames
from mechviz.solid.look_for import LOOK_FOR
from mechviz.solid.places import places
from mechviz.solid.solid import Solid
from tests.drawing.scenes import BUILT_IN, WORN, setup, unlike
from tests.sweeps import only, sweep

SHELLS = ("chamber_non_pressure", "clamp_ring")


@cache
def solids(name: str, fineness: Fineness = FILM) -> dict[str, Solid]:
    read = setup(name)
    made = brake_solids(read.brake, condition_of(read), parking=True, fineness=fineness)
    return {solid.name: solid for solid in made}


@cache
def outlines(name: str) -> dict[str, Outline]:
    read = setup(name)
    found = brake_outlines(read.brake, condition_of(read), parking=True, detail=FILM.small)
    return {outline.name: outline for outline in found}


def surface(solid: Solid) -> pv.PolyData:
    mesh = solid.mesh()
    faces = np.column_stack([np.full(len(mesh.triangles), 3), mesh.triangles]).ravel()
    return pv.PolyData(mesh.points, faces).clean(tolerance=0.0)


@pytest.mark.parametrize("fineness", [FILM, MOVING], ids=["film", "moving"])
@pytest.mark.parametrize("name", sweep(BUILT_IN))
def test_every_solid_is_closed_and_its_normals_point_out(name: str, fineness: Fineness) -> None:
    for solid in solids(name, fineness).values():
        mesh = surface(solid)
        assert mesh.n_open_edges == 0, solid.name
        assert mesh.volume == pytest.approx(solid.volume, rel=1e-4), solid.name  # negative if inside out
        assert mesh.volume > 0, solid.name
        mesh = solid.mesh()
        a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
        outward = np.cross(b - a, c - a)
        middle = mesh.normals[mesh.triangles].mean(axis=1)
        assert (np.einsum("ij,ij->i", outward, middle) >= -1e-6).all(), solid.name


def test_all_outlines_have_a_solid_and_every_solid_says_what_it_is() -> None:
    made = solids(WORN)
    assert set(outlines(WORN)) <= set(made)
    for solid in made.values():
        assert solid.title
        assert solid.does.endswith(".")
        assert way_of(solid.name) is not None
    assert all(words == "" or words.endswith(".") for words in LOOK_FOR.values())


@pytest.mark.parametrize("name", only(BUILT_IN, unlike))
def test_a_browser_gets_fewer_than_15000_triangles(name: str) -> None:
    assert sum(solid.triangles for solid in solids(name, MOVING).values()) < 15_000
    assert sum(solid.triangles for solid in solids(name, STILL).values()) > 100_000


def prisms(name: str) -> dict[str, float]:
    """What a part has along the shaft, by name: its volume is that times its outline's area."""
    where, width = places(setup(name).brake), setup(name).brake.lining.width
    web = sum(high - low for low, high in where.webs)
    long = {"spider": where.spider[1] - where.spider[0], "axle_tube": where.axle[1] - where.axle[0]}
    for side in ("left", "right"):
        long |= {f"shoe_{side}_web": web, f"shoe_{side}_platform": width}
        long |= {f"anchor_pin_{side}": where.pins[1] - where.pins[0]}
    return long | {"camshaft_end": where.shaft_end[1] - where.shaft_end[0]}


@pytest.mark.parametrize("name", sweep(BUILT_IN))
def test_a_prism_is_as_large_as_its_outline_times_its_width(name: str) -> None:
    for part, long in prisms(name).items():
        expected = outlines(name)[part].geometry.area * long
        assert solids(name)[part].volume == pytest.approx(expected, rel=1e-6), part


@pytest.mark.parametrize("name", sweep(BUILT_IN))
def test_what_is_turned_is_as_large_as_pappus_says(name: str) -> None:
    """The second theorem of Pappus: area of the half section times the way of its centroid."""
    axis = setup(name).brake.linkage.axis_offset
    for part, about in {"chamber_non_pressure": axis, "clamp_ring": axis, "push_plate": 0.0, "pushrod": 0.0}.items():
        whole = outlines(name)[part].geometry
        low, _, high, top = whole.bounds
        half = shapely.intersection(whole, shapely.box(low, about, high, top))
        around = chords(top - about, 2 * np.pi, FILM.detail if part in SHELLS else FILM.small)
        expected = around * np.sin(2 * np.pi / around) * (half.centroid.y - about) * half.area  # 2 pi for a true round
        assert solids(name)[part].volume == pytest.approx(expected, rel=1e-4), part


@pytest.mark.parametrize("name", sweep(BUILT_IN))
def test_linings_are_as_large_as_they_are_worn_less_their_gap_and_their_holes(name: str) -> None:
    read = setup(name)
    whole = outlines(name)["lining_right"].geometry.area * read.brake.lining.width
    drilled, undrilled = solids(name)["lining_right"].volume, solids(name, MOVING)["lining_right"].volume
    assert 0.97 * whole < undrilled < whole
    assert 0.93 * whole < drilled < undrilled


def assembled(read: Setup, index: int, stroke: list[float]) -> dict[str, tuple[object, str]]:
    poses = solve_poses(read.brake, condition_of(read), stroke)
    placed = frames(read.brake, poses, places(read.brake))
    bent = sheets(read.brake, poses, index, parking_out=0.0, fineness=FILM)
    return {
        name: (bent.get(name, solid.shape).transform(placed[solid.body][index][:3]), solid.body)
        for name, solid in solids(WORN).items()
    }


JOINED = {
    frozenset(pair)
    for pair in (
        ("s_cam", "camshaft"), ("camshaft", "camshaft_end"), ("slack_adjuster", "camshaft_end"),
        ("slack_adjuster", "camshaft"), ("spider", "camshaft"), ("shaft_tube", "camshaft"), ("pushrod", "clevis"),
        ("pushrod", "push_plate"), ("push_plate", "diaphragm"), ("clevis", "clevis_pin"),
        ("shoe_left_web", "roller_left"), ("shoe_right_web", "roller_right"),
        ("lining_left", "drum"), ("lining_right", "drum"), ("parking_plate", "parking_diaphragm"),
        ("parking_plate", "power_spring"), ("push_plate", "chamber_return_spring"),
        ("shoe_left_web", "shoe_return_spring"), ("shoe_right_web", "shoe_return_spring"),
    )
}  # fmt: skip
"""Moving parts that sit in one another, or that the model presses into one another by a few hundredths of a mm."""


@pytest.mark.parametrize("event", sweep((2, 1, 0)))
def test_no_moving_part_goes_through_another(event: int) -> None:
    read = setup(WORN)
    stroke = [float(s.stroke or 0.0) for s in events(read.brake, condition_of(read), read.test.pressure)]
    placed = assembled(read, event, stroke)
    for (a, (one, body)), (b, (other, second)) in combinations(placed.items(), 2):
        if body == second or frozenset((a, b)) in JOINED:
            continue
        if body.startswith("ground") and second.startswith("ground"):
            continue
        assert (one ^ other).volume() < 1.0, f"{a} and {b}"


def test_the_cam_touches_its_rollers_and_the_linings_the_drum() -> None:
    read = setup("drive-16.5x7")
    touch = [float(s.stroke or 0.0) for s in events(read.brake, condition_of(read), read.test.pressure)]
    poses = solve_poses(read.brake, condition_of(read), touch)
    placed = frames(read.brake, poses, places(read.brake))
    made = {n: s.shape.transform(placed[s.body][1][:3]) for n, s in solids("drive-16.5x7").items()}
    for side in ("left", "right"):
        assert made["s_cam"].min_gap(made[f"roller_{side}"], 10.0) < 2 * FILM.small
    assert min(made["drum"].min_gap(made[f"lining_{side}"], 10.0) for side in ("left", "right")) < 2 * FILM.small


def test_bodies_stand_where_the_pose_table_says() -> None:
    read = read_setup(WORN)
    poses = solve_poses(read.brake, condition_of(read), [0.0, 20.0, 45.0])
    rows, placed = pose_table(read.brake, poses).matrices, frames(read.brake, poses, places(read.brake))
    for body, row in rows.items():
        flat = np.array([[3.0, -7.0, 0.0, 1.0], [0.0, 11.0, 0.0, 1.0]])
        found = np.einsum("nij,kj->nki", placed[body], flat)
        a, b, c, d, e, f = row.T
        x = a[:, None] * flat[:, 0] + c[:, None] * flat[:, 1] + e[:, None]
        y = b[:, None] * flat[:, 0] + d[:, None] * flat[:, 1] + f[:, None]
        if body in WHEEL_BODIES:
            assert np.allclose(found[..., :2], np.stack([x, y], axis=-1), atol=1e-9), body
        else:
            assert np.allclose(found[..., 0], -x, atol=1e-9), body
            assert np.allclose(found[..., 1], y + read.brake.shoe.cam_distance, atol=1e-9), body
        assert np.allclose(np.linalg.det(placed[body][:, :3, :3]), 1.0), body  # turned, never mirrored


def test_seen_from_the_chamber_the_arm_turns_counter_clockwise_with_the_cam() -> None:
    read = read_setup("drive-16.5x7")
    poses = solve_poses(read.brake, condition_of(read), [0.0, 10.0])
    placed = frames(read.brake, poses, places(read.brake))
    for body in ("cam", "arm"):
        turn = placed[body][1, :3, :3] @ placed[body][0, :3, :3].T
        angle = np.arctan2(turn[1, 0], turn[0, 0])
        assert angle == pytest.approx(float(poses.cam_turn[1]), abs=1e-9), body
        assert angle > 0
    assert placed["arm"][0][2, 3] > placed["cam"][0][2, 3]  # the arm is on the chamber's side


def test_springs_stay_between_their_seats() -> None:
    read = read_setup(WORN)
    poses = solve_poses(read.brake, condition_of(read), [0.0, 45.0])
    placed = frames(read.brake, poses, places(read.brake))
    made = solids(WORN)
    for n in (0, 1):
        spring = made["chamber_return_spring"].shape.transform(placed["chamber_return_spring"][n][:3])
        plate = made["push_plate"].shape.transform(placed["plate"][n][:3])
        shell = made["chamber_non_pressure"].shape.transform(placed["ground_arm"][n][:3])
        assert (spring ^ shell).volume() < 1.0
        assert spring.min_gap(plate, 20.0) < 4.0
    ends = [placed["shoe_return_spring"][n] for n in (0, 1)]
    assert np.linalg.norm(ends[1][:3, 0]) > np.linalg.norm(ends[0][:3, 0])  # the applied brake stretches it


def test_taken_apart_no_part_stands_in_another() -> None:
    read = setup(WORN)
    condition = condition_of(read)
    poses = solve_poses(read.brake, condition, [0.0])
    placed = frames(read.brake, poses, places(read.brake))
    made: dict[str, object] = {}
    for name, solid in solids(WORN).items():
        matrix = placed[solid.body][0].copy()
        matrix[:3, 3] += shift(read.brake, name)
        made[name] = solid.shape.transform(matrix[:3])
    together = {
        frozenset(pair) for pair in (("axle_tube", "bracket"), ("axle_tube", "spindle"), ("axle_tube", "shaft_tube"))
    }
    apart = [pair for pair in combinations(made, 2) if frozenset(pair) not in together and not _one(*pair)]
    for a, b in apart:
        assert (made[a] ^ made[b]).volume() < 1.0, f"{a} and {b}"


def _one(a: str, b: str) -> bool:
    """Whether two parts go the same way: they stay together."""
    return way_of(a) == way_of(b)


def test_a_part_goes_its_way_within_its_own_time() -> None:
    way = way_of("drum")
    shares = share_of(way, np.linspace(0.0, 1.0, 201))
    assert shares[0] == 0.0
    assert shares[-1] == 1.0
    assert (np.diff(shares) >= 0).all()
    assert share_of(way, way.begins) == 0.0
    assert share_of(way, way.ends) == 1.0
