"""One brake as plain floats: mm, rad, N, K, MPa. Stiffness N mm / rad."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields

IN = 25.4
DEG = math.pi / 180.0
PSI = 4.4482216152605 / IN**2
REFERENCE_TEMPERATURE = (70.0 - 32.0) / 1.8 + 273.15
DRUM_EXPANSION = 6.5e-6 * 1.8
SIDES = ("left", "right")
SIGN = {"left": -1.0, "right": 1.0}

# keys that stand in two sections of a setup file, and those that need a longer name when the sections are gone
RENAMED = {
    ("chamber", "area"): "chamber_area",
    ("chamber", "spring_preload"): "chamber_spring_preload",
    ("chamber", "spring_rate"): "chamber_spring_rate",
    ("foundation", "lining_thickness"): "lining_thickness_new",
    ("foundation", "drum_diameter"): "drum_diameter_new",
    ("test", "pressure"): "pressure",
}


@dataclass(frozen=True)
class OracleBrake:
    """What is solved. Names are those of the setup file; ``_new`` marks the [foundation] twin of a [condition] key.

    Exactly one of ``free_stroke``, ``lining_clearance`` and ``released_cam_angle`` is given.
    ``lining_radius`` None is a bedded lining, else the arc radius of a machined one.
    ``rise`` (mm/rad) belongs to the constant-rise profile, ``table_angle`` (clockwise, rad) and ``table_radius`` to
    the table. ``drum_turns`` +1 is counter-clockwise. ``shoe_spring_force`` acts at the reference roller spread.
    """

    chamber_area: float = 30.0 * IN**2
    rated_stroke: float = 2.5 * IN
    chamber_spring_preload: float = 130.0
    chamber_spring_rate: float = 2.6
    arm_length: float = 5.5 * IN
    axis_offset: float = 5.35 * IN
    face_distance: float = 7.5 * IN
    pivot_depth: float = 1.0 * IN
    pin_reach: float = 6.0 * IN
    profile: str = "involute"
    base_radius: float = 0.5 * IN
    heel_radius: float = 0.60 * IN
    tip_radius: float = 1.85 * IN
    rise: float | None = None
    table_angle: tuple[float, ...] | None = None
    table_radius: tuple[float, ...] | None = None
    drum_diameter_new: float = 16.5 * IN
    cam_distance: float = 6.30 * IN
    anchor_distance: float = 6.00 * IN
    anchor_spacing: float = 2.50 * IN
    roller_diameter: float = 1.60 * IN
    roller_spread: float = 2.80 * IN
    roller_distance: float = 6.30 * IN
    lining_thickness_new: float = 0.75 * IN
    lining_start: float = 35.0 * DEG
    lining_end: float = 145.0 * DEG
    lining_width: float = 7.0 * IN
    friction: float = 0.35
    efficiency: float = 0.75
    windup_stiffness: float = 180.0e3 / DEG
    shoe_spring_force: float = 1100.0
    shoe_spring_rate: float = 10.0
    lining_thickness: float = 0.62 * IN
    drum_diameter: float = 16.53 * IN
    drum_temperature: float = REFERENCE_TEMPERATURE
    free_stroke: float | None = 0.55 * IN
    lining_clearance: float | None = None
    released_cam_angle: float | None = None
    lining_radius: float | None = None
    pressure: float = 95.0 * PSI
    drum_turns: float = 1.0

    @property
    def radius_bed(self) -> float:
        """Present drum radius as measured cold."""
        return self.drum_diameter / 2.0

    @property
    def radius_hot(self) -> float:
        """Present drum radius at the drum's temperature."""
        return self.radius_bed * (1.0 + DRUM_EXPANSION * (self.drum_temperature - REFERENCE_TEMPERATURE))

    @property
    def platform_radius(self) -> float:
        """Radius of the shoe platform about the drum centre in the reference pose."""
        return self.drum_diameter_new / 2.0 - self.lining_thickness_new

    @property
    def lining_middle(self) -> float:
        """Angle psi of the middle of the lining's arc."""
        return (self.lining_start + self.lining_end) / 2.0

    @property
    def roller_radius(self) -> float:
        """Radius of a roller."""
        return self.roller_diameter / 2.0


def from_sections(sections: Mapping[str, Mapping[str, object]]) -> OracleBrake:
    """Build a brake from ``{"linkage": {"arm_length": 139.7, ...}, ...}`` in mm, rad, N, K, MPa; the rest is default.

    An adjuster setting in the sections replaces the default free stroke.
    """
    known = {field.name for field in fields(OracleBrake)}
    given: dict[str, object] = {}
    for section, values in sections.items():
        for key, value in values.items():
            name = RENAMED.get((section, key), key)
            if name not in known:
                raise KeyError(f"{section}.{key}")
            given[name] = value
    if {"lining_clearance", "released_cam_angle"} & given.keys():
        given.setdefault("free_stroke", None)
    return OracleBrake(**given)  # type: ignore[arg-type]
