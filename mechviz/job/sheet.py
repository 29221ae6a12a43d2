"""The job sheet of a job: the drawing, the readings, the results with their sources, the cautions, a line to sign."""

from collections.abc import Sequence

from mechviz.checks.angle_read import CHECK as FROM_RELEASED
from mechviz.checks.row import CheckRow
from mechviz.export.jobsheet import JobSheet, ResultGroup, ResultLine, WheelBox, print_job_sheet
from mechviz.export.pages import PageName
from mechviz.job import fields as f
from mechviz.job.axle import axle_findings
from mechviz.job.brought_in import cause_said, only_brought_in
from mechviz.job.causes import Causes, causes
from mechviz.job.drawn import wheel_drawing
from mechviz.job.fields import PHASES, SIDES, Phase, Side
from mechviz.job.headline import ADJUSTMENT, WORN, Headline, headline
from mechviz.job.look import Look, in_labels, look
from mechviz.job.model import Job
from mechviz.job.pictures import with_font
from mechviz.job.typed import with_unit
from mechviz.look.colours import PRINT
from mechviz.report.cautions import cautions
from mechviz.report.reading import reading_words
from mechviz.report.verdicts import in_order

MOST_ROWS = 7
"""Results of one wheel that the sheet has room for; what failed stands first."""
MOST_CAUSES = 3
LONGEST = {
    "next": 300,
    "words": 150,
    "source": 90,
    "note": 480,
    "reading": 18,
    "subtitle": 260,
    "name": 44,
    "title": 90,
    "bad": 8,
}
"""Characters that each kind of text has room for; what is longer is cut, and the file keeps all of it."""
FOOT = (
    "Worked out by mechviz from the readings as typed; sizes that nobody read are those of the built-in brake {base}. "
    "Local codes, the maker's instructions and licensed practice decide."
)
CAPTION = "To scale, at the stroke read; dashed: released. A question mark: worked out, not read."
KEY_CHECKS = (
    *ADJUSTMENT,
    *WORN,
    "chamber-size",
    "arm-angle-applied",
    FROM_RELEASED,
    "stroke-reserve-cold",
    "stroke-reserve-hot",
)
"""What is told of a wheel where nothing is wrong with it."""


def job_sheet(job: Job, page: PageName = "a4", *, why: bool = True) -> bytes:
    """Return the job sheet as a PDF; ``why`` asks for the likely causes too, which take a second or two.

    Raises `ExportError`.
    """
    return print_job_sheet(sheet_of(job, why=why), page)


def sheet_of(job: Job, *, why: bool = True) -> JobSheet:
    """Return what stands on a job's sheet."""
    last: dict[Side, Look] = {side: _last(job, side) for side in SIDES}
    return JobSheet(
        title=f"{_short(job.title, 'title')}: brake job sheet",
        subtitle=_short(_subtitle(job), "subtitle"),
        wheels=[_wheel(job, last[side]) for side in SIDES],
        columns=_columns(job),
        readings=_readings(job),
        results=[one for one in (*(_results(last[side], why) for side in SIDES), _axle(job)) if one.rows],
        cautions=_cautions(last),
        mechanic=_short(job.mechanic, "name"),
        note=_short(job.note, "note"),
        foot=FOOT.format(base=job.base),
        pictures=[(with_font(svg), CAPTION) for svg in (wheel_drawing(last[side], PRINT) for side in SIDES) if svg],
    )


def _last(job: Job, side: Side) -> Look:
    """A wheel as it was read last: after the adjustment where that was read."""
    return look(job, side, "after" if job.begun(side, "after") else "before")


def _short(text: str, kind: str) -> str:
    most = LONGEST[kind]
    return text if len(text) <= most else text[: most - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"


def _subtitle(job: Job) -> str:
    """When each wheel was read."""
    times = [
        f"{side} {phase}: {job.taken[side, phase]}" for side in SIDES for phase in PHASES if (side, phase) in job.taken
    ]
    return "; ".join(["Read " + ", ".join(times) if times else "Nothing read yet"])


def _wheel(job: Job, one: Look) -> WheelBox:
    found = headline(one)
    name = f"{one.side.capitalize()} wheel" + (", after adjustment" if one.phase == "after" else "")
    before = ""
    if one.phase == "after":
        was = headline(look(job, one.side, "before"))
        before = f"Before: {was.word.lower()}" + (f", {was.margin}" if was.margin else "") + "."
        cause = cause_said(one)
        before += f" {f.field(f.CAUSE).label}: {cause}." if cause else ""
    return WheelBox(name, found.result, found.word, _figures(found), before, _short(found.next_step, "next"))


def _figures(found: Headline) -> list[tuple[str, str]]:
    pairs = [("Stroke", found.margin), ("Arm", found.angle), ("Reserve", found.reserve)]
    return [(name, value) for name, value in pairs if value]


def _shown(job: Job) -> list[tuple[Side, Phase]]:
    """The columns of the readings: each wheel before, and after where it was read again."""
    return [(side, phase) for side in SIDES for phase in PHASES if phase == "before" or job.begun(side, phase)]


def _columns(job: Job) -> list[str]:
    return [f"{side} {phase}" if job.adjusted else side for side, phase in _shown(job)]


def _readings(job: Job) -> list[list[str]]:
    """Every field in which anything was typed: its name and the texts, as typed with the unit they were meant in."""
    rows = list[list[str]]()
    for one in f.fields():
        texts = [_reading(job, side, phase, one) for side, phase in _shown(job)]
        if any(texts):
            rows.append([one.label, *texts])
    return rows


def _reading(job: Job, side: Side, phase: Phase, one: f.Field) -> str:
    """A text with its unit; one that cannot be used says so."""
    text = job.text("axle" if one.place == "axle" else side, phase, one.key).strip()
    if not text:
        return ""
    said = one.said(text) if one.choices else with_unit(one, text, job.system)
    wrong = one.key in look(job, side, phase).errors
    return f"{_short(said, 'bad')} (not used)" if wrong else _short(said, "reading")


def _results(one: Look, why: bool) -> ResultGroup:
    rows = _told(one.rows) if one.begun else []
    shown = rows[:MOST_ROWS]
    lines = [_line(row, one) for row in shown]
    blamed = look(one.job, one.side, "before") if only_brought_in(one) else one
    found = causes(blamed) if why and rows else None
    lines += _cause_lines(found)
    left = len([row for row in one.rows if row.result == "pass"]) - len([row for row in shown if row.result == "pass"])
    open_ = len([row for row in one.rows if row.result == "not-evaluated"])
    more = f"{left} more passed, {open_} could not be judged." if lines else ""
    return ResultGroup(f"{one.side.capitalize()} wheel", lines, more)


def _told(rows: Sequence[CheckRow]) -> list[CheckRow]:
    """What failed or is close, then the checks that matter most; nothing twice."""
    wrong = [row for row in in_order(rows) if row.result in ("fail", "close")]
    return wrong + [row for row in rows if row.result == "pass" and row.check in KEY_CHECKS]


def _line(row: CheckRow, one: Look) -> ResultLine:
    words = reading_words(row, one.job.system) or in_labels(row.advice)
    source = f"[{_short(row.source.split(';')[0], 'source')}]"
    return ResultLine(row.result, _named(row.check), _short(words, "words"), source)


def _named(check: str) -> str:
    words = check.replace("-", " ")
    return f"{words[0].upper()}{words[1:]}"


def _cause_lines(found: Causes | None) -> list[ResultLine]:
    """The likely causes in order, in one line."""
    if found is None:
        return []
    titles = "; ".join(f"{one.title} ({one.weight})" for one in found.likely[:MOST_CAUSES])
    return [ResultLine("not-applicable", "May be", _short(titles, "next"), "[mechviz: Bayes' rule over its model]")]


def _axle(job: Job) -> ResultGroup:
    found = axle_findings(job, "after" if job.adjusted else "before")
    rows = [ResultLine(one.result, one.title, _short(one.words, "words"), f"[{one.source}]") for one in found]
    return ResultGroup("Both wheels", rows)


def _cautions(last: dict[Side, Look]) -> list[str]:
    """Those of both wheels, each once, in order."""
    every = list[str]()
    for one in last.values():
        automatic = one.setup is None or one.setup.brake.adjuster.kind == "automatic"
        every += cautions(one.rows, automatic)
    return list(dict.fromkeys(every))[:-1] if every else []
