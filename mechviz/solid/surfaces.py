"""Surfaces as a picture draws them: with normals that are smooth along wires, and with the edges that are seen."""

import numpy as np
from numpy.typing import NDArray

from mechviz.solid.frames import SPRINGS
from mechviz.solid.making import CREASE
from mechviz.solid.solid import Mesh, Solid

Pairs = NDArray[np.int32]


def surface(solid: Solid) -> Mesh:
    """Return a solid's mesh; a wire of few sides looks round."""
    if solid.body not in SPRINGS:
        return solid.mesh()
    mesh = solid.shape.calculate_normals(0, 180.0).to_mesh()
    columns = np.asarray(mesh.vert_properties, dtype=np.float64)
    return Mesh(columns[:, :3], columns[:, 3:6], np.asarray(mesh.tri_verts, dtype=np.int32))


def creases(mesh: Mesh, angle: float = CREASE) -> Pairs:
    """Return the edges (n, 2), as indices of points, at which a closed surface bends by more than ``angle`` degrees."""
    _, place = np.unique(mesh.points, axis=0, return_inverse=True)
    corners = place.reshape(-1)[mesh.triangles]
    sides = np.concatenate([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]])
    ends = np.concatenate([mesh.triangles[:, [0, 1]], mesh.triangles[:, [1, 2]], mesh.triangles[:, [2, 0]]])
    face = np.tile(np.arange(len(corners)), 3)
    low, high = sides.min(axis=1), sides.max(axis=1)
    order = np.lexsort((high, low))
    first, second = order[0::2], order[1::2]  # a closed surface has every edge twice
    flat = _face_normals(mesh)
    bend = np.einsum("ij,ij->i", flat[face[first]], flat[face[second]])
    return ends[first[bend < np.cos(np.radians(angle))]]


def stripes(mesh: Mesh) -> Pairs:
    """Return two lines along a round bar (2, 2), as indices of points: they show that it turns."""
    side = np.flatnonzero(np.abs(mesh.normals[:, 2]) < 0.5)
    z = mesh.points[side, 2]
    low, high = side[z < z.mean()], side[z > z.mean()]
    return np.array([[end[pick(mesh.points[end, 0])] for end in (low, high)] for pick in (np.argmin, np.argmax)])


def _face_normals(mesh: Mesh) -> NDArray[np.float64]:
    a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    size = np.linalg.norm(normal, axis=1, keepdims=True)
    return normal / np.where(size > 0, size, 1.0)
