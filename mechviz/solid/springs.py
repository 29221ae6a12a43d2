"""Coil springs as solids: a wire in its own frame, origin one seat, +x towards the other, stretched by its body.

A spring is made once, at the length that it has released; in every other state its body's matrix stretches it along
x (`mechviz.solid.frames`), so that its turns stay evenly apart as those of the drawing do.
"""

import numpy as np
from manifold3d import Manifold

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.outlines.chamber_form import chamber_form
from geometry.outlines.deforming import (
    CHAMBER_TURNS,
    SHOE_HOOK,
    SHOE_TURNS,
    chamber_spring_radii,
    shoe_spring_radius,
)
from geometry.outlines.parking import POWER_TURNS, power_spring_radii
from mechviz.solid.making import Span, swept

WIRE = 0.030
"""Radius of the chamber return spring's wire, as a share of the chamber's; the power spring's is `POWER` times that."""
POWER = 2.1
SHOE_WIRE = 0.30
"""Radius of the shoe return spring's wire, as a share of its turns'."""


def helix(span: Span, radii: tuple[float, float], turns: int, steps: int) -> Array:
    """Return the points (n, 3) of a helix round the x axis over a span of it, from one radius to another."""
    u = np.linspace(0.0, 1.0, turns * steps + 1)
    angle, radius = 2 * np.pi * turns * u, radii[0] + (radii[1] - radii[0]) * u
    return np.column_stack([span[0] + (span[1] - span[0]) * u, radius * np.cos(angle), radius * np.sin(angle)])


def chamber_spring(brake: Brake, length: float, steps: int, sides: int) -> Manifold:
    """Return the chamber return spring, ``length`` (mm) from seat to seat."""
    wire = WIRE * chamber_form(brake).outer
    inside = helix((wire, length - wire), chamber_spring_radii(brake), CHAMBER_TURNS, steps)
    return swept(inside, wire, sides)


def power_spring(brake: Brake, length: float, steps: int, sides: int) -> Manifold:
    """Return the parking section's power spring, ``length`` (mm) from seat to seat."""
    form = chamber_form(brake)
    wire = POWER * WIRE * form.outer
    wire = min(wire, 0.42 * length / POWER_TURNS)
    inside = helix((wire, length - wire), power_spring_radii(form), POWER_TURNS, steps)
    return swept(inside, wire, sides)


def shoe_spring(brake: Brake, length: float, steps: int, sides: int) -> Manifold:
    """Return the shoe return spring with its hooks, ``length`` (mm) from eye to eye."""
    radius = shoe_spring_radius(brake)
    wire = SHOE_WIRE * radius
    hook = SHOE_HOOK * length
    turns = helix((hook, length - hook), (radius, radius), SHOE_TURNS, steps)
    ends = np.array([[0.0, 0.0, 0.0], [(SHOE_HOOK - 0.04) * length, 0.0, 0.0]])
    others = np.array([[(1 - SHOE_HOOK + 0.04) * length, 0.0, 0.0], [length, 0.0, 0.0]])
    return swept(np.concatenate([ends, turns, others]), wire, sides)
