"""How the adjuster's setting follows wear: between two adjustments it stands still, or slips.

The setting is the cam's angle when released. Every kind of adjuster comes down to a list of wears at which it moves,
and the setting from there on, so that any wear is looked up in it, in any order and any number at once:

- working, manual: back to the wanted free stroke every ``interval`` of wear;
- working, automatic: one ``step`` whenever what it senses is more than ``deadband`` beyond what it was set to, cold.
  One that senses clearance looks at the free stroke, one that senses stroke at the applied stroke;
- stuck (or left alone): never;
- backing off: never, and for each mm of wear it slips back by ``slip`` of the cam's turn that new linings ask for.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.applied import chamber_torque, solve_applied, spring_torque
from geometry.arrays import Array, floats
from geometry.condition import Condition, tip_angle
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.life.service import Service
from geometry.linkage import arm_turn

HALVINGS = 60


@dataclass(frozen=True)
class Upkeep:
    """The setting over a life: ``moves`` are wears (mm, rising from 0), ``settings`` what holds from each on, rad.

    ``slip`` (rad/mm) is taken off for the wear since the last move.
    """

    moves: Array
    settings: Array
    slip: float = 0.0

    def at(self, wear: ArrayLike) -> Array:
        """Return the released cam angle (rad) at each wear (mm)."""
        worn = floats(wear)
        last = np.clip(np.searchsorted(self.moves, worn, side="right") - 1, 0, len(self.moves) - 1)
        return self.settings[last] - self.slip * (worn - self.moves[last])


def upkeep(service: Service) -> Upkeep:
    """Return how the brake's own adjuster sets the cam over the life, from new linings on."""
    adjuster, new = service.brake.adjuster, _adjusted(service, floats([0.0]))
    if adjuster.state != "working":
        slip = adjuster.slip * _turn_for_wear(service) if adjuster.state == "backing-off" else 0.0
        return Upkeep(floats([0.0]), new, slip)
    if adjuster.kind == "manual":
        moves = np.arange(0.0, service.brake.lining.thickness, adjuster.interval)
        settings = _adjusted(service, moves)
        reached = np.isfinite(settings)
        return Upkeep(moves[reached], settings[reached])
    return _stepped(service, float(new[0]))


def _turn_for_wear(service: Service) -> float:
    """The cam's turn for the first of the wear, rad/mm."""
    little = 0.01
    new, worn = service.contact(floats([0.0, little])).first
    return float(worn - new) / little


def _adjusted(service: Service, wear: Array) -> Array:
    """The setting with which the linings touch after the wanted free stroke."""
    return service.contact(wear).first - service.free_turn


def _stepped(service: Service, new: float) -> Upkeep:
    """An automatic adjuster: the wear at which the k-th step is due, for every step that the cam has room for."""
    step = service.brake.adjuster.step
    room = tip_angle(service.brake) - new
    due = floats(new + step * np.arange(max(int(room / step), 0)))
    allowed = _allowed_turn(service)
    most = service.brake.lining.thickness * (1 - 1e-9)
    moves = _wear_at(lambda wear: service.contact(wear).first - allowed(wear) - due, np.zeros_like(due), most)
    inside = np.isfinite(moves)
    settings = np.concatenate([[new], due[inside] + step])
    return Upkeep(np.concatenate([[0.0], moves[inside]]), settings)


def _allowed_turn(service: Service) -> Callable[[Array], Array]:
    """The free turn at which the adjuster steps, at each wear."""
    brake, deadband = service.brake, service.brake.adjuster.deadband
    if brake.adjuster.senses != "stroke":
        turn = float(arm_turn(brake.linkage, service.free_stroke + deadband))
        return lambda wear: np.full_like(wear, turn)
    turn = float(arm_turn(brake.linkage, _applied_when_new(service) + deadband))
    torque = float(chamber_torque(brake, floats(turn), floats(service.pressure))[0])

    def allowed(wear: Array) -> Array:
        # where applied the arm has turned by `turn`: what the wind-up takes of it is not free
        return turn - (torque - spring_torque(brake, service.contact(wear).first)) / brake.windup_stiffness

    return allowed


def _applied_when_new(service: Service) -> float:
    """The stroke (mm) that an adjuster which senses stroke was set to: that of new linings, cold."""
    setting = _adjusted(service, floats(0.0))
    new = Condition(service.thickness(0.0), service.drum_diameter, REFERENCE_TEMPERATURE, setting)
    return float(solve_applied(service.brake, new, service.pressure).stroke)


def _wear_at(excess: Callable[[Array], Array], low: Array, most: float) -> Array:
    """The wears at which ``excess``, which grows with wear, reaches 0; NaN where it does not before ``most``."""
    high = np.full_like(low, most)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        # beyond the cam's reach there is no excess to see: look nearer to new
        over = ~(excess(middle) < 0)
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return np.where(np.abs(excess(low)) < 1e-6, low, np.nan)
