"""The free stroke that a fit sets, against the trade's band: what is set here is what a check will judge."""

from geometry.kinematics import free_stroke
from geometry.rod_states import RodStates
from geometry.tables import band
from mechviz.checks.row import CheckRow
from mechviz.pushrod.limits import free_stroke_band
from mechviz.pushrod.study import PRESENT, Fitting
from mechviz.pushrod.worst import worst
from mechviz.report.written import gap_text, taped

PRESS = (0.015 * 25.4, 0.020 * 25.4)
"""The running clearance that the trade press gives, mm."""


def slack_row(fit: Fitting, cut: RodStates) -> CheckRow:
    """Judge the free stroke of the clearance that is set, where it is worst from new to worn."""
    found = worst(cut.free_stroke, free_stroke_band())
    value, limit, _ = found.figures
    tight = value is not None and limit is not None and value < limit
    advice = f"{found.at.capitalize()}, at {_clearance(fit)} of clearance.{found.lacking}"
    advice += f" {TIGHT if tight else LOOSE}" if found.result == "fail" else _press(fit)
    return CheckRow("free-stroke", found.result, band("free-stroke").source, advice, *found.figures, basis="solved")


TIGHT = "Tight: linings that rub wear, heat and use up air. Ask for a larger --clearance, or leave it out."
LOOSE = "Too much slack: the brake would have to be adjusted again at once. Ask for a smaller --clearance."


def _clearance(fit: Fitting) -> str:
    return gap_text(fit.best.clearance, fit.system)


def _press(fit: Fitting) -> str:
    """Where the trade's two figures disagree on this brake, both are told."""
    low, high = PRESS
    if low <= fit.best.clearance <= high:
        return ""
    ends = " to ".join(gap_text(end, fit.system) for end in PRESS)
    strokes = " to ".join(taped(_at(fit, end), fit.system) for end in PRESS)
    return f" The trade press gives {ends} of running clearance; on this brake that is {strokes} of free stroke."


def _at(fit: Fitting, clearance: float) -> float:
    """The free stroke of another clearance with the rod that is cut, linings as found."""
    return float(free_stroke(fit.brake(fit.best), fit.cleared(clearance))[PRESENT])
