"""A solution: one setup's three events, and the states that were asked for, each under its own name."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from geometry.brake import Brake, Side
from geometry.condition import Condition
from geometry.errors import Fault
from geometry.reasons import Reason
from geometry.states import State, at_pressure, events
from mechviz.report.refusal import pressure_refusal, state_at, stroke_refusal


@dataclass(frozen=True)
class Solution:
    """What was solved: ``title`` of the setup, the ``states``, and the side of the ``leading`` shoe.

    ``refused`` says of each state that cannot exist why, and what could.
    """

    title: str
    states: tuple[State, ...]
    leading: Side
    refused: tuple[Fault, ...] = ()

    @property
    def tabled(self) -> tuple[State, ...]:
        """The states worth a column: the three events, and what was asked for and can exist."""
        return (*self.states[:3], *(state for state in self.states[3:] if state.reason == Reason.EXISTS))


@dataclass(frozen=True)
class Asked:
    """A state that was asked for: its name, and either its stroke (mm) or its pressure (MPa)."""

    name: str
    stroke: float | None = None
    pressure: float | None = None


def solution(title: str, brake: Brake, condition: Condition, pressure: float, asked: Sequence[Asked] = ()) -> Solution:
    """Solve the three events, applied at ``pressure`` (MPa), and whatever was ``asked`` for."""
    released, touching, applied = events(brake, condition, pressure)
    wanted = [Asked("released", stroke=0.0), Asked("contact", stroke=0.0), Asked("applied", pressure=pressure), *asked]
    states = [released, touching, replace(applied, pressure=pressure)]
    states += [_state(brake, condition, one) for one in asked]
    refused = [_refused(brake, condition, *of) for of in zip(states, wanted, strict=True) if of[0].reason]
    return Solution(title, tuple(states), brake.leading_side, tuple(refused))


def _state(brake: Brake, condition: Condition, asked: Asked) -> State:
    """The state, which keeps what was asked for where it cannot exist."""
    if asked.stroke is not None:
        state = state_at(brake, condition, asked.stroke, asked.name)
        return replace(state, stroke=asked.stroke)
    assert asked.pressure is not None  # an Asked has one or the other
    return replace(at_pressure(brake, condition, asked.pressure, asked.name), pressure=asked.pressure)


def _refused(brake: Brake, condition: Condition, state: State, asked: Asked) -> Fault:
    if asked.stroke is not None:
        return stroke_refusal(brake, condition, state, asked.stroke)
    assert asked.pressure is not None  # an Asked has one or the other
    return pressure_refusal(brake, condition, state, asked.pressure)
