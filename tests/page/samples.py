"""The brakes and the states on which the page's table is tried."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache, cached_property

import numpy as np

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.chamber import ThrustTable
from geometry.condition import Condition, angle_for_free_stroke, contact
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.found import condition_of
from geometry.linkage import Linkage
from geometry.polar_cam import ConstantRiseProfile, TableProfile
from geometry.setup import read_setup
from mechviz.page.table import Table, page_table, slider_box
from tests.brakes import BRAKE, DEG, IN, PSI, found, part
from tests.oracle import random_brakes
from tests.test_oracle_agreement import pair_of


@dataclass(frozen=True)
class Sample:
    brake: Brake
    condition: Condition

    @property
    def diameter(self) -> float:
        return float(self.condition.arrays[1])

    def table(self) -> Table:
        return self._table

    @cached_property
    def _table(self) -> Table:
        return page_table(self.brake, self.condition, 95 * PSI)


def _built_in(name: str) -> Sample:
    setup = read_setup(name)
    return Sample(setup.brake, condition_of(setup))


def _varied(brake: Brake) -> Sample:
    return Sample(brake, found(brake))


def _random(seed: int) -> Sample:
    pair = pair_of(*next(iter(random_brakes(seed, 1))))
    return Sample(pair.brake, pair.condition)


def measured_cam(rows: int, noise: float) -> TableProfile:
    """A wavy rise, each row off by up to ``noise`` mm."""
    angles = np.linspace(0.0, 150 * DEG, rows)
    radii = 0.60 * IN + 1.25 * IN * (angles / angles[-1] - 0.03 * np.sin(2 * np.pi * angles / angles[-1]))
    radii += np.random.default_rng(1).uniform(-noise, noise, rows)
    return TableProfile(tuple(angles.tolist()), tuple(radii.tolist()))


MAKERS: dict[str, Callable[[], Sample]] = {
    "drive": lambda: _built_in("drive-16.5x7"),
    "worn drive": lambda: _built_in("worn-drive-16.5x7"),
    "long stroke": lambda: _built_in("trailer-16.5x7"),
    "steer": lambda: _built_in("steer-15x4"),
    "machined small": lambda: _varied(part(BRAKE, "lining", arc_radius=8.10 * IN)),
    "machined large": lambda: _varied(part(BRAKE, "lining", arc_radius=8.40 * IN)),
    "constant rise": lambda: _varied(replace(BRAKE, profile=ConstantRiseProfile(12.0, 0.60 * IN, 1.85 * IN))),
    "measured cam": lambda: _varied(replace(BRAKE, profile=measured_cam(11, 0.0))),
    "roughly measured cam": lambda: _varied(replace(BRAKE, profile=measured_cam(40, 0.02))),
    "single anchor": lambda: _varied(part(BRAKE, "shoe", anchor_spacing=0.0)),
    "rollers below the camshaft": lambda: _varied(part(BRAKE, "shoe", roller_distance=6.05 * IN)),
    "other way round": lambda: _varied(replace(BRAKE, drum_rotation="clockwise")),
    "measured thrust": lambda: _varied(
        part(BRAKE, "chamber", thrust=ThrustTable((0.0, 0.4, 0.7, 0.9, 1.0), (0.97, 1.0, 0.96, 0.7, 0.0)))
    ),
    "strong shoe springs": lambda: _varied(part(BRAKE, "shoe", return_spring_force=2500.0, return_spring_rate=60.0)),
    "opening linkage": lambda: _varied(
        replace(BRAKE, linkage=Linkage(1.8 * IN, 2.0 * IN, 5.0 * IN, 1.0 * IN, 5.0 * IN))
    ),
    "locking": lambda: _varied(part(BRAKE, "lining", friction=0.9)),
} | {f"random {seed}": lambda seed=seed: _random(seed) for seed in range(50, 56)}
SAMPLES = {name: cache(maker) for name, maker in MAKERS.items()}
"""Each is made once, and so is its table."""


def points(sample: Sample, count: int, seed: int) -> dict[str, Array]:
    """Columns of random states over the whole box and a little beyond, thick where the regimes change."""
    rng = np.random.default_rng(seed)
    brake, box = sample.brake, slider_box(sample.brake, sample.condition)
    lining = _with_ends(rng, *box["lining"], count)
    temperature = _with_ends(rng, *box["temperature"], count)
    temperature[rng.random(count) < 0.05] = REFERENCE_TEMPERATURE
    rated = brake.chamber.rated_stroke
    pressure = np.where(rng.random(count) < 0.3, rng.uniform(0, 8 * PSI, count), rng.uniform(*box["pressure"], count))
    pressure[rng.random(count) < 0.02] = 0.0
    stroke = rng.uniform(-0.02, 1.02, count) * rated
    stroke[rng.random(count) < 0.02] = 0.0
    setting = _settings(rng, sample, lining)
    return {"lining": lining, "temperature": temperature, "setting": setting, "pressure": pressure, "stroke": stroke}


def _with_ends(rng: np.random.Generator, low: float, high: float, count: int) -> Array:
    values = rng.uniform(low, high, count)
    values[rng.random(count) < 0.02] = low
    values[rng.random(count) < 0.02] = high
    return values


def _settings(rng: np.random.Generator, sample: Sample, lining: Array) -> Array:
    """Three in four set for a free stroke cold, from a little too tight to too slack; the rest anywhere on the cam."""
    brake, count = sample.brake, len(lining)
    box = slider_box(brake, sample.condition)
    anywhere = rng.uniform(box["setting"][0] - 0.05, box["setting"][1] + 0.05, count)
    at = contact(brake, lining, floats(sample.diameter), floats(REFERENCE_TEMPERATURE))
    adjusted = angle_for_free_stroke(brake, at, rng.uniform(0, 1.05, count) * brake.chamber.rated_stroke)
    adjusted += np.where(rng.random(count) < 0.05, rng.uniform(0, 0.02, count), 0.0)
    usable = np.isfinite(adjusted) & (rng.random(count) < 0.75)
    return np.where(usable, adjusted, anywhere)
