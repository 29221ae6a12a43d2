"""Every defect that the model knows, in the order of the chain of motion. Amounts are the project's own figures."""

from dataclasses import replace
from difflib import get_close_matches
from math import radians

from geometry.arrays import floats
from geometry.defects.changes import (
    growth_to_wide,
    lining_left,
    next_size,
    other_class,
    softer,
    taken_up,
    wear_to_thin,
    with_free_turn_of,
    with_part,
    worn,
)
from geometry.defects.defect import Defect
from geometry.defects.wheel import Wheel
from geometry.errors import Fault, PartError
from geometry.lining import lining_surface, thickness_at

_INCH = 25.4
_WIDER = 4.0
"""mm on the diameter: more than the published limits leave a new drum."""


def _shorter_lining(wheel: Wheel, angle: float) -> Wheel:
    """The rest of the lining stays as it is; its mid arc, where thickness counts, has moved with its end."""
    brake, (thickness, diameter, *_) = wheel.brake, wheel.condition.arrays
    surface = lining_surface(brake.shoe, brake.lining, brake.new_radius, thickness, 0.5 * diameter)
    shorter = with_part(wheel, "lining", end=max(brake.lining.end - angle, brake.lining.start + 0.1))
    left = thickness_at(brake.lining, surface, brake.new_radius, shorter.brake.lining.middle)
    return with_free_turn_of(wheel, replace(shorter, condition=replace(shorter.condition, lining_thickness=left)))


def _slippery(wheel: Wheel, share: float) -> Wheel:
    return with_part(wheel, "lining", friction=wheel.brake.lining.friction * (1 - share))


def _reach(wheel: Wheel, more: float) -> Wheel:
    return with_part(wheel, "linkage", pin_reach=wheel.brake.linkage.pin_reach + more)


def _arm(wheel: Wheel, more: float) -> Wheel:
    return with_part(wheel, "linkage", arm_length=wheel.brake.linkage.arm_length + more)


DEFECTS: tuple[Defect, ...] = (
    Defect(
        "diaphragm-leak",
        "Leaking diaphragm or line",
        "diaphragm",
        "number",
        "share of the pressure that is lost",
        0.3,
        0.95,
        "Air escapes, so that less pressure pushes the rod.",
        "A hiss while the brake is held on; a shorter stroke than its neighbour's.",
        lambda w, a: replace(w, pressure=floats(w.pressure) * (1 - a)),
    ),
    Defect(
        "chamber-too-small",
        "Chamber one size too small",
        "chamber_pressure",
        "number",
        "1: it is",
        1.0,
        1.0,
        "A smaller diaphragm pushes with less force.",
        "The clamp ring measures less than the other side's.",
        lambda w, _: next_size(w, -1),
    ),
    Defect(
        "chamber-too-large",
        "Chamber one size too large",
        "chamber_pressure",
        "number",
        "1: it is",
        1.0,
        1.0,
        "A larger diaphragm pushes with more force and winds everything up further.",
        "The clamp ring measures more than the other side's.",
        lambda w, _: next_size(w, 1),
    ),
    Defect(
        "stroke-class",
        "Long-stroke and standard chambers mixed up",
        "chamber_pressure",
        "number",
        "1: they are",
        1.0,
        1.0,
        "The other class of chamber loses its force at another stroke, and has another limit.",
        "Square ports, an embossed cap or a trapezoid tag on one side and not on the other.",
        lambda w, _: other_class(w),
    ),
    Defect(
        "pushrod-too-long",
        "Pushrod too long",
        "pushrod",
        "length",
        "by how much",
        0.5 * _INCH,
        1.5 * _INCH,
        "The arm starts nearer to square and goes past it when applied.",
        "Released, arm and pushrod stand nearer to square than the other side's; applied, past square.",
        _reach,
    ),
    Defect(
        "pushrod-too-short",
        "Pushrod too short, or bent",
        "pushrod",
        "length",
        "by how much",
        0.5 * _INCH,
        1.5 * _INCH,
        "The arm starts farther from square and stands farther back when applied: "
        "short of square where the stroke is right.",
        "Arm and pushrod stand farther back than the other side's, released and applied; a bent rod shows.",
        lambda w, a: _reach(w, -a),
    ),
    Defect(
        "loose-bracket",
        "Loose chamber or bracket",
        "bracket",
        "number",
        "share of the stiffness that is lost",
        0.4,
        0.8,
        "The chamber moves away from what it pushes.",
        "The chamber or its bracket moves when the brake is applied; more stroke than the slack explains.",
        softer,
    ),
    Defect(
        "arm-too-long",
        "Arm too long",
        "slack_adjuster",
        "length",
        "by how much",
        0.5 * _INCH,
        1.0 * _INCH,
        "More stroke for the same turn of the cam.",
        "Camshaft to clevis pin measures more than on the other side.",
        _arm,
    ),
    Defect(
        "arm-too-short",
        "Arm too short",
        "slack_adjuster",
        "length",
        "by how much",
        0.5 * _INCH,
        1.0 * _INCH,
        "Less stroke, and less torque from the same push.",
        "Camshaft to clevis pin measures less than on the other side.",
        lambda w, a: _arm(w, -a),
    ),
    Defect(
        "adjuster-stuck",
        "Adjuster stuck, or never adjusted",
        "slack_adjuster",
        "length",
        "lining worn since it stopped",
        0.5,
        1.4,
        "Wear opens the gap and nothing takes it up.",
        "Long free stroke, long applied stroke, arm past square.",
        lambda w, a: worn(w, wear=a),
        left=lining_left,
    ),
    Defect(
        "play",
        "Worn clevis pin or camshaft bushings",
        "clevis_pin",
        "length",
        "play at the pushrod",
        0.15 * _INCH,
        0.5 * _INCH,
        "The first of the stroke only takes up play.",
        "Pin, arm or camshaft rock by hand before the cam turns.",
        lambda w, a: replace(w, play=w.play + a),
    ),
    Defect(
        "rollers-worn",
        "Worn rollers",
        "roller_right",
        "length",
        "lost off their diameter",
        1.0,
        4.0,
        "Smaller rollers need more turn of the cam to reach the drum.",
        "Long free stroke; with the drum off, flats or steps on the rollers.",
        lambda w, a: with_part(w, "shoe", roller_diameter=w.brake.shoe.roller_diameter - a),
    ),
    Defect(
        "cam-past-profile",
        "Cam turned past its profile",
        "s_cam",
        "length",
        "more lining worn, the adjuster following",
        12.0,
        18.0,
        "The rollers come off the end of the profile: the cam wedges or turns over.",
        "The arm is hard to move back, or moves far with no braking; the wheel stays locked or free.",
        lambda w, a: taken_up(w, wear=a),
        left=lining_left,
    ),
    Defect(
        "anchor-frozen-released",
        "Anchor pin frozen, shoe released",
        "anchor_pin_right",
        "number",
        "1: it is",
        1.0,
        1.0,
        "One shoe does not move, so the cam cannot turn: all stroke is wind-up and nothing presses.",
        "Almost no free stroke, a short stroke that feels hard; the drum stays cold.",
        lambda w, _: replace(w, blocked=True),
    ),
    Defect(
        "anchor-frozen-applied",
        "Anchor pin frozen, shoe applied",
        "anchor_pin_right",
        "number",
        "share of its pressing that the shoe keeps",
        0.3,
        1.0,
        "One shoe stays on the drum when the brake is let go.",
        "The wheel drags and the drum is hot; stroke and arm are as they were.",
        lambda w, a: replace(w, residual=max(w.residual, a)),
    ),
    Defect(
        "return-spring-broken",
        "Shoe return spring broken",
        "shoe_return_spring",
        "number",
        "1: it is",
        1.0,
        1.0,
        "Nothing pulls the shoes off the drum.",
        "A light drag and a rattle; the arm comes back without resistance.",
        lambda w, _: replace(
            with_part(w, "shoe", return_spring_force=0.0, return_spring_rate=0.0),
            fallen=True,
        ),
    ),
    Defect(
        "lining-thin",
        "Lining too thin",
        "lining_right",
        "length",
        "less lining, the adjuster having followed",
        7.0,
        12.0,
        "The cam stands farther round, nearer to its tip.",
        "Seen through the inspection hole, the lining is thin; the stroke may be right.",
        lambda w, a: taken_up(w, wear=a),
        left=lining_left,
        named=wear_to_thin,
    ),
    Defect(
        "lining-cracked",
        "Linings cracked, a piece gone from each",
        "lining_right",
        "angle",
        "arc that is gone at the cam end of both linings",
        radians(30.0),
        radians(70.0),
        "What is left presses harder, and wears and heats faster. It lies nearer the anchor: by the long-shoe theory a "
        "cold brake's torque hardly changes, and after a large piece it is more.",
        "A piece of lining is missing at the shoes' cam ends; stroke nearly as it was.",
        _shorter_lining,
    ),
    Defect(
        "lining-glazed",
        "Lining glazed",
        "lining_right",
        "number",
        "share of the friction that is lost",
        0.3,
        0.6,
        "The lining rubs with less friction.",
        "Nothing to see on stroke or arm; a shiny lining, and the wheel brakes less.",
        _slippery,
    ),
    Defect(
        "lining-oil-soaked",
        "Lining soaked with oil or grease",
        "lining_right",
        "number",
        "share of the friction that is lost",
        0.7,
        0.9,
        "Oil takes most of the friction.",
        "Oil on the backing or drum; stroke and arm as they were.",
        _slippery,
    ),
    Defect(
        "drum-oversize",
        "Drum worn oversize",
        "drum",
        "length",
        "more diameter, the adjuster having followed",
        _WIDER,
        8.0,
        "The cam has to stand farther round to reach the drum.",
        "A lip at the drum's edge; the diameter measures over its limit.",
        lambda w, a: taken_up(w, wider=a),
        named=lambda w: max(_WIDER, growth_to_wide(w)),
    ),
    Defect(
        "drum-cracked",
        "Drum cracked",
        "drum",
        "number",
        "share of the stiffness that is lost",
        0.4,
        0.8,
        "The drum opens under the shoes, the more the harder they press.",
        "More stroke than the slack explains; a crack may show at the drum's edge.",
        softer,
    ),
    Defect(
        "drum-out-of-round",
        "Drum out of round",
        "drum",
        "length",
        "difference of its diameters",
        0.8,
        3.0,
        "Gap, stroke and torque swing as the wheel turns.",
        "The stroke changes with the place of the wheel; a pulse in the pedal.",
        lambda w, a: replace(w, ovality=w.ovality + a),
    ),
)


def defect(name: str) -> Defect:
    """Return the defect of a name. Raises `PartError` that suggests the nearest one."""
    found = next((one for one in DEFECTS if one.name == name), None)
    if found is None:
        names = [one.name for one in DEFECTS]
        near = get_close_matches(name, names, 1, 0.4)
        fix = f"write {near[0]}" if near else f"write one of {', '.join(names)}"
        raise PartError(Fault("--fault", "is no defect that is known here", fix, name, "number"))
    return found


CONTRARY = (
    ("pushrod-too-long", "pushrod-too-short"),
    ("arm-too-long", "arm-too-short"),
    ("chamber-too-small", "chamber-too-large"),
    ("anchor-frozen-released", "anchor-frozen-applied"),
)
"""Pairs that one wheel cannot have at once."""


def apply_all(wheel: Wheel, amounts: dict[str, float | None]) -> Wheel:
    """Return the wheel with several defects at once; in the catalogue's order, whatever order they are given in."""
    for one in DEFECTS:
        if one.name in amounts:
            wheel = one.on(wheel, amounts[one.name])
    return wheel
