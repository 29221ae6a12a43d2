"""A diagnosis for programs: one record a cause, every key with its unit."""

import json
from collections.abc import Mapping
from typing import Any

from geometry.diagnosis import READINGS, Worth, speaks_for
from geometry.diagnosis.meant import slack_temperature
from geometry.quantity import KINDS
from mechviz.diagnosis.study import Cause, Study
from mechviz.report.check_json import row_data
from mechviz.report.figures import figure

SCHEMA = 1
SUFFIXES: Mapping[str, str] = {"length": "_mm", "angle": "_deg", "number": ""}


def records(study: Study) -> list[dict[str, Any]]:
    """Return a record for each cause, the most probable first; ``low`` and ``high`` enclose nine tenths."""
    group = {one.name: n for n, each in enumerate(study.groups, 1) for one in each.causes}
    return [_record(study, cause, rank, group[cause.name]) for rank, cause in enumerate(study.causes, 1)]


def _record(study: Study, cause: Cause, rank: int, group: int) -> dict[str, Any]:
    expected = {one.reading.name + _suffix(one): _expected(one, cause.place) for one in study.next}
    return {
        "rank": rank,
        "name": cause.name,
        "title": cause.title,
        "probability": figure(cause.probability),
        "prior": figure(cause.prior),
        "group": group,
        "fits": study.fits,
        "outside": cause.outside,
        "expected": expected,
    }


def _suffix(worth: Worth) -> str:
    return SUFFIXES[worth.reading.kind]


def _expected(worth: Worth, place: int) -> dict[str, Any]:
    """A reading under a cause: nine tenths of it for a length or an angle, the probability for yes or no."""
    if worth.reading.kind == "number":
        return {"probability": figure(float(worth.means[place]))}
    unit = KINDS[worth.reading.kind].metric_factor
    low, high = worth.ranges[place]
    return {"low": figure(float(low), unit), "high": figure(float(high), unit)}


def diagnosis_json(study: Study) -> str:
    """Write a diagnosis as JSON."""
    data = {
        "schema": SCHEMA,
        "title": study.setup.title,
        "readings": _readings(study),
        "guessed": list(study.guessed),
        "fits": study.fits,
        "impossible": [
            {"title": one.title, "value_mm": figure(one.value), "most_mm": figure(one.most)} for one in study.impossible
        ],
        "contradictions": [{"name": one.name, "readings": list(one.readings)} for one in study.contradictions],
        "unexplained": _unexplained(study),
        "unexplained_speaks_for": speaks_for(study.belief),
        "out_of_limits": study.out_of_limits,
        "slack_drum_degC": figure(slack_temperature(study.setup), zero=KINDS["temperature"].metric_zero),
        "cold_free_stroke_mm": figure(study.cold_slack),
        "failed": [row_data(row) for row in study.failed],
        "doubt_bits": figure(study.belief.doubt),
        "causes": records(study),
        "alike": [[one.name for one in group.causes] for group in study.groups if len(group.causes) > 1],
        "next": [
            {
                "name": one.reading.name,
                "key": one.reading.key,
                "option": study.option(one.reading.name) or None,
                "bits": figure(one.bits),
                "how": one.reading.how,
            }
            for one in study.next
        ],
    }
    return json.dumps(data, indent=2, allow_nan=False)


def _unexplained(study: Study) -> list[str]:
    """What the most probable cause leaves over: readings, and the marks on the chamber."""
    marks = ["long_stroke_marks"] if study.marks_left_over else []
    return [*(one.reading.name for one in study.left_over), *marks]


def _readings(study: Study) -> list[dict[str, Any]]:
    """What was read, and its standard deviation."""
    found = list[dict[str, Any]]()
    for one in READINGS:
        if one.name in study.readings.values:
            unit, suffix = KINDS[one.kind].metric_factor, SUFFIXES[one.kind]
            value, off = study.readings.values[one.name], study.readings.off[one.name]
            found.append({"name": one.name, f"value{suffix}": figure(value, unit), f"off{suffix}": figure(off, unit)})
    return found
