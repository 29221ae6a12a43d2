"""A wheel's verdict in a line: the word, the margin, the angle, the reserve, and what to do next.

The words are of the checks' rows, never of figures of their own: the stroke decides, then what else failed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import degrees

from mechviz.checks.angle_read import CHECK as FROM_RELEASED
from mechviz.checks.angle_read import TOGETHER
from mechviz.checks.row import CheckRow, Result
from mechviz.drawing.words import to_square
from mechviz.job import fields as f
from mechviz.job.brought_in import WORD as BROUGHT_IN
from mechviz.job.brought_in import next_words, only_brought_in
from mechviz.job.look import Look, in_labels
from mechviz.report.reading import written
from mechviz.report.verdicts import is_agreement

STROKE = "stroke-limit"
ADJUSTMENT = f.ADJUSTMENT_CHECKS
WORN = ("lining-thickness", "drum-diameter")
PRESSURE = ("test-pressure",)
ANGLE = ("arm-angle-released", "arm-angle-contact", "arm-angle-applied", FROM_RELEASED, "right-angle-stroke")
ANGLES_DIFFER = (TOGETHER, FROM_RELEASED, "arm-angle-released-as-solved", "arm-angle-applied-as-solved")
CHAMBER = ("chamber-size",)
RESERVE = ("stroke-reserve-cold", "stroke-reserve-hot")

HOT = "stroke-reserve-hot"
"""Close on many a brake that is well adjusted: told as the reserve, and no reason to measure again."""

FAILED: tuple[tuple[tuple[str, ...], str], ...] = (
    (ADJUSTMENT, "Out of adjustment"),
    (WORN, "Worn beyond its limit"),
    (CHAMBER, "Make sure of the chamber"),
    (ANGLE, "Arm angle out of limits"),
    (RESERVE, "No stroke in reserve"),
)
"""The word for what failed, the first that holds."""
MISFIT = "Angle does not fit this brake"
"""An angle that was read is not where the lengths, or the other readings, put it."""
IN, AGAIN, OTHER = "In adjustment", "Measure again", "Out of limits"
CLOSE: tuple[tuple[tuple[str, ...], str], ...] = (
    ((STROKE,), "At the limit: measure again"),
    (("free-stroke",), "Slack at the edge: measure again"),
    (WORN, "Worn to the edge: measure again"),
    ((FROM_RELEASED,), "Arm angle at the edge: measure it"),
)
"""The word for what is too near to tell, the first that holds."""
WRONG_FIELD, OPEN, NOTHING = "A reading cannot be used", "Not judged yet", "Nothing read yet"
IN_BUT = "In adjustment, with little to spare"
"""The stroke passes, and something else is close."""

BOTTOMED = "Bottomed: no braking force left"
BOTTOMED_WORDS = "Do not drive: the rod is at the end of this chamber's stroke, and nothing presses the linings."
LITTLE = 25.4 / 4
"""mm: a stroke nearer to its limit than this is to be put right (adjust above 1 3/4 in of 2 in: trade practice)."""
LITTLE_WORDS = (
    "The stroke is legal and within 1/4 in of its limit: heat or a little wear takes it over. A manual adjuster is to "
    "be adjusted now; an automatic one should not let it go so far: find the cause."
)

FIRST: tuple[str, ...] = (
    "test.reservoir_pressure",
    "measured.clamp_diameter",
    "measured.long_stroke_marks",
    "measured.stroke",
)
"""What a verdict on the stroke needs, in the order of the hands."""


@dataclass(frozen=True)
class Headline:
    """A wheel's verdict.

    ``result`` is one of the results of a check, so that it is drawn as these are. ``margin``, ``angle`` and
    ``reserve`` are empty where nothing is known of them. ``reasons`` are the rows behind the word, what failed first.
    ``next_key`` is the field to read next, empty where the next step is another.
    """

    word: str
    result: Result
    margin: str = ""
    angle: str = ""
    reserve: str = ""
    reasons: tuple[CheckRow, ...] = ()
    next_step: str = ""
    next_key: str = ""


def headline(look: Look) -> Headline:
    """Return the verdict on a wheel, as far as its readings go."""
    if look.setup is None:
        words = " ".join(look.understood.general)
        return Headline(WRONG_FIELD, "not-evaluated", next_step=words)
    if not look.begun:
        step, key = _reading(look, "")
        return Headline(NOTHING, "not-evaluated", next_step=step, next_key=key)
    word, result, reasons = _word(look)
    step, key = _next(look, reasons)
    if result == "pass" and little_left(look):
        word, result, step, key = IN_BUT, "close", LITTLE_WORDS, ""
    if result in ("pass", "close") and only_brought_in(look):
        word, result, reasons, step, key = BROUGHT_IN, "fail", (), next_words(look), f.CAUSE
    if bottomed(look):
        word, result, step, key = BOTTOMED, "fail", BOTTOMED_WORDS + (f" {step}" if reasons else ""), ""
    return Headline(word, result, _margin(look), _angle(look), _reserve(look), reasons, step, key)


def bottomed(look: Look) -> bool:
    """Tell whether the stroke that was read is the whole of the chamber's, as far as the tape tells."""
    case, setup = look.case, look.setup
    if case is None or setup is None or setup.measured.stroke is None or not case.knows_chamber:
        return False
    return setup.measured.stroke >= setup.brake.chamber.rated_stroke - setup.measured.resolution - SAME


def little_left(look: Look) -> bool:
    """Tell whether a stroke that passes is within a quarter inch of its limit."""
    rows = (row for row in of_check(look.rows, STROKE) if row.result == "pass" and row.basis == "measured")
    margins = (row.margin for row in rows if row.margin is not None)
    return any(margin < LITTLE - SAME for margin in margins)


def of_check(rows: Sequence[CheckRow], *names: str) -> list[CheckRow]:
    """Return the rows of some checks."""
    return [row for row in rows if row.check in names]


def _word(look: Look) -> tuple[str, Result, tuple[CheckRow, ...]]:
    failed = [row for row in look.rows if row.result == "fail"]
    real = [row for row in failed if not is_agreement(row) or row.check in CHAMBER]
    for names, word in FAILED:
        if found := of_check(real, *names):
            return word, "fail", (*found, *(row for row in failed if row not in found))
    if [row for row in real if row.check not in PRESSURE]:
        return OTHER, "fail", tuple(failed)
    if misfit := of_check(failed, *ANGLES_DIFFER):
        return MISFIT, "close", (*misfit, *(row for row in failed if row not in misfit))
    if failed:
        return AGAIN, "close", tuple(failed)
    close = [row for row in look.rows if row.result == "close" and row.check != HOT]
    stroke = of_check(look.rows, STROKE)
    if not any(row.result in ("pass", "close") for row in stroke):
        return WRONG_FIELD if look.errors else OPEN, "not-evaluated", ()
    for names, word in CLOSE:
        if found := of_check(close, *names):
            return word, "close", (*found, *(row for row in close if row not in found))
    return (IN_BUT, "close", tuple(close)) if close else (IN, "pass", tuple(stroke))


def _margin(look: Look) -> str:
    """The stroke against its limit: ``2 1/8 in, over 2 in by 1/8 in``."""
    for row in of_check(look.rows, STROKE):
        if row.value is not None and row.limit is not None and row.result != "not-evaluated":
            return stroke_words(look, row, row.value, row.limit)
    stroke = None if look.setup is None else look.setup.measured.stroke
    if stroke is None:
        return ""
    row = next(iter(of_check(look.rows, STROKE)), None)
    return "" if row is None else f"{_plain(look, row, stroke)} read"


def stroke_words(look: Look, row: CheckRow, value: float, limit: float) -> str:
    """Return a stroke against its limit in the units of the job alone: what a hand reads off its own tape."""
    by = _plain(look, row, abs(limit - value), difference=True)
    if abs(limit - value) < SAME:
        return f"{_plain(look, row, value)}, at the limit"
    return f"{_plain(look, row, value)}, {'inside' if value <= limit else 'over'} {_plain(look, row, limit)} by {by}"


SAME = 1e-6
"""mm: figures nearer than this are the same."""


def _plain(look: Look, row: CheckRow, value: float, difference: bool = False) -> str:
    """A figure in the units of the job, without the other ones in brackets."""
    return written(value, row, look.job.system, difference).split(" (")[0]


def _angle(look: Look) -> str:
    """Where the arm stands applied: as read, else as worked out."""
    setup = look.setup
    assert setup is not None
    read = setup.measured.arm_angle_applied
    if read is not None:
        return f"{degrees(read):.0f}°, {to_square(read)}"
    row = next((r for r in of_check(look.rows, "arm-angle-applied", FROM_RELEASED) if _is_solved(r)), None)
    if row is None or row.value is None:
        return ""
    return f"{degrees(row.value):.0f}°, {to_square(row.value)} (worked out)"


def _is_solved(row: CheckRow) -> bool:
    return row.value is not None and row.basis == "solved" and row.result != "not-evaluated"


def _reserve(look: Look) -> str:
    """What is left of the stroke, cold and hot."""
    words = list[str]()
    for name, heat in (("stroke-reserve-cold", "cold"), ("stroke-reserve-hot", "hot")):
        row = next(iter(of_check(look.rows, name)), None)
        if row is None or row.value is None or row.limit is None or row.result == "not-evaluated":
            continue
        left, by = row.limit - row.value, _plain(look, row, abs(row.limit - row.value), difference=True)
        words.append(f"{heat} {by} {'left' if left >= 0 else 'short'}")
    return ", ".join(words)


def _next(look: Look, reasons: tuple[CheckRow, ...]) -> tuple[str, str]:
    """What to do next, and the field to go to where that is a reading."""
    if reasons and reasons[0].result in ("fail", "close"):
        return in_labels(reasons[0].advice), ""
    for key, words in look.errors.items():
        return f"{f.field(key).label}: {words}", key
    stroke = next((row for row in of_check(look.rows, STROKE) if row.result == "not-evaluated"), None)
    if stroke is not None:
        return _reading(look, stroke.missing, in_labels(stroke.advice))
    return _more(look)


def _more(look: Look) -> tuple[str, str]:
    """What else can be read, first what the checks name as missing."""
    typed = look.job.wheel(look.side, look.phase)
    wanted = {row.missing for row in look.rows if row.missing}
    for one in f.asked(look.side):
        if one.key in wanted and one.key not in typed and not one.extra:
            return f"Would tell more: {_small(one.label)}. {one.how}", one.key
    return "Everything that is asked for here was read.", ""


def _reading(look: Look, missing: str, advice: str = "") -> tuple[str, str]:
    """Which reading is wanted next: the first in the order of the hands that a verdict on the stroke needs.

    ``missing`` is the key that the stroke's check waits for, ``advice`` its words, told where no reading is lacking.
    """
    typed = look.job.wheel(look.side, look.phase)
    named = {"chamber.style", "chamber.size"} <= typed.keys()
    lacking = [key for key in FIRST if key not in typed and not (named and key in RING)]
    key = missing if missing in typed or not lacking else lacking[0]
    if not f.known(key):
        return advice, ""
    one = f.field(key)
    return (advice, key) if key in typed else (f"Read next: {_small(one.label)}. {one.how}", key)


RING = ("measured.clamp_diameter", "measured.long_stroke_marks")


def _small(label: str) -> str:
    return f"{label[0].lower()}{label[1:]}"


RESULT_WORDS: Mapping[Result, str] = {
    "pass": "Pass",
    "close": "Close",
    "fail": "Fail",
    "not-evaluated": "Not judged",
    "not-applicable": "Not applicable",
}
"""The results as they are written out beside their mark."""
