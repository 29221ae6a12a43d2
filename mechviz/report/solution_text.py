"""A solution for people: one table, a column a state."""

from collections.abc import Sequence

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


def solution_text(solved: Solution, system: System, width: int, found: Sequence[str] = ()) -> str:
    """Write a solution in at most ``width`` columns, under its title and the lines that say how it was ``found``."""
    width = fitting(width)
    lines = [line for text in (solved.title, *found) for line in hang(text, width)]
    states = solved.tabled
    table = [_marks(states), *table_lines(states, system, solved.leading)]
    lines += ["", *tabled([state.name for state in states], table, width), ""]
    lines += hang(_arm(solved), width)
    lines += [line for fault in solved.refused for line in hang(f"{fault.text(system)}.", width)]
    notes = (SQUEEZED, FOOT) if any(squeezed(state) for state in states) else (FOOT,)
    return "\n".join([*lines, *(line for note in notes for line in hang(note, width))]) + "\n"


def _arm(solved: Solution) -> str:
    """The arm's place in a sentence, in each state that has one."""
    places = [f"{state.name}, {stands(state.arm_angle)}" for state in solved.states if state.arm_angle is not None]
    return f"The arm: {'; '.join(places)}." if places else ""


def _marks(states: Sequence[State]) -> Line:
    """A line under the heads that says which states cannot exist; left out where all of them can."""
    return Line("", "", tuple("" if state.reason == Reason.EXISTS else "cannot exist" for state in states))
