"""A dimension that a designer varies: its range and tolerance as they were typed, and what they read as."""

from dataclasses import dataclass
from difflib import get_close_matches
from functools import lru_cache
from math import isfinite

from geometry.errors import Fault, MechvizError
from geometry.quantity import KindName, System, shown, text
from geometry.setup import Setup
from geometry.setup.many import varied_keys
from geometry.tables import nominal_rated_stroke, sizes
from geometry.tables.chambers import effective_area_in2
from geometry.units import parse
from mechviz.chart.frame import decimals, round_step
from mechviz.study import Listed, Normal, Parameter, Uniform, size_parameter
from mechviz.study.parameter import SIZE

SECTIONS = {
    "chamber": "Chamber",
    "linkage": "Arm and pushrod",
    "cam": "Cam",
    "foundation": "Shoes, linings, drum",
    "condition": "As found",
    "test": "Test",
}
SHARE = 0.1
"""Of the present value: how far to either side a range reaches at first."""
WIDE: dict[KindName, float] = {"number": 0.2, "pressure": 0.2, "temperature": 0.1}
SIGNED: tuple[KindName, ...] = ("angle", "temperature")
"""Kinds whose zero is no end of what can be."""
FIELDS = ("low", "high", "tolerance")
LONGEST = 60


@dataclass(frozen=True)
class Varied:
    """One key of the setup file with its range and tolerance as typed; a chamber's sizes are a list in ``low``."""

    key: str
    low: str = ""
    high: str = ""
    tolerance: str = ""

    def __post_init__(self) -> None:
        for name in FIELDS:
            object.__setattr__(self, name, getattr(self, name)[:LONGEST].strip())

    @property
    def sized(self) -> bool:
        """Whether it is the chamber's size, which is chosen from a list."""
        return self.key == SIZE

    @property
    def kind(self) -> KindName:
        """What kind of quantity it is."""
        return "number" if self.sized else varied_keys()[self.key]


@dataclass(frozen=True)
class Wrong:
    """Why a field cannot be used: which one, and what would do."""

    field: str
    words: str


def choices(setup: Setup) -> dict[str, list[str]]:
    """Return the keys that a setup can be varied in, by the section's words; those it has no figure for are left out.

    >>> from geometry.setup import read_setup
    >>> choices(read_setup("drive-16.5x7"))["Arm and pushrod"][:2]
    ['linkage.arm_length', 'linkage.axis_offset']
    """
    found = {words: list[str]() for words in SECTIONS.values()}
    if published(setup):
        found[SECTIONS["chamber"]].append(SIZE)
    for key in varied_keys():
        if isinstance(setup.values.get(key), float):
            found[SECTIONS[key.split(".")[0]]].append(key)
    return {words: keys for words, keys in found.items() if keys}


def published(setup: Setup) -> tuple[str, ...]:
    """Return the chamber sizes of a setup's style whose stroke and area are published."""
    style = setup.brake.chamber.style
    return tuple(size for size in sizes(style) if nominal_rated_stroke(style, size) and effective_area_in2(style, size))


def sensible(setup: Setup, key: str) -> Varied:
    """Return a dimension with a round range about its present value, and a tolerance that is a small part of it."""
    if key == SIZE:
        known = published(setup)
        at = known.index(setup.brake.chamber.size) if setup.brake.chamber.size in known else 0
        return Varied(key, ", ".join(known[max(at - 1, 0) : at + 2]))
    kind, system = varied_keys()[key], setup.system
    now, unit = shown(present(setup, key), kind, system)
    half = abs(now) * WIDE.get(kind, SHARE) or 1.0
    step, fine = round_step(half / 5), round_step(half / 12)
    low, high = (f"{step * round((now + side * half) / step):.{decimals(step)}f} {unit}".strip() for side in (-1, 1))
    return Varied(key, low, high, f"{fine:.{decimals(fine)}f} {unit}".strip())


def present(setup: Setup, key: str) -> float:
    """Return what a setup has for a key, in the unit used inside."""
    value = setup.values.get(key)
    return float(value) if isinstance(value, int | float) else float("nan")


def present_words(setup: Setup, key: str) -> str:
    """Return what a setup has for a key, as people read it."""
    if key == SIZE:
        return setup.brake.chamber.size
    return text(present(setup, key), varied_keys()[key], setup.system)


_parsed = lru_cache(512)(parse)
"""A slider reads every field anew at each of its moves."""


def figure(typed: str, kind: KindName, where: str) -> float:
    """Return what was typed in the unit used inside. Raises `MechvizError` that says what would do."""
    if kind != "number":
        return _parsed(typed, kind, where)  # pyright: ignore[reportArgumentType] - every other kind has a unit
    try:
        value = float(typed)
    except ValueError:
        value = float("nan")
    if not isfinite(value):
        raise MechvizError(Fault(where, "is not a number", "write one, such as 0.35", typed or '""', "number"))
    return value


def ranged(varied: Varied, setup: Setup) -> tuple[Parameter | None, list[Wrong]]:
    """Return a dimension as a study's parameter over its range, or what is wrong with its fields."""
    if varied.sized:
        return _listed(varied, setup)
    if not isfinite(present(setup, varied.key)):
        return None, [Wrong("low", "is no figure of this brake: leave it out, or start from a brake that has it")]
    found: dict[str, float] = {}
    wrong: list[Wrong] = []
    for name in ("low", "high"):
        try:
            found[name] = figure(getattr(varied, name), varied.kind, varied.key)
        except MechvizError as error:
            wrong.append(Wrong(name, said(error, setup.system)))
    if wrong:
        return None, wrong
    if not found["low"] < found["high"]:
        return None, [Wrong("high", "must be more than the beginning of the range: write the smaller figure first")]
    if found["low"] < 0 <= present(setup, varied.key) and varied.kind not in SIGNED:
        return None, [Wrong("low", "must not be less than zero: there is no such brake")]
    return Parameter(varied.key, Uniform(found["low"], found["high"])), []


def toleranced(varied: Varied, setup: Setup, nominal: float) -> tuple[Parameter | None, list[Wrong]]:
    """Return a dimension as it comes from production about a nominal figure; without a tolerance it stays at that."""
    if not isfinite(nominal):
        return None, []
    held = Parameter(varied.key, Listed((nominal,)))
    if not varied.tolerance or varied.sized:
        return held, []
    try:
        found = _width(varied)
    except MechvizError as error:
        return None, [Wrong("tolerance", said(error, setup.system))]
    if found == 0:
        return held, []
    if found < 0:
        return None, [Wrong("tolerance", "must not be negative: it counts to either side")]
    return Parameter(varied.key, Normal.within(nominal, found)), []


def _width(varied: Varied) -> float:
    """The tolerance in the unit used inside; of a temperature it is a difference, which has no zero of its own."""
    typed = varied.tolerance.removeprefix("+-").removeprefix("±").strip()
    found = figure(typed, varied.kind, varied.key)
    if varied.kind != "temperature":
        return found
    number, unit = typed.split(maxsplit=1)
    return found - parse(f"0 {unit}", "temperature", varied.key) if number else found


def _listed(varied: Varied, setup: Setup) -> tuple[Parameter | None, list[Wrong]]:
    words = tuple(dict.fromkeys(part.strip() for part in varied.low.split(",") if part.strip()))
    known = published(setup)
    for word in words:
        if word not in known:
            near = get_close_matches(word, known, 1, 0.1) or known[:1]
            return None, [
                Wrong("low", f'"{word}" has no published stroke and area: use some of {", ".join(known)}, as {near[0]}')
            ]
    if not words:
        return None, [Wrong("low", f"write at least one size of {', '.join(known)}")]
    return size_parameter(words), []


def said(error: MechvizError, system: System) -> str:
    """Return an error as it stands beside its field: without the name, which the field has already."""
    lines = (fault.text(fault.system or system) for fault in error.faults)
    return "; ".join(line.partition(": ")[2] or line for line in lines)
