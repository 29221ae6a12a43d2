"""Which chamber it is: named from the clamp ring's diameter and the long-stroke marks, against what the file says."""

from geometry.tables import ChamberCandidate, chambers_by_outside_diameter
from mechviz.checks.case import Case
from mechviz.checks.row import CheckRow, missing_row

SOURCE = "49 CFR 393.47(e), outside diameters"
MARKS = "square air ports, an embossed cap or a trapezoid tag"


def chamber_size_rows(case: Case) -> list[CheckRow]:
    """Name the chamber from its clamp ring; a wrong name is a wrong limit."""
    chamber, measured = case.brake.chamber, case.setup.measured
    if not chamber.style.startswith("clamp"):
        why = f"A {chamber.style} chamber has no clamp ring to name it by: read the size cast or stamped on it."
        return [CheckRow("chamber-size", "not-applicable", SOURCE, why)]
    if measured.clamp_diameter is None:
        how = "measure the clamp ring's outside diameter to name the chamber."
        return [missing_row("chamber-size", SOURCE, "measured.clamp_diameter", how, against="expected")]
    if measured.long_stroke_marks is None:
        how = f"look for {MARKS} (long stroke) and write true or false."
        return [missing_row("chamber-size", SOURCE, "measured.long_stroke_marks", how, value=measured.clamp_diameter)]
    found = chambers_by_outside_diameter(measured.clamp_diameter, measured.long_stroke_marks)
    return [_row(case, measured.clamp_diameter, found)]


def _row(case: Case, diameter: float, found: list[ChamberCandidate]) -> CheckRow:
    chamber = case.brake.chamber
    right = [c for c in found if (c.style, c.size) == (chamber.style, chamber.size)]
    if right:
        table = float(right[0].outside_diameter_in) * 25.4
        advice = f"The clamp ring and the marks are those of a {_name(chamber.style, chamber.size)}."
        return CheckRow("chamber-size", "pass", SOURCE, advice, diameter, table, against="expected")
    if not found:
        advice = "No chamber in the table has such a clamp ring: measure across the ring, not over bolts or port."
        return CheckRow("chamber-size", "fail", SOURCE, advice, diameter)
    seen, said = _name(found[0].style, found[0].size), _name(chamber.style, chamber.size)
    advice = f"Clamp ring and marks are those of a {seen}, the file says {said}: the limit used may be the wrong one."
    table = float(found[0].outside_diameter_in) * 25.4
    return CheckRow("chamber-size", "fail", SOURCE, advice, diameter, table, against="expected")


def _name(style: str, size: str) -> str:
    return f"type {size} {style.replace('-', ' ')}"
