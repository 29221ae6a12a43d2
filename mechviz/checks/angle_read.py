"""The angle at full application where only the released one was read: worked out from that, arm and stroke.

Where the chamber sits follows from the angle that was read, so that the mounting need not be known. The chamber's
height and the pushrod's length do less: where nobody read them the base's stand in, and what other ones would make of
it is left open, up to a rod that stays parallel to itself. Where both angles were read they are held against each
other in the same way.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import degrees, isfinite, radians

from geometry.linkage_from_angle import angle_after, angle_after_parallel
from geometry.tables import band
from mechviz.checks.agreement import ANGLE_ALLOWANCE, SOURCE
from mechviz.checks.case import Case, marked
from mechviz.checks.in_use import unmoved_doubt
from mechviz.checks.judge import ROUNDING, Band, judge, judge_solved, shown_spread
from mechviz.checks.row import CheckRow, missing_row
from mechviz.square import stands

CHECK, TOGETHER = "arm-angle-applied-from-released", "arm-angles-together"
HEIGHT, ROD = 25.4 / 2, 25.4
"""How far another chamber's height, or another pushrod, may be from the base's, mm (the project's figures)."""
RULES = {"common": "arm-angle-applied", "army": "arm-angle-applied-army"}


@dataclass(frozen=True)
class WorkedOut:
    """The arm's angle at the stroke that was read, rad, and how far it may be more or less than that."""

    angle: float
    less: float
    more: float


def angle_read_rows(case: Case) -> list[CheckRow]:
    """Return the rows of what the released angle tells, where the mounting or the slack is not known; else none."""
    measured = case.setup.measured
    if measured.arm_angle_released is None or measured.stroke is None or not _alone(case):
        return []
    if measured.arm_angle_applied is not None:
        return [_together(case, measured.arm_angle_applied)]
    return [_applied(case, name) for rules, name in RULES.items() if rules in case.rules]


def _alone(case: Case) -> bool:
    """Whether the lengths alone do not put the arm anywhere: the other rows judge it where they do."""
    return bool(case.unknown_for_angles or case.unknown_slack)


def _arm_known(case: Case) -> bool:
    return case.states("linkage.arm_length") or case.states("measured.arm_length")


def worked_out(case: Case) -> WorkedOut | None:
    """Return the angle at the stroke that was read, from the released one; None where there is no such angle."""
    measured = case.setup.measured
    if measured.arm_angle_released is None or measured.stroke is None or not _arm_known(case):
        return None
    linkage, released, stroke = case.brake.linkage, measured.arm_angle_released, measured.stroke
    angle = angle_after(linkage, released, stroke)
    if not isfinite(angle):
        angle = angle_after_parallel(linkage.arm_length, released, stroke)
    if not isfinite(angle):
        return None
    less = more = ANGLE_ALLOWANCE
    for others in _others(case, released, stroke):
        off = [one - angle for one in others]
        less += max((-one for one in off if one < 0), default=0.0)
        more += max((one for one in off if one > 0), default=0.0)
    return WorkedOut(angle, less, more)


def _others(case: Case, released: float, stroke: float) -> Iterator[list[float]]:
    """The angle with one thing otherwise, both ways: each reading by a step, what nobody read by what it may be."""
    linkage, measured = case.brake.linkage, case.setup.measured
    step, arm = measured.resolution, linkage.arm_length
    turned = (released + off for off in (-measured.angle_resolution, measured.angle_resolution))
    yield _known(angle_after(linkage, one, stroke) for one in turned)
    yield _known(angle_after(linkage, released, one) for one in (max(stroke - step, 0.0), stroke + step))
    yield _known(angle_after(replace(linkage, arm_length=arm + off), released, stroke) for off in (-step, step))
    if not case.states("linkage.axis_offset"):
        heights = (max(linkage.axis_offset + off, 0.0) for off in (-HEIGHT, HEIGHT))
        yield _known(angle_after(replace(linkage, axis_offset=one), released, stroke) for one in heights)
    if not (case.states("measured.pin_reach") or case.states("linkage.pin_reach")):
        shorter = replace(linkage, pin_reach=max(linkage.pin_reach - ROD, ROD))
        yield _known((angle_after(shorter, released, stroke), angle_after_parallel(arm, released, stroke)))


def _known(angles: Iterator[float] | tuple[float, ...]) -> list[float]:
    return [one for one in angles if isfinite(one)]


def _applied(case: Case, name: str) -> CheckRow:
    """Judge it as a worked-out figure: a fail only outside by more than is open towards the better side."""
    rule = band(name)
    assert rule.low is not None  # the table's test holds both ends
    assert rule.high is not None
    allowed = Band(radians(float(rule.low)), radians(float(rule.high)), rule.low_included, rule.high_included)
    source, found = marked(rule.source, rule.status), worked_out(case)
    if found is None:
        return _none(case, CHECK, source)
    outside_high = found.angle > allowed.most
    back, spread = (found.less, found.more) if outside_high else (found.more, found.less)
    result = judge_solved(found.angle, allowed, max(found.less, found.more), back)
    doubt = _doubt(case)
    lower_is_sure = doubt is not None and result == "fail" and not outside_high and not case.more_air_doubt
    figures = (found.angle, allowed.nearest(found.angle), allowed.margin(found.angle))
    open_ = back if result in ("fail", "close") and not allowed.holds(found.angle) else max(spread, back)
    where = _how(found)
    if doubt and not lower_is_sure:
        key, how = doubt
        row = CheckRow(CHECK, "not-evaluated", source, f"It is no full application for certain: {how}", *figures)
        return replace(row, kind="angle", unit="deg", basis="solved", margin=None, missing=case.unless_stated(key))
    advice = where if result == "pass" else f"{where} {_cause(found.angle, outside_high, result)}"
    shown = shown_spread(open_, figures[2], back)
    return CheckRow(CHECK, result, source, advice, *figures, "angle", "deg", shown, "solved")


def _doubt(case: Case) -> tuple[str, str] | None:
    """Why the stroke that was read is none of a full application for certain."""
    stroke = case.setup.measured.stroke
    unmoved = None if stroke is None else unmoved_doubt(case, stroke)
    return case.pressure_doubt or case.more_air_doubt or unmoved


def _cause(angle: float, outside_high: bool, result: str) -> str:
    measure = "Measure the angle itself with the brake held on (measured.arm_angle_applied)"
    if result == "close":
        return f"That is too near the limit to tell. {measure}."
    if outside_high or angle > radians(90):
        return f"The pushrod or the arm is too short for where the chamber sits: check both lengths. {measure} too."
    return f"The pushrod or the arm is too long, or there is too much stroke: check the stroke first. {measure} too."


def _how(found: WorkedOut) -> str:
    least, most = degrees(found.angle - found.less), degrees(found.angle + found.more)
    return (
        f"The arm stands {stands(found.angle)}, worked out from released angle, arm and stroke as read: "
        f"{degrees(found.angle):.0f} degrees, {least:.0f} to {most:.0f} with what these, pushrod and chamber's height "
        "leave open."
    )


def _none(case: Case, check: str, source: str) -> CheckRow:
    angle = {"kind": "angle", "unit": "deg"}
    if not _arm_known(case):
        how = "measure it, so that the applied angle can be worked out from the released one."
        return missing_row(check, source, "measured.arm_length", how, **angle)
    why = "From this released angle the arm does not reach the stroke that was read: one of the three was misread."
    return CheckRow(check, "fail", SOURCE, why, kind="angle", unit="deg", against="expected")


def _together(case: Case, applied: float) -> CheckRow:
    """Both angles were read, and the stroke between them: whether one arm does that."""
    found = worked_out(case)
    if found is None:
        return _none(case, TOGETHER, SOURCE)
    spread = found.more if applied > found.angle else found.less
    allowance = spread + case.setup.measured.angle_resolution
    allowed = Band(found.angle - allowance - ROUNDING, found.angle + allowance + ROUNDING)
    result, off = judge(applied, allowed), abs(applied - found.angle)
    advice = "Both angles and the stroke between them are those of one arm."
    if result == "fail":
        advice = (
            f"With this arm and stroke the arm comes from the released angle to {degrees(found.angle):.0f} degrees, "
            f"and {degrees(applied):.0f} was read: one of the angles, the arm or the stroke was misread, or the "
            "chamber gives way on its bracket. Measure them again."
        )
    row = CheckRow(TOGETHER, result, SOURCE, advice, applied, found.angle, allowance - off, "angle", "deg")
    return replace(row, resolution=case.setup.measured.angle_resolution, against="expected", allowance=allowance)
