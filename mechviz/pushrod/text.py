"""A fit for the one at the bench: the length to cut first, then what a sixteenth does, the setting, the cautions."""

from collections.abc import Callable
from math import degrees

from geometry.quantity import System
from geometry.reasons import Reason
from mechviz.checks import any_failed
from mechviz.checks.judge import ROUNDING
from mechviz.checks.row import CheckRow
from mechviz.checks.slack import usual_free_stroke
from mechviz.pushrod.clevis import short_by
from mechviz.pushrod.limits import arms_disagree, in_the_chamber
from mechviz.pushrod.missing import HOW
from mechviz.pushrod.study import PRESENT, WORN, Fitting
from mechviz.pushrod.tables import angle_cell, either_way, hole_reasons, holes_table
from mechviz.pushrod.verdicts import fit_rows
from mechviz.pushrod.words import (
    cell,
    cut_words,
    exact_words,
    fix_words,
    let_it_cool,
    tick_words,
    turns_words,
    two_arms,
)
from mechviz.report.cautions import AUTOMATIC, DUST, ESTIMATE, HEADING, SPRING
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.reading import reading_words
from mechviz.report.verdicts import WORDS, in_order
from mechviz.report.written import both, gap_text, taped

CUT, FAILED, EXAMPLE = "CUT THE PUSHROD", "DO NOT CUT YET: SOMETHING FAILED", "EXAMPLE ONLY: DO NOT CUT BY THIS"
AS_IT_IS, MEASURE = "DO NOT CUT: THE PUSHROD WILL DO AS IT IS", "DO NOT CUT YET: MEASURE THE CLEVIS FIRST"
CHOCK = (
    "Chock the wheels. Cage the spring brake with its own tool before the clevis pin is drawn or the rod is measured: "
    "the rod then stands released, and nothing but the chocks holds the vehicle."
)
CHOCK_ONLY = "Chock the wheels: with the clevis pin drawn nothing but the chocks holds the vehicle."
BY_HAND = "Turn an automatic adjuster by hand only now, at installation. " + AUTOMATIC
PAIR = "Fit both ends of the axle alike: the same chamber, the same arm length, the same hole."
COOL = "Let the drum cool first; do not adjust hot."
FOOT = "Computed from the setup's figures. A dash: there is no such figure."

Style = Callable[[str], str]


def fit_text(fit: Fitting, width: int, strong: Style = str) -> str:
    """Write a fit in at most ``width`` columns; ``strong`` makes the length to cut stand out."""
    width = fitting(width)
    lines = [line for text in _head(fit) for line in hang(text, width)]
    rows = fit_rows(fit)
    lines += ["", *_answer(fit, any_failed(rows), width, strong), *_missing(fit, width)]
    if fit.best.cut is not None:
        lines += ["", f"{tick_words(fit.system)} EITHER WAY", *either_way(fit, width)]
    if len(fit.holes) > 1 and any(hole.rods for hole in fit.holes):
        lines += ["", "HOLES OF THE ARM", *holes_table(fit, width)]
        lines += [line for text in hole_reasons(fit) for line in hang(text, width)]
    if fit.best.cut is not None:
        lines += ["", "SET THE ADJUSTER", *(line for text in steps(fit) for line in hang(text, width, "- "))]
        lines += ["", "CHECKED, ON THE EXAMPLE" if fit.example else "CHECKED"]
        lines += [line for row in in_order(rows) for line in _verdict(row, fit.system, width)]
    lines += ["", *hang(FOOT, width), ""]
    return "\n".join([*lines, *boxed(HEADING, fit_cautions(fit), width)]) + "\n"


def fit_cautions(fit: Fitting) -> list[str]:
    """Return the cautions that belong beside a fit."""
    adjuster = [BY_HAND] if fit.case.automatic else []
    spring = [CHOCK_ONLY] if _no_spring_brake(fit) else [CHOCK, SPRING]
    return [*spring, *adjuster, PAIR, DUST, ESTIMATE]


def _head(fit: Fitting) -> list[str]:
    setup, system = fit.setup, fit.system
    base = f" (based on {setup.base})" if setup.base else ""
    pressure = both(setup.test.pressure, "pressure", system)
    lines = [
        f"{setup.title}: fit of the slack adjuster",
        f"Setup: {setup.source}{base}.",
        f"Wanted: arm at {angle_cell(fit.asked.angle)} at full application, {pressure} at the chamber, drum cold, "
        f"{_wanted_slack(fit)}.",
        _linings(fit),
    ]
    hot = let_it_cool(fit.case, system)
    return [*lines, *_assumed(fit), *([hot] if hot else [])]


def _wanted_slack(fit: Fitting) -> str:
    """The clearance asked for, or the free stroke and what it takes of clearance."""
    asked, system = fit.asked.clearance, fit.system
    if asked is not None:
        return f"lining clearance {gap_text(asked, system)}"
    clearance = f", lining clearance {gap_text(fit.best.clearance, system)}" if fit.best.cut else ""
    return f"free stroke {taped(usual_free_stroke(), system)}{clearance}"


def _linings(fit: Fitting) -> str:
    """What the linings are, and how thin they may get; linings under that are to be replaced before anything."""
    now, least = float(fit.condition.arrays[0][PRESENT]), fit.worn_by
    words = f"{taped(least.limit_mm, fit.system)}, {least.source}"
    if now < least.limit_mm:
        return f"Linings now {taped(now, fit.system)}: under the least, {words}. Replace them first, in pairs."
    return f"Linings now {taped(now, fit.system)}; worn is {words}."


ASSUMED = {
    "linkage.pivot_depth": "pivot depth",
    "condition.lining_thickness": "lining thickness",
    "condition.drum_diameter": "drum diameter",
    "test.pressure": "test pressure",
}


def _assumed(fit: Fitting) -> list[str]:
    """What else was taken from the base: it moves the answer little, and is named all the same."""
    stated = fit.case.states
    names = [word for key, word in ASSUMED.items() if not stated(key)]
    names = [n for n in names if n != "test pressure" or not stated("test.reservoir_pressure")]
    return [f"Assumed, not in the file: {', '.join(names)}."] if names else []


def _answer(fit: Fitting, failed: bool, width: int, strong: Style) -> list[str]:
    """The length to cut, large; or why there is none."""
    hole, cut = fit.best, fit.best.cut
    if cut is None:
        return [strong("NO PUSHROD DOES IT"), *hang(why_none(fit), width)]
    rows = answer_rows(fit)
    pin = rows[0][0]
    box = _framed(heading(fit, failed), rows, width)
    box = [line.replace(pin, strong(pin), 1) if line.startswith(f"   {pin} ") else line for line in box]
    now, worn = (exact_words(float(hole.exact.pin_reach[k])) for k in (PRESENT, WORN))
    exact = f"Exact, face to pin: {now} with the linings now; {worn} with them worn."
    return [*box, *hang(f"{exact} {SQUARE_ROD}", width)]


SQUARE_ROD = "Measure with the rod released and standing square to the face."


def answer_rows(fit: Fitting) -> list[tuple[str, str]]:
    """Return the lengths of the answer, each with what it is; the fit must have a rod."""
    hole, cut = fit.best, fit.best.cut
    assert cut is not None
    return [
        (cut_words(cut.pin_reach, fit.system), "from the chamber's face to the clevis-pin centre"),
        _end_words(fit),
        (_whole(fit, cut.pin_reach), "whole rod, pivot to clevis-pin centre"),
        (cell(hole.arm_length, fit.system), "arm, camshaft centre to hole"),
    ]


def heading(fit: Fitting, failed: bool) -> str:
    """Return what is to be done about the rod; nobody cuts one that will do."""
    if fit.example or failed:
        return EXAMPLE if fit.example else FAILED
    if fit.cut_off is None or fit.cut_off > ROUNDING:
        return CUT
    return AS_IT_IS if fit.case.states("clevis.pin_to_inside") else MEASURE


def _framed(heading: str, rows: list[tuple[str, str]], width: int) -> list[str]:
    """Figures under each other between two bars, what they are beside them: found at a glance."""
    column = max(len(figure) for figure, _ in rows) + 5
    inside = [line for figure, what in rows for line in hang(what, width, f"   {figure}".ljust(column))]
    return ["=" * width, heading, "", *inside, "", "=" * width]


def _end_words(fit: Fitting) -> tuple[str, str]:
    """Where the rod ends, and what that means for the rod."""
    cut, clevis = fit.best.cut, fit.setup.clevis
    assert cut is not None
    if in_the_chamber(fit.setup, cut.pin_reach):
        return "none", "from the face to the rod's end: no room for rod and clevis, see below"
    end, to = cut_words(fit.rod_end, fit.system), "from the face to the rod's end"
    if not fit.case.states("clevis.pin_to_inside"):
        inside = taped(clevis.pin_to_inside, fit.system)
        return end, f"{to}, if the clevis measures {inside} from pin to inside: measure it"
    if fit.cut_off is None:
        return end, f"{to}, flush with the clevis' inside: cut here"
    if short_by(fit, cut) > 0:
        return end, f"{to} as it is: TOO SHORT, see below"
    off = cut_words(fit.cut_off, fit.system)
    return end, f"{to}: cut off {off}" if fit.cut_off > ROUNDING else f"{to} as it is: do not cut"


def _whole(fit: Fitting, pin_reach: float) -> str:
    return cut_words(fit.setup.brake.linkage.pivot_depth + pin_reach, fit.system)


def why_none(fit: Fitting) -> str:
    """Say why no rod puts the arm where it is wanted, in the present condition."""
    exact = fit.best.exact
    reason = Reason(int(exact.reason[PRESENT]))
    if not exact.pressed[PRESENT]:
        return "The test pressure does not bring the linings to the drum: there is no application to fit a rod to."
    if reason == Reason.EXISTS:
        return "The rod would be shorter than can be made."
    if reason == Reason.INPUT_MISSING or reason == Reason.CAM_BELOW_HEEL:
        return "The cam has no room for so much clearance with the linings as found: ask for a smaller --clearance."
    if reason == Reason.LINKAGE_OPEN:
        return (
            f"No rod meets the arm both released and at {angle_cell(fit.asked.angle)} applied, where this chamber "
            "stands. Change: another arm_length or axis_offset, or ask for another --angle."
        )
    other = "" if reason == Reason.CAM_PAST_TIP else ", or ask for another --angle"
    return f"With the linings as found {reason.words}. Change: {fix_words(reason)}{other}."


def _missing(fit: Fitting, width: int) -> list[str]:
    if not fit.example:
        return []
    lines = hang("These are not this vehicle's own figures. Measure, and write in the file:", width)
    wanted = (f"{key}: {how_to_measure(fit, key)}" for key in fit.missing)
    return ["", *lines, *(line for words in wanted for line in hang(words, width, "- "))]


def how_to_measure(fit: Fitting, key: str) -> str:
    """Say how a figure is taken; of an arm that is two figures, both."""
    doubt = key == "linkage.arm_length" and arms_disagree(fit.setup)
    return f"{two_arms(fit.setup, fit.system)} Measure again {HOW[key]}" if doubt else HOW[key]


def steps(fit: Fitting) -> list[str]:
    """Return the worm's setting, and what to look for when it is done."""
    cut = fit.best.cut
    assert cut is not None
    turns, free = turns_words(fit.worm_turns), float(cut.free_stroke[PRESENT])
    gear = f"{fit.setup.brake.adjuster.worm_turns:g}"
    own = (
        ""
        if fit.case.states("adjuster.worm_turns")
        else ", one adjuster's figure in US Army technical manuals: yours may differ"
    )
    angle, stroke = degrees(float(cut.arm_angle[PRESENT])), cell(float(cut.stroke[PRESENT]), fit.system)
    pressure = both(fit.setup.test.pressure, "pressure", fit.system)
    return [
        *([COOL] if fit.case.warm else []),
        "Turn the worm until the hole comes to the clevis, and pin it: do not pull the rod to the arm.",
        "Turn the worm on until the first lining touches the drum.",
        f"Turn it back by {turns} for {gap_text(fit.best.clearance, fit.system)} at the middle of the lining "
        f"({gear} turns of the worm to one of the cam{own}).{_pawl(fit)}",
        f"Pull the arm by hand: the linings touch after a stroke of {cell(free, fit.system)}.",
        f"{_apply(fit)} {pressure}: the stroke should be {stroke}, and the gauge at the clevis pin show "
        f"{angle:.0f} deg. If it shows more the rod is too short: {tick_words(fit.system)} is {_slope(fit)}.",
    ]


def _pawl(fit: Fitting) -> str:
    """An automatic adjuster holds its worm: turned back by force its teeth go."""
    words = "An automatic adjuster turns back against its pawl or clutch: release it as its maker says, never by force."
    return f" {words}" if fit.case.automatic else ""


def _apply(fit: Fitting) -> str:
    return "Apply" if _no_spring_brake(fit) else "Spring brake released, apply"


def _no_spring_brake(fit: Fitting) -> bool:
    """Whether the file itself says that no parking section is fitted."""
    return fit.setup.parking is None and fit.case.states("parking.fitted")


def _slope(fit: Fitting) -> str:
    """What one step of the tape does to the angle at full application."""
    shorter, _, longer = (float(rod.arm_angle[PRESENT]) for rod in fit.best.rods)
    return angle_cell((shorter - longer) / 2)


def _verdict(row: CheckRow, system: System, width: int) -> list[str]:
    """One verdict: figures and what they are of; the source too, except where nothing was judged."""
    said = [row.advice] if row.check in NO_FIGURES else [_figures(row, system), row.advice]
    words = ". ".join(part.rstrip(".") for part in said if part)
    source = "" if row.result == "not-evaluated" else f" [{row.source}]"
    return hang(f"{row.check.replace('-', ' ')}: {words}.{source}", width, f"{WORDS[row.result]}  ", "  ")


NO_FIGURES = ("interference", "same-arm-length", "new-to-worn")


def _figures(row: CheckRow, system: System) -> str:
    """The reading; of the clevis, whose sizes were taped, as a tape tells them."""
    if not row.check.startswith(("clevis", "rod")) or row.value is None or row.limit is None:
        return reading_words(row, system)
    return "" if row.missing else f"{taped(row.value, system)}, limit {taped(row.limit, system)}"
