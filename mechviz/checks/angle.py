"""The arm's angle: released, at contact, at full application, and the stroke at which the right angle is passed.

A solved angle is only as good as the lengths it was solved from: where the file gives neither these nor a reading of
the angle, nothing is judged.
"""

from dataclasses import dataclass, replace
from math import inf, pi, radians
from typing import Any

from geometry.applied import last_turn
from geometry.condition import heel_angle
from geometry.linkage import arm_state, stroke_at_right_angle
from geometry.reasons import Reason
from geometry.states import State
from geometry.tables import Band as Rule
from geometry.tables import band, test_pressure_band
from geometry.tables.reader import millimetres
from mechviz.checks.agreement import ANGLE_ALLOWANCE, angle_contradicted
from mechviz.checks.cam import cam_doubt
from mechviz.checks.case import Case, marked
from mechviz.checks.in_use import InUse, angle_in_use, pinned, reading_doubt, surely_unexplained, told, unmoved_doubt
from mechviz.checks.judge import Band, judge, judge_solved, shown_spread
from mechviz.checks.proof import Doubt, known_pressure, twofold_doubt
from mechviz.checks.row import Basis, CheckRow, Result, missing_row
from mechviz.checks.spread import Open
from mechviz.square import stands

SQUARE = pi / 2
OWN_RULE = "mechviz's own rule, no published figure: square should be passed while the linings work"
ANGLE: dict[str, Any] = {"kind": "angle", "unit": "deg"}


@dataclass(frozen=True)
class _Asked:
    """One angle to judge: in which state, read or not, and by what."""

    check: str
    state: str
    measured: float | None
    allowed: Band
    source: str


def arm_angle_rows(case: Case) -> list[CheckRow]:
    """Judge the three angles, measured where they were measured and solved otherwise, and where square is passed.

    Only the angle at full application has more than one published figure, so that rule sets choose between them.
    """
    released, applied = case.setup.measured.arm_angle_released, case.setup.measured.arm_angle_applied
    rules = {"common": "arm-angle-applied", "army": "arm-angle-applied-army"}
    asked = [
        _by_rule("arm-angle-released", "released", released, band("arm-angle-released")),
        _Asked("arm-angle-contact", "contact", None, Band(SQUARE), OWN_RULE),
        *(
            _by_rule("arm-angle-applied", "applied", applied, band(name))
            for rule_set, name in rules.items()
            if rule_set in case.rules
        ),
    ]
    return [*(_row(case, one) for one in asked), _square_row(case)]


def _by_rule(check: str, state: str, measured: float | None, rule: Rule) -> _Asked:
    return _Asked(check, state, measured, _allowed(rule), marked(rule.source, rule.status))


def _allowed(rule: Rule) -> Band:
    least = -inf if rule.low is None else radians(float(rule.low))
    most = inf if rule.high is None else radians(float(rule.high))
    return Band(least, most, rule.low_included, rule.high_included)


def _row(case: Case, asked: _Asked) -> CheckRow:
    if asked.measured is None:
        key = case.unknown_for_angles or ("" if asked.state == "released" else case.unknown_slack)
        if key:
            angle = f"measured.arm_angle_{asked.state}"
            how = "measure it, so that the angle can be worked out"
            how += "." if asked.state == "contact" else f", or measure the angle itself ({angle})."
            return missing_row(asked.check, asked.source, key, how, **ANGLE)
    if asked.measured is not None:
        return _read_row(case, asked, asked.measured)
    return _solved_row(case, asked)


def _read_row(case: Case, asked: _Asked, angle: float) -> CheckRow:
    resolution = case.setup.measured.angle_resolution
    result, read = judge(angle, asked.allowed, resolution), InUse(angle, resolution, resolution)
    doubt = case.pressure_doubt or case.more_air_doubt or _unmoved(case) if asked.state == "applied" else None
    more_air = case.more_air_doubt is not None
    wrong_way = angle > asked.allowed.most
    if more_air:
        wrong_way = angle < asked.allowed.least and not _past_with_less_air(case, asked, angle)
    if doubt and (result != "fail" or wrong_way):
        return _doubted(case, asked, read, doubt, "measured")
    advice = _advice(case, asked, result, angle, "At the edge within what the gauge can tell: measure again.")
    return _judged(asked, result, advice, read, "measured")


def _past_with_less_air(case: Case, asked: _Asked, angle: float) -> bool:
    """Whether an angle that was read above the procedure's band would be too small with no more air than that, too.

    The stroke falls by no more than its share of the pressure, as in the row stroke limit, and the angle opens by no
    more than that share of what it closed: the further the rod is out, the less it closes the angle.
    """
    known, released = known_pressure(case.setup), case.setup.measured.arm_angle_released
    if released is None and not case.unknown_for_angles:
        released = case.released_angle
    if known is None or released is None:
        return False
    share = test_pressure_band(case.setup.test.procedure).high_mpa / known
    return released - share * (released - angle) < asked.allowed.least


def _unmoved(case: Case) -> Doubt | None:
    """Why the pushrod may not have been fully out when the angle was read: it hardly moved."""
    stroke = case.setup.measured.stroke
    doubt = None if stroke is None else unmoved_doubt(case, stroke)
    return doubt and (doubt[0], f"as to the stroke that was read, {doubt[1]}")


def _solved_row(case: Case, asked: _Asked) -> CheckRow:
    state = case.full if asked.state == "applied" else case.found[asked.state]
    there = case.released_angle if asked.state == "released" else state.arm_angle
    if there is None:
        return _no_state_row(case, asked, state)
    left = _left(case, asked.state)
    angle = InUse(there, left.amount, left.back)
    if asked.state == "applied" and state.stroke is not None:
        angle = angle_in_use(case, state.stroke, left)
    angle = angle.wider(ANGLE_ALLOWANCE)
    result = judge_solved(angle.value, asked.allowed, angle.open, angle.back)
    if result == "not-evaluated":
        why = "At the stroke that was read pushrod and arm do not meet: one of these lengths is not what is fitted."
        return CheckRow(asked.check, result, asked.source, why, **ANGLE, basis="solved")
    doubt = (case.chamber_doubt or reading_doubt(case) if asked.state == "applied" else None) or _angle_doubt(case)
    doubt = doubt or (None if asked.state == "released" or result == "fail" else cam_doubt(case))
    unproven = asked.state == "applied" and case.chamber_doubt and not pinned(case)
    if doubt and (result != "fail" or unproven):
        return _doubted(case, asked, angle, doubt, "solved")
    again = "the lengths again, and more finely" if asked.state == "contact" else "the angle itself"
    unsure = left.words or f"At the edge within what readings and model can tell: measure {again}."
    advice = _advice(case, asked, result, angle.value, unsure) + (told(case) if asked.state == "applied" else "")
    return _judged(asked, result, advice, angle, "solved")


def _no_state_row(case: Case, asked: _Asked, state: State) -> CheckRow:
    """No such state: with too much slack the rod goes to the chamber's end, and the arm closes at least so far."""
    why = f"There is no such state to take the angle in: {case.no_state(state.reason)}."
    none = CheckRow(asked.check, "not-evaluated", asked.source, why, **ANGLE, basis="solved")
    if asked.state == "released" or not _runs_out(case, state):
        return none
    angle = float(arm_state(case.brake.linkage, case.brake.chamber.rated_stroke).arm_angle)
    off = case.spread.angle_released.amount + ANGLE_ALLOWANCE
    over = judge_solved(angle, asked.allowed, off, off) == "fail" and angle < asked.allowed.least
    unproven = asked.state == "applied" and case.chamber_doubt
    if not over or unproven:
        return none
    at_end = f"The chamber runs out of stroke, and there the arm stands {stands(angle)}."
    return _judged(asked, "fail", f"{at_end} {_cause(case, asked, angle)}", InUse(angle, off, off), "solved")


def _runs_out(case: Case, state: State) -> bool:
    """Whether the rod goes to the chamber's end before the linings press, also where that leaves no setting at all."""
    if state.reason == Reason.BOTTOMED:
        return True
    touch = case.spread.cam_contact.value - heel_angle(case.brake)
    return state.reason == Reason.INPUT_MISSING and case.slack_beyond and touch > last_turn(case.brake)


def _angle_doubt(case: Case) -> Doubt | None:
    """Why no solved angle counts beside one that was read where the lengths do not put it."""
    check = angle_contradicted(case)
    how = f"an angle that was read is not where these lengths put it: see the row {check.replace('-', ' ')} first."
    return ("measured.arm_length", how) if check else None


def _doubted(case: Case, asked: _Asked, angle: InUse, doubt: Doubt, basis: Basis) -> CheckRow:
    key, how = doubt
    why = f"It is no full application for certain: {how}" if basis == "measured" else f"It cannot be told: {how}"
    missing = case.unless_stated(key)
    return replace(_judged(asked, "not-evaluated", why, angle, basis), margin=None, missing=missing)


def _judged(asked: _Asked, result: Result, advice: str, angle: InUse, basis: Basis) -> CheckRow:
    figures = (angle.value, asked.allowed.nearest(angle.value), asked.allowed.margin(angle.value))
    shown = shown_spread(angle.open, figures[2], angle.back)
    return CheckRow(asked.check, result, asked.source, advice, *figures, "angle", "deg", shown, basis)


def _advice(case: Case, asked: _Asked, result: str, angle: float, unsure: str) -> str:
    """A longer pushrod, a longer arm and more stroke all close the angle; what is short leaves it open."""
    where = f"The arm stands {stands(angle)}."
    if result == "pass":
        return where
    if result == "close" and asked.allowed.holds(angle):
        return f"{where} {unsure}"
    return (
        f"{where} {unsure} {_cause(case, asked, angle)}"
        if result == "close"
        else f"{where} {_cause(case, asked, angle)}"
    )


def _cause(case: Case, asked: _Asked, angle: float) -> str:
    if angle > SQUARE and asked.state == "applied" and surely_unexplained(case) == "shorter":
        return "The pushrod moved less than slack and pressure explain, which leaves the arm there: see why."
    if angle > SQUARE:
        return "The pushrod or the arm is too short for where the chamber sits: check both lengths."
    if asked.state != "released" and (first := _slack_first(case)):
        return first
    if asked.state == "applied":
        return "Too much stroke, or a pushrod or an arm that is too long: check the stroke first."
    return "The right angle is lost before the linings work: the pushrod or the arm is too long."


SLACK_FIRST = "There is too much slack, which takes the arm past square by itself: put that right first, then look."


def _loose_hot(case: Case) -> bool:
    """Whether slack that was read hot is more than a cold drum may have; what is inside the band hot is no cause."""
    rule, found = band("free-stroke"), case.setup.as_found.free_stroke
    assert rule.high is not None  # the table's test holds the row
    slack = found if case.states("condition.free_stroke") else case.found["contact"].stroke
    allowed = Band(most=millimetres(rule.high), most_included=False)
    return case.slack_hot and (case.slack_beyond or slack is None or not allowed.holds(slack))


def _let_it_cool(case: Case) -> str:
    """Of slack that may be the heat's: no length is to blame before it was measured cold."""
    unsaid = case.slack_read_cold is not None
    read = "counts as read" if unsaid else "was read"
    unless = " If it was read cold, write condition.slack_temperature." if unsaid else ""
    return (
        f"The slack {read} on a hot drum, and so much takes the arm past square by itself: let it cool first, do not "
        f"adjust hot, and measure it again.{unless}"
    )


def _slack_first(case: Case) -> str:
    """What is to be done about the slack before anything is said of lengths; nothing where it is not too much."""
    if case.too_slack:
        return SLACK_FIRST
    return _let_it_cool(case) if _loose_hot(case) else ""


def _left(case: Case, state: str) -> Open:
    spread = case.spread
    return {"released": spread.angle_released, "contact": spread.angle_contact, "applied": spread.angle_full}[state]


def _square_row(case: Case) -> CheckRow:
    """Square should be passed while the brake works: after the linings touch, before the readjustment limit."""
    check, key = "right-angle-stroke", case.unknown_for_angles or case.unknown_slack
    if key:
        return missing_row(check, OWN_RULE, key, "measure it, so that the stroke can be worked out.", basis="solved")
    square, contact = stroke_at_right_angle(case.brake.linkage), case.found["contact"]
    if contact.stroke is None:
        return _square_unmet_row(case, check, square, contact)
    allowed = Band(contact.stroke, case.limit.limit_mm)
    left = case.spread.past_contact
    result, missing = judge_solved(square, allowed, left.amount, left.back), ""
    advice = _square_advice(case, result, left, early=square < contact.stroke)
    early = square < contact.stroke
    doubt = _angle_doubt(case) or case.limit_doubt(case.limit.limit_mm, square, left.amount)
    doubt = doubt or (twofold_doubt(case.setup) if result == "fail" and not early else None)
    doubt = doubt or (cam_doubt(case) if result != "fail" else None)
    unproven = case.chamber_doubt or twofold_doubt(case.setup)
    if doubt and (result != "fail" or (unproven and not early)):
        key, how = doubt
        result, missing = "not-evaluated", case.unless_stated(key)
        side = "inside" if square <= case.limit.limit_mm else "beyond"
        advice = f"Square is passed {side} the limit of a {case.chamber_name}, but {how}"
    margin, limit = allowed.margin(square), allowed.nearest(square)
    shown = shown_spread(left.amount, margin, left.back)
    return CheckRow(
        check, result, OWN_RULE, advice, square, limit, margin, resolution=shown, basis="solved", missing=missing
    )


def _square_unmet_row(case: Case, check: str, square: float, contact: State) -> CheckRow:
    """No contact: where the chamber runs out of stroke before it, square is passed too early if before that."""
    end, off = case.brake.chamber.rated_stroke, case.spread.square.amount
    if not _runs_out(case, contact) or square + off >= end:
        why = f"There is no contact to compare with: {case.no_state(contact.reason)}."
        return CheckRow(check, "not-evaluated", OWN_RULE, why, square, basis="solved")
    advice = _square_advice(case, "fail", case.spread.square, early=True)
    figures = (square, end, square - end)
    return CheckRow(check, "fail", OWN_RULE, advice, *figures, resolution=off, basis="solved")


def _square_advice(case: Case, result: str, left: Open, early: bool) -> str:
    if result == "pass":
        return "Arm and pushrod pass square while the linings work, inside the readjustment limit."
    if result == "close":
        near = "Arm and pushrod pass square so near to first touch or limit that the readings cannot tell."
        first = _slack_first(case) if early else ""
        return " ".join(part for part in (near, first, left.words) if part)
    if early:
        what = _slack_first(case) or "The pushrod or the arm is too long: check both lengths."
        return f"Arm and pushrod pass square before the linings touch. {what}"
    what = "The pushrod or the arm is too short: check both lengths."
    return f"Arm and pushrod pass square only beyond the readjustment limit. {what}"
