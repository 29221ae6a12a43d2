"""What is wrong whatever the cause: readings that cannot be, and readings that a check fails.

A diagnosis ranks causes. A limit that is passed is a defect all the same, however likely it is that no part is at
fault; and a reading that the brake as written cannot give is put right before any cause is believed.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import isfinite

from geometry.arrays import floats
from geometry.diagnosis.meant import slack_temperature
from geometry.found import condition_of
from geometry.kinematics import free_stroke, released_poses
from geometry.quantity import System
from geometry.setup import Setup
from geometry.tables import chambers_by_outside_diameter
from mechviz.checks.agreement import agreement_rows, fitted_rows
from mechviz.checks.angle import arm_angle_rows
from mechviz.checks.cam import cam_rows
from mechviz.checks.case import COLD, WARM, Case
from mechviz.checks.chamber import chamber_size_rows
from mechviz.checks.drum import drum_rows
from mechviz.checks.judge import ROUNDING
from mechviz.checks.lining import lining_rows
from mechviz.checks.proof import ring_agrees
from mechviz.checks.reach import reach_rows
from mechviz.checks.row import CheckRow
from mechviz.checks.slack import free_stroke_rows
from mechviz.checks.slack_heat import judged_either_way
from mechviz.pushrod.limits import free_stroke_band
from mechviz.report.reading import reading_words
from mechviz.report.written import both, gap_text, taped

READ = (free_stroke_rows, arm_angle_rows, lining_rows, drum_rows, chamber_size_rows)
CAM = "cam-profile-used"
AS_WRITTEN = (
    "The lengths under [linkage] put the arm there: what is written is itself wrong. mechviz fit works out the pushrod."
)


@dataclass(frozen=True)
class Impossible:
    """A reading (mm) that no state of the brake as written can have, and the most that it can."""

    title: str
    value: float
    most: float


def impossible_in(setup: Setup) -> list[Impossible]:
    """Return the strokes that were read beyond the chamber's rated stroke."""
    rated = setup.brake.chamber.rated_stroke
    read = {"applied stroke": setup.measured.stroke, "free stroke": _free_stroke_read(setup)}
    return [Impossible(title, v, rated) for title, v in read.items() if v is not None and v > rated + ROUNDING]


def _free_stroke_read(setup: Setup) -> float | None:
    return setup.as_found.free_stroke if "condition.free_stroke" in setup.stated else None


def impossible_words(one: Impossible, setup: Setup, system: System) -> str:
    """Say that a reading cannot be, and what it can come of."""
    whose = "chamber written" if {"chamber.style", "chamber.size"} <= setup.stated else "base's chamber"
    return (
        f"{one.title.capitalize()} {taped(one.value, system)} cannot be: the rated stroke of the {whose} is "
        f"{taped(one.most, system)}. It was misread, or another chamber with a longer stroke is fitted: measure "
        "again, and look which chamber it is, before any cause below is believed."
    )


def failed_rows(setup: Setup) -> list[CheckRow]:
    """Return what a check fails of the readings themselves, the stroke apart, and of what follows for cam and reach."""
    case = Case(setup, setup.test.rules)
    judged = [row for row in judged_either_way(case, _rows) if row.basis == "measured" or row.check == CAM]
    beyond = [row for row in reach_rows(case) if "stroke" not in row.advice.partition(":")[0]]
    return _once([*(row for row in judged if row.result == "fail"), *beyond])


def _rows(case: Case) -> list[CheckRow]:
    """What is judged of the readings themselves, and of the cam."""
    return [*(row for check in READ for row in check(case)), *(row for row in cam_rows(case) if row.check == CAM)]


def _once(rows: Iterable[CheckRow]) -> list[CheckRow]:
    """One row of each check: rules that agree are not told twice."""
    return list({row.check: row for row in rows}.values())


def as_written(setup: Setup) -> bool:
    """Tell whether an arm's angle that fails is that of the lengths written, with the slack as it should be."""
    case = Case(setup, setup.test.rules)
    agree = {row.check: row.result for row in judged_either_way(case, agreement_rows)}
    others = [row.result for row in (*fitted_rows(case), *free_stroke_rows(case))]
    return agree["arm-angle-applied-as-solved"] == "pass" and "fail" not in others


def row_words(row: CheckRow, system: System) -> str:
    """Write a failed check in a sentence or two."""
    figures = "" if row.check == "chamber-size" else reading_words(row, system)
    said = f"{figures}. {row.advice}" if figures else row.advice
    return f"{row.check.replace('-', ' ')}: {said}"


def cold_slack(setup: Setup) -> float | None:
    """Return what a free stroke that was read on a warm drum comes to on a cold one, mm, where that is too little.

    NaN where the linings would press on the drum, released; None where the slack is enough, or was read cold.
    """
    if _free_stroke_read(setup) is None or not read_hot(setup):
        return None
    cold = _once_cold(setup)
    return None if cold >= free_stroke_band().least else cold


def read_hot(setup: Setup) -> bool:
    """Tell whether slack was read, or would be, with the drum warmer than a cold one."""
    return slack_temperature(setup) > COLD + WARM


def _once_cold(setup: Setup) -> float:
    """The free stroke as found, mm, once the drum is cold."""
    return float(free_stroke(setup.brake, replace(condition_of(setup), drum_temperature=floats(COLD))))


def hot_words(setup: Setup, system: System) -> str:
    """Say what slack that was read on a hot drum comes to on a cold one; nothing where it was not, or unknown.

    A free stroke that is too little then is told by `cold_words`.
    """
    if not read_hot(setup):
        return ""
    if _free_stroke_read(setup) is None:
        return _hot_gap_words(setup, system) if "condition.lining_clearance" in setup.stated else ""
    if cold_slack(setup) is not None:
        return ""
    heat = both(slack_temperature(setup), "temperature", system)
    return (
        f"The free stroke was read with the drum at {heat}, where it is longer: cold it would be about "
        f"{taped(_once_cold(setup), system)}. Let the drum cool and measure again; do not adjust hot."
    )


def _hot_gap_words(setup: Setup, system: System) -> str:
    """Say what a clearance that was read on a hot drum comes to on a cold one, where the cam has that setting hot."""
    cold, heat = _gap_at(setup, COLD), both(slack_temperature(setup), "temperature", system)
    would = f"it would be about {gap_text(cold, system)}" if isfinite(cold) else "the linings would press, released"
    known = f": cold {would}" if isfinite(_gap_at(setup, slack_temperature(setup))) else ""
    return (
        f"The lining clearance was read with the drum at {heat}, where it is wider{known}. Let the drum cool and "
        "measure again; do not adjust hot."
    )


def _gap_at(setup: Setup, temperature: float) -> float:
    """The smaller gap at mid arc as adjusted, mm, with the drum at a temperature; NaN where the linings would press."""
    poses = released_poses(setup.brake, replace(condition_of(setup), drum_temperature=floats(temperature)))
    return min(float(poses.left.gap_middle), float(poses.right.gap_middle))


def cold_words(setup: Setup, cold: float, system: System) -> str:
    """Say that a free stroke is too little once the drum is cold."""
    left = f"it would be {taped(cold, system)}" if isfinite(cold) else "the linings would press, released"
    heat = both(slack_temperature(setup), "temperature", system)
    return (
        f"The free stroke was read with the drum at {heat}; cold {left}: adjusted too tight, whatever the cause. Let "
        "the drum cool, measure again, and spin the wheel to feel for drag."
    )


def ring_words(setup: Setup) -> str:
    """Say which chamber the clamp ring is of, where that is not the one written; nothing where it is."""
    diameter, chamber = setup.measured.clamp_diameter, setup.brake.chamber
    if diameter is None or ring_agrees(setup) is not False or not chamber.style.startswith("clamp"):
        return ""
    sizes = list(dict.fromkeys(one.size for one in chambers_by_outside_diameter(diameter)))
    if chamber.size in sizes:
        return ""
    whose = f"type {' or '.join(sizes)}" if sizes else "no listed chamber"
    return f"The clamp ring is that of a {whose}, not of the type {chamber.size} that the figures rest on."
