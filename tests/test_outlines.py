"""The outlines: sound at every state, true where parts touch, clear where they must not."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely

from geometry.brake import SIDES, Brake, turn_sense
from geometry.condition import Condition, contact, heel_angle, tip_angle
from geometry.errors import AssemblyError
from geometry.found import condition_of
from geometry.interference import interferences
from geometry.kinematics import Poses, free_stroke, solve_poses
from geometry.lining import thickness_at
from geometry.outlines import PROPORTIONS, Outline, brake_outlines, deforming, deforming_points, pressed_lining
from geometry.outlines.cam import cam_form, cam_shape
from geometry.outlines.drum import drum_radii
from geometry.outlines.lining import lining_shape
from geometry.outlines.outline import Shape
from geometry.outlines.shapes import box, cut, disc, joined, points_in, sound
from geometry.outlines.spider import hub_radius
from geometry.polar_cam import ConstantRiseProfile, TableProfile
from geometry.pose_table import placed, pose_table
from geometry.setup import read_setup
from tests.brakes import BRAKE, DRUM, IN, fahrenheit, found, part
from tests.oracle import random_brakes
from tests.sweeps import sweep
from tests.test_oracle_agreement import pair_of

COARSE = 0.1
BUILT_IN = ("drive-16.5x7", "trailer-16.5x7", "steer-15x4", "worn-drive-16.5x7")


def table_cam() -> TableProfile:
    """A measured cam: its radius rises unevenly."""
    angle = np.linspace(0.0, 2.0, 9)
    radius = 0.6 * IN + 1.0 * IN * (angle / 2.0 + 0.04 * np.sin(np.pi * angle / 2.0))
    return TableProfile(tuple(angle.tolist()), tuple(radius.tolist()))


CAMS: dict[str, Brake] = {
    "involute": BRAKE,
    "roomy involute": part(BRAKE, "profile", tip_radius=1.6 * IN),
    "constant rise": replace(BRAKE, profile=ConstantRiseProfile(0.5 * IN, 0.6 * IN, 1.6 * IN)),
    "table": replace(BRAKE, profile=table_cam()),
    "rollers off the camshaft's height": part(BRAKE, "shoe", roller_distance=6.10 * IN),
}
CASES: dict[str, tuple[Brake, Condition]] = {
    **{name: (brake, found(brake)) for name, brake in CAMS.items()},
    "single anchor": (single := part(BRAKE, "shoe", anchor_spacing=0.0), found(single)),
    "close anchors": (close := part(BRAKE, "shoe", anchor_spacing=0.9 * IN), found(close)),
    "machined small": (small := part(BRAKE, "lining", arc_radius=8.1 * IN), found(small)),
    "machined large": (large := part(BRAKE, "lining", arc_radius=8.4 * IN), found(large)),
    "new": (BRAKE, found(thickness=0.75 * IN, diameter=16.5 * IN, free_stroke=0.4 * IN)),
    "worn": (BRAKE, found(thickness=0.25 * IN, diameter=16.62 * IN)),
    "hot": (BRAKE, found(temperature=fahrenheit(600.0))),
    "cold": (BRAKE, found(temperature=fahrenheit(-40.0))),
    "bolt": (bolt := part(BRAKE, "chamber", style="bolt", size="G"), found(bolt)),
    "unlisted chamber": (odd := part(BRAKE, "chamber", size="31", effective_area=31.0 * IN**2), found(odd)),
    "deep pivot": (deep := part(BRAKE, "linkage", pivot_depth=4 * IN), found(deep)),
}


def states(brake: Brake, condition: Condition, count: int = 9) -> Poses:
    """The whole stroke, with first contact among the states."""
    touch = float(free_stroke(brake, condition))
    strokes = np.sort(np.append(np.linspace(0.0, brake.chamber.rated_stroke, count), touch))
    return solve_poses(brake, condition, strokes)


def by_name(outlines: tuple[Outline, ...]) -> dict[str, Outline]:
    return {outline.name: outline for outline in outlines}


@cache
def parts(case: str, detail: float = COARSE) -> dict[str, Outline]:
    return by_name(brake_outlines(*CASES[case], parking=True, detail=detail))


def is_sound(shape: Shape) -> bool:
    return bool(shape.is_valid and not shape.is_empty and np.isfinite(shapely.get_coordinates(shape)).all())


def all_travel(brake: Brake, count: int) -> Poses:
    """Released with the cam anywhere from heel to tip: linings so thin that nothing else is in the way."""
    angles = np.linspace(heel_angle(brake), tip_angle(brake), count)
    return solve_poses(brake, Condition(1.0, DRUM, fahrenheit(70.0), angles), 0.0)


# Sound shapes


@pytest.mark.parametrize("case", CASES)
def test_every_outline_is_sound_in_every_state(case: str) -> None:
    brake, condition = CASES[case]
    poses = states(brake, condition)
    table = pose_table(brake, poses)
    outlines = parts(case)
    for outline in outlines.values():
        assert is_sound(outline.geometry), outline.name
        if outline.geometry.geom_type != "LineString":
            assert outline.geometry.area > 1.0, outline.name
    for k in np.flatnonzero(poses.reason == 0):
        for outline in outlines.values():
            assert is_sound(placed(outline, table, int(k))), (outline.name, k)


@pytest.mark.parametrize("case", CASES)
def test_each_solid_part_is_one_piece(case: str) -> None:
    pieces = {"bracket", "studs", "clamp_ring", "chamber_non_pressure", "parking_housing", "chamber_pressure"}
    for outline in parts(case).values():
        assert outline.geometry.geom_type in ("Polygon", "LineString") or outline.name in pieces, outline.name


@pytest.mark.parametrize("name", BUILT_IN)
def test_a_drawing_has_few_points(name: str) -> None:
    setup = read_setup(name)
    condition = condition_of(setup)
    total = sum(points_in(o.geometry) for o in brake_outlines(setup.brake, condition, parking=True))
    assert 2000 < total < 6000


def test_outlines_say_what_they_are() -> None:
    outlines = brake_outlines(*CASES["involute"], parking=True)
    names = [o.name for o in outlines]
    assert len(set(names)) == len(names)
    assert len({o.title for o in outlines}) == len(names)
    wanted = {"drum", "spider", "anchor_pin_left", "shoe_left_web", "shoe_right_platform", "lining_left", "s_cam"}
    wanted |= {"roller_right", "camshaft", "slack_adjuster", "clevis", "clevis_pin", "pushrod", "push_plate", "studs"}
    wanted |= {"chamber_pressure", "chamber_non_pressure", "clamp_ring", "air_port", "bracket", "axle_tube"}
    wanted |= {"diaphragm", "chamber_return_spring", "shoe_return_spring", "power_spring", "parking_housing"}
    assert wanted <= set(names)
    assert all(o.does.endswith(".") and o.does[0].isupper() and len(o.title) > 3 for o in outlines)


def test_the_parking_section_is_there_only_where_fitted() -> None:
    without = by_name(brake_outlines(*CASES["involute"], detail=COARSE))
    extra = set(parts("involute")) - set(without)
    assert extra == {"power_spring", "parking_plate", "parking_diaphragm", "parking_housing"}


def test_a_shared_anchor_pin_is_drawn_once() -> None:
    assert [n for n in parts("single anchor") if n.startswith("anchor_pin")] == ["anchor_pin_shared"]
    assert [n for n in parts("involute") if n.startswith("anchor_pin")] == ["anchor_pin_left", "anchor_pin_right"]


def test_outlines_scale_with_the_brake() -> None:
    small, large = (
        by_name(brake_outlines(brake, condition, detail=detail))
        for brake, condition, detail in ((BRAKE, found(), 0.02), (*scaled(2.0), 0.04))
    )
    for name in small:
        if name.startswith(("shoe", "lining", "roller", "drum", "s_cam", "spider", "anchor")):
            grown, before = (shapely.convex_hull(o[name].geometry).area for o in (large, small))
            assert grown == pytest.approx(4 * before, rel=1e-6), name


def scaled(factor: float) -> tuple[Brake, Condition]:
    f, b = factor, BRAKE
    shoe = {k: f * getattr(b.shoe, k) for k in ("cam_distance", "anchor_distance", "anchor_spacing", "roller_diameter")}
    shoe |= {k: f * getattr(b.shoe, k) for k in ("roller_spread", "roller_distance")}
    link = {k: f * v for k, v in vars(b.linkage).items()}
    cam = {k: f * v for k, v in vars(b.profile).items()}
    brake = part(part(part(b, "shoe", **shoe), "linkage", **link), "profile", **cam)
    brake = part(part(brake, "drum", diameter=f * b.drum.diameter), "lining", thickness=f * b.lining.thickness)
    brake = part(brake, "chamber", rated_stroke=f * b.chamber.rated_stroke)
    before = found()
    return brake, replace(
        before,
        lining_thickness=f * np.asarray(before.lining_thickness),
        drum_diameter=f * np.asarray(before.drum_diameter),
    )


# The cam


@pytest.mark.parametrize("kind", CAMS)
def test_every_roller_touches_the_cam_all_along_its_travel(kind: str) -> None:
    brake = CAMS[kind]
    poses = all_travel(brake, 61)
    assert not poses.reason[1:-1].any()
    table = pose_table(brake, poses)
    cam = replace(parts(kind)["s_cam"], geometry=cam_shape(brake, 1e-6))
    worst = 0.0
    for k in np.flatnonzero(poses.reason == 0):
        shape = placed(cam, table, int(k))
        for side in SIDES:
            centre = shapely.Point(table.matrices[f"roller_{side}"][k, 4:])
            assert not shape.contains(centre)
            worst = max(worst, abs(shape.distance(centre) - brake.shoe.roller_radius))
    assert worst < 1e-6


@pytest.mark.parametrize("kind", CAMS)
def test_the_cam_is_an_s(kind: str) -> None:
    brake = CAMS[kind]
    cam = cam_shape(brake, 0.001)
    turned = shapely.transform(cam, lambda p: -p)
    assert shapely.symmetric_difference(cam, turned).area < 1e-6
    hull = shapely.convex_hull(cam)
    nests = shapely.difference(hull, cam)
    big = [n for n in shapely.get_parts(nests) if n.area > 0.05 * cam.area]
    assert len(big) == 2
    assert cam.contains(shapely.Point(0.0, 0.0))
    form = cam_form(brake.profile, brake.shoe.roller_radius)
    assert form.nose_radius > 0.25
    assert form.tip_at == brake.profile.working[1]


def test_the_working_profile_is_the_exact_one() -> None:
    cam = cam_shape(BRAKE, 1e-6)
    for t in np.linspace(*BRAKE.profile.working, 50):
        assert cam.boundary.distance(shapely.Point(*BRAKE.profile.point(np.array(t)))) < 1e-6


def test_a_nose_has_its_full_radius_where_there_is_room() -> None:
    brake = CAMS["roomy involute"]
    assert cam_form(brake.profile, 0.5 * brake.shoe.roller_radius).nose_radius == pytest.approx(
        PROPORTIONS.nose * brake.profile.tip_radius
    )


# Linings


@pytest.mark.parametrize("case", CASES)
def test_a_lining_never_goes_through_the_drum_up_to_contact(case: str) -> None:
    brake, condition = CASES[case]
    touch = float(free_stroke(brake, condition))
    poses = solve_poses(brake, condition, np.append(np.linspace(0.0, touch, 6), np.nextafter(touch, 0.0)))
    table = pose_table(brake, poses)
    radius = drum_radii(brake, condition)[0]
    room = disc((0.0, 0.0), radius, 1e-5, hole=True)
    for name in ("lining_left", "lining_right"):
        for k in range(table.states):
            shape = placed(parts(case)[name], table, k)
            assert shapely.difference(shape, room).area < 1e-6
            assert np.hypot(*shapely.get_coordinates(shape).T).max() < radius + 1e-9


@pytest.mark.parametrize("case", CASES)
def test_a_lining_touches_the_drum_at_contact(case: str) -> None:
    brake, condition = CASES[case]
    at = contact(brake, *condition.arrays[:3])
    first = "left" if float(at.left) <= float(at.right) else "right"
    poses = solve_poses(brake, condition, free_stroke(brake, condition))
    fine = replace(parts(case)["lining_right"], geometry=lining_shape(brake, condition, 1e-6))
    if first == "left":
        mirror = shapely.transform(fine.geometry, lambda p: p * np.array([-1.0, 1.0]))
        fine = replace(fine, geometry=mirror, body="shoe_left")
    shape = placed(fine, pose_table(brake, poses), 0)
    reach = np.hypot(*shapely.get_coordinates(shape).T).max()
    assert reach == pytest.approx(drum_radii(brake, condition)[0], abs=1e-6)


@pytest.mark.parametrize("case", CASES)
def test_a_pressed_lining_stops_at_the_drum(case: str) -> None:
    brake, condition = CASES[case]
    poses = states(brake, condition, 5)
    table = pose_table(brake, poses)
    drum = parts(case)["drum"].geometry
    for k in np.flatnonzero(poses.reason == 0):
        for side in SIDES:
            shape = pressed_lining(brake, condition, table, int(k), side, COARSE)
            assert is_sound(shape)
            assert shapely.intersection(shape, drum).area < 1e-6
            free = placed(parts(case)[f"lining_{side}"], table, int(k))
            squeezed = max(0.0, -float(getattr(poses, side).gap_least[k]))
            assert -1e-9 < free.area - shape.area < squeezed * brake.new_radius * 2.2 + 1e-6


def test_the_worn_lining_tapers_as_the_solver_says() -> None:
    brake, condition = CASES["worn"]
    shape, lining = lining_shape(brake, condition, 1e-4), brake.lining
    at = contact(brake, *condition.arrays[:3])
    platform = brake.new_radius - lining.thickness
    thickness: list[float] = []
    for psi in (lining.start + 1e-6, lining.middle, lining.end - 1e-6):
        ray = shapely.LineString(np.outer([platform - 5, platform + 40], [np.sin(psi), -np.cos(psi)]))
        thickness.append(shapely.intersection(ray, shape).length)
        assert thickness[-1] == pytest.approx(float(thickness_at(lining, at.surface, brake.new_radius, psi)), abs=1e-3)
    assert thickness[1] == pytest.approx(0.25 * IN, abs=1e-3)
    assert thickness[0] > thickness[1]


def test_a_lining_worn_through_in_places_is_what_is_left() -> None:
    thin = [lining_shape(BRAKE, found(thickness=t), 0.01) for t in (0.5, 0.1, 0.02)]
    assert all(is_sound(shape) for shape in thin)
    assert thin[0].area > thin[1].area > thin[2].area > 0


# Clearances


@pytest.mark.parametrize("case", [c for c in CASES if c not in ("new", "cold")])
def test_the_shoes_clear_cam_hub_drum_and_each_other(case: str) -> None:
    brake, _ = CASES[case]
    poses = all_travel(brake, 41)
    table = pose_table(brake, poses)
    outlines = parts(case)
    hub = disc((0.0, 0.0), hub_radius(brake), COARSE)
    for k in np.flatnonzero(poses.reason == 0):
        cam = placed(outlines["s_cam"], table, int(k))
        webs = [placed(outlines[f"shoe_{side}_web"], table, int(k)) for side in SIDES]
        assert webs[0].distance(webs[1]) > 0.5
        for web in webs:
            assert web.distance(cam) > 0.5
            assert web.distance(hub) > 5.0


@pytest.mark.parametrize("case", CASES)
def test_pieces_of_a_shoe_meet_and_do_not_overlap(case: str) -> None:
    outlines = parts(case, 0.01)
    for side in SIDES:
        web, platform, lining = (
            outlines[n].geometry for n in (f"shoe_{side}_web", f"shoe_{side}_platform", f"lining_{side}")
        )
        assert web.distance(platform) < 0.02
        assert platform.distance(lining) < 0.02
        assert shapely.intersection(web, platform).area < 2e-4 * web.area
        assert shapely.intersection(platform, lining).area < 5e-3 * lining.area
        assert shapely.intersection(web, lining).area == 0


@pytest.mark.parametrize("case", CASES)
def test_pins_fit_their_holes(case: str) -> None:
    outlines = parts(case)
    for name, outline in outlines.items():
        if name.startswith("anchor_pin"):
            for side in SIDES:
                assert shapely.intersection(outline.geometry, outlines[f"shoe_{side}_web"].geometry).area < 1e-6
    length = CASES[case][0].linkage.arm_length
    pin = shapely.transform(outlines["clevis_pin"].geometry, lambda p: p + np.array([0.0, length]))
    assert shapely.intersection(pin, outlines["slack_adjuster"].geometry).area < 1e-6
    assert shapely.intersection(outlines["clevis_pin"].geometry, outlines["clevis"].geometry).area < 1e-6


@pytest.mark.parametrize("seed", sweep(range(3)))
def test_random_brakes(seed: int) -> None:
    touching = 0
    for oracle, expected in random_brakes(4000 + seed, 8):
        pair = pair_of(oracle, expected)
        brake, condition = pair.brake, pair.condition
        outlines = by_name(brake_outlines(brake, condition, parking=True, detail=COARSE))
        assert all(is_sound(o.geometry) for o in outlines.values())
        poses = states(brake, condition, 4)
        table = pose_table(brake, poses)
        whole = "s_cam" not in {i.moving for i in interferences(brake)}
        cam = replace(outlines["s_cam"], geometry=cam_shape(brake, 1e-6 if whole else COARSE))
        for k in (int(k) for k in np.flatnonzero(poses.reason == 0)):
            head = placed(cam, table, k)
            webs = [placed(outlines[f"shoe_{side}_web"], table, k) for side in SIDES]
            assert webs[0].distance(webs[1]) > 0.5
            assert min(web.distance(head) for web in webs) > 0.5
            for side in SIDES:
                gap = head.distance(shapely.Point(table.matrices[f"roller_{side}"][k, 4:]))
                assert gap > brake.shoe.roller_radius - 1e-6
                assert not whole or gap < brake.shoe.roller_radius + 1e-6
                touching += whole
    assert touching >= 10


# Deforming shapes


def test_deforming_shapes_keep_their_number_of_points() -> None:
    counts = {
        case: {n: p.shape[1] for n, p in deforming_points(CASES[case][0], states(*CASES[case])).items()}
        for case in ("involute", "single anchor", "deep pivot", "bolt")
    }
    assert len({tuple(sorted(c.items())) for c in counts.values()}) == 1


@pytest.mark.parametrize("case", CASES)
def test_the_diaphragm_keeps_its_length_and_follows_the_plate(case: str) -> None:
    brake, condition = CASES[case]
    poses = solve_poses(brake, condition, np.linspace(0.0, brake.chamber.rated_stroke, 21))
    poses = replace(poses, stroke=np.linspace(0.0, brake.chamber.rated_stroke, 21))
    points = deforming_points(brake, poses)["diaphragm"]
    length = np.hypot(*np.moveaxis(np.diff(points, axis=1), -1, 0))[:, 1:17].sum(axis=1)
    assert np.ptp(length) < 1e-6
    centre = points[:, points.shape[1] // 2, 0]
    np.testing.assert_allclose(np.diff(centre), brake.chamber.rated_stroke / 20, atol=1e-9)
    np.testing.assert_allclose(points[..., 1] + points[:, ::-1, 1], 2 * brake.linkage.axis_offset, atol=1e-9)


@pytest.mark.parametrize("case", ["involute", "deep pivot", "bolt", "unlisted chamber"])
def test_the_plate_and_the_diaphragm_stay_inside_the_chamber(case: str) -> None:
    brake, condition = CASES[case]
    poses = states(brake, condition, 11)
    table = pose_table(brake, poses)
    outlines = parts(case)
    halves = [outlines[f"chamber_{half}"].geometry for half in ("pressure", "non_pressure")]
    for k in (int(k) for k in np.flatnonzero(poses.reason == 0)):
        plate = placed(outlines["push_plate"], table, k)
        sheet = shapely.get_coordinates(deforming(brake, poses, k)["diaphragm"].geometry)[1:-1]
        for half in halves:
            assert shapely.intersection(plate, half).area < 1e-6
            assert half.distance(shapely.LineString(sheet)) > 0.2


def test_the_shoe_spring_stays_hooked_into_both_webs() -> None:
    brake, condition = CASES["involute"]
    poses = states(brake, condition)
    table = pose_table(brake, poses)
    for k in (int(k) for k in np.flatnonzero(poses.reason == 0)):
        line = shapely.get_coordinates(deforming(brake, poses, k)["shoe_return_spring"].geometry)
        for side, end in zip(SIDES, (line[0], line[-1]), strict=True):
            assert turn_sense(side) * end[0] > 0
            web = placed(parts("involute")[f"shoe_{side}_web"], table, k)
            eyes = [shapely.Polygon(ring) for ring in shapely.get_rings(web)[1:]]
            assert min(eye.centroid.distance(shapely.Point(end)) for eye in eyes) < 0.05


# Tools


def test_set_operations_refuse_what_is_not_sound() -> None:
    square, far = box(0, 0, 1, 1), box(5, 5, 6, 6)
    assert cut("part", joined("part", square, far), far).area == pytest.approx(1.0)
    with pytest.raises(AssemblyError, match="no shape that could be made"):
        cut("part", square, box(-1, -1, 2, 2))
    with pytest.raises(AssemblyError, match="part"):
        sound(shapely.Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), "part")
