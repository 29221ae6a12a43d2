"""What the page has to know of a setup beside the table: words, limits, units, sizes, and where the notes stand."""

from typing import Any

from geometry.brake import Brake
from geometry.quantity import KINDS, KindName, System, fraction
from geometry.setup import Setup
from mechviz.checks import run_checks
from mechviz.checks.case import COLD, HOT, WARM, Case
from mechviz.checks.in_use import open_of_solved_stroke
from mechviz.drawing.verdict import tested_pressures
from mechviz.drawing.words import bound
from mechviz.look import fractions
from mechviz.report.cautions import cautions
from mechviz.report.found import found_lines
from mechviz.report.written import UNIT_WORDS, decimals_of

SHOWN: tuple[KindName, ...] = ("length", "angle", "force", "torque", "pressure", "temperature")

Facts = dict[str, Any]


def page_facts(setup: Setup, system: System | None = None) -> Facts:
    """Return the facts of a setup as plain values; lengths mm, pressures MPa, temperatures K, angles rad."""
    case = Case(setup, setup.test.rules)
    rows = run_checks(setup)
    return {
        "title": setup.title,
        "found": {name: found_lines(setup, name) for name in ("inch", "metric")},
        "system": system or setup.system,
        **brake_facts(setup),
        "test": tested_pressures(),
        "tape": setup.measured.resolution,
        "open": open_of_solved_stroke(case),
        "cold": COLD,
        "warm": COLD + WARM,
        "hot": HOT,
        "automatic": case.automatic,
        "cautions": cautions(rows, case.automatic),
        "units": {name: _units(name) for name in SHOWN},
    }


def brake_facts(setup: Setup) -> Facts:
    """Return those of the facts that another brake in the same setup would change."""
    return {
        "limit": _limit(Case(setup, setup.test.rules)),
        "rated": {name: fractions(bound(setup.brake.chamber.rated_stroke, name)) for name in ("inch", "metric")},
        "sizes": _sizes(setup.brake),
    }


def _limit(case: Case) -> Facts:
    limit = case.limit
    name = fraction(limit.limit_mm)
    inches = name or f"{limit.limit_mm / 25.4:.2f} in"
    return {"stroke": limit.limit_mm, "source": limit.source, "inches": fractions(inches), "known": case.knows_chamber}


def _units(kind: KindName) -> Facts:
    """How a kind is written in either system: the size of the unit, its zero, its word, and how many decimals."""
    k = KINDS[kind]
    sizes: dict[System, tuple[str, float, float]] = {
        "inch": (k.inch, k.inch_factor, k.inch_zero),
        "metric": (k.metric, k.metric_factor, k.metric_zero),
    }
    return {
        system: {
            "unit": unit,
            "factor": factor,
            "zero": zero,
            "word": UNIT_WORDS.get(unit, unit),
            "decimals": decimals_of(kind, system),
        }
        for system, (unit, factor, zero) in sizes.items()
    }


def _sizes(brake: Brake) -> Facts:
    """The parts' sizes that the notes and the linings are drawn from, mm and rad."""
    lining, shoe, linkage = brake.lining, brake.shoe, brake.linkage
    return {
        "newRadius": brake.new_radius,
        "newLining": lining.thickness,
        "platform": brake.new_radius - lining.thickness,
        "liningStart": lining.start,
        "liningEnd": lining.end,
        "anchor": shoe.anchor,
        "camDistance": shoe.cam_distance,
        "rollerRadius": shoe.roller_radius,
        "tipRadius": brake.profile.tip_radius,
        "armLength": linkage.arm_length,
        "axisOffset": linkage.axis_offset,
        "faceDistance": linkage.face_distance,
        "pivotStart": linkage.pivot_start,
        "ratedStroke": brake.chamber.rated_stroke,
        "area": brake.chamber.effective_area,
        "leading": brake.leading_side,
    }
