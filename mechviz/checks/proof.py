"""What has to be known before a stroke may pass: which chamber it is, and that the pressure is one that counts.

Each doubt names the key that would settle it and says what to do; None is no doubt. A pass is never built on one.
Which chamber it is depends on who says so: the file, or only the base.
"""

from fractions import Fraction
from math import inf

from geometry.setup import Setup
from geometry.tables import (
    ChamberCandidate,
    PressureBand,
    StrokeLimit,
    chambers_by_outside_diameter,
    effective_area_in2,
    exact_inches,
    procedures,
    rated_strokes,
    stroke_limit,
    styles,
    test_pressure_band,
)
from geometry.tables.chambers import DIAMETER_TOLERANCE
from geometry.tables.reader import SQUARE_INCH
from geometry.tables.strokes import limits_for, plain_size
from mechviz.checks.judge import ROUNDING

Doubt = tuple[str, str]
NEAR = Fraction(1, 16)
"""Rated strokes nearer than this, inches, are the same."""


def chamber_doubt(setup: Setup) -> Doubt | None:
    """Return why the chamber may be another one: not named, or belied by ring, marks, rated stroke or area."""
    seen = seen_chamber(setup)
    if seen:
        return "chamber.style", f"that is the base's chamber, and {as_seen(seen)}"
    belied = _belied_by_marks(setup) or _belied_by_ring(setup) or _belied_by_stroke(setup) or _belied_by_area(setup)
    return belied or _unnamed(setup)


def _belied_by_ring(setup: Setup) -> Doubt | None:
    diameter, chamber = setup.measured.clamp_diameter, setup.brake.chamber
    if diameter is None or ring_agrees(setup) is not False:
        return None
    whose = "" if "chamber.size" in setup.stated else " (the base's chamber)"
    how = f"the outside diameter is not that of a {chamber.style.replace('-', ' ')} {chamber.size}{whose}, "
    return "measured.clamp_diameter", how + "and another chamber has another limit. See the row chamber size."


def ring_agrees(setup: Setup) -> bool | None:
    """Tell whether the outside diameter (and the marks, where looked for) are the chamber's; None where unknown."""
    diameter, marks, chamber = setup.measured.clamp_diameter, setup.measured.long_stroke_marks, setup.brake.chamber
    if diameter is None:
        return None
    if chamber.style.startswith("clamp"):
        seen = chambers_by_outside_diameter(diameter, marks)
        return any((c.style, c.size) == (chamber.style, chamber.size) for c in seen)
    listed = stroke_limit(chamber.style, chamber.size)
    if listed is None or listed.outside_diameter_in is None:
        return None
    return abs(diameter - float(listed.outside_diameter_in) * 25.4) <= DIAMETER_TOLERANCE


def between_sizes(setup: Setup) -> bool:
    """Tell whether the tape leaves open which of two sizes the clamp ring is that of."""
    diameter = setup.measured.clamp_diameter
    near = [] if diameter is None else chambers_by_outside_diameter(diameter)
    return bool(near) and near[0].distance_mm + setup.measured.resolution > DIAMETER_TOLERANCE


def _belied_by_marks(setup: Setup) -> Doubt | None:
    marks, style = setup.measured.long_stroke_marks, setup.brake.chamber.style
    if marks is None or not style.startswith("clamp") or marks == (style == "clamp-long-stroke"):
        return None
    kind = "a standard" if marks else "a long-stroke"
    said = f"{kind} one is written" if "chamber.style" in setup.stated else f"the base's is {kind} one"
    seen = f"are on it, and {said}" if marks else f"are missing, and {said}"
    return "measured.long_stroke_marks", f"long-stroke marks {seen}: look again, the limits differ."


def lower_limit_doubt(setup: Setup, limit: float, stroke: float, resolution: float) -> Doubt | None:
    """Return why a stroke inside ``limit`` may be over the chamber's own limit (all mm): a lower one may hold.

    That is the one marked on it, or a standard chamber's where a long-stroke one is written and nobody has looked. A
    stroke that is clearly inside the lower limit as well is in no doubt.
    """
    for lower, doubt in (_marked_limit(setup), _standard_limit(setup)):
        if lower < limit and stroke + resolution > lower + ROUNDING:
            return doubt
    return None


def _marked_limit(setup: Setup) -> tuple[float, Doubt]:
    mark = inf if setup.marked_limit is None else setup.marked_limit
    how = f"the limit marked on it is {mark / 25.4:.2f} in ({mark:.2f} mm): make sure which chamber it is."
    return mark, ("chamber.marked_limit", how)


def _standard_limit(setup: Setup) -> tuple[float, Doubt]:
    """The limit of the standard chamber that a long-stroke one would be taken for; a rated stroke read tells too."""
    size, lower = setup.brake.chamber.size, _standard_of_the_same_ring(setup)
    mark = inf if lower is None or setup.measured.long_stroke_marks is not None else lower.limit_mm
    how = (
        f"nobody has looked for its long-stroke marks, and a standard type {size}, with the same ring, has a limit of "
    )
    how += f"{mark / 25.4:.2f} in ({mark:.1f} mm): look for {MARKS}."
    return mark, ("measured.long_stroke_marks", how)


def _standard_of_the_same_ring(setup: Setup) -> StrokeLimit | None:
    chamber = setup.brake.chamber
    rated, usual = exact_inches(chamber.rated_stroke / 25.4), rated_strokes("clamp", chamber.size)
    read = "chamber.rated_stroke" in setup.stated and not any(abs(rated - one) <= NEAR for one in usual)
    if chamber.style != "clamp-long-stroke" or read:
        return None
    return stroke_limit("clamp", chamber.size)


def highest_limit(setup: Setup) -> float:
    """Return the greatest limit (mm) of the chambers that this one may be: a stroke over it is over whatever it is.

    One that the file names, and that nothing belies, is itself, in the longest stroke it comes in unless that was
    written. What ring and marks show counts beside it; where nobody names it, it may be any chamber with these.
    """
    named = {"chamber.style", "chamber.size"} <= setup.stated
    unlisted = -inf if named and chamber_doubt(setup) is None else inf
    return max((one.limit_mm for one in possible_limits(setup)), default=unlisted)


def possible_limits(setup: Setup) -> list[StrokeLimit]:
    """Return the limit of each chamber of the tables that this one may be, as `highest_limit` counts them."""
    chamber, stated = setup.brake.chamber, setup.stated
    named = {"chamber.style", "chamber.size"} <= stated
    rated = None if "chamber.rated_stroke" in stated else LONGEST
    own = [stroke_limit(chamber.style, chamber.size, one) for one in (rated, _rated(setup))] if named else []
    seen = [] if named and chamber_doubt(setup) is None else _may_be(setup)
    return [one for one in (*own, *seen) if one]


LONGEST = Fraction(3)
"""The rated stroke (inches) with which the tables' higher limits go."""


def _rated(setup: Setup) -> Fraction:
    return exact_inches(setup.brake.chamber.rated_stroke / 25.4)


def _may_be(setup: Setup) -> list[StrokeLimit]:
    """Every chamber of the tables with the size, style, ring and marks that are known.

    A ring and a size that are both given may each be the one that is wrong, so that either counts.
    """
    chamber, stated, doubt = setup.brake.chamber, setup.stated, chamber_doubt(setup)
    ring, sized = setup.measured.clamp_diameter, "chamber.size" in stated
    if sized and ring is None and doubt and doubt[0] == "chamber.effective_area":
        sized = False
    found = [row for style in styles() if _may_be_style(setup, style) for row in limits_for(style)]
    if not sized and ring is None:
        return found
    size = plain_size(chamber.size) if sized else None
    return [row for row in found if row.size == size or (ring is not None and _has_ring(setup, row, ring))]


CLAMP = {"clamp": False, "clamp-long-stroke": True}
"""Styles with a clamp ring, and whether they have long-stroke marks."""


def _may_be_style(setup: Setup, style: str) -> bool:
    """Tell whether the chamber may be of a style: by its marks, else by what is written, else by its clamp ring."""
    chamber, marks, doubt = setup.brake.chamber, setup.measured.long_stroke_marks, chamber_doubt(setup)
    if marks is not None:
        return CLAMP.get(style) is marks
    belied = doubt is not None and doubt[0] in ("chamber.rated_stroke", "chamber.effective_area")
    if "chamber.style" in setup.stated and not belied:
        return style == chamber.style
    ring = setup.measured.clamp_diameter is not None and "chamber.style" not in setup.stated
    return style in CLAMP or not ring


def _has_ring(setup: Setup, row: StrokeLimit, ring: float) -> bool:
    """Tell whether a ring (mm) may be that of a chamber, within what the tape can tell."""
    outside = row.outside_diameter_in
    off = DIAMETER_TOLERANCE + setup.measured.resolution
    return outside is not None and abs(ring - float(outside) * 25.4) <= off + ROUNDING


MARKS = "square air ports, an embossed cap or a trapezoid tag"


def seen_chamber(setup: Setup) -> ChamberCandidate | None:
    """Return the chamber that ring and marks name where the file itself names none and the base has another one."""
    diameter, marks, chamber = setup.measured.clamp_diameter, setup.measured.long_stroke_marks, setup.brake.chamber
    unnamed = not {"chamber.style", "chamber.size"} & setup.stated
    if diameter is None or marks is None or not unnamed or ring_agrees(setup):
        return None
    return (
        next(iter(chambers_by_outside_diameter(diameter, marks)), None) if chamber.style.startswith("clamp") else None
    )


def as_seen(seen: ChamberCandidate) -> str:
    """Say which chamber ring and marks name, and how to write it, as a sentence's end."""
    name = chamber_name(seen.style, seen.size)
    return f'ring and marks are those of a {name}: write chamber.style = "{seen.style}", size = "{seen.size}".'


def chamber_name(style: str, size: str) -> str:
    """Return a chamber's name for people.

    >>> chamber_name("clamp-long-stroke", "30")
    'type 30 clamp long stroke'
    """
    return f"type {size} {style.replace('-', ' ')}"


def twofold_doubt(setup: Setup) -> Doubt | None:
    """Return why a fail by the chamber's stroke may be none: the size comes with a longer one, and none is written."""
    chamber = setup.brake.chamber
    if "chamber.rated_stroke" in setup.stated or len(rated_strokes(chamber.style, chamber.size)) < 2:
        return None
    how = "this size comes with a longer stroke and a higher limit too: write chamber.rated_stroke as marked."
    return "chamber.rated_stroke", how


def assumed_stroke_doubt(setup: Setup) -> Doubt | None:
    """Return why what rests on the chamber's full stroke cannot be told: none is published, and none was written."""
    chamber = setup.brake.chamber
    known = rated_strokes(chamber.style, chamber.size) or "chamber.rated_stroke" in setup.stated
    how = "no rated stroke of such a chamber is published: read it on the chamber and write chamber.rated_stroke."
    return None if known else ("chamber.rated_stroke", how)


def _belied_by_stroke(setup: Setup) -> Doubt | None:
    chamber = setup.brake.chamber
    known, own = rated_strokes(chamber.style, chamber.size), exact_inches(chamber.rated_stroke / 25.4)
    if not known:
        return _belied_by_limit(setup)
    if any(abs(own - one) <= NEAR for one in known):
        return None
    usual = " or ".join(f"{float(one):g} in" for one in known)
    how = f"its rated stroke is none that such a chamber has ({usual}): read the mark again, it may be another chamber."
    return "chamber.rated_stroke", how


def _belied_by_limit(setup: Setup) -> Doubt | None:
    """A chamber of which no rated stroke is published: its limit has to be a usual share of what was written."""
    chamber, listed = setup.brake.chamber, stroke_limit(setup.brake.chamber.style, setup.brake.chamber.size)
    if listed is None or LEAST_SHARE <= listed.limit_mm / chamber.rated_stroke <= MOST_SHARE:
        return None
    share = f"{100 * listed.limit_mm / chamber.rated_stroke:.0f} %"
    return (
        "chamber.rated_stroke",
        f"its limit would be {share} of its rated stroke, which is not usual: read the marks again.",
    )


LEAST_SHARE, MOST_SHARE = 0.6, 0.9
"""Of the rated stroke: published limits lie between 0.77 and 0.84 of it (the project's band round them)."""


def _belied_by_area(setup: Setup) -> Doubt | None:
    """Where the size is the nominal area in square inches; those of bolt chambers are quoted from memory only."""
    chamber = setup.brake.chamber
    nominal, own = effective_area_in2(chamber.style, chamber.size), chamber.effective_area / SQUARE_INCH
    if nominal is None or chamber.style == "bolt" or abs(own - nominal) <= AREA_SHARE * nominal:
        return None
    how = f"its effective area, {own:.3g} square inches, is not that of such a chamber ({nominal:.3g}): "
    return "chamber.effective_area", how + "read size and area again, it may be another chamber."


AREA_SHARE = 0.15
"""Of the nominal area: neighbouring sizes of the tables differ by a sixth of it or more (the project's figure)."""


def _unnamed(setup: Setup) -> Doubt | None:
    lacking = [key for key in ("chamber.style", "chamber.size") if key not in setup.stated]
    by_ring = bool(ring_agrees(setup)) and setup.measured.long_stroke_marks is not None and not between_sizes(setup)
    if not lacking or by_ring:
        return None
    what = " and ".join(lacking)
    how = f"that is the base's chamber. Write {what}, or measure the clamp ring and look for the marks: another "
    return lacking[0], how + "chamber has another limit."


def pressure_doubt(setup: Setup) -> Doubt | None:
    """Return why the pressure at which the stroke was read may not count: not stated, or too low."""
    known = known_pressure(setup)
    if known is None:
        return (
            "test.reservoir_pressure",
            "the pressure it was measured at is not stated, and with too little everything moves less.",
        )
    rule = test_pressure_band(setup.test.procedure)
    if known >= rule.low_mpa:
        return None
    low, high = ends(rule)
    reservoir = setup.test.reservoir_pressure if "test.reservoir_pressure" in setup.stated else None
    if reservoir is not None and reservoir >= rule.low_mpa:
        how = f"the chamber had less than {low} though the reservoir has it: hold the brake fully on, look for leaks."
        return "test.pressure", how
    return (
        "test.pressure" if reservoir is None else "test.reservoir_pressure",
        f"it was measured below {low}: bring the reservoirs to {low} to {high}, measure again{other_procedure(setup)}.",
    )


def above_band(setup: Setup) -> str:
    """Say why the pressure at which the stroke was read may be too high to tell of a full application; else nothing.

    A stiffer brake than solved falls short of it by less where less pressure winds it up.
    """
    known = known_pressure(setup)
    low, high = ends(rule := test_pressure_band(setup.test.procedure))
    if known is None or known <= rule.high_mpa + setup.test.pressure_resolution:
        return ""
    return f"it was measured above {high}: measure again at {low} to {high}{other_procedure(setup)}."


def other_procedure(setup: Setup) -> str:
    """Say, to end a sentence, which other procedure the pressure fits; nothing where the file names its own."""
    known = known_pressure(setup)
    if known is None or "test.procedure" in setup.stated:
        return ""
    fits = [one for one in procedures() if _inside(test_pressure_band(one), known)]
    if not fits or setup.test.procedure in fits:
        return ""
    low, high = ends(test_pressure_band(fits[0]))
    return f' (or write procedure = "{fits[0]}", if that inspection is meant: it asks for {low} to {high})'


def _inside(rule: PressureBand, pressure: float) -> bool:
    return rule.low_mpa <= pressure <= rule.high_mpa


def known_pressure(setup: Setup) -> float | None:
    """Return the least pressure (MPa) that the file itself gives for chamber and reservoir; None for none."""
    names = ("pressure", "reservoir_pressure")
    return min((getattr(setup.test, name) for name in names if f"test.{name}" in setup.stated), default=None)


def ends(rule: PressureBand) -> tuple[str, str]:
    """Return both ends of a procedure's band in words, each in both units."""
    low, high = (f"{float(psi):g} psi ({1000 * mpa:.0f} kPa)" for psi, mpa in _figures(rule))
    return low, high


def _figures(rule: PressureBand) -> tuple[tuple[float, float], tuple[float, float]]:
    return (float(rule.low_psi), rule.low_mpa), (float(rule.high_psi), rule.high_mpa)
