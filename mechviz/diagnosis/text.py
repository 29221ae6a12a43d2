"""A diagnosis for a mechanic: causes in order, what would show, what cannot be told apart, what to measure next."""

from collections.abc import Sequence

from geometry.diagnosis import NOTHING, READINGS, Reading
from geometry.diagnosis.meant import slack_temperature
from geometry.diagnosis.readings import OTHER_SLACK
from geometry.quantity import System
from mechviz.diagnosis.above import standing_above
from mechviz.diagnosis.foretold import expected_words, value_words
from mechviz.diagnosis.notices import read_hot
from mechviz.diagnosis.study import NO_PART_TITLE, SOUND_TITLE, Cause, Group, Study
from mechviz.report.cautions import AUTOMATIC, CHOCKS, DUST, ESTIMATE, HEADING, SPRING
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import both, quantity, taped

MOST, COVERED, LEAST = 5, 0.97, 0.01
"""How many causes are written out at most, how much they are to cover, and the least probable one among them."""
WORTH_TAKING = 0.05
"""Bits: a reading that tells less than this is hardly worth the walk."""
IN_TITLE = 0.2
"""Of causes that are alike those stand in the heading that are this probable beside the first."""
RIVALS = 3
"""How many other readings are named."""
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
AGAIN = "Measure again what is named above: until the readings agree, no further one would settle it."
SEE_FIRST = "See to what is named above first: while the brake does not work, stroke and slack tell nothing of a cause."
NEAREST = "nearest of the single causes, and no answer by itself"
FARTHER = "farther off"


def diagnosis_text(study: Study, system: System, width: int) -> str:
    """Write a diagnosis in at most ``width`` columns."""
    width = fitting(width)
    lines = [*hang(study.setup.title, width), *hang(_read(study, system), width), *_guessed(study, width), ""]
    lines += standing_above(study, system, width)
    shown = shown_groups(study)
    for n, group in enumerate(shown, 1):
        lines += [*_group(study, n, group, shown, system, width), ""]
    lines += [*hang(_rest(study, shown), width), ""] if study.fits else []
    lines += [*next_lines(study, system, width), "", *hang(METHOD, width), ""]
    return "\n".join([*lines, *boxed(HEADING, _cautions(study), width)]) + "\n"


def _cautions(study: Study) -> list[str]:
    automatic = study.setup.brake.adjuster.kind == "automatic"
    return [*([AUTOMATIC] if automatic else []), CHOCKS, SPRING, DUST, ESTIMATE]


def _read(study: Study, system: System) -> str:
    if study.nothing_read:
        return "Nothing was measured, so this is only how often each cause is met. Measure first; see below what."
    values = study.readings.values
    read = ", ".join(value_words(one, values[one.name], system) for one in READINGS if one.name in values)
    measured = study.setup.measured
    tape, angle = taped(measured.resolution, system), quantity(measured.angle_resolution, "angle", system, 0)
    return f"Measured: {read}. Tape read to {tape}, angles to {angle}."


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


def shown_groups(study: Study) -> list[Group]:
    """Return the groups that are written out: down to what is covered, and no fewer than two."""
    found, covered = list[Group](), 0.0
    for group in study.groups[:MOST]:
        if found and (covered >= COVERED or group.probability < LEAST):
            break
        found.append(group)
        covered += group.probability
    return found


def _group(study: Study, place: int, group: Group, shown: Sequence[Group], system: System, width: int) -> list[str]:
    alike = _are_alike(group)
    lines = hang(f"{place}. {group_title(study, group)}: {group_weight(study, place, group)}", width, "", INDENT)
    if alike:
        lines += hang(_alike(study, group), width, INDENT)
    for cause in group.causes:
        lines += _cause(study, cause, alike, width) if not alike or cause.probability >= LEAST else []
    expected = expected_words(study, group.causes[0], shown, system)
    return lines + (hang(f"Would then read: {expected}.", width, INDENT) if expected else [])


def _are_alike(group: Group) -> bool:
    return len(group.causes) > 1


def group_weight(study: Study, place: int, group: Group) -> str:
    """Say how probable a group is, and was; of readings that no cause explains only which is the nearest."""
    if not study.fits:
        return NEAREST if place == 1 else FARTHER
    before = "" if study.nothing_read else f"; {percent(group.prior)} before anything was read"
    return f"{chance(group.probability)}{before}"


def group_title(study: Study, group: Group) -> str:
    """Return what a group is called: its most probable causes."""
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


def _as_hot(study: Study, reading: Reading, system: System) -> str:
    """For which heat of the drum a slack is foretold, where that is not a cold one."""
    if reading.name not in OTHER_SLACK or not read_hot(study.setup):
        return ""
    heat = both(slack_temperature(study.setup), "temperature", system)
    return f" What is foretold holds with the drum at {heat}: read cooler, write condition.slack_temperature."


def next_lines(study: Study, system: System, width: int) -> list[str]:
    """Return what to measure next, and how much of the doubt that would take."""
    if not study.next:
        return hang("Everything that can be read was read. What is left to tell shows only to the eye.", width)
    best, doubt = study.next[0], study.belief.doubt
    if not study.fits:
        return hang(SEE_FIRST if study.worn_out else AGAIN, width)
    if best.bits < WORTH_TAKING:
        words = "No reading that is left would tell much more. Look for what is named above, or measure again."
        return hang(words, width)
    first = "Measure first" if study.nothing_read else "Measure next"
    more = f"{_beside(study, best.reading)}{_as_hot(study, best.reading, system)}"
    lines = hang(f"{first}: {best.reading.title}. {best.reading.how}{more}", width)
    lines += hang(f"It tells most of what is left: on average {percent(best.bits / doubt)} of the doubt goes.", width)
    rivals = [f"{_named(study, one.reading)} {percent(one.bits / doubt)}" for one in study.next[1 : 1 + RIVALS]]
    return lines + (hang(f"Then: {', '.join(rivals)}.", width) if rivals else [])
