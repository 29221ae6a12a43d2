"""What a rod, its clevis and its arm are held against."""

from math import pi

from geometry.clevis import flush_reach
from geometry.setup import Setup
from geometry.tables import LiningLimit, band, lining_limits
from geometry.tables.reader import millimetres
from mechviz.checks.judge import ROUNDING, Band


def rod_ends(setup: Setup, pin_reach: float) -> tuple[float, float]:
    """Return the shortest and the longest rod, mm from face to end, that clevis and thread allow at a pin reach."""
    clevis, thread, through = setup.clevis, band("clevis-thread").low, band("rod-through-clevis").high
    assert thread is not None  # the table's test holds both rows
    assert through is not None
    flush = float(flush_reach(clevis, pin_reach))
    return flush - (clevis.thread - float(thread) * 25.4), flush + float(through) * 25.4


def least_thread() -> float:
    """Return how much thread rod and clevis must share, mm."""
    low = band("clevis-thread").low
    assert low is not None  # the table's test holds the row
    return float(low) * 25.4


def clevis_length(setup: Setup) -> float:
    """Return how far the clevis reaches back from its pin, mm; of one not measured the least that holds its thread."""
    clevis = setup.clevis
    return clevis.pin_to_end if "clevis.pin_to_end" in setup.stated else clevis.pin_to_inside + least_thread()


def in_the_chamber(setup: Setup, pin_reach: float) -> bool:
    """Tell whether the clevis comes to the chamber's face before the rod is back; of one not measured, the shortest."""
    return pin_reach <= clevis_length(setup)


def angle_band() -> tuple[float, float]:
    """Return the band in which the arm should stand at full application, rad."""
    rule = band("arm-angle-applied")
    assert rule.low is not None  # the table's test holds the row
    assert rule.high is not None
    return float(rule.low) * pi / 180, float(rule.high) * pi / 180


def free_stroke_band() -> Band:
    """Return the trade's band of free strokes, mm; at its upper end a brake must be adjusted already."""
    rule = band("free-stroke")
    assert rule.low is not None  # the table's test holds the row
    assert rule.high is not None
    return Band(millimetres(rule.low), millimetres(rule.high), most_included=False)


def own_arm(setup: Setup) -> float:
    """Return the arm that belongs to a brake, mm: as its file writes it, else as measured, else the base's."""
    return setup.nominal.get("linkage.arm_length", setup.brake.linkage.arm_length)


def arms_disagree(setup: Setup) -> bool:
    """Tell whether the arm was measured at another length than the file writes, by more than it was read to."""
    measured, written = setup.measured.arm_length, setup.nominal.get("linkage.arm_length")
    return (
        measured is not None and written is not None and abs(measured - written) > setup.measured.resolution + ROUNDING
    )


def worn_by(setup: Setup) -> LiningLimit:
    """Return the strictest rule on the least lining among the setup's rule sets, or else of the US ones."""
    rules = lining_limits(setup.brake.axle, setup.lining_pads, setup.lining_attachment)
    chosen = [rule for rule in rules if rule.rule_set in setup.test.rules]
    return max(chosen or [rule for rule in rules if rule.rule_set == "us"], key=lambda rule: rule.limit_mm)
