"""Defects as parameters: what each does inside, and what an inspector sees from outside; any combination solves."""

from geometry.defects.catalog import DEFECTS, apply_all, defect
from geometry.defects.defect import Defect
from geometry.defects.sides import Sides, compare_sides
from geometry.defects.wheel import OUTCOMES, Outcome, Wheel, felt, solve_wheel

__all__ = [
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
    "solve_wheel",
]
