"""The pushrod, and the clevis and its pin that join it to the slack adjuster."""

from math import sqrt

from geometry.brake import Brake
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import bar, box, cut, disc, joined, rounded

PART = "linkage.pin_reach"


def rod_radius(brake: Brake, proportions: Proportions = PROPORTIONS) -> float:
    """Return half the pushrod's thickness, mm."""
    return proportions.rod * brake.linkage.arm_length


def clevis_reach(brake: Brake, proportions: Proportions = PROPORTIONS) -> float:
    """Return how far (mm) the clevis reaches along the rod from its pin: never more than half the rod."""
    return min(proportions.clevis_reach * brake.linkage.arm_length, 0.5 * brake.linkage.pushrod_length)


def pushrod(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the pushrod, own frame: origin its pivot, +x along it. It ends in the clevis's thread."""
    half = rod_radius(brake, proportions)
    end = brake.linkage.pushrod_length - 0.42 * clevis_reach(brake, proportions)
    rod = joined(PART, box(0.0, -half, end, half), disc((0.0, 0.0), 1.15 * half, detail))
    does = "Carries the push of the air from the chamber to the slack adjuster."
    return Outline("pushrod", "arm", "push", "Pushrod", does, "pushrod", rounded(PART, rod, 0.15 * half, detail))


def clevis(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the clevis with its jam nut, own frame: origin the pin, the rod comes in from -x."""
    reach, half = clevis_reach(brake, proportions), rod_radius(brake, proportions)
    pin = proportions.clevis_pin * brake.linkage.arm_length
    ear, neck, nut = max(2.1 * pin, 1.35 * half), 1.55 * half, 1.75 * half
    fork = joined(PART, disc((0.0, 0.0), ear, detail), bar((0.0, 0.0), (-0.55 * reach, 0.0), 2 * ear))
    body = joined(PART, fork, box(-0.80 * reach, -neck, -0.5 * reach, neck))
    body = rounded(PART, body, 0.2 * half, detail, hollow=0.4 * half)
    jam = rounded(PART, box(-reach, -nut, -0.80 * reach, nut), 0.12 * half, detail)
    whole = cut(PART, joined(PART, body, jam), disc((0.0, 0.0), pin, detail, hole=True))
    does = "Forks round the end of the slack adjuster and turns the rod's push into the arm's turn."
    return Outline("clevis", "arm", "push", "Clevis", does, "clevis", whole)


def clevis_pin(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the clevis pin with its split pin's hole, own frame: origin its centre."""
    radius = proportions.clevis_pin * brake.linkage.arm_length
    slot = bar((-radius / sqrt(2), 0.0), (radius / sqrt(2), 0.0), 0.14 * radius)
    does = "Joins clevis and slack adjuster; the arm angle is measured here."
    shape = cut(PART, disc((0.0, 0.0), radius, detail), slot)
    return Outline("clevis_pin", "arm", "push", "Clevis pin", does, "clevis_pin", shape)
