"""The measured stroke against the readjustment limit of this vehicle's own chamber, at a pressure that counts."""

from typing import Any

from geometry.tables import (
    StrokeLimit,
    oos_defects,
    over_by_in,
    rated_strokes,
    test_pressure_band,
)
from mechviz.checks.case import Case, marked
from mechviz.checks.in_use import unmoved_doubt
from mechviz.checks.judge import ROUNDING, Band, judge
from mechviz.checks.mend import mend
from mechviz.checks.proof import (
    Doubt,
    chamber_name,
    highest_limit,
    known_pressure,
    possible_limits,
    seen_chamber,
    twofold_doubt,
)
from mechviz.checks.row import CheckRow, missing_row


def stroke_limit_rows(case: Case) -> list[CheckRow]:
    """Judge the measured stroke, in exact inches, equal being legal, by each rule set chosen that limits it."""
    rows = [_limit_row(case, limit) for limit in (case.limits or ([case.limit] if case.stands_in else []))]
    why = f"None of the rule sets {', '.join(case.rules)} has a stroke limit here: us and australia have."
    return rows or [CheckRow("stroke-limit", "not-applicable", "Stroke limits of the rule sets chosen", why)]


def _limit_row(case: Case, limit: StrokeLimit) -> CheckRow:
    stroke, source = case.setup.measured.stroke, marked(limit.source, limit.status)
    if stroke is None:
        how = "mark the pushrod released, apply the brake, and measure how far it went."
        return missing_row("stroke-limit", source, "measured.stroke", how, limit=limit.limit_mm)
    resolution = case.setup.measured.resolution
    surely = _over_every_limit(case, limit, stroke)
    result = "fail" if surely else judge(stroke, Band(most=limit.limit_mm), resolution)
    figures: dict[str, Any] = {"value": stroke, "limit": limit.limit_mm, "resolution": resolution}
    rule = limit
    limit, name = _surely_over(case, rule) if surely else (rule, f"a {case.chamber_name}")
    doubt = _over_only_this(case, limit, stroke, surely) if result == "fail" else _doubt(case, limit, stroke)
    if doubt:
        key, how = doubt
        side = "Over" if result == "fail" else "Inside"
        advice = f"{side} the limit of {name}, but {how}"
        return CheckRow("stroke-limit", "not-evaluated", source, advice, missing=case.unless_stated(key), **figures)
    figures["limit"], source = limit.limit_mm, marked(limit.source, limit.status)
    advice = _advice(case, limit, result, stroke, name) + _class_caveat(case, result) + _marked_caveat(case, rule)
    advice += _heat_caveat(case) + _air_caveat(case) + _chamber_caveat(case, result)
    if case.stands_in:
        advice += f" None of the rule sets {', '.join(case.rules)} has a stroke limit: this one stands in."
    return CheckRow("stroke-limit", result, source, advice, margin=limit.limit_mm - stroke, **figures)


def _over_every_limit(case: Case, limit: StrokeLimit, stroke: float) -> bool:
    """Whether a stroke (mm) is over the readjustment limit of every chamber that this one may be, the base's or not."""
    if not limit.source.startswith("49 CFR"):
        return stroke > max(limit.limit_mm, highest_limit(case.setup))
    return stroke > _greatest(case, limit).limit_mm and (not _unsure(case) or bool(possible_limits(case.setup)))


def _unsure(case: Case) -> Doubt | None:
    return case.chamber_doubt or twofold_doubt(case.setup)


def _greatest(case: Case, limit: StrokeLimit) -> StrokeLimit:
    """The greatest of the limits of the chambers that this one may be; ``limit`` counts where it is the file's own."""
    named = case.states("chamber.style", "chamber.size")
    possible = possible_limits(case.setup) if _unsure(case) else []
    return max((*possible, limit) if named or not possible else possible, key=lambda one: one.limit_in)


def _surely_over(case: Case, limit: StrokeLimit) -> tuple[StrokeLimit, str]:
    """The limit that a stroke is surely over, and whose: the greatest of the chambers that this one may be.

    A chamber that ring and marks name counts where the file names none, not the base's. A share of the full stroke
    belongs to the chamber that is written.
    """
    seen = seen_chamber(case.setup)
    if not _unsure(case) or not limit.source.startswith("49 CFR"):
        return limit, f"a {case.chamber_name}"
    most = _greatest(case, limit)
    if seen:
        return most, f"a {chamber_name(seen.style, seen.size)}"
    high = f"{float(most.limit_in):.2f} in ({most.limit_mm:.1f} mm) of a {chamber_name(most.style, most.size)}"
    return most, f"every chamber that this one may be, the highest being {high}"


def _weight(case: Case, limit: StrokeLimit, stroke: float) -> str:
    """What it is in the out-of-service count; nothing where that depends on which chamber it is, or read hot.

    The count is of brakes that were read cold: by how much this one is over then, nobody knows.
    """
    if case.warm:
        return ""
    possible = possible_limits(case.setup) if case.chamber_doubt or twofold_doubt(case.setup) else []
    every = [oos_defects([over_by_in(stroke, one)]) for one in (limit, *possible)]
    if not limit.source.startswith("49 CFR") or len(set(every)) > 1:
        return ""
    weight = "one defective brake" if every[0] >= 1 else "half a defective brake"
    return f"In the North American out-of-service count it is {weight}. "


def _advice(case: Case, limit: StrokeLimit, result: str, stroke: float, name: str) -> str:
    if result == "pass":
        return f"Inside the {_called(limit)} of a {case.chamber_name}."
    if result == "close":
        return (
            f"At the limit of a {case.chamber_name} within what the tape can tell: legal as read. Measure again, and "
            "look for the cause now."
        )
    past = f"Over the {_called(limit)} of {name}. "
    if stroke > case.brake.chamber.rated_stroke and not (case.chamber_doubt or twofold_doubt(case.setup)):
        return past + "It is more than this chamber's whole stroke: the chamber is another one, or it was misread."
    return past + _weight(case, limit, stroke) + mend(case)


def _called(limit: StrokeLimit) -> str:
    return "readjustment limit" if limit.source.startswith("49 CFR") else "limit"


def _class_caveat(case: Case, result: str) -> str:
    """Two sizes of long-stroke chambers have a higher limit where their rated stroke is longer; the lower was taken."""
    chamber = case.brake.chamber
    twofold = chamber.style == "clamp-long-stroke" and len(rated_strokes(chamber.style, chamber.size)) > 1
    if result != "close" or not twofold or case.states("chamber.rated_stroke"):
        return ""
    return " The lower limit of this size was taken: write chamber.rated_stroke as marked, 3 in ones have a higher one."


def _doubt(case: Case, limit: StrokeLimit, stroke: float) -> Doubt | None:
    """Why a stroke inside the limit is no pass yet."""
    doubt = case.limit_doubt(limit.limit_mm, stroke, case.setup.measured.resolution)
    return doubt or case.pressure_doubt or unmoved_doubt(case, stroke)


def _over_only_this(case: Case, limit: StrokeLimit, stroke: float, surely: bool) -> Doubt | None:
    """A stroke over the limit that was taken, and not ``surely`` over that of another chamber that this one may be."""
    return (None if surely else _unsure(case)) or _too_much_air(case, limit, stroke)


def _too_much_air(case: Case, limit: StrokeLimit, stroke: float) -> Doubt | None:
    """A stroke over the limit that was read above the procedure's band, and may be inside it with less air."""
    known, most = known_pressure(case.setup), test_pressure_band(case.setup.test.procedure).high_mpa
    return None if known is None or stroke * most / known > limit.limit_mm else case.more_air_doubt


def _chamber_caveat(case: Case, result: str) -> str:
    """A stroke over the limit of a chamber that ring, marks or its own figures belie."""
    if result != "fail" or case.chamber_doubt is None:
        return ""
    key, how = case.chamber_doubt
    return "" if key in ("chamber.style", "chamber.size") else f" Make sure of the chamber first: {how}"


def _marked_caveat(case: Case, limit: StrokeLimit) -> str:
    """A chamber that is in the table is judged by the table, whatever is marked on it; where they differ it is said."""
    marked_limit = case.setup.marked_limit
    if marked_limit is None or limit != case.limit or abs(marked_limit - limit.limit_mm) < ROUNDING:
        return ""
    return f" The mark on the chamber ({marked_limit / 25.4:.2f} in, {marked_limit:.2f} mm) says otherwise: make sure."


def _air_caveat(case: Case) -> str:
    """More air than the procedure's makes the stroke longer than the one that counts."""
    doubt = case.more_air_doubt
    return f" I{doubt[1][1:]}" if doubt else ""


def _heat_caveat(case: Case) -> str:
    """A stroke read with a hot drum is longer than the same brake's cold one; the reading is judged as it is."""
    if not case.warm:
        return ""
    how = " It is judged as it was read, with a hot drum, which lengthens the stroke: measure again "
    return how + "when it is cold."
