"""A diagnosis for a mechanic: causes in order, what would show, what cannot be told apart, what to measure next."""

from collections.abc import Sequence
from math import isfinite

from geometry.arrays import Array
from geometry.diagnosis import NOTHING, READINGS, Reading, Worth
from geometry.quantity import System
from mechviz.diagnosis.notices import AS_WRITTEN, as_written, cold_words, impossible_words, ring_words, row_words
from mechviz.diagnosis.study import NO_PART_TITLE, SOUND_TITLE, Cause, Group, Study
from mechviz.report.cautions import AUTOMATIC, CHOCKS, DUST, ESTIMATE, HEADING, SPRING
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import gap_text, number, quantity, taped, unit_word

MOST, COVERED, LEAST = 5, 0.97, 0.01
"""How many causes are written out at most, how much they are to cover, and the least probable one among them."""
WORTH_TAKING = 0.05
"""Bits: a reading that tells less than this is hardly worth the walk."""
IN_TITLE = 0.2
"""Of causes that are alike those stand in the heading that are this probable beside the first."""
APART = 0.2
"""A reading is foretold where its distributions under two causes shown differ by this share at least."""
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
FAILED = "Whatever the cause, mechviz check fails:"
AGAIN = "Measure again what is named above: until the readings agree, no further one would settle it."
NEAREST = "nearest of the single causes, and no answer by itself"
FARTHER = "farther off"


def diagnosis_text(study: Study, system: System, width: int) -> str:
    """Write a diagnosis in at most ``width`` columns."""
    width = fitting(width)
    lines = [*hang(study.setup.title, width), *hang(_read(study, system), width), *_guessed(study, width), ""]
    lines += [*_doubts(study, system, width), *_over(study, system, width), *_failed(study, system, width)]
    shown = _shown(study)
    for n, group in enumerate(shown, 1):
        lines += [*_group(study, n, group, shown, system, width), ""]
    lines += [*hang(_rest(study, shown), width), ""] if study.fits else []
    lines += [*_next(study, width), "", *hang(METHOD, width), ""]
    return "\n".join([*lines, *boxed(HEADING, _cautions(study), width)]) + "\n"


def _doubts(study: Study, system: System, width: int) -> list[str]:
    """What keeps every cause from being believed: readings that cannot be, and readings that none explains."""
    said = [impossible_words(one, study.setup, system) for one in study.impossible]
    said += [] if study.belief.fits else [DOUBLE, *_left_over(study, system)]
    return [line for text in said for line in (*hang(text, width), "")]


def _left_over(study: Study, system: System) -> list[str]:
    """What the nearest cause leaves unexplained, and what that speaks for."""
    if not study.left_over or study.impossible:
        return []
    left = "; ".join(
        f"{_value(one.reading, study.readings.values[one.reading.name], system)}, where "
        f"{_ends(one.expected, one.reading, system)} is expected"
        for one in study.left_over
    )
    second = f" By itself that speaks for: {study.second.lower()}." if study.second else ""
    return [f"{study.causes[0].title} would leave unexplained: {left}.{second}"]


def _failed(study: Study, system: System, width: int) -> list[str]:
    """What a check fails; and, by themselves, a slack that is too little once the drum is cold, and another ring."""
    said = [row_words(row, system) for row in study.failed]
    if any(row.check == "arm-angle-applied" for row in study.failed) and as_written(study.setup):
        said.append(AS_WRITTEN)
    listed = [line for text in said for line in hang(text, width, "- ")]
    alone = [cold_words(study.setup, study.cold_slack, system)] if study.cold_slack is not None else []
    alone += [words] if (words := ring_words(study.setup)) else []
    apart = [line for text in alone for line in (*hang(text, width), "")]
    return [*([*hang(FAILED, width), *listed, ""] if said else []), *apart]


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


def _group(study: Study, place: int, group: Group, shown: Sequence[Group], system: System, width: int) -> list[str]:
    alike = _are_alike(group)
    lines = hang(f"{place}. {_title(study, group)}: {_weight(study, place, group)}", width, "", INDENT)
    if alike:
        lines += hang(_alike(study, group), width, INDENT)
    for cause in group.causes:
        lines += _cause(study, cause, alike, width) if not alike or cause.probability >= LEAST else []
    expected = _expected(study, group.causes[0], shown, system)
    return lines + (hang(f"Would then read: {expected}.", width, INDENT) if expected else [])


def _are_alike(group: Group) -> bool:
    return len(group.causes) > 1


def _weight(study: Study, place: int, group: Group) -> str:
    """How probable a group is, and was; of readings that no cause explains only which is the nearest."""
    if not study.fits:
        return NEAREST if place == 1 else FARTHER
    before = "" if study.nothing_read else f"; {percent(group.prior)} before anything was read"
    return f"{chance(group.probability)}{before}"


def _title(study: Study, group: Group) -> str:
    if group.causes[0].name == NOTHING:
        sound = NO_PART_TITLE if study.out_of_limits else SOUND_TITLE
        return f"{sound} that these readings could show" if _are_alike(group) else sound
    return "; or ".join(one.title if n == 0 else one.title.lower() for n, one in enumerate(_in_title(group)))


def _alike(study: Study, group: Group) -> str:
    """The causes of a group; how probable each is only where the readings can be believed."""
    shown = [one for one in group.causes if one.probability >= LEAST]
    likely = [f"{one.title.lower()} {percent(one.probability)}" if study.fits else one.title.lower() for one in shown]
    rest = [one.title.lower() for one in group.causes if one.probability < LEAST]
    faint = [f"and under 1 % each {', '.join(rest)}"] if rest else []
    return f"These cannot be told apart by tape, gauge or feeler, only by looking: {'; '.join([*likely, *faint])}."


def _in_title(group: Group) -> list[Cause]:
    return [one for one in group.causes if one.probability >= IN_TITLE * group.causes[0].probability]


def _cause(study: Study, cause: Cause, named: bool, width: int) -> list[str]:
    if cause.name == NOTHING:
        return [] if named or study.out_of_limits else hang(cause.inside, width, INDENT)
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
    shown = round(probability, 2)
    return f"{next(word for least, word in WORDS if shown >= least)} ({percent(probability)})"


def percent(probability: float) -> str:
    """Return a probability as a whole percentage, never as certain.

    >>> percent(0.9999), percent(0.002)
    ('over 99 %', 'under 1 %')
    """
    if probability > 0.99:
        return "over 99 %"
    return "under 1 %" if probability < 0.01 else f"{100 * probability:.0f} %"


def _expected(study: Study, cause: Cause, shown: Sequence[Group], system: System) -> str:
    """The middle nine tenths of the readings not yet taken, those that tell most of the causes shown."""
    sound = next(one.place for one in study.causes if one.name == NOTHING)
    places = [sound, *(group.causes[0].place for group in shown)]
    tell = [one for one in study.next if one.reading.kind != "number" and _tells(one, places)][:EXPECTED]
    return ", ".join(f"{one.reading.title} {_ends(one.ranges[cause.place], one.reading, system)}" for one in tell)


def _tells(worth: Worth, places: Sequence[int]) -> bool:
    """Whether some of the causes would give another reading than the first."""
    share = worth.share[list(places)]
    apart = 0.5 * abs(share - share[0]).sum(axis=1)
    return float(apart.max()) >= APART


def _ends(stretch: Array, reading: Reading, system: System) -> str:
    low, high = (float(end) for end in stretch)
    kind, narrow = reading.kind, reading.name in ("lining_clearance", "drum_diameter")
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


def _named(study: Study, reading: Reading) -> str:
    """A reading's name, with its option where the file has no room for it."""
    option = study.option(reading.name)
    return f"{reading.title} ({option})" if option else reading.title


def _beside(study: Study, reading: Reading) -> str:
    """How a reading is given that the file has no room for."""
    option = study.option(reading.name)
    return f" Give it beside the file, with {option}." if option else ""


def _next(study: Study, width: int) -> list[str]:
    if not study.next:
        return hang("Everything that can be read was read. What is left to tell shows only to the eye.", width)
    best, doubt = study.next[0], study.belief.doubt
    if not study.fits:
        return hang(AGAIN, width)
    if best.bits < WORTH_TAKING:
        words = "No reading that is left would tell much more. Look for what is named above, or measure again."
        return hang(words, width)
    first = "Measure first" if study.nothing_read else "Measure next"
    lines = hang(f"{first}: {best.reading.title}. {best.reading.how}{_beside(study, best.reading)}", width)
    lines += hang(f"It tells most of what is left: on average {percent(best.bits / doubt)} of the doubt goes.", width)
    rivals = [f"{_named(study, one.reading)} {percent(one.bits / doubt)}" for one in study.next[1 : 1 + RIVALS]]
    return lines + (hang(f"Then: {', '.join(rivals)}.", width) if rivals else [])
