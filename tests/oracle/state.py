"""Where everything stands at one stroke."""

from __future__ import annotations

from dataclasses import dataclass

from . import arm
from .contact import Contact
from .lining import gap, least_gap
from .setting import Prepared, both_contacts


@dataclass(frozen=True)
class ShoeState:
    """One shoe: its turn (beta), the contact with the cam and the gaps."""

    turn: float
    contact: Contact
    gap_anchor_end: float
    gap_middle: float
    gap_cam_end: float
    gap_least: float


@dataclass(frozen=True)
class State:
    """Both planes at one stroke. ``cam_angle`` is the cam head's, ``wind_up`` what the arm has turned beyond it."""

    stroke: float
    pivot: tuple[float, float]
    clevis_pin: tuple[float, float]
    arm_angle: float
    arm_turn: float
    pushrod_tilt: float
    lever: float
    cam_angle: float
    cam_turn: float
    wind_up: float
    shoes: dict[str, ShoeState]


def shoe_state(prepared: Prepared, side: str, contact: Contact) -> ShoeState:
    """Gaps of one shoe at a contact."""
    brake, surface, turn = prepared.brake, prepared.surfaces[side], contact.turn
    at = {name: gap(brake, surface, getattr(surface, name), turn) for name in ("start", "middle", "end")}
    return ShoeState(turn, contact, at["start"], at["middle"], at["end"], least_gap(brake, surface, turn))


def state_at(prepared: Prepared, stroke: float) -> State:
    """State at a stroke: the cam head follows the arm until both linings are seated."""
    brake = prepared.brake
    turn = arm.arm_turn(brake, stroke)
    cam_angle = min(prepared.released + turn, prepared.seat)
    contacts = both_contacts(brake, prepared.profile, cam_angle)
    return State(
        stroke=stroke,
        pivot=arm.pivot(brake, stroke),
        clevis_pin=arm.clevis_pin(brake, stroke),
        arm_angle=arm.arm_angle(brake, stroke),
        arm_turn=turn,
        pushrod_tilt=arm.pushrod_tilt(brake, stroke),
        lever=arm.lever(brake, stroke),
        cam_angle=cam_angle,
        cam_turn=cam_angle - prepared.released,
        wind_up=prepared.released + turn - cam_angle,
        shoes={side: shoe_state(prepared, side, contact) for side, contact in contacts.items()},
    )
