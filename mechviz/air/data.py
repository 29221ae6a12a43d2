"""Air over time for programs: one record a time, every key with its unit."""

import json
from typing import Any

import numpy as np

from geometry.air import AirStates
from geometry.parking import hold_off_pressure
from geometry.quantity import KINDS
from geometry.reasons import Reason
from mechviz.air.study import Study
from mechviz.report.figures import figure

SCHEMA = 1
KILOPASCAL = KINDS["pressure"].metric_factor
DEGREE = KINDS["angle"].metric_factor
NEWTON_METRE = KINDS["torque"].metric_factor


def records(states: AirStates) -> list[dict[str, Any]]:
    """Return one record for each time of states along one axis."""
    return [_record(states, row) for row in range(np.size(states.time))]


def _record(states: AirStates, row: int) -> dict[str, Any]:
    def of(array: Any, unit: float = 1.0) -> float | None:
        return figure(float(np.ravel(array)[row]), unit)

    brake = states.brake
    reason = Reason(int(np.ravel(brake.reason)[row]))
    return {
        "time_s": of(states.time),
        "reservoir_kPa": of(states.reservoir, KILOPASCAL),
        "spring_line_kPa": of(states.hold_off, KILOPASCAL),
        "chamber_kPa": of(states.service, KILOPASCAL),
        "stroke_mm": of(brake.stroke),
        "arm_angle_deg": of(brake.arm_angle, DEGREE),
        "service_force_N": of(brake.service_force),
        "spring_force_N": of(brake.spring_force),
        "pushrod_force_N": of(brake.pushrod_force),
        "brake_torque_Nm": of(brake.brake_torque, NEWTON_METRE),
        "reserve_mm": of(brake.reserve),
        "reason": None if reason == Reason.EXISTS else reason.words,
    }


def air_json(told: Study, states: AirStates) -> str:
    """Write a scenario as JSON: what it rests on, what happens, and its states; ASCII only, None as null."""
    happen = told.happenings
    at = records(told.at([one.time for one in happen]))
    data = {
        "schema": SCHEMA,
        "title": told.setup.title,
        "scenario": told.scenario.name,
        "parking": _section(told),
        "apply_s": told.course.times.apply,
        "release_s": told.course.times.release,
        "happenings": [
            {"name": one.name, "words": one.words, "done": one.done, **state}
            for one, state in zip(happen, at, strict=True)
        ],
        "states": records(states),
    }
    return json.dumps(data, indent=2, allow_nan=False)


def _section(told: Study) -> dict[str, Any] | None:
    parking = told.setup.parking
    if parking is None:
        return None
    return {
        "vehicle": parking.vehicle,
        "spring_force_N": figure(parking.spring_force),
        "spring_rate_N_per_mm": figure(parking.spring_rate),
        "spring_area_mm2": figure(parking.spring_area),
        "held_back_kPa": figure(float(hold_off_pressure(parking)), KILOPASCAL),
        "closing_kPa": figure(told.course.closing, KILOPASCAL),
    }
