"""Defects as parameters: what each does inside, and what an inspector sees from outside; any combination solves."""

from geometry.defects.catalog import CONTRARY, DEFECTS, apply_all, defect
from geometry.defects.defect import Defect
from geometry.defects.held import held_poses
from geometry.defects.outcome import OUTCOMES, Outcome, pressed_condition, solve_wheel
from geometry.defects.sides import Sides, compare_sides
from geometry.defects.wheel import Wheel, felt

__all__ = [
    "CONTRARY",
    "DEFECTS",
    "OUTCOMES",
    "Defect",
    "Outcome",
    "Sides",
    "Wheel",
    "apply_all",
    "compare_sides",
    "defect",
    "felt",
    "held_poses",
    "pressed_condition",
    "solve_wheel",
]
