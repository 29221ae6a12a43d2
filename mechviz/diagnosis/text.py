"""A diagnosis for a mechanic: causes in order, what would show, what cannot be told apart, what to measure next."""

from collections.abc import Sequence
from math import isfinite

from geometry.diagnosis import NOTHING, READINGS, Reading, Worth
from geometry.quantity import System
from mechviz.diagnosis.study import Cause, Group, Study
from mechviz.report.cautions import AUTOMATIC, CHOCKS, DUST, ESTIMATE, HEADING, SPRING
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import gap_text, number, quantity, taped, unit_word

MOST, COVERED, LEAST = 5, 0.97, 0.01
"""How many causes are written out at most, how much they are to cover, and the least probable one among them."""
WORTH_TAKING = 0.05
"""Bits: a reading that tells less than this is hardly worth the walk."""
IN_TITLE = 0.2
"""Of causes that are alike those stand in the heading that are this probable beside the first."""
RIVALS, EXPECTED = 3, 3
"""How many other readings are named, and how many predictions a cause is given."""
INDENT = "   "

WORDS = (
    (0.95, "almost certainly"),
    (0.8, "very probably"),
    (0.5, "probably"),
    (0.25, "quite possibly"),
    (0.1, "possibly"),
    (0.03, "not likely"),
    (0.0, "very unlikely"),
)

METHOD = (
    "One cause at a time; two at once are not weighed. Probabilities start from how often each cause is met (the "
    "project's own figures) and follow from how well it explains the readings, whatever the rest of the brake may be."
)
DOUBLE = (
    "No single cause explains these readings well: one of them may be misread, or two things may be wrong. Measure "
    "again before anything is changed."
)


def diagnosis_text(study: Study, system: System, width: int) -> str:
    """Write a diagnosis in at most ``width`` columns."""
    width = fitting(width)
    lines = [*hang(study.setup.title, width), *hang(_read(study, system), width), *_guessed(study, width), ""]
    lines += [] if study.fits else [*hang(DOUBLE, width), ""]
    lines += _over(study, system, width)
    shown = _shown(study)
    for n, group in enumerate(shown, 1):
        lines += [*_group(study, n, group, system, width), ""]
    lines += [*hang(_rest(study, shown), width), "", *_next(study, width), "", *hang(METHOD, width), ""]
    return "\n".join([*lines, *boxed(HEADING, _cautions(study), width)]) + "\n"


def _over(study: Study, system: System, width: int) -> list[str]:
    """A stroke over its limit is a defect, however likely it is that nothing else is wrong."""
    if study.limit_passed is None:
        return []
    limit = taped(study.limit_passed, system)
    words = f"The stroke is over its limit of {limit}, whatever the cause; mechviz check judges it."
    return [*hang(words, width), ""]


def _cautions(study: Study) -> list[str]:
    automatic = study.setup.brake.adjuster.kind == "automatic"
    return [*([AUTOMATIC] if automatic else []), CHOCKS, SPRING, DUST, ESTIMATE]


def _read(study: Study, system: System) -> str:
    if study.nothing_read:
        return "Nothing was measured, so this is only how often each cause is met. Measure first; see below what."
    values = study.readings.values
    read = ", ".join(_value(one, values[one.name], system) for one in READINGS if one.name in values)
    measured = study.setup.measured
    tape, angle = taped(measured.resolution, system), quantity(measured.angle_resolution, "angle", system, 0)
    return f"Measured: {read}. Tape read to {tape}, angles to {angle}."


def _value(one: Reading, value: float, system: System) -> str:
    if one.kind == "number":
        return f"{one.title} {'seen' if value else 'none'}"
    if one.name == "lining_clearance":
        return f"{one.title} {gap_text(value, system)}"
    return f"{one.title} {taped(value, system) if one.kind == 'length' else quantity(value, one.kind, system)}"


PLAIN = {
    "chamber.style": "the chamber",
    "chamber.size": "the chamber",
    "test.reservoir_pressure": "the pressure",
    "linkage.arm_length": "what arm and pushrod should be",
    "linkage.pin_reach": "what arm and pushrod should be",
    "linkage.face_distance": "where the chamber stands",
    "linkage.axis_offset": "where the chamber stands",
    "condition.drum_temperature": "a cold drum",
}


def _guessed(study: Study, width: int) -> list[str]:
    """What the file does not state: each of these blurs the answer."""
    words = list(dict.fromkeys(PLAIN[key] for key in study.guessed))
    return hang(f"Not in the file, only guessed, which blurs the answer: {', '.join(words)}.", width) if words else []


def _shown(study: Study) -> list[Group]:
    """The groups written out: down to what is covered, and no fewer than two."""
    found, covered = list[Group](), 0.0
    for group in study.groups[:MOST]:
        if found and (covered >= COVERED or group.probability < LEAST):
            break
        found.append(group)
        covered += group.probability
    return found


def _group(study: Study, place: int, group: Group, system: System, width: int) -> list[str]:
    alike = _are_alike(group)
    lines = hang(f"{place}. {_title(group)}: {chance(group.probability)}", width)
    if alike:
        lines += hang(_alike(group), width, INDENT)
    for cause in group.causes:
        lines += _cause(cause, alike, width) if not alike or cause.probability >= LEAST else []
    expected = _expected(study, group.causes[0], system)
    return lines + (hang(f"Would then read: {expected}.", width, INDENT) if expected else [])


def _are_alike(group: Group) -> bool:
    return len(group.causes) > 1


def _title(group: Group) -> str:
    if group.causes[0].name == NOTHING:
        return "Nothing wrong that these readings could show" if _are_alike(group) else group.causes[0].title
    return "; or ".join(one.title if n == 0 else one.title.lower() for n, one in enumerate(_in_title(group)))


def _alike(group: Group) -> str:
    likely = [f"{one.title.lower()} {percent(one.probability)}" for one in group.causes if one.probability >= LEAST]
    rest = [one.title.lower() for one in group.causes if one.probability < LEAST]
    faint = [f"and under 1 % each {', '.join(rest)}"] if rest else []
    return f"These cannot be told apart by tape, gauge or feeler, only by looking: {'; '.join([*likely, *faint])}."


def _in_title(group: Group) -> list[Cause]:
    return [one for one in group.causes if one.probability >= IN_TITLE * group.causes[0].probability]


def _cause(cause: Cause, named: bool, width: int) -> list[str]:
    if cause.name == NOTHING:
        return [] if named else hang(cause.inside, width, INDENT)
    if named:
        return hang(f"{cause.title}: look for: {_small(cause.outside)}", width, INDENT)
    return [*hang(cause.inside, width, INDENT), *hang(f"Look for: {_small(cause.outside)}", width, INDENT)]


def _small(sentence: str) -> str:
    return sentence[0].lower() + sentence[1:]


def chance(probability: float) -> str:
    """Return a probability in words and percent.

    >>> chance(0.62)
    'probably (62 %)'
    """
    return f"{next(word for least, word in WORDS if probability >= least)} ({percent(probability)})"


def percent(probability: float) -> str:
    """Return a probability as a whole percentage, never as certain.

    >>> percent(0.9999), percent(0.002)
    ('over 99 %', 'under 1 %')
    """
    if probability > 0.99:
        return "over 99 %"
    return "under 1 %" if probability < 0.01 else f"{100 * probability:.0f} %"


def _expected(study: Study, cause: Cause, system: System) -> str:
    """The middle nine tenths of the readings not yet taken, those that tell most."""
    tell = [one for one in study.next if one.reading.kind != "number"][:EXPECTED]
    return ", ".join(f"{one.reading.title} {_range(one, cause.place, system)}" for one in tell)


def _range(worth: Worth, place: int, system: System) -> str:
    low, high = (float(end) for end in worth.ranges[place])
    kind, narrow = worth.reading.kind, worth.reading.name in ("lining_clearance", "drum_diameter")
    digits = 0 if kind == "angle" else (3 if system == "inch" else 2) if narrow else None
    ends = [number(max(end, 0.0), kind, system, digits) for end in (low, high)]
    assert isfinite(low + high)
    return f"{ends[0]} to {ends[1]} {unit_word(kind, system)}"


def _rest(study: Study, shown: Sequence[Group]) -> str:
    left = 1 - sum(group.probability for group in shown)
    others = [one.title.lower() for group in study.groups[len(shown) :] for one in group.causes]
    if left < LEAST:
        return f"Everything else together: {percent(left)}."
    return f"Everything else together: {percent(left)} ({', '.join(others[:4])}, ...)."


def _next(study: Study, width: int) -> list[str]:
    if not study.next:
        return hang("Everything that can be read was read. What is left to tell shows only to the eye.", width)
    best, doubt = study.next[0], study.belief.doubt
    if best.bits < WORTH_TAKING:
        words = "No reading that is left would tell much more. Look for what is named above, or measure again."
        return hang(words, width)
    first = "Measure first" if study.nothing_read else "Measure next"
    lines = hang(f"{first}: {best.reading.title}. {best.reading.how}", width)
    lines += hang(f"It tells most of what is left: on average {percent(best.bits / doubt)} of the doubt goes.", width)
    rivals = [f"{one.reading.title} {percent(one.bits / doubt)}" for one in study.next[1 : 1 + RIVALS]]
    return lines + (hang(f"Then: {', '.join(rivals)}.", width) if rivals else [])
