"""Why a state that was asked for cannot exist, what could be asked for instead, and what to change."""

from collections.abc import Callable

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.edge import edge
from geometry.errors import Fault
from geometry.quantity import KindName
from geometry.reasons import Reason
from geometry.states import State, at_pressure, held_at_stroke
from geometry.units import GREATEST


def stroke_refusal(brake: Brake, condition: Condition, state: State, stroke: float) -> Fault:
    """Return the fault of a ``state`` that cannot exist at a ``stroke`` (mm), with the greatest stroke that can."""
    return _refusal(state, "length", stroke, lambda s: _exists(state_at(brake, condition, s, "")))


def state_at(brake: Brake, condition: Condition, stroke: float, name: str) -> State:
    """Return the state at a stroke (mm) that some pressure a vehicle has can hold, or that needs none."""
    return held_at_stroke(brake, condition, stroke, name, GREATEST["pressure"])


def pressure_refusal(brake: Brake, condition: Condition, state: State, pressure: float) -> Fault:
    """Return the fault of a ``state`` that cannot exist at a ``pressure`` (MPa), with the greatest that can."""
    return _refusal(state, "pressure", pressure, lambda p: _exists(at_pressure(brake, condition, p, "")))


def _exists(state: State) -> bool:
    return state.reason == Reason.EXISTS


def _refusal(state: State, kind: KindName, asked: float, exists: Callable[[float], bool]) -> Fault:
    least, most = (0.0, edge(exists, 0.0, asked)) if exists(0.0) else (None, None)
    problem = f"cannot exist: {state.reason.words}"
    return Fault(state.name, problem, state.reason.fix, kind=kind, least=least, most=most)
