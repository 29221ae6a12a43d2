"""Plausible random brakes, each tried on the oracle and dropped if it cannot be solved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from .brake import DEG, OracleBrake
from .refusal import RefusedError
from .solve import OracleResult, solve

# keys that vary about their default, and by how much
SPREAD = {
    "chamber_area": 0.25,
    "rated_stroke": 0.10,
    "chamber_spring_preload": 0.25,
    "chamber_spring_rate": 0.25,
    "arm_length": 0.10,
    "axis_offset": 0.10,
    "face_distance": 0.10,
    "pivot_depth": 0.25,
    "pin_reach": 0.10,
    "base_radius": 0.12,
    "tip_radius": 0.10,
    "drum_diameter_new": 0.10,
    "cam_distance": 0.10,
    "anchor_distance": 0.10,
    "anchor_spacing": 0.25,
    "roller_diameter": 0.15,
    "roller_spread": 0.10,
    "lining_thickness_new": 0.15,
    "lining_width": 0.25,
    "friction": 0.20,
    "windup_stiffness": 0.25,
    "shoe_spring_force": 0.25,
    "shoe_spring_rate": 0.25,
}


def table_profile(rng: np.random.Generator, heel: float, tip: float) -> dict[str, object]:
    """A rising table of radii: a straight rise with a gentle wave, from just below the heel to just above the tip."""
    count = int(rng.integers(7, 14))
    span = rng.uniform(1.9, 2.6)
    along = np.linspace(0.0, 1.0, count)
    wave = rng.uniform(-0.4, 0.4) / np.pi * np.sin(np.pi * along) + rng.uniform(-0.1, 0.1) * along * (1.0 - along)
    radii = (heel - 1.0) + (tip - heel + 2.0) * (along + wave)
    angles = rng.uniform(-0.2, 0.2) + span * along
    return {
        "profile": "table",
        "table_angle": tuple(float(angle) for angle in angles),
        "table_radius": tuple(float(radius) for radius in radii),
    }


def profile_values(rng: np.random.Generator, base: float, tip: float) -> dict[str, object]:
    """One of the three profiles, its heel a little outside the base circle."""
    heel = base * rng.uniform(1.05, 1.3)
    values: dict[str, object] = {"heel_radius": heel}
    kind = rng.choice(["involute", "involute", "constant-rise", "table"])
    if kind == "constant-rise":
        values |= {"profile": "constant-rise", "rise": base * rng.uniform(0.85, 1.2)}
    elif kind == "table":
        values |= table_profile(rng, heel, tip)
    return values


def condition_values(rng: np.random.Generator, drawn: OracleBrake) -> dict[str, object]:
    """Wear, drum, heat, adjustment and pressure."""
    values: dict[str, object] = {
        "lining_thickness": drawn.lining_thickness_new * rng.uniform(0.35, 1.0),
        "drum_diameter": drawn.drum_diameter_new + rng.uniform(0.0, 3.0),
        "drum_temperature": rng.uniform(250.0, 600.0),
        "pressure": rng.uniform(0.2, 0.8),
        "free_stroke": rng.uniform(6.0, 25.0),
    }
    if rng.random() < 0.25:
        values |= {"free_stroke": None, "lining_clearance": rng.uniform(0.4, 1.5)}
    if rng.random() < 0.3:
        values["lining_radius"] = drawn.drum_diameter_new / 2.0 * rng.uniform(0.98, 1.02)
    return values


def draw(rng: np.random.Generator) -> OracleBrake:
    """Draw one brake; it may not close."""
    base = OracleBrake()
    values: dict[str, object] = {
        key: getattr(base, key) * rng.uniform(1.0 - width, 1.0 + width) for key, width in SPREAD.items()
    }
    if rng.random() < 0.3:
        values["anchor_spacing"] = 0.0
    values |= profile_values(rng, float(values["base_radius"]), float(values["tip_radius"]))  # type: ignore[arg-type]
    values["roller_distance"] = float(values["cam_distance"]) + rng.uniform(-5.0, 5.0)  # type: ignore[arg-type]
    values["lining_start"] = rng.uniform(28.0, 42.0) * DEG
    values["lining_end"] = rng.uniform(135.0, 152.0) * DEG
    values["efficiency"] = rng.uniform(0.6, 0.95)
    values["drum_turns"] = float(rng.choice([-1.0, 1.0]))
    drawn = replace(base, **values)  # type: ignore[arg-type]
    return replace(drawn, **condition_values(rng, drawn))  # type: ignore[arg-type]


def random_brake(rng: np.random.Generator) -> tuple[OracleBrake, OracleResult]:
    """Draw until a brake can be solved; returns it with its solution."""
    while True:
        brake = draw(rng)
        try:
            return brake, solve(brake)
        except RefusedError:
            continue


def random_brakes(seed: int, count: int) -> Iterator[tuple[OracleBrake, OracleResult]]:
    """Brake after brake of a seed, each with its own stream, so that a test can be spread over workers."""
    for child in np.random.SeedSequence(seed).spawn(count):
        yield random_brake(np.random.default_rng(child))
