"""Every key that a study file may have, and what is said of one that it may not."""

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any, Literal, cast, get_args

from pydantic import BaseModel, ConfigDict, Field
from pydantic_core import ErrorDetails

from geometry.errors import Fault
from geometry.setup.words import dotted, file_fault
from geometry.units import in_words
from mechviz.study.outcome import HEAT_WORDS, WEAR_WORDS
from mechviz.study.plan import KINDS, MOST_POINTS

Distribution = Literal["normal", "uniform", "triangular"]
Figure = Any
"""A figure with its unit, read when the key that it is of is known."""


class _Section(BaseModel):
    """A section of the file: no key but those named, no word where a number belongs."""

    model_config = ConfigDict(extra="forbid", strict=True)


class ParameterKeys(_Section):
    """[parameters."KEY"]: a range, a list, or a figure with its tolerance."""

    beginning: Figure = Field(None, alias="from")
    to: Figure = None
    mode: Figure = None
    values: list[Figure] | None = None
    nominal: Figure = None
    tolerance: Figure = None
    deviation: Figure = None
    distribution: str | None = None


class OutcomeKeys(_Section):
    """[[outcomes]]."""

    name: str
    wear: str = "found"
    heat: str = "found"
    least: Figure = None
    most: Figure = None


class PlanKeys(_Section):
    """[plan]."""

    kind: str = "sobol"
    points: int = Field(4096, ge=1, le=MOST_POINTS)
    seed: int = Field(1, ge=0, lt=2**32)


class BestKeys(_Section):
    """[best]."""

    by: list[str] = Field(min_length=1, max_length=4)


class MapKeys(_Section):
    """[map]."""

    x: str | None = None
    y: str | None = None
    outcome: str | None = None


class TolerancesKeys(_Section):
    """[tolerances]."""

    brakes: int = Field(20_000, ge=2, le=MOST_POINTS // 4)


class StudyKeys(_Section):
    """The whole file."""

    schema_number: Literal[1] = Field(alias="schema")
    title: str = Field("", max_length=120)
    base: str
    parameters: dict[str, ParameterKeys] = Field(min_length=1, max_length=30)
    outcomes: list[OutcomeKeys] = Field(min_length=1, max_length=40)
    plan: PlanKeys = Field(default_factory=lambda: PlanKeys.model_validate({}))
    best: BestKeys | None = None
    map: MapKeys = MapKeys()
    tolerances: TolerancesKeys | None = None


SECTIONS: Mapping[str, type[_Section]] = {
    "": StudyKeys,
    "parameters": ParameterKeys,
    "outcomes": OutcomeKeys,
    "plan": PlanKeys,
    "best": BestKeys,
    "map": MapKeys,
    "tolerances": TolerancesKeys,
}
CHOICES: Mapping[str, Sequence[str]] = {
    "plan.kind": KINDS,
    "wear": tuple(WEAR_WORDS),
    "heat": tuple(HEAT_WORDS),
    "distribution": get_args(Distribution),
}
"""Words of which one must stand at a key."""

EXAMPLES: Mapping[str, str] = {
    "schema": "schema = 1 as the first line",
    "base": 'base = "drive-16.5x7", or the name of a setup file',
    "parameters": '[parameters."linkage.arm_length"], and below it from = "5 in" and to = "6 in"',
    "outcomes": '[[outcomes]], and below it name = "applied-stroke"',
    "name": 'name = "applied-stroke"',
    "by": 'by = ["brake-torque"]',
}


def keys_of(section: str) -> tuple[str, ...]:
    """Return the keys of a section as they are written."""
    return tuple(field.alias or name for name, field in SECTIONS[section].model_fields.items())


def in_plain_words(error: ErrorDetails) -> Fault:
    """Translate one of pydantic's findings about a study file."""
    path, given, kind = [str(part) for part in error["loc"]], error["input"], error["type"]
    where, name = dotted(path), path[-1]
    if kind == "missing":
        return file_fault(where, "is missing", f"write {EXAMPLES.get(name, name)}")
    if kind == "extra_forbidden":
        return _unknown(path)
    if kind in ("dict_type", "model_type", "model_attributes_type"):
        fix = f"write [{where}] on a line of its own, and its keys below it"
        return file_fault(where, f"is {in_words(given)}, and a section belongs here", fix)
    if kind in ("too_short", "list_type") and name in EXAMPLES:
        return file_fault(where, "is not written as it must be", f"write {EXAMPLES[name]}")
    if kind == "literal_error":
        return file_fault(where, "is a format that this program does not know", "write schema = 1")
    context = cast(Mapping[str, Any], error.get("ctx", {}))
    if kind in ("greater_than_equal", "less_than_equal", "less_than", "greater_than"):
        bounds = ", ".join(f"{word} {context[key]:,}" for key, word in _BOUNDS.items() if key in context)
        return file_fault(where, "is no such count", f"use {bounds}", in_words(given))
    wanted = {"string_type": "a word in quotes", "int_type": "a whole number without quotes", "list_type": "a list"}
    words = f"is {in_words(given)}, and {wanted[kind]} belongs here" if kind in wanted else error["msg"].lower()
    return file_fault(where, words, "see mechviz study --starter for how it is written")


_BOUNDS = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}


def _unknown(path: Sequence[str]) -> Fault:
    section = path[0] if len(path) > 1 else ""
    known = keys_of(section) if section in SECTIONS else ()
    near = get_close_matches(path[-1][:60].lower(), known, 1, 0.6)
    fix = f"write {near[0]}" if near else f"leave it out; known here: {', '.join(known)}"
    return file_fault(dotted(path), f"is not a key of [{section}]" if section else "is not a key of a study", fix)
