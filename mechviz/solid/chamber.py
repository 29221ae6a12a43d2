"""The chamber and a parking section as solids: the cut-away outlines turned about the chamber's centreline.

Arm plane. The rim above the centreline is what is turned: the air port stands below it and is a piece of its own.
"""

import shapely
from manifold3d import Manifold

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.outlines import Outline
from geometry.outlines.chamber import port_boss
from geometry.outlines.chamber_form import chamber_form
from geometry.outlines.shapes import Area, Shape
from mechviz.solid.making import turned


def shell(outline: Outline, brake: Brake, detail: float) -> Manifold:
    """Return a shell, ring or plate that stands on the chamber's centreline."""
    return on_axis(outline.geometry, brake.linkage.axis_offset, detail)


def on_axis(shape: Shape, axis: float, detail: float) -> Manifold:
    """Return what comes of turning a shape about the line y = ``axis``."""
    low = shapely.transform(shape, lambda points: points - [0.0, axis])
    return turned(low, detail).translate((0.0, axis, 0.0))


def plate(outline: Outline, detail: float) -> Manifold:
    """Return the push plate, own frame: origin the pivot."""
    return turned(outline.geometry, detail)


def pressure_half(outline: Outline, brake: Brake, parking: bool, detail: float) -> Manifold:
    """Return the half that the air comes into, with the boss of its port."""
    return shell(outline, brake, detail) + _port(port_boss(brake, parking), parking, 0.3 * detail)


def air_port(outline: Outline, parking: bool, detail: float) -> Manifold:
    """Return the hose end."""
    return _port(outline.geometry, parking, detail)


def _port(shape: Shape, parking: bool, detail: float) -> Manifold:
    """What belongs to the port, turned about its own axis: along the rod, or upright under a parking section."""
    left, low, right, high = shape.bounds
    middle = 0.5 * (left + right), 0.5 * (low + high)
    if not parking:
        return on_axis(shape, middle[1], detail)
    lying = shapely.transform(shape, lambda q: (q - [middle[0], 0.0])[:, ::-1])
    return turned(lying, detail).rotate((0.0, 0.0, 90.0)).translate((middle[0], 0.0, 0.0))


def sheet_shape(line: Array, brake: Brake) -> Area:
    """Return a diaphragm's section, arm plane, from its middle line (n, 2): as thick as the form says."""
    return shapely.LineString(line).buffer(0.5 * chamber_form(brake).diaphragm, cap_style="flat", join_style="mitre")


def sheet(line: Array, brake: Brake, detail: float) -> Manifold:
    """Return a diaphragm, arm plane, in the state that its middle line (n, 2) is for."""
    return on_axis(sheet_shape(line, brake), brake.linkage.axis_offset, detail)
