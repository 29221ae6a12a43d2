"""A life for programs: one record a wear, every key with its unit, whatever units the setup was written in."""

import json
from typing import Any

import numpy as np

from geometry.life import Applications, Event, Life
from geometry.quantity import KINDS
from geometry.reasons import Reason
from mechviz.lifetime.study import Study
from mechviz.report.figures import figure

SCHEMA = 1
DEGREE = KINDS["angle"].metric_factor
NEWTON_METRE = KINDS["torque"].metric_factor


def records(life: Life) -> list[dict[str, Any]]:
    """Return one record for each wear of a life along one axis."""
    return [_record(life, row) for row in range(np.size(life.wear))]


def _record(life: Life, row: int) -> dict[str, Any]:
    def of(array: Any, unit: float = 1.0) -> float | None:
        return figure(float(np.ravel(array)[row]), unit)

    return {
        "wear_mm": of(life.wear),
        "lining_mm": of(life.thickness),
        "released_angle_deg": of(life.released_angle, DEGREE),
        "free_stroke_mm": of(life.free_stroke),
        "contact_angle_deg": of(life.contact_angle, DEGREE),
        "cam_turn_deg": of(life.cam_turn, DEGREE),
        "gap_mm": {
            "anchor_end": of(life.gap_anchor_end),
            "middle": of(life.gap_middle),
            "cam_end": of(life.gap_cam_end),
            "least": of(life.gap_least),
        },
        "cold": _application(life.cold, row),
        "hot": _application(life.hot, row),
    }


def _application(one: Applications, row: int) -> dict[str, Any]:
    def of(array: Any, unit: float = 1.0) -> float | None:
        return figure(float(np.ravel(array)[row]), unit)

    reason = Reason(int(np.ravel(one.reason)[row]))
    return {
        "stroke_mm": of(one.stroke),
        "arm_angle_deg": of(one.arm_angle, DEGREE),
        "chamber_force_N": of(one.chamber_force),
        "brake_torque_Nm": of(one.brake_torque, NEWTON_METRE),
        "reserve_mm": of(one.reserve),
        "profile_left_deg": of(one.profile_left, DEGREE),
        "reason": None if reason == Reason.EXISTS else reason.words,
    }


def life_json(lived: Study, life: Life) -> str:
    """Write a life as JSON: what it was looked at with, its events and its states; ASCII only, None as null."""
    one, adjuster = lived.service, lived.service.brake.adjuster
    data = {
        "schema": SCHEMA,
        "title": lived.setup.title,
        "adjuster": {"kind": adjuster.kind, "senses": adjuster.senses, "state": adjuster.state},
        "free_stroke_mm": figure(one.free_stroke),
        "pressure_kPa": figure(one.pressure, KINDS["pressure"].metric_factor),
        "hot_degC": figure(one.hot, zero=KINDS["temperature"].metric_zero),
        "drum_mm": figure(one.drum_diameter),
        "stroke_limit_mm": figure(lived.limit.limit_mm),
        "least_lining_mm": figure(lived.least_lining),
        "end": {"wear_mm": figure(lived.last.wear), "reason": lived.last.reason.words if lived.ends_early else None},
        "events": [_event(event, lived) for event in lived.events],
        "states": records(life),
    }
    return json.dumps(data, indent=2, allow_nan=False)


def _event(event: Event, lived: Study) -> dict[str, Any]:
    """An event; its wear is None where it does not come before the life ends, or nobody can tell."""
    comes = event in lived.happening
    return {
        "name": event.name,
        "wear_mm": figure(event.wear) if comes else None,
        "unknown_from_mm": figure(event.unknown_from) if event in lived.untold else None,
        "words": event.words,
    }
