"""Defects for people: a line of figures for each, and what an inspector sees from outside."""

from collections.abc import Sequence
from math import degrees, isfinite

from geometry.defects import Sides, compare_sides
from geometry.quantity import System
from geometry.reasons import Reason
from mechviz.faults.study import FOUND, Row
from mechviz.report.cautions import AUTOMATIC, CHOCKS, ESTIMATE, HEADING, SPRING
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import NOTHING, number, quantity, unit_word

HEADS = ("stroke", "free", "released", "applied", "gap", "force", "torque", "drag")
COLUMN, INDENT = 9, "  "
FOOT = (
    "Each defect in a usual amount (the project's own figures), everything else as found. Computed, not measured. "
    "A dash: there is no such state, and the line below says why."
)


def faults_text(title: str, sound: Row, rows: Sequence[Row], system: System, width: int) -> str:
    """Write the brake as found and with each defect, in at most ``width`` columns."""
    width = fitting(width)
    lines = [*hang(title, width), "", *_heads(system, width)]
    for row in (sound, *rows):
        lines += ["", *_row(row, system, width)]
    return "\n".join([*lines, "", *hang(FOOT, width), "", *boxed(HEADING, fault_cautions(), width)]) + "\n"


def fault_cautions() -> list[str]:
    """Return the cautions that belong beside defects."""
    return [AUTOMATIC, CHOCKS, SPRING, ESTIMATE]


def _heads(system: System, width: int) -> list[str]:
    length, force, torque = (unit_word(kind, system) for kind in ("length", "force", "torque"))
    units = (length, length, "deg", "deg", length, force, torque, torque)
    return [*_cells(HEADS, width), *_cells(units, width)]


def _cells(cells: Sequence[str], width: int) -> list[str]:
    """Cells in a line, or in two where the screen is narrow."""
    each = max(1, (width - len(INDENT)) // COLUMN)
    parts = [cells[n : n + each] for n in range(0, len(cells), each)]
    return [INDENT + "".join(f"{cell:>{COLUMN}}" for cell in part) for part in parts]


def _row(row: Row, system: System, width: int, *, combined: bool = False) -> list[str]:
    name = f"{row.title} ({row.name})" if row.defects else row.title
    lines = [*hang(name, width), *_cells(figures(row, system), width)]
    reason = Reason(int(row.outcome.reason))
    if reason != Reason.EXISTS:
        lines += hang(f"{reason.words[0].upper()}{reason.words[1:]}.", width, INDENT)
    lines += hang(f"Outside: {row.outside}", width, INDENT) if row.outside else []
    return lines if combined else lines + _swing_lines(row, system, width, INDENT)


def _swing_lines(row: Row, system: System, width: int, indent: str = "") -> list[str]:
    """Say by how much stroke and torque swing as an oval drum turns; nothing where they do not, or no such state is."""
    stroke, torque = float(row.outcome.swing), float(row.outcome.torque_swing)
    if not stroke > 0:
        return []
    more = f", the brake torque by {quantity(torque, 'torque', system)}," if isfinite(torque) else ""
    words = f"The stroke swings by {quantity(stroke, 'length', system)}{more} as the drum turns."
    return hang(words, width, indent)


def figures(row: Row, system: System) -> tuple[str, ...]:
    """Return a row's figures as they are written, in the order of `HEADS`."""
    one = row.outcome
    gap = min(float(one.gap_left), float(one.gap_right))
    return (
        number(float(one.stroke), "length", system),
        number(float(one.free_stroke), "length", system),
        _angle(float(one.released_angle)),
        _angle(float(one.applied_angle)),
        number(gap, "length", system, 3 if system == "inch" else 2),
        number(float(one.chamber_force), "force", system),
        number(float(one.brake_torque), "torque", system),
        number(float(one.drag), "torque", system),
    )


def sides_lines(sides: Sides, against: str, system: System, width: int) -> list[str]:
    """Say how one wheel of an axle differs from the other (``against`` names it), and what must not differ."""
    said = [_pull(float(sides.imbalance), float(sides.more))]
    longer = float(sides.longer)
    if isfinite(longer):
        said.append(_longer(longer, system))
    if not sides.same_chamber:
        said.append("The chambers differ: both ends of an axle must have the same [49 CFR 393.47(b)].")
    if not sides.same_arm:
        said.append("The arms differ in length: both ends of an axle must have the same [49 CFR 393.47(c)].")
    return hang(f"Against {against}: {' '.join(said)}", width)


def _longer(longer: float, system: System) -> str:
    """How the stroke differs, in no more digits than are written."""
    written = quantity(abs(longer), "length", system)
    if written == quantity(0.0, "length", system):
        return "Their strokes are alike."
    return f"Its stroke is {written} {'longer' if longer > 0 else 'shorter'}."


def _pull(imbalance: float, more: float) -> str:
    """Which way it pulls, and how much more or less this one brakes, as a share of the other one's torque."""
    if not isfinite(imbalance):
        return "one of the two does not brake as it should, and cannot be compared."
    if abs(imbalance) < EVEN:
        return "both brake alike."
    if not isfinite(more):
        return "only this one brakes, and the vehicle pulls to this side."
    share, side = f"{100 * abs(more):.0f} %", "this" if more > 0 else "the other"
    return f"it brakes {share} {'more' if more > 0 else 'less'}, and the vehicle pulls to {side} side."


EVEN = 0.02
"""Torques nearer than this share are alike (the project's own figure)."""


def _angle(angle: float) -> str:
    return f"{degrees(angle):.0f}" if isfinite(angle) else NOTHING


def combined_text(title: str, other: Row, sick: Row, system: System, width: int) -> str:
    """Write one wheel beside the other: figures, what defects do inside, what shows outside, and which way it pulls.

    The other wheel is the same brake as found, or another setup's.
    """
    width = fitting(width)
    lines = [*hang(f"{title}: {sick.title}", width), "", *_heads(system, width)]
    lines += ["", *_row(other, system, width), "", *_row(sick, system, width, combined=True), ""]
    lines += hang(f"Inside: {sick.inside}", width) if sick.defects else []
    sides = compare_sides(sick.wheel, other.wheel, sick.outcome, other.outcome)
    against = "the same brake as found, at the other end of the axle" if other.title == FOUND else "the other wheel"
    lines += sides_lines(sides, against, system, width)
    lines += _swing_lines(sick, system, width)
    return "\n".join([*lines, "", *boxed(HEADING, fault_cautions(), width)]) + "\n"
