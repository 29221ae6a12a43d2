"""Which chamber it is: named from the clamp ring's diameter and the long-stroke marks, against what the file says."""

from dataclasses import replace

from geometry.tables import ChamberCandidate, chambers_by_outside_diameter, stroke_limit
from mechviz.checks.case import Case, marked
from mechviz.checks.proof import MARKS, as_seen, between_sizes, chamber_name, ring_agrees, seen_chamber
from mechviz.checks.row import CheckRow, Result, missing_row

SOURCE = "49 CFR 393.47(e), outside diameters"


CALLED = {"bolt": "bolt chamber", "rotochamber": "rotochamber"}


def chamber_size_rows(case: Case) -> list[CheckRow]:
    """Name the chamber from its clamp ring; a wrong name is a wrong limit."""
    chamber, measured = case.brake.chamber, case.setup.measured
    diameter, marks = measured.clamp_diameter, measured.long_stroke_marks
    if not chamber.style.startswith("clamp"):
        return [_unclamped(case, diameter)]
    belied = marks is not None and marks != (chamber.style == "clamp-long-stroke")
    if diameter is None and belied and case.chamber_doubt:
        who = "The setup says" if case.states("chamber.style") else "The base has a"
        advice = f"{who} {case.chamber_name}, but {case.chamber_doubt[1]}"
        verdict = "fail" if case.states("chamber.style") else "not-evaluated"
        missing = "" if case.states("chamber.style") else "chamber.style"
        return [CheckRow("chamber-size", verdict, SOURCE, advice, against="expected", missing=missing)]
    if diameter is None:
        how = "measure the clamp ring's outside diameter to name the chamber."
        return [missing_row("chamber-size", SOURCE, "measured.clamp_diameter", how, against="expected")]
    near = chambers_by_outside_diameter(diameter)
    if marks is None and near:
        how = f"the ring is that of a size {near[0].size}. Look for {MARKS} (long stroke) and write true or false."
        figures = {"value": diameter, "against": "expected"}
        return [missing_row("chamber-size", _source(near[0]), "measured.long_stroke_marks", how, **figures)]
    found = near if marks is None else chambers_by_outside_diameter(diameter, marks)
    seen = seen_chamber(case.setup)
    if seen:
        advice, key = f"No chamber is written: {as_seen(seen)}", "chamber.style"
        row = CheckRow("chamber-size", "not-evaluated", _source(seen), advice, diameter, against="expected")
        return [replace(row, missing=key)]
    return [_row(case, diameter, found, near)]


def _unclamped(case: Case, diameter: float | None) -> CheckRow:
    """A chamber without a clamp ring: held against its own row of the table where its outside was measured."""
    chamber = case.brake.chamber
    listed, agrees = stroke_limit(chamber.style, chamber.size), ring_agrees(case.setup)
    if diameter is None or agrees is None or listed is None or listed.outside_diameter_in is None:
        why = f"A {CALLED[chamber.style]} has no clamp ring to name it by: read the size cast or stamped on it."
        return CheckRow("chamber-size", "not-applicable", SOURCE, why)
    right = f"The outside diameter is that of a {case.chamber_name}."
    wrong = f"The outside diameter is not that of a {case.chamber_name}: the limit used may be the wrong one."
    table = float(listed.outside_diameter_in) * 25.4
    source = marked(SOURCE, listed.outside_diameter_status)
    verdict = "pass" if agrees else "fail"
    return CheckRow("chamber-size", verdict, source, right if agrees else wrong, diameter, table, against="expected")


def _row(case: Case, diameter: float, found: list[ChamberCandidate], near: list[ChamberCandidate]) -> CheckRow:
    chamber = case.brake.chamber
    right = next((c for c in found if (c.style, c.size) == (chamber.style, chamber.size)), None)
    if right:
        advice = f"The clamp ring and the marks are those of a {case.chamber_name}."
        if between_sizes(case.setup):
            unsure = f"It is between two sizes within what the tape can tell, nearer to a {case.chamber_name}: "
            return _judged("close", right, unsure + "measure it again, and read the size on it.", diameter, right)
        return _judged("pass", right, advice, diameter, right)
    if found:
        seen = chamber_name(found[0].style, found[0].size)
        advice = (
            f"Clamp ring and marks are those of a {seen}, the setup says {case.chamber_name}: the limit used may be "
            "the wrong one."
        )
    elif near:
        advice = f"The ring is that of a size {near[0].size}, which is not made with these marks: look at them again."
    else:
        advice = "No chamber in the table has such a clamp ring: measure across the ring, not over bolts or port."
    own = _of_the_setup(case)
    alike = own is not None and any(one.size == own.size for one in near)  # the marks differ, not the ring
    return _judged("fail", next(iter(near), None), advice, diameter, None if alike else own)


def _of_the_setup(case: Case) -> ChamberCandidate | None:
    """The setup's own chamber as the table has it, however far the reading is from it."""
    chamber = case.brake.chamber
    everything = chambers_by_outside_diameter(1.0, chamber.style == "clamp-long-stroke", tolerance_mm=1e6)
    return next((c for c in everything if c.size == chamber.size), None)


def _source(candidate: ChamberCandidate | None) -> str:
    return SOURCE if candidate is None else marked(SOURCE, candidate.status)


def _judged(
    result: Result, named: ChamberCandidate | None, advice: str, diameter: float, expected: ChamberCandidate | None
) -> CheckRow:
    table = None if expected is None else float(expected.outside_diameter_in) * 25.4
    return CheckRow("chamber-size", result, _source(named), advice, diameter, table, against="expected")
