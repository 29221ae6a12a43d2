"""Everything for one brake."""

from __future__ import annotations

from dataclasses import dataclass, fields, is_dataclass

from .arm import closing_range, stroke_at_right_angle
from .brake import SIDES, OracleBrake
from .loads import Applied, applied_at, return_spring_torque
from .refusal import RefusedError
from .setting import prepare
from .state import State, state_at


@dataclass(frozen=True)
class OracleResult:
    """The three events and what they rest on; mm, rad, N, N mm, MPa.

    ``seat_turn`` is beta_w and ``touch_turn`` beta_c of each shoe, ``touch_cam`` the cam angle that brings it there.
    ``first_side`` names the shoe that touches first, None when both do at once.
    """

    closing_range: tuple[float, float]
    right_angle_stroke: float | None
    seat_turn: dict[str, float]
    touch_turn: dict[str, float]
    touch_cam: dict[str, float]
    cam_first: float
    cam_seat: float
    first_side: str | None
    cam_released: float
    free_stroke: float
    return_spring_torque_contact: float
    released: State
    contact: State
    applied: Applied


def solve(brake: OracleBrake) -> OracleResult:
    """Solve one brake; RefusedError when it does not close, leaves the cam or does not fit."""
    low, high = closing_range(brake)
    if not low < 0.0 < brake.rated_stroke < high:
        raise RefusedError("linkage", f"closes for strokes {low:g} to {high:g} mm, not over the whole rated stroke")
    prepared = prepare(brake)
    apart = prepared.touch_cam["right"] - prepared.touch_cam["left"]
    first_side = None if abs(apart) < 1e-12 else SIDES[apart < 0.0]
    return OracleResult(
        closing_range=(low, high),
        right_angle_stroke=stroke_at_right_angle(brake),
        seat_turn={side: prepared.surfaces[side].seat for side in SIDES},
        touch_turn=prepared.touch_turn,
        touch_cam=prepared.touch_cam,
        cam_first=prepared.first,
        cam_seat=prepared.seat,
        first_side=first_side,
        cam_released=prepared.released,
        free_stroke=prepared.free_stroke,
        return_spring_torque_contact=return_spring_torque(prepared, prepared.first),
        released=state_at(prepared, 0.0),
        contact=state_at(prepared, prepared.free_stroke),
        applied=applied_at(prepared, brake.pressure),
    )


def flatten(result: object, prefix: str = "") -> dict[str, float]:
    """Every number of a result under a dotted name, e.g. ``applied.state.shoes.left.gap_least``."""
    if is_dataclass(result):
        items = [(field.name, getattr(result, field.name)) for field in fields(result)]
    elif isinstance(result, dict):
        items = list(result.items())
    elif isinstance(result, tuple):
        items = [(str(index), value) for index, value in enumerate(result)]
    else:
        return {prefix: float(result)} if isinstance(result, int | float) else {}
    flat: dict[str, float] = {}
    for name, value in items:
        flat.update(flatten(value, f"{prefix}.{name}" if prefix else str(name)))
    return flat
