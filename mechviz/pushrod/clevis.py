"""What is judged of the clevis: the thread that rod and clevis share, and how far the rod stands through it."""

from geometry.clevis import protrusion, thread_held, thread_left
from geometry.rod_states import RodStates
from geometry.tables import band
from mechviz.checks.judge import ROUNDING, Band, judge
from mechviz.checks.row import CheckRow, missing_row
from mechviz.pushrod.limits import clevis_length, in_the_chamber, least_thread, rod_ends
from mechviz.pushrod.study import Fitting
from mechviz.pushrod.words import cut_words
from mechviz.report.written import taped

CLEVIS_KEYS = ("clevis.pin_to_inside", "clevis.pin_to_end", "clevis.rod_thread")


def clevis_rows(fit: Fitting, cut: RodStates) -> list[CheckRow]:
    """Judge thread and end of the rod; neither where clevis or thread were not measured."""
    clevis, reach, end = fit.setup.clevis, cut.pin_reach, fit.rod_end
    thread, through = band("clevis-thread"), band("rod-through-clevis")
    assert through.high is not None  # the table's test holds the row
    least, most = least_thread(), float(through.high) * 25.4
    held, past = float(thread_held(clevis, reach, end)), max(float(protrusion(clevis, reach, end)), 0.0)
    beyond = "How far the rod's end stands into the fork."
    if in_the_chamber(fit.setup, reach):
        return _face_rows(fit, reach)
    return [
        *_face_rows(fit, reach),
        _clevis_row(fit, "clevis-thread", thread.source, held, Band(least - ROUNDING), _thread_advice(fit, cut)),
        _clevis_row(fit, "rod-through-clevis", through.source, past, Band(most=most + ROUNDING), beyond),
    ]


def _face_rows(fit: Fitting, reach: float) -> list[CheckRow]:
    """Whether the clevis stands clear of the chamber's face, released; of one not measured only where none could."""
    known = fit.case.states("clevis.pin_to_end")
    inside = in_the_chamber(fit.setup, reach)
    if not known and not inside:
        return []
    back = clevis_length(fit.setup)
    advice = "Released, the clevis stands clear of the chamber's face."
    if inside:
        least = f" and {taped(least_thread(), fit.system)} of thread"
        size = "its own" if fit.case.states("clevis.pin_to_inside") else "the project's own"
        whose = "" if known else f" (by {size} size from pin to inside{least})"
        advice = f"Released, the clevis would stand in the chamber{whose}: no such rod fits. {NEARER}"
    figures = reach, back, reach - back
    source = "mechviz: face to pin against the clevis, pin to its end"
    result = "fail" if inside else "pass"
    return [CheckRow("clevis-clear-of-chamber", result, source, advice, *figures, basis="solved")]


NEARER = (
    "Change: the chamber farther from the camshaft (a longer face_distance), or another chamber or bracket; measure "
    "face_distance again first."
)


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
    """What is wrong with the thread: the clevis, the rod's length, what the cut leaves of its thread, or nothing."""
    clevis, least = fit.setup.clevis, least_thread()
    if clevis.thread < least - ROUNDING:
        own = taped(clevis.thread, fit.system)
        return f"The clevis itself has only {own} of thread: no rod helps, fit another clevis."
    short = short_by(fit, cut)
    if short > 0:
        return f"The rod is too short by {taped(short, fit.system)}: a longer one is needed."
    if float(thread_held(clevis, cut.pin_reach, fit.rod_end)) < least - ROUNDING:
        return _thread_gone(fit)
    return "Thread that rod and clevis share."


def _thread_gone(fit: Fitting) -> str:
    """The rod's own thread is too short, by itself or once it is cut."""
    clevis, system = fit.setup.clevis, fit.system
    whole, left = taped(clevis.rod_thread, system), float(thread_left(clevis, fit.rod_end))
    if not fit.cut_off:
        return f"The rod has only {whole} of thread: cut more thread on it, or fit another rod."
    kept = f"leaves {taped(left, system)} of" if left > ROUNDING else "takes all of"
    return (
        f"Cutting off {cut_words(fit.cut_off, system)} {kept} the rod's {whole} of thread: thread it farther down "
        "first, or fit a rod that is nearer to this length."
    )


def short_by(fit: Fitting, cut: RodStates) -> float:
    """Return by how much (mm) the rod as it is is too short for its clevis; 0 where it will do, or no rod would."""
    if fit.setup.clevis.thread < least_thread() - ROUNDING:
        return 0.0
    shortest, _ = rod_ends(fit.setup, cut.pin_reach)
    return shortest - fit.rod_end if shortest - fit.rod_end > ROUNDING else 0.0
