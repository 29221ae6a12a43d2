"""What a solid is: one part's closed mesh in its own frame, and what a picture needs to know about it."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from manifold3d import Manifold
from numpy.typing import NDArray

from geometry.arrays import Array
from geometry.outlines import Verb
from mechviz.solid.making import CREASE

Group = Literal["wheel", "drum", "lining", "shoe", "cam", "spider", "axle", "arm", "rod", "chamber", "parking"]
"""What comes off together when the brake is taken apart."""


@dataclass(frozen=True)
class Mesh:
    """A closed surface: ``points`` (n, 3) mm, ``normals`` (n, 3), ``triangles`` (m, 3), outward.

    Points at a sharp edge stand once for every face that meets there, so that it looks sharp.
    """

    points: Array
    normals: Array
    triangles: NDArray[np.int32]


@dataclass(frozen=True)
class Solid:
    """One part as a solid.

    Parameters
    ----------
    name : str
        The outline's name where one outline makes the part, else a name of its own.
    verb, title, does : str
        As for an outline: what it does in the chain of motion, what it is, and one sentence on what it does.
    look_for : str
        What an inspector looks for; empty for a part that is there for its surroundings only.
    body : str
        The rigid body that carries it (`mechviz.solid.frames`).
    group : str
        What it comes off with.
    shape : Manifold
        In the body's own frame, mm.

    """

    name: str
    verb: Verb
    title: str
    does: str
    look_for: str
    body: str
    group: Group
    shape: Manifold

    @property
    def volume(self) -> float:
        """In mm**3."""
        return self.shape.volume()

    @property
    def triangles(self) -> int:
        """How many triangles its surface has."""
        return self.shape.num_tri()

    def mesh(self) -> Mesh:
        """Return the surface with normals that are sharp where the part has an edge."""
        mesh = self.shape.calculate_normals(0, CREASE).to_mesh()
        columns = np.asarray(mesh.vert_properties, dtype=np.float64)
        corners = np.asarray(mesh.tri_verts, dtype=np.int32)
        return Mesh(columns[:, :3], columns[:, 3:6], corners)
