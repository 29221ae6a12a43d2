"""What stands above the causes: readings that cannot be or do not agree, and what is out of its limits anyway."""

from geometry.quantity import System
from mechviz.diagnosis.foretold import ends_words, value_words
from mechviz.diagnosis.notices import (
    AS_WRITTEN,
    as_written,
    cold_words,
    hot_words,
    impossible_words,
    ring_words,
    row_words,
)
from mechviz.diagnosis.study import LIKELY, Study
from mechviz.report.layout import hang
from mechviz.report.written import both, taped

DOUBLE = (
    "No single cause explains these readings well: one of them may be misread, or two things may be wrong. Measure "
    "again before anything is changed."
)
ANYHOW = (
    "A brake that does not work at all can be read anyhow: its cam turned past its profile, or set too tight to be "
    "applied. These readings do not show it, nor rule it out: look at cam, linings and drum."
)
WORN_OUT = (
    "By lining and drum this brake probably does not work at all: its cam turned past its profile. Stroke, slack and "
    "applied angle may then be anything, and speak neither for a cause nor against it. Look at cam, linings and drum "
    "before anything is measured again."
)
BOTTOMED = {
    "stroke": (
        "An applied stroke of {} is all that the chamber has: it bottoms, and hardly any force is left, hot or cold. "
        "Do not drive on it."
    ),
    "free_stroke": (
        "A free stroke of {} is all that the chamber has: it bottoms before the linings touch, and nothing presses. "
        "Do not drive on it."
    ),
}
LITTLE = (
    "The rod moved less than half as far as such a brake's does at this pressure: see first that air arrives at the "
    "chamber with full pressure, and that the spring brake is released."
)
FAILED = "Whatever the cause, mechviz check fails:"


def standing_above(study: Study, system: System, width: int) -> list[str]:
    """Return the lines that stand above the causes, each paragraph with an empty line after it; often none."""
    return [*_doubts(study, system, width), *_over(study, system, width), *_failed(study, system, width)]


def _doubts(study: Study, system: System, width: int) -> list[str]:
    """What keeps every cause from being believed: readings that cannot be, and readings that none explains."""
    said = [impossible_words(one, study.setup, system) for one in study.impossible]
    said += [one.words for one in study.contradictions_in(system)]
    if study.worn_out and not study.fits:
        said.append(WORN_OUT)
    elif not study.fits:
        said += [] if said else [DOUBLE, *_left_over(study, system)]
        said += [ANYHOW] if study.lost > LIKELY and not study.impossible else []
    said += [_marks(study)] if study.marks_left_over else []
    return [line for text in said for line in (*hang(text, width), "")]


def _marks(study: Study) -> str:
    """What the nearest cause leaves of the marks on the chamber: they say which one is fitted."""
    seen = "seen" if study.readings.values["long_stroke_marks"] else "looked for and not seen"
    return (
        f"{study.causes[0].title} would leave unexplained: long-stroke marks {seen}. Which chamber is fitted decides "
        "stroke and limit: settle that first, write it under [chamber], and diagnose again."
    )


def _left_over(study: Study, system: System) -> list[str]:
    """What the nearest cause leaves unexplained, and what that speaks for."""
    if not study.left_over or study.impossible:
        return []
    left = "; ".join(
        f"{value_words(one.reading, study.readings.values[one.reading.name], system)}, where "
        f"{ends_words(one.expected, one.reading, system)} is expected"
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
    alone += [words for words in (hot_words(study.setup, system), ring_words(study.setup)) if words]
    apart = [line for text in alone for line in (*hang(text, width), "")]
    return [*([*hang(FAILED, width), *listed, ""] if said else []), *apart]


def _over(study: Study, system: System, width: int) -> list[str]:
    """A stroke that bottoms or is over its limit is a defect, however likely it is that nothing else is wrong."""
    said = [BOTTOMED[name].format(taped(study.readings.values[name], system)) for name in study.bottomed]
    if study.limit_over is not None:
        limit, heat = taped(study.limit_over, system), study.setup.as_found.drum_temperature
        hot = (
            f"The stroke is over its limit of {limit}, but the limit is meant for a cold drum and this one was at "
            f"{both(heat, 'temperature', system)}. Let it cool and measure again."
        )
        cold = f"The stroke is over its limit of {limit}, whatever the cause; mechviz check judges it."
        said.append(hot if study.stroke_read_hot else cold)
    if study.little_stroke and not any(one.name == "no-stroke" for one in study.contradictions):
        said.append(LITTLE)
    return [line for text in said for line in (*hang(text, width), "")]
