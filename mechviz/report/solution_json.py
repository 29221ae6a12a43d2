"""A solution for programs: one record a state, every key with its unit, whatever units the setup was written in."""

import json
from typing import Any

from geometry.quantity import KINDS
from geometry.reasons import Reason
from geometry.states import ShoeState, State
from mechviz.report.figures import figure
from mechviz.report.solution import Solution

SCHEMA = 1
DEGREE = KINDS["angle"].metric_factor
KILOPASCAL = KINDS["pressure"].metric_factor
NEWTON_METRE = KINDS["torque"].metric_factor


def solution_data(solved: Solution) -> dict[str, Any]:
    """Return what `solution_json` writes, as plain Python values."""
    return {"schema": SCHEMA, "title": solved.title, "states": [state_data(state) for state in solved.states]}


def solution_json(solved: Solution) -> str:
    """Write a solution as JSON: ASCII only, a quantity that does not exist as null, never NaN."""
    return json.dumps(solution_data(solved), indent=2, allow_nan=False)


def state_data(state: State) -> dict[str, Any]:
    """Return one state; ``reason`` is null where it exists and says why where it cannot."""
    return {
        "name": state.name,
        "stroke_mm": figure(state.stroke),
        "pressure_kPa": figure(state.pressure, KILOPASCAL),
        "arm_angle_deg": figure(state.arm_angle, DEGREE),
        "arm_turn_deg": figure(state.arm_turn, DEGREE),
        "cam_turn_deg": figure(state.cam_turn, DEGREE),
        "pushrod_tilt_deg": figure(state.pushrod_tilt, DEGREE),
        "chamber_force_N": figure(state.chamber_force),
        "camshaft_torque_Nm": figure(state.camshaft_torque, NEWTON_METRE),
        "brake_torque_Nm": figure(state.brake_torque, NEWTON_METRE),
        "shoes": {"left": _shoe_data(state.left), "right": _shoe_data(state.right)},
        "reason": None if state.reason == Reason.EXISTS else state.reason.words,
    }


def _shoe_data(shoe: ShoeState) -> dict[str, Any]:
    return {
        "turn_deg": figure(shoe.turn, DEGREE),
        "cam_angle_deg": figure(shoe.cam_angle, DEGREE),
        "gap_mm": {
            "anchor_end": figure(shoe.gap_anchor_end),
            "middle": figure(shoe.gap_middle),
            "cam_end": figure(shoe.gap_cam_end),
            "least": figure(shoe.gap_least),
        },
        "roller_force_N": figure(shoe.roller_force),
        "shoe_factor": figure(shoe.shoe_factor),
        "lining_pressure_MPa": figure(shoe.lining_pressure),
    }
