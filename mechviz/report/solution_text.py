"""A solution for people: one table, a column a state."""

from collections.abc import Sequence
from math import radians

from geometry.quantity import System
from geometry.reasons import Reason
from geometry.states import State
from mechviz.report.columns import Line, tabled
from mechviz.report.layout import fitting, hang
from mechviz.report.solution import Solution
from mechviz.report.solution_rows import squeezed, table_lines
from mechviz.square import stands

FOOT = "Computed from the setup's figures, not measured. A dash: there is no such figure in that state."
SQUEEZED = "A gap below 0: that lining is squeezed by so much, until the other one touches too."
WOUND = "The arm turns farther than the cam: the rest is wind-up, which shafts, brackets and drum give."
SEEN = radians(0.05)
"""Turn of the arm that the cam has not, below which a tenth of a degree does not show it."""


def solution_text(solved: Solution, system: System, width: int, found: Sequence[str] = ()) -> str:
    """Write a solution in at most ``width`` columns, under its title and the lines that say how it was ``found``."""
    width = fitting(width)
    lines = [line for text in (solved.title, *found) for line in hang(text, width)]
    states = solved.tabled
    table = [_marks(states), *table_lines(states, system, solved.leading)]
    lines += ["", *tabled([state.name for state in states], table, width), ""]
    lines += hang(_arm(solved), width)
    lines += [line for fault in solved.refused for line in hang(f"{fault.text(system)}.", width)]
    notes = [WOUND] * any(map(_wound, states)) + [SQUEEZED] * any(map(squeezed, states)) + [FOOT]
    return "\n".join([*lines, *(line for note in notes for line in hang(note, width))]) + "\n"


def _wound(state: State) -> bool:
    return state.arm_turn is not None and state.cam_turn is not None and state.arm_turn - state.cam_turn > SEEN


def _arm(solved: Solution) -> str:
    """The arm's place in a sentence, in each state that has one."""
    places = [f"{state.name}, {stands(state.arm_angle)}" for state in solved.states if state.arm_angle is not None]
    return f"The arm: {'; '.join(places)}." if places else ""


def _marks(states: Sequence[State]) -> Line:
    """A line under the heads that says which states cannot exist; left out where all of them can."""
    return Line("", "", tuple("" if state.reason == Reason.EXISTS else "cannot exist" for state in states))
