"""The solid view's data: surfaces in a file that any reader of glTF knows, what a defect changes of them, three.js."""

import json
import re
import struct
import zlib
from base64 import b64decode
from importlib.resources import files
from typing import Any

import numpy as np
import pytest
from manifold3d import Manifold

from geometry.arrays import Array
from geometry.defects import felt
from geometry.found import condition_of
from geometry.setup import read_setup
from mechviz.faults.study import every_row
from mechviz.page.glb import FARTHEST, STEP, glb
from mechviz.solid.apart import shift, way_of
from mechviz.solid.assembly import brake_solids
from mechviz.solid.fineness import MOVING
from mechviz.solid.solid import Mesh, Solid
from mechviz.solid.surfaces import creases, stripes, surface
from tests.page.conftest import Pages

WORN = "worn-drive-16.5x7"
KINDS = {5120: "<i1", 5122: "<i2", 5123: "<u2"}
MADE_BY_SCRIPT = {"lining_left", "lining_right", "diaphragm", "parking_diaphragm"}


def read_glb(data: bytes) -> dict[str, tuple[Array, Array, Array, Array]]:
    """Points (mm), normals, triangles and edges of every node, by the glTF standard: written apart from the writer."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    gltf = json.loads(data[20 : 20 + size])
    assert struct.unpack_from("<I4s", data, 20 + size) == (len(data) - 28 - size, b"BIN\0")
    raw = data[28 + size :]
    assert gltf["extensionsRequired"] == ["KHR_mesh_quantization"]

    def values(index: int) -> Array:
        accessor = gltf["accessors"][index]
        view = gltf["bufferViews"][accessor["bufferView"]]
        all_ = np.frombuffer(raw, KINDS[accessor["componentType"]], offset=view["byteOffset"])
        wide = view.get("byteStride", 0) // all_.itemsize
        if not wide:
            return all_[: accessor["count"]].astype(float)
        return all_[: wide * accessor["count"]].reshape(-1, wide)[:, :3].astype(float)

    found: dict[str, tuple[Array, Array, Array, Array]] = {}
    for node in gltf["nodes"]:
        parts = {part["mode"]: part for part in gltf["meshes"][node["mesh"]]["primitives"]}
        faces = parts[4]
        lines = values(parts[1]["indices"]).reshape(-1, 2) if 1 in parts else np.empty((0, 2))
        points = values(faces["attributes"]["POSITION"]) * node["scale"]
        normals = values(faces["attributes"]["NORMAL"]) / 127
        found[node["name"]] = (points, normals, values(faces["indices"]).reshape(-1, 3), lines)
    return found


def unpacked(text: str) -> bytes:
    return zlib.decompress(b64decode(text))


def volume(points: Array, triangles: Array) -> float:
    a, b, c = (points[triangles[:, k].astype(int)] for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


@pytest.fixture(scope="module")
def solids() -> dict[str, Solid]:
    setup = read_setup(WORN)
    found = brake_solids(setup.brake, condition_of(setup), parking=True, fineness=MOVING)
    return {solid.name: solid for solid in found}


def test_the_page_has_every_part_as_a_closed_surface_of_the_right_volume(
    pages: Pages, solids: dict[str, Solid]
) -> None:
    data = pages.data(WORN)["solid"]
    surfaces = read_glb(unpacked(data["glb"]))
    assert {name for name in surfaces if "/" not in name} == set(solids) - MADE_BY_SCRIPT
    for name in set(solids) - MADE_BY_SCRIPT:
        points, normals, triangles, _ = surfaces[name]
        _, place = np.unique(points, axis=0, return_inverse=True)
        corners = place.reshape(-1)[triangles.astype(int)]
        ways = np.sort(np.concatenate([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]]), axis=1)
        assert np.all(np.unique(ways, axis=0, return_counts=True)[1] % 2 == 0), f"{name} is open"
        rounded = 0.5 * STEP * solids[name].shape.surface_area()
        assert volume(points, triangles) == pytest.approx(solids[name].volume, abs=rounded), name
        assert np.linalg.norm(normals, axis=1) == pytest.approx(1.0, abs=0.02)
    assert sum(len(surfaces[name][2]) for name in solids if name in surfaces) < 15_000


def test_parts_say_what_they_are_and_how_they_come_apart(pages: Pages, solids: dict[str, Solid]) -> None:
    data = pages.data(WORN)["solid"]
    brake = read_setup(WORN).brake
    assert [part["name"] for part in data["parts"]] == list(solids)
    for part in data["parts"]:
        name = part["name"]
        solid, way = solids[name], way_of(name)
        told = [part[key] for key in ("title", "does", "lookFor", "verb", "body", "group")]
        assert told == [solid.title, solid.does, solid.look_for, solid.verb, solid.body, solid.group]
        assert (part["begins"], part["ends"]) == (way.begins, way.ends)
        assert data["space"]["away"][name] == pytest.approx(shift(brake, name), abs=1e-3)


def test_a_defect_brings_only_the_surfaces_that_it_changes(pages: Pages) -> None:
    data = pages.data(WORN)
    surfaces = read_glb(unpacked(data["solid"]["glb"]))
    patches: dict[str, Any] = {one["name"]: one["patch"].get("solid") for one in data["defects"]["list"]}
    assert patches["return-spring-broken"] is None  # other motion, the same parts
    assert patches["pushrod-too-long"] == {"meshes": {"pushrod": "pushrod-too-long/pushrod"}}
    small = patches["chamber-too-small"]
    assert {"chamber_pressure", "parking_housing", "push_plate"} <= set(small["meshes"])
    assert not {"drum", "s_cam", "shoe_left_web"} & set(small["meshes"])
    assert small["space"]["sheet"] != data["solid"]["space"]["sheet"]
    named = {name for patch in patches.values() if patch for name in patch.get("meshes", {}).values()}
    assert named == {name for name in surfaces if "/" in name}


def test_the_surface_of_a_defect_is_that_of_its_brake(pages: Pages) -> None:
    setup = read_setup(WORN)
    surfaces = read_glb(unpacked(pages.data(WORN)["solid"]["glb"]))
    brake, condition = felt(next(row.wheel for row in every_row(setup) if row.name == "arm-too-long"))
    made = {s.name: s for s in brake_solids(brake, condition, parking=True, fineness=MOVING)}
    points, _, triangles, _ = surfaces["arm-too-long/slack_adjuster"]
    assert volume(points, triangles) == pytest.approx(made["slack_adjuster"].volume, rel=4e-3)
    assert brake.linkage.arm_length > setup.brake.linkage.arm_length


def mesh_of(shape: Manifold) -> Mesh:
    return Solid("box", "hold", "", "", "", "ground_wheel", "axle", shape).mesh()


def test_edges_are_where_a_surface_bends() -> None:
    box = mesh_of(Manifold.cube((10.0, 20.0, 30.0)))
    edges = creases(box)
    assert len(edges) == 12
    lengths = np.linalg.norm(box.points[edges[:, 0]] - box.points[edges[:, 1]], axis=1)
    assert sorted(lengths) == [10.0] * 4 + [20.0] * 4 + [30.0] * 4
    bar = mesh_of(Manifold.cylinder(50.0, 8.0, 8.0, 24))
    assert len(creases(bar)) == 2 * 24  # its two rims, none of its chords
    ends = bar.points[stripes(bar)]
    assert np.ptp(ends[:, :, 2], axis=1) == pytest.approx([50.0, 50.0])
    assert ends[:, 0, :2] == pytest.approx(ends[:, 1, :2])


def test_wires_look_round_and_the_rest_has_sharp_edges(solids: dict[str, Solid]) -> None:
    spring, drum = surface(solids["shoe_return_spring"]), surface(solids["drum"])
    assert len(spring.points) < len(solids["shoe_return_spring"].mesh().points)  # corners shared, not parted
    assert len(drum.points) == len(solids["drum"].mesh().points)


def test_a_surface_too_large_for_the_file_is_refused() -> None:
    far = mesh_of(Manifold.cube((1.001 * FARTHEST, 1.0, 1.0)))
    with pytest.raises(ValueError, match="farther than 1638 mm"):
        glb({"far": (far, creases(far))})
    near = mesh_of(Manifold.cube((0.999 * FARTHEST, 1.0, 1.0)))
    points, *_ = read_glb(glb({"near": (near, creases(near))}))["near"]
    assert points.max() == pytest.approx(0.999 * FARTHEST, abs=STEP)


def test_three_is_the_pinned_one_and_gives_what_is_asked_for() -> None:
    folder = files("mechviz.page") / "three"
    bundle = (folder / "three.bundle.js").read_text(encoding="utf-8")
    pins = json.loads((folder / "package.json").read_text(encoding="utf-8"))["devDependencies"]
    lock = json.loads((folder / "package-lock.json").read_text(encoding="utf-8"))["packages"]
    assert {name: lock[f"node_modules/{name}"]["version"] for name in pins} == pins
    assert f'"{pins["three"].split(".")[1]}"' in bundle  # its revision
    given = set(re.findall(r"(?:as |[{,])(\w+)(?=[,}])", bundle[bundle.rindex("export{") :]))
    entry = (folder / "entry.js").read_text(encoding="utf-8")
    assert given == set(re.findall(r"^  (\w+),$", entry, re.MULTILINE))
    assert (folder / "LICENSE").read_text(encoding="utf-8").startswith("The MIT License")
