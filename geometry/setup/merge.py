"""A file over its base: the base's values stand where the file is silent."""

from math import sqrt

from geometry.chamber import diaphragm_area
from geometry.setup.sheet import Sheet, Values
from geometry.tables import assumed_rated_stroke, effective_area_in2, nominal_rated_stroke
from geometry.tables.reader import SQUARE_INCH, millimetres

PLAY = ("condition.free_stroke", "condition.lining_clearance")
DIAPHRAGM = ("chamber.diaphragm_diameter", "chamber.plate_diameter")
OF_THE_CHAMBER = ("chamber.rated_stroke", "chamber.marked_limit", "chamber.effective_area", *DIAPHRAGM)
PIN_REACH = "linkage.pin_reach"
DRUM_HEAT, SLACK_HEAT = "condition.drum_temperature", "condition.slack_temperature"
FITTED = {"linkage.arm_length": "measured.arm_length", "linkage.pin_reach": "measured.pin_reach"}
"""Lengths that are solved with as they were measured, whatever else is written."""
STANDS_FOR = {**FITTED, "test.pressure": "test.reservoir_pressure"}
"""What stands in for a figure that the file does not write."""
PROFILE_KEYS = {
    "involute": ("base_radius", "heel_radius", "tip_radius"),
    "constant-rise": ("rise", "heel_radius", "tip_radius"),
    "table": ("table",),
}


def merged(own: Sheet, base: Values) -> Values:
    """Return the values of a file over those of its base.

    What the file writes displaces what belongs to the same choice in the base: one way to state the adjuster's
    setting displaces the other, another chamber its stroke, area and thrust, another cam profile the old one's keys,
    a manual adjuster what an automatic one senses. What was measured on the base's vehicle was not measured on this.
    """
    values = {key: value for key, value in base.items() if not (own.is_broken(key) or key.startswith("measured."))}
    for key in _displaced(own, base):
        values.pop(key, None)
    values |= _stand_ins(own, base) | own.values
    values |= {key: own.values[of] for key, of in FITTED.items() if of in own.values}
    return _with_table_values(values, with_stroke=bool(base))


def _stand_ins(own: Sheet, base: Values) -> Values:
    """What a file's own readings say of figures that it does not write.

    Lengths measured on the vehicle are those to solve with; a chamber fills no higher than the reservoir that was
    read; and slack that was taken over from the base was found at the base's drum temperature, not at this one.
    """
    found = {key: own.values[of] for key, of in STANDS_FOR.items() if of in own.values and key not in own.typed}
    if base and SLACK_HEAT not in base and not any(key in own.typed for key in (*PLAY, SLACK_HEAT)):
        found |= {SLACK_HEAT: base[DRUM_HEAT]} if DRUM_HEAT in own.typed and DRUM_HEAT in base else {}
    return found


def _displaced(own: Sheet, base: Values) -> list[str]:
    keys = [other for key, other in (PLAY, PLAY[::-1]) if key in own.typed]
    keys += [SLACK_HEAT] if any(key in own.typed for key in PLAY) else []
    if any(own.values.get(key, base.get(key)) != base.get(key) for key in ("chamber.style", "chamber.size")):
        keys += [key for key in base if key in OF_THE_CHAMBER or key.startswith("chamber.thrust")]
    if own.values.get("cam.profile", base.get("cam.profile")) != base.get("cam.profile"):
        wanted = PROFILE_KEYS[own.values["cam.profile"]]
        keys += [f"cam.{k}" for of in PROFILE_KEYS.values() for k in of if k not in wanted]
    if own.values.get("adjuster.kind") == "manual":
        keys.append("adjuster.senses")
    return keys


def assumed_stroke(values: Values) -> Values:
    """Return a rated stroke to judge with where none is published for the chamber: its limit needs none."""
    style, size = values.get("chamber.style"), values.get("chamber.size")
    assumed = assumed_rated_stroke(style, size) if style and size else None
    return {} if assumed is None else {"chamber.rated_stroke": millimetres(assumed)}


def rod_that_reaches(own: Sheet, values: Values) -> Values:
    """Return a pin reach for a file that gives none, with which the arm stands square half-way through the stroke.

    Nothing where the file gives one, or where no such rod is: arm and mounting are then judged with what there is.
    """
    written = any(key in own.typed for key in (PIN_REACH, FITTED[PIN_REACH]))
    needed = ("face_distance", "pivot_depth", "axis_offset", "arm_length")
    lengths = [values.get(f"linkage.{key}") for key in needed] + [values.get("chamber.rated_stroke")]
    if written or not all(isinstance(length, float) and length > 0 for length in lengths):
        return {}
    face, depth, offset, arm, rated = (float(length or 0.0) for length in lengths)
    squared = (face + depth - 0.5 * rated) ** 2 + offset**2 - arm**2
    reach = sqrt(max(squared, 0.0)) - depth
    return {PIN_REACH: reach} if reach > 0 else {}


def _with_table_values(values: Values, with_stroke: bool) -> Values:
    """Fill in the published nominal area (or the diaphragm's), and the stroke too where the base's was displaced."""
    style, size = values.get("chamber.style"), values.get("chamber.size")
    if not style or not size:
        return values
    stroke, area = nominal_rated_stroke(style, size), effective_area_in2(style, size)
    nominal: Values = {}
    if stroke is not None and with_stroke:
        nominal["chamber.rated_stroke"] = millimetres(stroke)
    if area is not None:
        nominal["chamber.effective_area"] = area * SQUARE_INCH
    elif all(key in values for key in DIAPHRAGM):
        nominal["chamber.effective_area"] = diaphragm_area(*(values[key] for key in DIAPHRAGM))
    return nominal | values
