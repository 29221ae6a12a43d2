"""What a cold drum leaves of slack that was read on a hot one: heat hides no slack that is too much without it."""

import numpy as np

from geometry.arrays import floats
from geometry.condition import contact
from geometry.linkage import arm_turn, stroke_at_turn
from geometry.tables import band
from geometry.tables.reader import millimetres
from mechviz.checks.case import COLD, Case
from mechviz.checks.train import base_arm_doubt, base_cam_doubt

GROWTH_SHORT = 0.14
"""By how much of itself the solved growth with heat may be short of the reported one, as the validation tests find."""

ANOTHERS = 1.0
"""The same where arm or cam are only the base's: as much again (the project's figure; arms differ by a third)."""


def loose_when_cold(case: Case) -> bool:
    """Tell whether slack is at or over the upper end of the trade's band for certain once the drum is cold."""
    rule, slack = band("free-stroke"), _slack(case)
    assert rule.high is not None  # the table's test holds the row
    short = ANOTHERS if base_cam_doubt(case) or base_arm_doubt(case) else GROWTH_SHORT
    left = slack - (1.0 + short) * (slack - left_when_cold(case))
    return left - _open(case) >= millimetres(rule.high)


def left_when_cold(case: Case) -> float:
    """Return the slack (mm) that is left of the one read once the drum is at 70 degF; NaN where none can be told."""
    linkage = case.brake.linkage
    return float(stroke_at_turn(linkage, arm_turn(linkage, _slack(case)) - _turn_by_heat(case)))


def _slack(case: Case) -> float:
    """The free stroke, mm, with the drum as it was when the slack was read; NaN where there is none."""
    felt = case.setup.as_found.free_stroke
    return felt if felt is not None and case.states("condition.free_stroke") else case.spread.touch.value


def _open(case: Case) -> float:
    """How much of that, mm, is open towards less of it."""
    return case.setup.measured.resolution if case.states("condition.free_stroke") else case.spread.touch.back


def _turn_by_heat(case: Case) -> float:
    """By how much further the arm has to turn, rad, until the linings touch the drum that the slack was read on.

    Linings too thin for this cam, or too thick for the drum, are taken for new ones: how far a drum grows is no matter
    of them.
    """
    found, brake = case.setup.as_found, case.brake
    thickness = floats([found.lining_thickness, brake.lining.thickness])
    diameter = floats([found.drum_diameter, 2.0 * brake.new_radius])
    cold, hot = (contact(brake, thickness, diameter, floats(one)).first for one in (COLD, found.slack_temperature))
    grown = hot - cold
    return float(grown[0] if np.isfinite(grown[0]) else grown[1])
