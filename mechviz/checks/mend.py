"""What to do about too much stroke, by what it comes from: slack, parts that give, or a brake with nothing to spare."""

from mechviz.checks.case import Case
from mechviz.checks.in_use import base_windup_doubt, surely_unexplained, unexplained


def mend(case: Case) -> str:
    """Say what to do about too much stroke; never to turn an automatic adjuster.

    Slack is blamed only where too much of it was found, or where nobody has measured it; parts only where the stroke
    that was read is more than slack and pressure explain.
    """
    slack = case.slack_result
    if slack == "fail" or case.unknown_slack:
        return _adjuster(case)
    if case.slack_hot:
        stated = case.slack_read_cold is None
        unless = "" if stated else " If it was read cold, write condition.slack_temperature."
        how = "was" if stated else "counts as"
        cool = "let it cool and measure it again first, do not adjust hot."
        return f"The slack {how} read on a hot drum: {cool}{unless}"
    if slack == "close":
        return f"The slack is at the edge of too much: measure it again first. {_no_cure(case)}"
    if surely_unexplained(case) == "longer":
        return f"It is not the slack, which is not too much: {GIVES} {_no_cure(case)}"
    if unexplained(case) == "longer":
        return f"{_unsaid(case)} {_no_cure(case)}"
    if case.warm:
        return "The drum is hot, and one that grows takes stroke: let it cool and measure again, do not adjust hot."
    return f"The slack is not too much: check that chamber, arm and cam are those of this brake. {_no_cure(case)}"


GIVES = "something gives or is worn (loose chamber bracket, bushings, clevis pin, cracked drum or lining)."


def _unsaid(case: Case) -> str:
    """What may explain a stroke that slack and pressure do not, and is not written in the file."""
    doubt = base_windup_doubt(case)
    why = f": {doubt[1]}" if doubt else "."
    return f"The slack is not too much, and whether it explains the stroke cannot be told{why}"


def _adjuster(case: Case) -> str:
    if case.automatic:
        return (
            f"{case.an_automatic_one} should have taken this up: do not turn it in by hand to hide it, find the cause "
            "(adjuster, its mounting, clevis pin, bushings, lining, drum)."
        )
    return "Adjust, then find out why it was left to go so far, and measure again."


def _no_cure(case: Case) -> str:
    if not case.automatic:
        return "Adjusting tighter would only hide it."
    return f"{case.an_automatic_one} turned in by hand would only hide it."
