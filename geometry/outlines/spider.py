"""What is fixed in the brake plane: the spider on its spindle, and the anchor pins."""

from math import cos, pi, sin

from geometry.brake import Brake
from geometry.outlines.cam import camshaft_radius
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Area, Point, bar, cut, disc, joined, rounded

BOLTS = 12


def pin_radius(brake: Brake, proportions: Proportions = PROPORTIONS) -> float:
    """Return the anchor pin's radius, mm; two pins never touch."""
    share, spacing = proportions.anchor_pin * brake.new_radius, brake.shoe.anchor_spacing
    return min(share, 0.42 * spacing) if spacing > 0 else share


def pin_centres(brake: Brake) -> tuple[Point, ...]:
    """Return the centres of the anchor pins: left and right, or the one that both shoes share."""
    x, y = brake.shoe.anchor
    return ((-x, y), (x, y)) if x > 0 else ((0.0, y),)


def hub_radius(brake: Brake, proportions: Proportions = PROPORTIONS) -> float:
    """Return the radius (mm) of the spider's hub, which the shoes stay clear of."""
    return proportions.hub * brake.new_radius


def spider(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the spider, brake plane."""
    part, r = "foundation.drum_diameter", brake.new_radius
    hub, pin = hub_radius(brake, proportions), pin_radius(brake, proportions)
    shaft, cam = camshaft_radius(brake, proportions), (0.0, brake.shoe.cam_distance)
    bosses: list[Area] = [disc(cam, 1.75 * shaft, detail), *(disc(p, 1.45 * pin, detail) for p in pin_centres(brake))]
    arms: list[Area] = [bar((0.0, 0.0), cam, 1.5 * hub, 3.2 * shaft)]
    arms += [bar((0.35 * x, 0.0), (x, y), 1.1 * hub, 2.6 * pin) for x, y in pin_centres(brake)]
    plate = joined(part, disc((0.0, 0.0), hub, detail), *arms, *bosses)
    plate = rounded(part, plate, 0.01 * r, detail, hollow=0.09 * r)
    bore = disc((0.0, 0.0), proportions.spindle * r, detail, hole=True)
    return Outline(
        "spider",
        "wheel",
        "hold",
        "Spider",
        "Is bolted to the axle and holds the anchor pins and the camshaft's bushing.",
        "ground_wheel",
        cut(part, plate, bore, *_bolt_holes(r, hub, proportions, detail)),
    )


def _bolt_holes(radius: float, hub: float, proportions: Proportions, detail: float) -> list[Area]:
    circle = 0.5 * (hub + proportions.spindle * radius)
    places = [(circle * cos(a), circle * sin(a)) for a in (2 * pi * (k + 0.5) / BOLTS for k in range(BOLTS))]
    return [disc(place, 0.024 * radius, detail) for place in places]


def spindle(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the axle's spindle in the spider, brake plane."""
    outer = proportions.spindle * brake.new_radius
    inner = outer - proportions.spindle_wall * brake.new_radius
    ring = cut("foundation.drum_diameter", disc((0.0, 0.0), outer, detail), disc((0.0, 0.0), inner, detail))
    does = "Carries the wheel; the spider is fixed to it."
    return Outline("spindle", "wheel", "hold", "Axle spindle", does, "ground_wheel", ring)


def anchor_pins(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> list[Outline]:
    """Return the outlines of the anchor pins, brake plane: two, or one that both shoes share."""
    shapes = [disc(p, pin_radius(brake, proportions), detail) for p in pin_centres(brake)]
    names = ("left", "right") if len(shapes) == 2 else ("shared",)
    does = "Is fixed in the spider; the shoe swings on it and it takes the drum's drag."
    return [
        Outline(f"anchor_pin_{n}", "wheel", "hold", f"Anchor pin, {n}", does, "ground_wheel", s)
        for n, s in zip(names, shapes, strict=True)
    ]
