"""What is judged of the clevis: the thread that rod and clevis share, and how far the rod stands through it."""

from geometry.clevis import protrusion, thread_held
from geometry.rod_states import RodStates
from geometry.tables import band
from mechviz.checks.judge import ROUNDING, Band, judge
from mechviz.checks.row import CheckRow, missing_row
from mechviz.pushrod.limits import rod_ends
from mechviz.pushrod.study import Fitting
from mechviz.report.written import taped

CLEVIS_KEYS = ("clevis.pin_to_inside", "clevis.pin_to_end", "clevis.rod_thread")


def clevis_rows(fit: Fitting, cut: RodStates) -> list[CheckRow]:
    """Judge thread and end of the rod; neither where clevis or thread were not measured."""
    clevis, reach, end = fit.setup.clevis, cut.pin_reach, fit.rod_end
    thread, through = band("clevis-thread"), band("rod-through-clevis")
    assert thread.low is not None  # the table's test holds both rows
    assert through.high is not None
    least, most = float(thread.low) * 25.4, float(through.high) * 25.4
    held, past = float(thread_held(clevis, reach, end)), max(float(protrusion(clevis, reach, end)), 0.0)
    beyond = "How far the rod's end stands into the fork."
    return [
        _clevis_row(fit, "clevis-thread", thread.source, held, Band(least - ROUNDING), _thread_advice(fit, cut)),
        _clevis_row(fit, "rod-through-clevis", through.source, past, Band(most=most + ROUNDING), beyond),
    ]


def knows_clevis(fit: Fitting) -> bool:
    """Tell whether clevis and thread are the file's own figures."""
    return fit.case.states(*CLEVIS_KEYS)


def _clevis_row(fit: Fitting, check: str, source: str, value: float, allowed: Band, advice: str) -> CheckRow:
    limit = allowed.nearest(value)
    missing = next((key for key in CLEVIS_KEYS if not fit.case.states(key)), "")
    if missing:
        how = "measure the clevis and the thread; the project's own sizes stand in."
        return missing_row(check, source, missing, how, value=value, limit=limit, basis="solved")
    result = judge(value, allowed)
    return CheckRow(check, result, source, advice, value, limit, allowed.margin(value), basis="solved")


def _thread_advice(fit: Fitting, cut: RodStates) -> str:
    short = short_by(fit, cut)
    if short > 0:
        return f"The rod is too short by {taped(short, fit.system)}: a longer one is needed."
    return "Thread that rod and clevis share."


def short_by(fit: Fitting, cut: RodStates) -> float:
    """Return by how much (mm) the rod as it is is too short for its clevis; 0 where it will do."""
    shortest, _ = rod_ends(fit.setup, cut.pin_reach)
    return shortest - fit.rod_end if shortest - fit.rod_end > ROUNDING else 0.0
