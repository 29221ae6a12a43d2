"""The few ways in which a defect changes a wheel: each a small step that returns another wheel."""

from dataclasses import replace
from typing import Any

from geometry.condition import contact
from geometry.defects.wheel import Wheel
from geometry.tables import drum_limits, effective_area_in2, lining_limits, nominal_rated_stroke
from geometry.tables.reader import SQUARE_INCH, millimetres


def with_part(wheel: Wheel, part: str, **changes: Any) -> Wheel:
    """Return the wheel with some figures of one part of its brake changed."""
    changed = replace(getattr(wheel.brake, part), **changes)
    return replace(wheel, brake=replace(wheel.brake, **{part: changed}))


def worn(wheel: Wheel, wear: float = 0.0, wider: float = 0.0) -> Wheel:
    """Return the wheel with its linings thinner by ``wear`` and its drum wider by ``wider`` (mm), not adjusted."""
    thickness, diameter, *_ = wheel.condition.arrays
    condition = replace(wheel.condition, lining_thickness=thickness - wear, drum_diameter=diameter + wider)
    return replace(wheel, condition=condition)


def lining_left(wheel: Wheel) -> float:
    """Return the thickness of a wheel's linings, mm; the greatest of several."""
    return float(wheel.condition.arrays[0].max())


INCH = 25.4

BEYOND = INCH / 64
"""mm past its limit: a plain case of what is named for that limit. The project's own figure: a tape tells it, and a cam
that is about at its tip with a lining at its limit still stands on its profile."""


def wear_to_thin(wheel: Wheel) -> float:
    """Return the wear (mm) after which a wheel's linings are too thin by every US rule for its axle."""
    limit = min(rule.limit_mm for rule in lining_limits(wheel.brake.axle) if rule.rule_set == "us")
    return max(lining_left(wheel) - limit, 0.0) + BEYOND


def growth_to_wide(wheel: Wheel) -> float:
    """Return the growth (mm) after which a wheel's drum is wider than its own limit and than every published one."""
    drum = wheel.brake.drum
    published = max(rule.limit_mm for rule in drum_limits(drum.diameter / INCH))
    return max(max(published, drum.limit or 0.0) - float(wheel.condition.arrays[1].min()), 0.0) + BEYOND


def taken_up(wheel: Wheel, wear: float = 0.0, wider: float = 0.0) -> Wheel:
    """Return the same, its adjuster having followed: the cam stands farther round, the free stroke is what it was."""
    return with_free_turn_of(wheel, worn(wheel, wear, wider))


def with_free_turn_of(wheel: Wheel, later: Wheel) -> Wheel:
    """Return ``later`` with its cam set so that the linings touch after the same turn as those of ``wheel``."""
    before, after = (contact(w.brake, *w.condition.arrays[:3]).first for w in (wheel, later))
    released = later.condition.arrays[3] + (after - before)
    return replace(later, condition=replace(later.condition, released_angle=released))


def softer(wheel: Wheel, share: float) -> Wheel:
    """Return the wheel with a share of its stiffness lost."""
    return replace(wheel, brake=replace(wheel.brake, windup_stiffness=wheel.brake.windup_stiffness * (1 - share)))


def other_chamber(wheel: Wheel, style: str, size: str) -> Wheel:
    """Return the wheel with another chamber, its area and stroke from the tables; unchanged where they lack it."""
    area, stroke = effective_area_in2(style, size), nominal_rated_stroke(style, size)
    if area is None or stroke is None:
        return wheel
    figures = {"effective_area": area * SQUARE_INCH, "rated_stroke": millimetres(stroke), "thrust": None}
    return with_part(wheel, "chamber", style=style, size=size, **figures)


CLAMP_SIZES = ("6", "9", "12", "16", "20", "24", "30", "36")


def next_size(wheel: Wheel, steps: int) -> Wheel:
    """Return the wheel with the next smaller (-1) or larger (1) clamp chamber; unchanged where there is none."""
    style, size = wheel.brake.chamber.style, wheel.brake.chamber.size
    if size not in CLAMP_SIZES:
        return wheel
    row = CLAMP_SIZES.index(size) + steps
    return other_chamber(wheel, style, CLAMP_SIZES[row]) if 0 <= row < len(CLAMP_SIZES) else wheel


def other_class(wheel: Wheel) -> Wheel:
    """Return the wheel with a long-stroke chamber for a standard one, or the other way round."""
    swapped = {"clamp": "clamp-long-stroke", "clamp-long-stroke": "clamp"}.get(wheel.brake.chamber.style)
    return wheel if swapped is None else other_chamber(wheel, swapped, wheel.brake.chamber.size)
