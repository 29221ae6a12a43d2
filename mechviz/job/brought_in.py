"""An automatic adjuster that was out and is in again: turned in by hand it hides the fault, until the cause is said."""

from mechviz.job import fields as f
from mechviz.job.fields import ADJUSTMENT_CHECKS
from mechviz.job.look import Look, look

WORD = "Stroke brought in, cause not found"
LEAST_SAID = 4
"""Letters that a cause is said in: ``no`` and ``?`` are none."""
LOOK_AT = (
    "whether its link or control arm and their bracket are whole and tight, whether it takes up over a few full "
    "applications, then clevis pin, camshaft bushings, anchors, rollers, return springs, chamber bracket, lining and "
    "drum"
)


def cause_said(look: Look) -> str:
    """Return the cause that was found and mended, as typed; empty where nothing was said that is one."""
    typed = look.job.text(look.side, "after", f.CAUSE).strip()
    return typed if sum(one.isalpha() for one in typed) >= LEAST_SAID else ""


def only_brought_in(now: Look) -> bool:
    """Tell whether a wheel with an automatic adjuster was out before, was read again, and nobody has said why.

    An adjuster of which nobody said what it is counts as what the built-in brake has.
    """
    if now.phase != "after" or not now.begun or now.case is None or not now.case.automatic or cause_said(now):
        return False
    before = look(now.job, now.side, "before")
    return any(row.check in ADJUSTMENT_CHECKS and row.result == "fail" for row in before.rows if before.begun)


def next_words(now: Look) -> str:
    """Return what to do then: to find the cause, where to look, and where to write it."""
    assert now.case is not None
    who = now.case.an_automatic_one
    label = f.field(f.CAUSE).label
    return (
        f"Find the cause, do not send it out: {who[0].lower()}{who[1:]} should have kept the stroke in by itself, and "
        f"turned in by hand it hides the fault. Look {LOOK_AT}. Then write it under \N{LEFT DOUBLE QUOTATION MARK}"
        f"{label}\N{RIGHT DOUBLE QUOTATION MARK}."
    )
