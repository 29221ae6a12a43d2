"""What the solved stroke leaves: cold to the readjustment limit, hot to where the chamber loses its push."""

from dataclasses import replace

from geometry.chamber import share_lost
from geometry.effective_stroke import effective_stroke
from geometry.quantity import KINDS
from geometry.reasons import Reason
from geometry.states import State
from mechviz.checks.cam import PROFILE, cam_doubt
from mechviz.checks.case import Case, Drum, marked
from mechviz.checks.in_use import (
    LITTLE,
    InUse,
    growth,
    growth_at_best,
    offset,
    pinned,
    reading_doubt,
    stroke_at_best,
    stroke_in_use,
    surely_unexplained,
    told,
)
from mechviz.checks.judge import ROUNDING, Band, judge_solved, shown_spread
from mechviz.checks.mend import mend
from mechviz.checks.proof import Doubt, assumed_stroke_doubt, twofold_doubt
from mechviz.checks.reach import SOURCE as GEOMETRY
from mechviz.checks.row import CheckRow, Result, missing_row
from mechviz.checks.slack_cold import GROWTH_SHORT
from mechviz.checks.spread import Open
from mechviz.checks.train import base_arm_doubt, base_cam_doubt

HOT_SOURCE = (
    "UN R13, effective stroke: 90 % of the mean thrust left; drum at 600 degF (316 degC) as in the reported "
    "brake-temperature tests"
)


def reserve_rows(case: Case) -> list[CheckRow]:
    """Return both rows; without a slack of this vehicle's own there is no stroke to solve."""
    if case.unknown_slack:
        how = "pull the arm by hand and measure its slack (or write lining_clearance)."
        names = ("stroke-reserve-cold", "stroke-reserve-hot")
        return [missing_row(name, "Solved", case.unknown_slack, how, basis="solved") for name in names]
    return [_cold_row(case), _hot_row(case)]


def _cold_row(case: Case) -> CheckRow:
    limit, state = case.limit, case.cold
    source = marked(limit.source, limit.status)
    if state.stroke is None or _surely_past_tip(case, case.spread.cam_cold):
        return _impossible(case, "stroke-reserve-cold", source, limit.limit_mm, state)
    stroke = stroke_in_use(case, "cold").wider(GROWTH_SHORT * growth(case, "cold"))
    result = judge_solved(stroke.value, Band(most=limit.limit_mm), stroke.open, stroke.back)
    result = "fail" if _read_over(case, stroke, limit.limit_mm) else result
    advice = (
        f"Solved for {_full(case)} and a drum at 70 degF (21 degC): what is left to the limit of a {case.chamber_name}."
    )
    if result == "close":
        advice += " " + (case.spread.cold_stroke.words or f"{NEAR} {_look(case)}")
    if result == "fail":
        advice = f"Solved for {_full(case)} and a drum at 70 degF (21 degC), the stroke is past the limit. "
        advice += mend(case)
    return _row(case, "stroke-reserve-cold", result, source, advice + told(case), stroke, limit.limit_mm)


def _read_over(case: Case, stroke: InUse, limit: float) -> bool:
    """Whether the stroke was read over the limit (mm), on no hotter a drum: it is judged as read, not by the tape."""
    read = case.setup.measured.stroke
    return read is not None and pinned(case) and read > limit and stroke.value >= read - ROUNDING


def _look(case: Case, hot: bool = False) -> str:
    """What to do where less is left than can be told; of a hot brake, a stroke read cold has told what it can."""
    cold = hot and pinned(case) and not case.warm
    again = AGAIN_HOT if cold else "measure the stroke itself." if case.setup.measured.stroke is None else AGAIN
    blamed = case.too_slack or surely_unexplained(case) == "longer"
    return f"{again} {mend(case)}" if blamed else again


AGAIN = "measure stroke and slack again."
AGAIN_HOT = "a stroke read with the drum hot would tell more than one read cold again."
NEAR = "That is too near for readings and model to tell:"


def _full(case: Case) -> str:
    """The pressure of a full application, in both units."""
    return f"{case.full_pressure / PSI:.0f} psi ({1000 * case.full_pressure:.0f} kPa)"


PSI = KINDS["pressure"].inch_factor


def _hot_row(case: Case) -> CheckRow:
    """Judged by what is left of the push: towards the end of its stroke a chamber has none, however near that is."""
    state = case.hot
    limit = effective_stroke(case.brake.chamber, case.full_pressure)
    if state.stroke is None or _surely_past_tip(case, case.spread.cam_hot):
        return _impossible(case, "stroke-reserve-hot", HOT_SOURCE, limit, state)
    stroke = stroke_in_use(case, "hot").wider(GROWTH_SHORT * growth(case, "hot"))
    result = judge_solved(stroke.value, Band(most=limit), stroke.open, stroke.back)
    advice = _hot_advice(case, state, stroke.value, result) + told(case)
    return _row(case, "stroke-reserve-hot", result, HOT_SOURCE, advice, stroke, limit)


_ALL_OF_IT = (
    "With the drum at 600 degF (316 degC) it would take all of the chamber's stroke. It has bottomed before that, or "
    "nearly: hot, next to no push is left."
)


def _hot_advice(case: Case, state: State, stroke: float, result: str) -> str:
    share = 100 * stroke / case.brake.chamber.rated_stroke
    if share == 100 and result == "fail":
        return f"{_ALL_OF_IT} {mend(case)}"
    lost = 100 * share_lost(case.brake.chamber, case.full_pressure, state.chamber_force or 0.0)
    advice = f"With the drum at 600 degF (316 degC) the stroke is {share:.0f} % of the chamber's"
    advice += (
        f", and the pushrod has lost {lost:.0f} % of its force." if lost >= 1 and abs(offset(case)) < LITTLE else "."
    )
    if share > 100 and result == "fail":
        return f"{advice} It has bottomed before that: hot, nothing is left to brake with. {mend(case)}"
    if result == "close":
        unsure = case.spread.hot_stroke.words or f"{NEAR} {_look(case, hot=True)}"
        return f"{advice} {unsure}"
    return advice if result == "pass" else f"{advice} Hot, this brake pushes less than it should. {mend(case)}"


def _base_doubt(case: Case, check: str, limit: float) -> Doubt | None:
    """Why a stroke that rests on the base's arm (or, from a clearance, on its cam) is not judged.

    It does not where slack alone is over the limit, which only the chamber decides, nor cold where the stroke itself
    was read on as cold a drum.
    """
    cold, now = case.cold.stroke, case.full.stroke
    if _slack_alone(case, limit):
        return None
    as_cold = cold is not None and now is not None and abs(cold - now) < LITTLE
    if check == "stroke-reserve-cold" and pinned(case) and as_cold:
        return None
    return base_arm_doubt(case) or (None if case.states("condition.free_stroke") else base_cam_doubt(case))


def _slack_alone(case: Case, limit: float) -> bool:
    """Whether the slack that was read is by itself over the limit (mm)."""
    slack = case.setup.as_found.free_stroke if case.states("condition.free_stroke") else None
    return slack is not None and slack > limit + case.setup.measured.resolution


def _row(case: Case, check: str, result: Result, source: str, advice: str, stroke: InUse, limit: float) -> CheckRow:
    """A row of a solved stroke, whose resolution is what readings and model leave open; no doubtful one passes."""
    margin, missing = limit - stroke.value, ""
    doubt = assumed_stroke_doubt(case.setup) or case.chamber_doubt
    doubt = doubt or _base_doubt(case, check, limit)
    if result == "fail":
        doubt = doubt or twofold_doubt(case.setup)
    else:
        doubt = doubt or case.limit_doubt(case.limit.limit_mm, stroke.value, stroke.open) or reading_doubt(case)
        doubt = doubt or cam_doubt(case)
    if doubt:
        key, how = doubt
        missing, side = case.unless_stated(key), "Inside" if stroke.value <= limit else "Over"
        of_what = "limit" if check == "stroke-reserve-cold" else "effective stroke"
        result, advice = "not-evaluated", f"{side} the {of_what} of a {case.chamber_name}, but {how}"
    shown = shown_spread(stroke.open, margin, stroke.back)
    return CheckRow(
        check, result, source, advice, stroke.value, limit, margin, resolution=shown, basis="solved", missing=missing
    )


def _too_tight(case: Case) -> str:
    """So little slack, on a drum as hot as it was, that on a colder one nothing is left of it."""
    why = "With so little slack the linings would press on a colder drum before it is applied: spin the wheel and feel "
    why += "for drag, and measure the slack again."
    if case.slack_read_cold is not None:
        why += " If the slack was read with a cold drum, write condition.slack_temperature."
    return why


def _surely_past_tip(case: Case, cam: Open) -> bool:
    """Whether this brake's own cam passes its tip; on a drum colder or hotter than found by more than was read to."""
    surely = cam.surely_past_tip or (cam.past_tip and case.spread.cam_full.past_tip)
    return surely and not base_cam_doubt(case)


def _impossible(case: Case, check: str, source: str, limit: float, state: State) -> CheckRow:
    """The state does not exist: too much slack bottoms the chamber, anything else is no matter of adjusting.

    With the drum as it was found there is nothing more to tell. Colder or hotter it fails only where that is certain:
    where with every reading a step better there is none either, or its stroke is over the limit.
    """
    cold, spread = check == "stroke-reserve-cold", case.spread
    left, cam = (spread.cold_stroke, spread.cam_cold) if cold else (spread.hot_stroke, spread.cam_hot)
    if state.reason == Reason.CAM_PAST_TIP or (cam.past_tip and not base_cam_doubt(case)):
        if not base_cam_doubt(case) and not _surely_past_tip(case, cam) and left.best_why in _TOO_SLACK:
            return _too_slack(case, check, source, limit, left)
        return _past_tip(case, check, limit, left, cam)
    if state.reason == Reason.ADJUSTED_TOO_TIGHT:
        return CheckRow(check, "not-evaluated", source, _too_tight(case), limit=limit, basis="solved")
    if state.reason == Reason.INPUT_MISSING and not case.slack_beyond:
        why = "The slack that was found leaves nothing to work out: see the row within reach."
        verdict = "fail" if spread.cam_contact.past_tip and not base_cam_doubt(case) else "not-evaluated"
        return CheckRow(check, verdict, GEOMETRY, why, limit=limit, basis="solved")
    if state.reason not in (Reason.BOTTOMED, Reason.INPUT_MISSING):
        advice = f"There is no such state: {state.reason.words}. Do not use this brake. It needs {state.reason.fix}."
        return CheckRow(check, "fail", GEOMETRY, advice, basis="solved")
    return _too_slack(case, check, source, limit, left)


_TOO_SLACK = (Reason.BOTTOMED, Reason.INPUT_MISSING)
"""Why there is no state with too much slack: the chamber bottoms, or there is more than any setting leaves."""


def _too_slack(case: Case, check: str, source: str, limit: float, left: Open) -> CheckRow:
    """So much slack that the chamber bottoms, or more than this brake can have at all."""
    doubt = assumed_stroke_doubt(case.setup) or case.chamber_doubt or twofold_doubt(case.setup)
    doubt = doubt or _base_doubt(case, check, limit)
    if case.slack_beyond and not _slack_alone(case, limit):
        doubt = doubt or base_cam_doubt(case)
    if doubt:
        why, missing = f"A {case.chamber_name} would have bottomed, but {doubt[1]}", case.unless_stated(doubt[0])
        return CheckRow(check, "not-evaluated", source, why, limit=limit, basis="solved", missing=missing)
    words = (
        "there is more slack than this brake can have (see the row within reach)"
        if case.slack_beyond
        else Reason.BOTTOMED.words
    )
    advice = f"{_NO_STATE} {words}. {mend(case)}"
    fails = CheckRow(check, "fail", source, advice, limit=limit, basis="solved")
    over = not left.exists_at_best or _over_at_best(case, _drum(check), limit, left)
    return fails if over else _near(case, fails, f"{_NO_STATE} {words}")


def _drum(check: str) -> Drum:
    return "cold" if check == "stroke-reserve-cold" else "hot"


def _past_tip(case: Case, check: str, limit: float, left: Open, cam: Open) -> CheckRow:
    """The cam passes its tip, whatever the slack or with less of it."""
    tip = Reason.CAM_PAST_TIP
    if doubt := base_cam_doubt(case):
        why = f"{tip.words[0].upper()}{tip.words[1:]}, but {doubt[1]}"
        return CheckRow(check, "not-evaluated", PROFILE, why, basis="solved", missing=doubt[0])
    advice = f"{_NO_STATE} {tip.words}. Do not use this brake. It needs {tip.fix}."
    fails = CheckRow(check, "fail", PROFILE, advice, basis="solved")
    if _surely_past_tip(case, cam) or _over_at_best(case, _drum(check), limit, left):
        return fails
    return _near(case, fails, f"{_NO_STATE} {tip.words}")


_NO_STATE = "There is no such state:"


def _over_at_best(case: Case, drum: Drum, limit: float, left: Open) -> bool:
    """Whether even with every reading a step better the stroke is over the limit (mm), where there is one then."""
    if not left.exists_at_best:
        return False
    stroke = stroke_at_best(case, drum).wider(GROWTH_SHORT * growth_at_best(case, drum))
    return stroke.value - stroke.back > limit + ROUNDING


def _near(case: Case, fails: CheckRow, what: str) -> CheckRow:
    """The row of what fails as read, and not with every reading a step better."""
    if doubt := reading_doubt(case):
        missing = case.unless_stated(doubt[0])
        return replace(fails, result="not-evaluated", advice=f"{what}, but {doubt[1]}", missing=missing)
    near = ", but by so little that the readings cannot tell: measure lining, drum and slack again, and more finely, "
    return replace(fails, result="close", advice=f"{what}{near}before this brake is used.")
