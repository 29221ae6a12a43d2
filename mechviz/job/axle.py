"""Both wheels of an axle side by side: what has to be alike, and how far their strokes are apart."""

from collections.abc import Callable
from dataclasses import dataclass

from mechviz.checks.case import Case
from mechviz.checks.judge import ROUNDING
from mechviz.checks.row import Result
from mechviz.job.fields import SIDES, Phase
from mechviz.job.look import Look, look
from mechviz.job.model import Job
from mechviz.report.written import taped

CHAMBERS, ARMS = "49 CFR 393.47(b)", "49 CFR 393.47(c)"
MIXED = "British Columbia air brake handbook"
OWN = "mechviz: both wheels as solved; no published figure"


@dataclass(frozen=True)
class Finding:
    """One thing about both wheels: what was compared, the result, what it means, and whose rule it is."""

    title: str
    result: Result
    words: str
    source: str


def axle_findings(job: Job, phase: Phase = "before") -> tuple[Finding, ...]:
    """Return what both wheels together show, as far as both were read.

    A wheel that was not read in that phase counts as it was before: not every adjustment is one of both wheels.
    """
    left, right = (look(job, side, phase if job.begun(side, phase) else "before") for side in SIDES)
    compared: tuple[Callable[[Look, Look], Finding | None], ...] = (_chambers, _arms, _strokes, _torques)
    found = (one(left, right) for one in compared)
    return tuple(one for one in found if one)


def _chambers(left: Look, right: Look) -> Finding | None:
    """The same chamber at both ends; a long-stroke one beside a standard one is the more dangerous mixture."""
    cases = _both(left, right)
    if cases is None or not all(case.knows_chamber for case in cases):
        return None
    first, second = (case.chamber_name for case in cases)
    if first == second:
        return Finding("Chambers", "pass", f"Both are {first}.", CHAMBERS)
    mixed = "long stroke" in first + second
    words = f"The left one is a {first}, the right one a {second}: fit the same at both ends."
    more = " A long-stroke one beside a standard one also has another limit." if mixed else ""
    return Finding("Chambers", "fail", words + more, f"{CHAMBERS}; {MIXED}" if mixed else CHAMBERS)


def _arms(left: Look, right: Look) -> Finding | None:
    read = [None if one.setup is None else one.setup.measured.arm_length for one in (left, right)]
    first, second = read
    if first is None or second is None:
        return None
    step = max(_resolution(left), _resolution(right))
    system, apart = left.job.system, abs(first - second)
    if apart <= ROUNDING:
        return Finding("Arm lengths", "pass", f"Both are {taped(first, system)}.", ARMS)
    words = f"Left {taped(first, system)}, right {taped(second, system)}"
    if apart <= step + ROUNDING:
        return Finding("Arm lengths", "close", f"{words}: within what the tape can tell, measure both again.", ARMS)
    return Finding("Arm lengths", "fail", f"{words}: the same arm length, and the same hole, at both ends.", ARMS)


def _strokes(left: Look, right: Look) -> Finding | None:
    """How far the strokes are apart: no published limit, so that it is told and not judged."""
    read = [None if one.setup is None else one.setup.measured.stroke for one in (left, right)]
    first, second = read
    if first is None or second is None:
        return None
    apart, system = abs(first - second), left.job.system
    if apart <= ROUNDING:
        return Finding("Applied strokes", "not-applicable", f"Both {taped(first, system)}.", OWN)
    longer = "left" if first > second else "right"
    words = f"The {longer} rod moves {taped(apart, system)} further than the other one."
    if apart > 2 * max(_resolution(left), _resolution(right)) + ROUNDING:
        words += f" Look on the {longer} for what lets it: its adjuster, lining, drum and mounting."
    return Finding("Applied strokes", "not-applicable", words, OWN)


LEAST_SHARE = 0.05
"""Of the torque: less than this is no more than readings leave open (the project's figure)."""


def _torques(left: Look, right: Look) -> Finding | None:
    """How much more one wheel brakes, as solved from each one's own slack, lining, drum, chamber and arm."""
    cases = _both(left, right)
    if cases is None or not all(case.knows_chamber and not case.unknown_slack for case in cases):
        return None
    first, second = left.understood.torque, right.understood.torque
    if first is None or second is None or min(first, second) <= 0:
        return None
    share, more = max(first, second) / min(first, second) - 1, "left" if first > second else "right"
    if share < LEAST_SHARE:
        return Finding("Braking, worked out", "not-applicable", "Both wheels brake nearly alike.", OWN)
    words = (
        f"At the test's pressure the {more} wheel brakes {100 * share:.0f} % more than the other one: it pulls there."
    )
    return Finding("Braking, worked out", "not-applicable", words, OWN)


def _both(left: Look, right: Look) -> tuple[Case, Case] | None:
    """Both wheels, where something was read on each."""
    if left.case is None or right.case is None or not (left.begun and right.begun):
        return None
    return left.case, right.case


def _resolution(one: Look) -> float:
    return 0.0 if one.setup is None else one.setup.measured.resolution
