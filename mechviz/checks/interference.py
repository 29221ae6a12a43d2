"""Whether rod, clevis and arm swing clear of chamber, bracket and axle, and the cam's tip of the other roller."""

from dataclasses import replace
from typing import TYPE_CHECKING

from geometry.brake import Brake
from mechviz.checks.case import Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import CheckRow, missing_row

if TYPE_CHECKING:
    from geometry.interference import Interference

SOURCE = "mechviz: outlines drawn to scale, unstated sizes the project's own; less than 1/4 in proves nothing"
SPREAD = 25.4 / 4
"""How far the project's own proportions may be off, 1/4 in (the project's figure): less overlap proves nothing."""
CLEAR = "Drawn to scale, rod, clevis and arm swing clear of chamber, bracket and axle tube through the whole stroke."


def interference_rows(case: Case) -> list[CheckRow]:
    """Judge how deep the worst pair of parts would run into each other, between released and the rated stroke."""
    if case.unknown_for_angles:
        how = "without arm, pushrod and where the chamber sits the swing cannot be drawn."
        return [missing_row("interference", SOURCE, case.unknown_for_angles, how, basis="solved")]
    row = swing_row(case.brake)
    if case.chamber_doubt:
        key, how = case.chamber_doubt
        swings = "swings clear" if row.result == "pass" else "would not swing clear"
        why = f"It {swings} with a {case.chamber_name}, but {how}"
        return [replace(row, result="not-evaluated", advice=why, margin=None, missing=case.unless_stated(key))]
    return [row]


def swing_row(brake: Brake) -> CheckRow:
    """Judge the same of a brake whose arm and pushrod are known."""
    from geometry.interference import interferences  # shapes are slow to load

    found = sorted(interferences(brake), key=lambda one: -one.depth)
    worst = found[0].depth if found else 0.0
    result = judge(worst, Band(most=SPREAD), SPREAD)
    advice = _advice(found[0], len(found) - 1) if found else CLEAR
    margin = SPREAD - worst
    return CheckRow("interference", result, SOURCE, advice, worst, SPREAD, margin, resolution=SPREAD, basis="solved")


def _advice(worst: "Interference", others: int) -> str:
    what = worst.fault.problem.replace(", by {amount}", "").replace(" by {amount}", "").replace("{amount} ", "")
    more = f", and {others} more pair{'s' * (others != 1)} of parts overlap" if others else ""
    return f"{what[0].upper()}{what[1:]}{more}. Look there on the vehicle, and check {worst.fault.where}."
