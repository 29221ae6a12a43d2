"""The solid view's data: every part as a surface, what it is, where it stands in space and how it comes apart.

Surfaces are sent once, those of a defect's brake only where they are others than the sound brake's. What changes its
form with the state is no surface: the linings, which wear, and the diaphragms are made by the script from what the
page has of them. Surfaces and three.js are packed (zlib, base64), and unpacked when the solid view is first opened.
"""

import zlib
from base64 import b64encode
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.setup import Setup
from mechviz.page.glb import glb, steps
from mechviz.page.space import space_data
from mechviz.solid.apart import way_of
from mechviz.solid.assembly import brake_solids
from mechviz.solid.dress import SHARES, WHEEL
from mechviz.solid.fineness import MOVING
from mechviz.solid.frames import SPRINGS
from mechviz.solid.shot import cut_half
from mechviz.solid.solid import Mesh, Solid
from mechviz.solid.surfaces import Pairs, creases, stripes, surface
from mechviz.solid.views import VIEWS, View

MADE = {"lining_left": "lining", "lining_right": "lining", "diaphragm": "sheet", "parking_diaphragm": "sheet"}
"""Parts that the script makes, and as what."""
RIVETS = ("rivets_left", "rivets_right")
BEFORE_CUT = View("", "before the chamber, beside the drum", 0.7, 0.3)
"""Where the eye is led when the page cuts the brake open."""


@dataclass
class SolidView:
    """The solids of a sound brake, and beside them what is another in brakes with a defect."""

    setup: Setup
    sound: tuple[Solid, ...]
    surfaces: dict[str, Mesh]
    space: dict[str, Any]
    added: dict[str, Mesh] = field(default_factory=dict[str, Mesh])

    def patch(self, defect: str, brake: Brake, condition: Condition) -> dict[str, Any]:
        """Return what another brake has of its own: ``space``, and by part the surface that it takes (``meshes``)."""
        others = _surfaces(_solids(self.setup, brake, condition))
        changed = {name: mesh for name, mesh in others.items() if not _same(mesh, self.surfaces[name])}
        self.added |= {f"{defect}/{name}": mesh for name, mesh in changed.items()}
        space = space_data(brake, [solid.name for solid in self.sound])
        mine = {name: value for name, value in space.items() if value != self.space[name]}
        meshes = {name: f"{defect}/{name}" for name in changed}
        return {name: part for name, part in (("space", mine), ("meshes", meshes)) if part}

    def data(self) -> dict[str, Any]:
        """Return the data, with the surfaces of every patch that was asked for."""
        every = self.surfaces | self.added
        return {
            "three": three_bundle(),
            "glb": packed(glb({name: (mesh, _edges(name, mesh)) for name, mesh in every.items()})),
            "parts": [_part(solid) for solid in self.sound],
            "space": self.space,
            "views": [_view(view) for view in VIEWS.values()],
            "shares": {**SHARES, "wheel": WHEEL},
        }


def solid_view(setup: Setup, condition: Condition) -> SolidView:
    """Return the solid view of a setup's brake in one condition. Raises `AssemblyError` for what cannot be made."""
    solids = _solids(setup, setup.brake, condition)
    return SolidView(setup, solids, _surfaces(solids), space_data(setup.brake, [solid.name for solid in solids]))


@cache
def three_bundle() -> str:
    """Return three.js as an ES module, packed."""
    return packed((files("mechviz.page") / "three" / "three.bundle.js").read_bytes())


def packed(data: bytes) -> str:
    """Return bytes as the page holds them: zlib's format, base64."""
    return b64encode(zlib.compress(data, 9)).decode("ascii")


def _solids(setup: Setup, brake: Brake, condition: Condition) -> tuple[Solid, ...]:
    return brake_solids(brake, condition, parking=setup.parking is not None, fineness=MOVING)


def _surfaces(solids: tuple[Solid, ...]) -> dict[str, Mesh]:
    return {solid.name: surface(solid) for solid in solids if solid.name not in MADE}


def _edges(name: str, mesh: Mesh) -> Pairs:
    """The edges that are drawn: none of wires and rivets; a plain round shaft has lines along it besides."""
    part = name.rsplit("/", 1)[-1]
    if part in SPRINGS or part in RIVETS:
        return np.empty((0, 2), dtype=np.int32)
    edges = creases(mesh)
    return np.concatenate([edges, stripes(mesh)]) if part == "camshaft" else edges


def _same(one: Mesh, other: Mesh) -> bool:
    """Whether two surfaces are the same in the page's file."""
    return (
        one.triangles.shape == other.triangles.shape
        and one.points.shape == other.points.shape
        and bool((one.triangles == other.triangles).all())
        and bool((steps(one) == steps(other)).all())
    )


def _view(view: View) -> Mapping[str, Any]:
    return {"name": view.name, "words": view.words, "yaw": round(view.turn, 6), "pitch": round(view.tilt, 6)}


def _part(solid: Solid) -> Mapping[str, Any]:
    way = way_of(solid.name)
    return {
        "name": solid.name,
        "title": solid.title,
        "does": solid.does,
        "lookFor": solid.look_for,
        "verb": solid.verb,
        "body": solid.body,
        "group": solid.group,
        "made": MADE.get(solid.name, "surface"),
        "open": cut_half(solid.name, BEFORE_CUT),
        "begins": way.begins,
        "ends": way.ends,
    }
