"""A drive for programs: one record a time, every key with its unit."""

import json
from typing import Any

import numpy as np

from geometry.heat import HeatStates
from geometry.quantity import KINDS
from geometry.reasons import Reason
from mechviz.heating.study import Study
from mechviz.report.figures import figure

SCHEMA = 1
DEGREE = KINDS["angle"].metric_factor
NEWTON_METRE = KINDS["torque"].metric_factor
KILOGRAM = KINDS["mass"].metric_factor
CELSIUS = KINDS["temperature"].metric_zero


def records(states: HeatStates) -> list[dict[str, Any]]:
    """Return one record for each time of states along one axis."""
    return [record(states, row) for row in range(np.size(states.temperature))]


def record(states: HeatStates, row: int = 0) -> dict[str, Any]:
    """Return the record of one state."""

    def of(array: Any, unit: float = 1.0, zero: float = 0.0) -> float | None:
        return figure(float(np.ravel(array)[row]), unit, zero)

    reason = Reason(int(np.ravel(states.reason)[row]))
    return {
        "time_s": of(states.time),
        "drum_degC": of(states.temperature, zero=CELSIUS),
        "free_stroke_mm": of(states.free_stroke),
        "stroke_mm": of(states.stroke),
        "arm_angle_deg": of(states.arm_angle, DEGREE),
        "chamber_force_N": of(states.chamber_force),
        "brake_torque_Nm": of(states.brake_torque, NEWTON_METRE),
        "reserve_mm": of(states.reserve),
        "reason": None if reason == Reason.EXISTS else reason.words,
    }


def heat_json(heated: Study, states: HeatStates) -> str:
    """Write a drive as JSON: what it rests on, its events and its states; ASCII only, None as null."""
    hot = heated.asked.hot
    data = {
        "schema": SCHEMA,
        "title": heated.setup.title,
        "estimate": True,
        "fade_modelled": False,
        "drive": heated.drive.title,
        "mass_kg": figure(heated.mass, KILOGRAM),
        "drum_mass_kg": figure(heated.sink.mass, KILOGRAM),
        "ambient_degC": figure(heated.sink.ambient, zero=CELSIUS),
        "energy_MJ": figure(heated.drive.energy, 1e9),
        "pressure_kPa": figure(heated.pressure, KINDS["pressure"].metric_factor),
        "stroke_limit_mm": figure(heated.limit.limit_mm),
        "holds_until_s": None if heated.lost is None else figure(heated.lost.time),
        "events": [
            {
                "name": e.name,
                "time_s": figure(e.time),
                "drum_degC": figure(e.temperature, zero=CELSIUS),
                "unknown_from_s": figure(e.unknown_from),
                "words": e.words,
            }
            for e in heated.events
        ],
        "cold": record(heated.cold),
        "asked": None if hot is None else record(heated.with_drum_at(hot)),
        "hottest": record(heated.at(heated.hottest)),
        "states": records(states),
    }
    return json.dumps(data, indent=2, allow_nan=False)
