"""Surfaces in one binary glTF file (GLB 2.0), small enough to go into a page.

Each surface is a node of its own with one mesh: its triangles, and its edges as lines over the same points. Points are
whole steps of a fixed length, normals bytes, as the extension KHR_mesh_quantization allows; the node's scale is the
step, mm.
"""

import json
import struct
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mechviz.solid.solid import Mesh
from mechviz.solid.surfaces import Pairs

STEP = 0.05
"""Points are rounded to this, mm."""
FARTHEST = STEP * np.iinfo(np.int16).max

BYTE, SHORT, UNSIGNED_SHORT = 5120, 5122, 5123
POINTS, INDICES = 34962, 34963
LINES, TRIANGLES = 1, 4


@dataclass
class _File:
    """The file on its way: the parts of its JSON, and its bytes."""

    nodes: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    meshes: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    accessors: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    views: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    data: bytearray = field(default_factory=bytearray)

    def put(self, values: NDArray[Any], target: int, accessor: Mapping[str, Any], stride: int | None = None) -> int:
        """Add an array; returns the number of its accessor."""
        raw = np.ascontiguousarray(values).tobytes()
        view = {"buffer": 0, "byteOffset": len(self.data), "byteLength": len(raw), "target": target}
        self.views.append(view | ({} if stride is None else {"byteStride": stride}))
        self.data += raw + b"\0" * (-len(raw) % 4)
        self.accessors.append({"bufferView": len(self.views) - 1, **accessor})
        return len(self.accessors) - 1


def glb(surfaces: Mapping[str, tuple[Mesh, Pairs]]) -> bytes:
    """Return surfaces (mm) and their edges, by name, as a GLB file. Raises ValueError for one too large for it."""
    file = _File()
    for name, (mesh, edges) in surfaces.items():
        _add(file, name, mesh, edges)
    asset = {"version": "2.0", "generator": "mechviz"}
    gltf = {
        "asset": asset,
        "extensionsUsed": ["KHR_mesh_quantization"],
        "extensionsRequired": ["KHR_mesh_quantization"],
        "scene": 0,
        "scenes": [{"nodes": list(range(len(file.nodes)))}],
        "nodes": file.nodes,
        "meshes": file.meshes,
        "accessors": file.accessors,
        "bufferViews": file.views,
        "buffers": [{"byteLength": len(file.data)}],
    }
    return _packed(json.dumps(gltf, separators=(",", ":")).encode("utf-8"), bytes(file.data))


def steps(mesh: Mesh) -> NDArray[np.int16]:
    """Return a surface's points as whole steps. Raises ValueError where they lie too far out."""
    if not np.all(np.abs(mesh.points) <= FARTHEST):
        raise ValueError(f"a surface reaches farther than {FARTHEST:.0f} mm from its frame's origin")
    return np.rint(mesh.points / STEP).astype("<i2")


def _add(file: _File, name: str, mesh: Mesh, edges: Pairs) -> None:
    points = steps(mesh)
    bounds = {"min": points.min(axis=0).tolist(), "max": points.max(axis=0).tolist()}
    count, three = len(points), {"type": "VEC3"}
    place = {"componentType": SHORT, "count": count, **three, **bounds}
    normal = {"componentType": BYTE, "normalized": True, "count": count, **three}
    attributes = {
        "POSITION": file.put(_wide(points), POINTS, place, 8),
        "NORMAL": file.put(_wide(np.rint(127 * mesh.normals).astype("i1")), POINTS, normal, 4),
    }
    primitives = [
        {"attributes": attributes, "mode": mode, "indices": _corners(file, corners)}
        for mode, corners in ((TRIANGLES, mesh.triangles), (LINES, edges))
        if len(corners)
    ]
    file.meshes.append({"primitives": primitives})
    file.nodes.append({"name": name, "mesh": len(file.meshes) - 1, "scale": [STEP] * 3})


def _corners(file: _File, corners: Pairs) -> int:
    return file.put(
        corners.astype("<u2").ravel(),
        INDICES,
        {"componentType": UNSIGNED_SHORT, "count": corners.size, "type": "SCALAR"},
    )


def _wide(rows: NDArray[Any]) -> NDArray[Any]:
    """Rows of three with a fourth that fills them up to whole words."""
    return np.concatenate([rows, np.zeros((len(rows), 1), dtype=rows.dtype)], axis=1)


def _packed(gltf: bytes, data: bytes) -> bytes:
    gltf += b" " * (-len(gltf) % 4)
    chunks = struct.pack("<I4s", len(gltf), b"JSON") + gltf + struct.pack("<I4s", len(data), b"BIN\0") + data
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks
