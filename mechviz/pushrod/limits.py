"""What a rod, its clevis and its arm are held against."""

from math import pi

from geometry.clevis import flush_reach
from geometry.setup import Setup
from geometry.tables import LiningLimit, band, lining_limits


def rod_ends(setup: Setup, pin_reach: float) -> tuple[float, float]:
    """Return the shortest and the longest rod, mm from face to end, that clevis and thread allow at a pin reach."""
    clevis, thread, through = setup.clevis, band("clevis-thread").low, band("rod-through-clevis").high
    assert thread is not None  # the table's test holds both rows
    assert through is not None
    flush = float(flush_reach(clevis, pin_reach))
    return flush - (clevis.thread - float(thread) * 25.4), flush + float(through) * 25.4


def angle_band() -> tuple[float, float]:
    """Return the band in which the arm should stand at full application, rad."""
    rule = band("arm-angle-applied")
    assert rule.low is not None  # the table's test holds the row
    assert rule.high is not None
    return float(rule.low) * pi / 180, float(rule.high) * pi / 180


def worn_by(setup: Setup) -> LiningLimit:
    """Return the strictest rule on the least lining among the setup's rule sets, or else of the US ones."""
    rules = lining_limits(setup.brake.axle, setup.lining_pads, setup.lining_attachment)
    chosen = [rule for rule in rules if rule.rule_set in setup.test.rules]
    return max(chosen or [rule for rule in rules if rule.rule_set == "us"], key=lambda rule: rule.limit_mm)
