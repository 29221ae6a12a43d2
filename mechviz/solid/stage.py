"""The solid brake on a stage: PyVista's actors, posed by matrices, looked at by a camera, taken as pictures.

A stage holds VTK objects, which crash a process that has no OpenGL: make one only where `mechviz.solid.gl` says that
it can, and in a process of its own where anything else lives beside it. Close it when done: `with Stage(...)`.
"""

from collections.abc import Generator, Iterable, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

import numpy as np
import pyvista as pv
from numpy.typing import NDArray
from vtkmodules.vtkCommonCore import vtkLogger

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.kinematics import Poses
from mechviz.look.colours import colours
from mechviz.solid.apart import share_of, shift, way_of
from mechviz.solid.assembly import brake_solids, sheets
from mechviz.solid.dress import GHOST, colour_of
from mechviz.solid.fineness import STILL, Fineness
from mechviz.solid.frames import frames
from mechviz.solid.places import places
from mechviz.solid.shot import Shot, cut_half
from mechviz.solid.solid import Mesh, Solid
from mechviz.solid.views import ANGLE, View, eye

vtkLogger.SetStderrVerbosity(vtkLogger.VERBOSITY_ERROR)  # else it warns of a display that nobody needs

Pixels = NDArray[np.uint8]
EDGE, EDGE_SHOWS, EDGE_OF_GHOST = 1.3, 0.85, 0.30
"""Width (pixels at a height of 900) and strength of the lines along edges."""
AMBIENT, DIFFUSE = 0.32, 0.80
"""How bright parts are where no light falls on them, and how much brighter in the light."""
AROUND = floats([[x, y, z] for x in (-1, 0, 1) for y in (-1, 0, 1) for z in (-1, 0, 1) if (x, y, z) != (0, 0, 0)])
"""Directions in which a part's outermost points are looked for."""
SHARP = 34.0
"""Edges that bend by more (degrees) are drawn."""


class Stage:
    """One brake as solids, from one pose to the next.

    Parameters
    ----------
    brake, condition : Brake, Condition
        What is shown.
    shot : Shot
        Which parts are shown and how; `dress` changes that.
    size : tuple of int
        Width and height in pixels.
    parking : bool
        Whether a parking section is fitted.
    fineness : Fineness
        How fine the surfaces are.
    window : bool
        Whether it is to be opened in a window.

    """

    def __init__(
        self,
        brake: Brake,
        condition: Condition,
        shot: Shot,
        size: tuple[int, int] = (1600, 900),
        *,
        parking: bool = False,
        fineness: Fineness = STILL,
        window: bool = False,
    ) -> None:
        self.brake, self.shot, self.size, self.fineness = brake, shot, size, fineness
        self.where = places(brake)
        self.parking = parking
        self.all = brake_solids(brake, condition, parking=parking, fineness=fineness)
        self.solids: dict[str, Solid] = {}
        self.plotter: Any = pv.Plotter(off_screen=not window, window_size=list(size), lighting="none")
        self._made: dict[tuple[str, tuple[float, float, float] | None], tuple[pv.PolyData, pv.PolyData]] = {}
        self.meshes: dict[str, pv.PolyData] = {}
        self.edges: dict[str, pv.PolyData] = {}
        self.actors: dict[str, Any] = {}
        self.lines: dict[str, Any] = {}
        self.matrices: dict[str, Array] = {}
        self._light()
        self.dress(shot)
        if not window:  # there it would cost more than it shows
            self.plotter.enable_anti_aliasing("ssaa")

    def __enter__(self) -> "Stage":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Give back all that VTK holds."""
        self._forget()
        self._made.clear()
        self.plotter.close()
        self.plotter.deep_clean()

    def dress(self, shot: Shot) -> None:
        """Show the parts as in a shot; where they stand, `pose` says."""
        for held in (self.actors, self.lines):
            for actor in held.values():
                self.plotter.remove_actor(actor, reset_camera=False, render=False)
        self._forget()
        self.shot = shot
        shown = [solid for solid in self.all if shot.shows(solid)]
        self.solids = {solid.name: solid for solid in shown if not self._shape(solid).shape.is_empty()}
        for solid in self.solids.values():
            self._add(solid)

    def _forget(self) -> None:
        for held in (self.actors, self.lines, self.meshes, self.edges, self.matrices):
            held.clear()

    def _light(self) -> None:
        found = colours(self.shot.theme)
        self.plotter.set_background(found["paper"])
        for place, strength in (((-0.4, 0.9, 0.8), 0.72), ((0.9, 0.2, 0.5), 0.34), ((0.0, -0.6, 0.4), 0.16)):
            light = pv.Light(light_type="camera light", intensity=strength)
            light.position = place
            light.focal_point = (0.0, 0.0, 0.0)
            self.plotter.add_light(light)

    def _add(self, solid: Solid) -> None:
        ghost = solid.name in self.shot.ghost
        key = solid.name, cut_half(solid.name, self.shot.view) if self.shot.cut else None
        if key not in self._made:
            shape = polydata(self._shape(solid).mesh())
            self._made[key] = shape, _edges(shape)
        mesh, edges = self._made[key]
        body = self.plotter.add_mesh(
            mesh,
            color=colour_of(solid, self.shot.theme),
            opacity=GHOST if ghost else 1.0,
            smooth_shading=False,
            ambient=AMBIENT,
            diffuse=DIFFUSE,
            specular=0.10,
            specular_power=12,
            name=solid.name,
            reset_camera=False,
            render=False,
        )
        body.prop.interpolation = "Phong"
        self.meshes[solid.name], self.actors[solid.name] = mesh, body
        if edges.n_points:
            self._outline(solid.name, edges, EDGE_OF_GHOST if ghost else EDGE_SHOWS)

    def _outline(self, name: str, edges: pv.PolyData, shows: float) -> None:
        """Draw the lines along a part's edges."""
        self.lines[name] = self.plotter.add_mesh(
            edges,
            color=colours("light")["ink"] if self.shot.theme != "dark" else colours("dark")["paper"],
            line_width=EDGE * self.size[1] / 900,
            opacity=shows,
            lighting=False,
            pickable=False,
            name=f"{name}-edges",
            reset_camera=False,
            render=False,
        )
        self.edges[name] = edges

    def _shape(self, solid: Solid) -> Solid:
        """The part as the shot shows it: whole or cut."""
        half = cut_half(solid.name, self.shot.view) if self.shot.cut else None
        if half is None:
            return solid
        return replace(solid, shape=solid.shape.trim_by_plane(half, 0.0))

    def pose(
        self,
        poses: Poses,
        index: int = 0,
        *,
        apart: float | None = None,
        loose: frozenset[str] = frozenset(),
        parking_out: float = 0.0,
    ) -> None:
        """Put every part where one of the poses (flat index) has it.

        It is taken ``apart`` so far (the shot's share if not given), as far as it is ``loose``: all of it if none is.
        """
        share = self.shot.apart if apart is None else apart
        found = frames(self.brake, poses, self.where, parking_out)
        for name, solid in self.solids.items():
            matrix = found[solid.body][index].copy()
            if not loose or name in loose:
                matrix[:3, 3] += share_of(way_of(name), share) * shift(self.brake, name)
            self.matrices[name] = matrix
            self.actors[name].user_matrix = matrix
            if name in self.lines:
                self.lines[name].user_matrix = matrix
        self._sheets(poses, index, parking_out)

    def _sheets(self, poses: Poses, index: int, parking_out: float) -> None:
        """The diaphragms change their shape."""
        made = sheets(
            self.brake, poses, index, parking_out=parking_out if self.parking else None, fineness=self.fineness
        )
        for name, shape in made.items():
            if name in self.solids:
                mesh = polydata(self._shape(replace(self.solids[name], shape=shape)).mesh())
                self.meshes[name].copy_from(mesh)
                self.edges[name].copy_from(_edges(mesh))

    def corners(self, without: frozenset[str] = frozenset()) -> Array:
        """Return the outermost points (n, 3) of every part where it stands now, some parts left out."""
        found: list[Array] = []
        for name, matrix in self.matrices.items():
            if name not in without:
                points = np.asarray(self.meshes[name].points, dtype=np.float64)
                outer = points[np.unique(np.argmax(points @ AROUND.T, axis=0))]
                found.append(outer @ matrix[:3, :3].T + matrix[:3, 3])
        return np.concatenate(found)

    def look(self, view: View | None = None, corners: Array | None = None, room: float = 1.08) -> None:
        """Point the camera so that ``corners`` (n, 3), else all parts, are in the picture."""
        self.aim(*self.eye(view or self.shot.view, self.corners() if corners is None else corners, room))

    def eye(self, view: View, corners: Array, room: float = 1.08) -> tuple[Array, Array]:
        """Return where the eye stands and what it looks at, so that ``corners`` (n, 3) are just in the picture."""
        return eye(view, corners, self.size[0] / self.size[1], room)

    def fade(self, names: Iterable[str], shows: float) -> None:
        """Let parts show only so much, from 1, all, to 0, nothing."""
        for name in names:
            if name in self.actors:
                self.actors[name].prop.opacity = shows
                self.lines[name].prop.opacity = EDGE_SHOWS * shows

    def aim(self, place: Sequence[float] | Array, target: Sequence[float] | Array) -> None:
        """Put the camera at a place, looking at a target."""
        camera = self.plotter.camera
        camera.position, camera.focal_point, camera.up = tuple(place), tuple(target), (0.0, 1.0, 0.0)
        camera.view_angle = ANGLE
        self.plotter.renderer.ResetCameraClippingRange()

    def image(self) -> Pixels:
        """Return the picture (height, width, 3)."""
        self.plotter.render()
        return np.asarray(self.plotter.screenshot(return_img=True))[..., :3]

    def seen(self) -> tuple[Pixels, Mapping[int, str]]:
        """Return the number of the part that is seen in every pixel (height, width; 0 none), and the parts' names.

        What is looked through hides nothing.
        """
        numbers = dict(enumerate(self.solids, 1))
        with _numbered(
            self.plotter, {number: self.actors[name] for number, name in numbers.items()}, self.lines.values()
        ):
            shown = self.image()
        return np.asarray(shown[..., 0]), numbers

    def point_at(self, name: str, x: float, y: float) -> Array | None:
        """Return the point (3,), in a part's own frame, that is seen of it at a pixel; None where it is not seen there.

        Pixels count from the picture's upper left corner, as in `seen`. Call it after that.
        """
        across, up = int(x), self.size[1] - 1 - int(y)
        depth = self.plotter.renderer.GetZ(across, up)
        if depth >= 1.0:
            return None
        renderer = self.plotter.renderer
        renderer.SetDisplayPoint(across, up, depth)
        renderer.DisplayToWorld()
        x, y, z, w = renderer.GetWorldPoint()
        placed = np.linalg.solve(self.matrices[name], np.array([x / w, y / w, z / w, 1.0]))
        return floats(placed[:3])

    def pixel_of(self, name: str, point: Array) -> tuple[float, float]:
        """Return the pixel at which a point of a part's own frame stands now, whether it is seen or not."""
        renderer = self.plotter.renderer
        renderer.SetWorldPoint(*(self.matrices[name] @ np.append(point, 1.0)))
        renderer.WorldToDisplay()
        x, y, _ = renderer.GetDisplayPoint()
        return float(x), self.size[1] - 1 - float(y)


@contextmanager
def _numbered(plotter: Any, bodies: Mapping[int, Any], lines: Iterable[Any]) -> Generator[None]:
    """Paint every part in a grey of its own, without light and edges, and what is looked through not at all."""
    kept = {number: body.prop.color for number, body in bodies.items()}
    ground = plotter.background_color
    plotter.disable_anti_aliasing()
    plotter.set_background("black")
    for number, body in bodies.items():
        body.prop.color, body.visibility = (number / 255,) * 3, body.prop.opacity == 1.0
        body.prop.lighting, body.prop.ambient, body.prop.diffuse = False, 1.0, 0.0
    for line in lines:
        line.visibility = False
    try:
        yield
    finally:
        for number, body in bodies.items():
            body.prop.color, body.visibility = kept[number], True
            body.prop.lighting, body.prop.ambient, body.prop.diffuse = True, AMBIENT, DIFFUSE
        for line in lines:
            line.visibility = True
        plotter.set_background(ground)
        plotter.enable_anti_aliasing("ssaa")


def polydata(mesh: Mesh) -> pv.PolyData:
    """Return a surface as PyVista's."""
    faces = np.column_stack([np.full(len(mesh.triangles), 3), mesh.triangles]).ravel()
    surface = pv.PolyData(mesh.points, faces)
    surface.point_data["Normals"] = mesh.normals
    surface.GetPointData().SetActiveNormals("Normals")
    return surface


def _edges(mesh: pv.PolyData) -> pv.PolyData:
    """The lines along a surface's sharp edges."""
    return mesh.clean().extract_feature_edges(
        feature_angle=SHARP, boundary_edges=False, manifold_edges=False, non_manifold_edges=False
    )
