"""The checks: each a small function from a case to rows, run in the order in which a brake is gone over."""

from collections.abc import Callable

from geometry.setup import Setup
from mechviz.checks.agreement import agreement_rows, fitted_rows
from mechviz.checks.angle import arm_angle_rows
from mechviz.checks.angle_read import angle_read_rows
from mechviz.checks.cam import cam_rows
from mechviz.checks.case import Case
from mechviz.checks.chamber import chamber_size_rows
from mechviz.checks.drum import drum_rows
from mechviz.checks.interference import interference_rows
from mechviz.checks.lining import lining_rows
from mechviz.checks.pressure import test_pressure_rows
from mechviz.checks.reach import reach_rows
from mechviz.checks.reserve import reserve_rows
from mechviz.checks.row import RESULTS, CheckRow, Result
from mechviz.checks.slack import free_stroke_rows
from mechviz.checks.slack_heat import judged_either_way
from mechviz.checks.stroke import stroke_limit_rows

__all__ = ["CHECKS", "RESULTS", "Case", "CheckRow", "Result", "any_failed", "run_checks"]

CHECKS: tuple[Callable[[Case], list[CheckRow]], ...] = (
    stroke_limit_rows,
    chamber_size_rows,
    test_pressure_rows,
    free_stroke_rows,
    arm_angle_rows,
    angle_read_rows,
    lining_rows,
    drum_rows,
    cam_rows,
    reach_rows,
    reserve_rows,
    interference_rows,
    agreement_rows,
    fitted_rows,
)


def run_checks(setup: Setup, rules: tuple[str, ...] | None = None) -> list[CheckRow]:
    """Return every row that the setup allows, under the rule sets named (default: those that the file names)."""
    return judged_either_way(Case(setup, setup.test.rules if rules is None else rules), _rows)


def _rows(case: Case) -> list[CheckRow]:
    return [row for check in CHECKS for row in check(case)]


def any_failed(rows: list[CheckRow]) -> bool:
    """Tell whether anything failed."""
    return any(row.result == "fail" for row in rows)
