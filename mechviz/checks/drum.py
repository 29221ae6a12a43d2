"""Drum diameter, against the limit cast on the drum and the figures that stand in where it cannot be read."""

from geometry.tables import DrumLimit, drum_limits, exact_inches
from mechviz.checks.case import Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import CheckRow, missing_row

ANOTHER_DRUM = 25.4 / 2
"""Over a limit by more than this, 1/2 in, it is not wear but another drum (the project's figure)."""

CAST = "49 CFR 393.47(g): the limit cast on the drum"


def drum_rows(case: Case) -> list[CheckRow]:
    """Return the row of the cast limit, and one per figure of the rule sets chosen."""
    drum = case.brake.drum
    judged = "us" in case.rules or case.states("foundation.drum_limit", "condition.drum_diameter")
    cast = [_row(case, CAST, drum.limit)] if judged else []
    known = drum_limits(exact_inches(drum.diameter / 25.4))
    rows = cast + [_row(case, _source(k), k.limit_mm) for k in known if _counts(case, k)]
    why = f"None of the rule sets {', '.join(case.rules)} has a drum limit here: us, army and common have."
    return rows or [CheckRow("drum-diameter", "not-applicable", "Drum limits of the rule sets chosen", why)]


def _counts(case: Case, limit: DrumLimit) -> bool:
    """A figure of common practice stands in where the limit cast on the drum cannot be read, and only there."""
    read = case.brake.drum.limit is not None and case.states("foundation.drum_limit")
    return limit.rule_set in case.rules and not (read and limit.rule_set == "common")


def _source(limit: DrumLimit) -> str:
    return f"{limit.source}: {float(limit.limit_in):.3f} in"


def _row(case: Case, source: str, limit: float | None) -> CheckRow:
    found = case.setup.as_found
    if not case.states("condition.drum_diameter"):
        how = "measure across the drum, away from any lip."
        return missing_row("drum-diameter", source, "condition.drum_diameter", how, limit=limit)
    value = found.drum_diameter
    if limit is None:
        how = "read the largest diameter cast on the drum."
        return missing_row("drum-diameter", source, "foundation.drum_limit", how, value=value)
    if value - limit > ANOTHER_DRUM and not case.states("foundation.drum_diameter"):
        how = "the base's drum is of another size: write what this one measures when new."
        return missing_row("drum-diameter", source, "foundation.drum_diameter", how, value=value, limit=limit)
    result = judge(value, Band(most=limit), found.drum_resolution)
    return CheckRow(
        "drum-diameter", result, source, _ADVICE[result], value, limit, limit - value, resolution=found.drum_resolution
    )


_ADVICE = {
    "pass": "Inside the limit.",
    "close": "At the limit within what the gauge can tell: measure again at several places round the drum.",
    "fail": "Over the limit: a drum over its limit is never reused; replace drums in pairs on the axle.",
    "not-evaluated": "condition.drum_diameter is no usable number.",
}
