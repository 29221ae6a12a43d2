"""Lining thickness, against each rule that holds for this axle, this lining and the rule sets chosen."""

from geometry.tables import LiningLimit, lining_limits
from mechviz.checks.case import Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import CheckRow, missing_row


def lining_rows(case: Case) -> list[CheckRow]:
    """Return one row per rule; rules that disagree stand side by side."""
    setup = case.setup
    pads = setup.lining_pads if case.states("foundation.lining_pads") else None
    attachment = setup.lining_attachment if case.states("foundation.lining_attachment") else None
    rules = lining_limits(case.brake.axle, pads, attachment)
    chosen = [rule for rule in rules if rule.rule_set in case.rules]
    least = {rule.rule_set: min(r.limit_mm for r in chosen if r.rule_set == rule.rule_set) for rule in chosen}
    rows = [_row(case, rule, least[rule.rule_set]) for rule in chosen]
    why = f"None of the rule sets {', '.join(case.rules)} has a lining limit here: us and quebec have."
    return rows or [CheckRow("lining-thickness", "not-applicable", "Lining limits of the rule sets chosen", why)]


def _row(case: Case, rule: LiningLimit, least_of_all: float) -> CheckRow:
    """Judge by one rule; a lining below every limit of its rule set fails whichever of them holds."""
    found, check = case.setup.as_found, "lining-thickness"
    key, how = _missing(case, rule)
    surely = case.states("condition.lining_thickness") and found.lining_thickness < least_of_all
    if key and not surely:
        return missing_row(check, rule.source, key, how, limit=rule.limit_mm, unit=rule.unit)
    value, least = found.lining_thickness, rule.limit_mm
    result = judge(value, Band(least), found.lining_resolution)
    if result == "pass" and value - found.lining_resolution < _of_either_axle(case, rule.rule_set):
        how = f"the base's is {case.brake.axle}, and for another axle more is asked."
        return missing_row(check, rule.source, "foundation.axle", how, value=value, limit=least, unit=rule.unit)
    return CheckRow(
        check,
        result,
        rule.source + _for(rule),
        _ADVICE[result] + _axle(case),
        value,
        least,
        value - least,
        unit=rule.unit,
        resolution=found.lining_resolution,
    )


def _of_either_axle(case: Case, rule_set: str) -> float:
    """The greatest limit of a rule set for the axles that this may be, mm; 0 where the file names it."""
    if case.states("foundation.axle"):
        return 0.0
    setup = case.setup
    every = (lining_limits(axle, setup.lining_pads, setup.lining_attachment) for axle in ("steering", "non-steering"))
    return max((one.limit_mm for rules in every for one in rules if one.rule_set == rule_set), default=0.0)


_ADVICE = {
    "pass": "Thick enough at the shoe's centre.",
    "close": "Thick enough as read, but by less than the reading can tell: measure again at the thinnest place.",
    "fail": "Too thin: replace the linings in pairs on the axle, and look at the drums while they are off.",
    "not-evaluated": "condition.lining_thickness is no usable number.",
}


def _axle(case: Case) -> str:
    """The limit goes by the axle, which may be the base's."""
    return "" if case.states("foundation.axle") else f" The base's axle is {case.brake.axle}: so was this one taken."


def _missing(case: Case, rule: LiningLimit) -> tuple[str, str]:
    """The key that this rule needs and the file does not give, and how to get it."""
    if not case.states("condition.lining_thickness"):
        return "condition.lining_thickness", "measure the lining at the shoe's centre."
    if rule.pads != "any" and not case.states("foundation.lining_pads"):
        return "foundation.lining_pads", "1 for one continuous strip, 2 for two pads a shoe; the limit differs."
    if rule.attachment != "any" and not case.states("foundation.lining_attachment"):
        return "foundation.lining_attachment", "bonded or riveted; the limit differs."
    return "", ""


def _for(rule: LiningLimit) -> str:
    words = [w for w in (rule.attachment, rule.pads) if w != "any"]
    return f", {' '.join(words)}" if words else ""
