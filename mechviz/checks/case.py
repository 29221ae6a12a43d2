"""What the checks look at: the setup, and the states that it solves to, each solved once."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.found import condition_of
from geometry.linkage import Linkage
from geometry.setup import Setup
from geometry.states import State, at_pressure, events
from geometry.tables import (
    ChamberCandidate,
    PressureBand,
    StrokeLimit,
    band,
    chambers_by_outside_diameter,
    exact_inches,
    fallback_limit,
    stroke_limit,
    test_pressure_band,
)

HOT = (600.0 + 459.67) * 5 / 9
"""600 degF in K: the hot drum of the reported brake-temperature tests."""

COLD = REFERENCE_TEMPERATURE
"""70 degF in K: the cold drum of the same tests, and that at which drum diameters are stated."""

WARM = 20.0
"""How much warmer (K) than a cold drum one may be that is still called cold (the project's figure)."""


def chamber_name(style: str, size: str) -> str:
    """Return a chamber's name for people.

    >>> chamber_name("clamp-long-stroke", "30")
    'type 30 clamp long stroke'
    """
    return f"type {size} {style.replace('-', ' ')}"


def marked(source: str, status: str | None) -> str:
    """Return a source with its status where that is not 'read in a copy'."""
    return source + {"M": " (quoted from memory)", "C": " (common practice)"}.get(status or "", "")


@dataclass(frozen=True)
class Case:
    """One setup under check, judged under ``rules`` (names of rule sets)."""

    setup: Setup
    rules: tuple[str, ...]

    @property
    def brake(self) -> Brake:
        """The brake."""
        return self.setup.brake

    @cached_property
    def condition(self) -> Condition:
        """The brake as found."""
        return condition_of(self.setup)

    @cached_property
    def found(self) -> dict[str, State]:
        """The three events as found, by name, applied at the test pressure."""
        return {s.name: s for s in events(self.brake, self.condition, self.setup.test.pressure)}

    def applied_at(self, temperature: float) -> State:
        """Return the applied state with the same adjustment and another drum temperature (K)."""
        condition = replace(self.condition, drum_temperature=temperature)
        return at_pressure(self.brake, condition, self.setup.test.pressure, "applied")

    @cached_property
    def cold(self) -> State:
        """The applied state with the same adjustment and a drum at 70 degF."""
        return self.applied_at(COLD)

    @cached_property
    def hot(self) -> State:
        """The applied state with the same adjustment and a drum at 600 degF."""
        return self.applied_at(HOT)

    @cached_property
    def limits(self) -> tuple[StrokeLimit, ...]:
        """The stroke limits of the rule sets chosen."""
        us = (self._us_limit,) if "us" in self.rules else ()
        return (*us, *((self._share_of_full_stroke,) if "australia" in self.rules else ()))

    @property
    def limit(self) -> StrokeLimit:
        """The least stroke limit of the rule sets chosen; the readjustment limit where none of them has one."""
        return min(self.limits, key=lambda one: one.limit_in, default=self._us_limit)

    @cached_property
    def _us_limit(self) -> StrokeLimit:
        """From the table, else the one marked on the chamber, else 80 % of its rated stroke."""
        chamber, marked_limit = self.brake.chamber, self.setup.marked_limit
        rated = exact_inches(chamber.rated_stroke / 25.4)
        on_it = None if marked_limit is None else exact_inches(marked_limit / 25.4)
        listed = stroke_limit(chamber.style, chamber.size, rated)
        return listed or fallback_limit(rated, chamber.style, chamber.size, on_it)

    @cached_property
    def _share_of_full_stroke(self) -> StrokeLimit:
        rule, chamber = band("share-of-full-stroke-australia"), self.brake.chamber
        assert rule.high is not None  # the table's test holds the row
        rated = exact_inches(chamber.rated_stroke / 25.4)
        return StrokeLimit(rated * rule.high / 100, chamber.style, chamber.size, rule.status, rule.source)

    @property
    def automatic(self) -> bool:
        """Whether the adjuster is automatic."""
        return self.brake.adjuster.kind == "automatic"

    @property
    def chamber_name(self) -> str:
        """What the chamber is called: ``type 30 clamp``."""
        return chamber_name(self.brake.chamber.style, self.brake.chamber.size)

    @cached_property
    def _seen(self) -> list[ChamberCandidate] | None:
        """The chambers that clamp ring and marks may be; None where the ring was not measured."""
        measured = self.setup.measured
        if measured.clamp_diameter is None or not self.brake.chamber.style.startswith("clamp"):
            return None
        return chambers_by_outside_diameter(measured.clamp_diameter, measured.long_stroke_marks)

    @cached_property
    def _is_seen(self) -> bool:
        chamber = self.brake.chamber
        return any((c.style, c.size) == (chamber.style, chamber.size) for c in self._seen or ())

    @property
    def knows_chamber(self) -> bool:
        """Whether the chamber is the vehicle's own: named by the file or by ring and marks, and not belied by them."""
        if self._seen is not None and not self._is_seen:
            return False
        named = self.states("chamber.style", "chamber.size")
        return named or (self._is_seen and self.setup.measured.long_stroke_marks is not None)

    @property
    def unproven_chamber(self) -> tuple[str, str] | None:
        """The key that would prove which chamber it is, and what to do; None where it is known."""
        if self.knows_chamber:
            return None
        if self._seen is not None and not self._is_seen:
            return "chamber.size", "the clamp ring is another chamber's, with another limit. See the row chamber size."
        how = (
            "that is the base's chamber. Write chamber.style and size, or measure the clamp ring: another chamber has "
        )
        return "chamber.size", how + "another limit."

    @property
    def unproven_pressure(self) -> tuple[str, str] | None:
        """The key of a pressure that counts, and what to do; None where the stroke was read at one."""
        test, key = self.setup.test, "test.reservoir_pressure"
        known = [getattr(test, name) for name in ("pressure", "reservoir_pressure") if self.states(f"test.{name}")]
        if not known:
            return key, "the pressure it was measured at is not stated, and too little makes it shorter."
        rule = test_pressure_band(test.procedure)
        if min(known) >= rule.low_mpa:
            return None
        low, high = (f"{psi} psi ({1000 * mpa:.0f} kPa)" for psi, mpa in _ends(rule))
        return key, f"it was measured below {low}: bring the reservoirs to {low} to {high} and measure again."

    @property
    def unknown_for_angles(self) -> str:
        """The first key that the file would have to give for the arm's angle to be solved; empty where it can be."""
        for of in ("linkage.{}", "measured.{}"):
            if self.states(of.format("arm_length"), of.format("pin_reach")):
                return ""
        return "measured.pin_reach" if self.states("measured.arm_length") else "measured.arm_length"

    @property
    def unknown_slack(self) -> str:
        """The key of the slack, empty where the file gives it."""
        known = any(self.states(key) for key in ("condition.free_stroke", "condition.lining_clearance"))
        return "" if known else "condition.free_stroke"

    @property
    def unknown_wear(self) -> str:
        """The first key of lining and drum that the file does not give."""
        keys = ("condition.lining_thickness", "condition.drum_diameter")
        return next((key for key in keys if not self.states(key)), "")

    def states(self, *keys: str) -> bool:
        """Tell whether the file itself gives all of these keys, so that they may be taken for readings."""
        return all(key in self.setup.stated for key in keys)

    @cached_property
    def varied(self) -> list["Case"]:
        """The case once more for each of the file's own readings that a state is solved from, read one step higher."""
        found, linkage, tape = self.setup.as_found, self.brake.linkage, self.setup.measured.resolution
        steps = [
            ("condition.lining_thickness", _found(self.setup, "lining_thickness", -found.lining_resolution)),
            ("condition.drum_diameter", _found(self.setup, "drum_diameter", found.drum_resolution)),
            ("condition.free_stroke", _found(self.setup, "free_stroke", tape)),
            ("measured.arm_length", _linked(self.setup, replace(linkage, arm_length=linkage.arm_length + tape))),
            ("measured.pin_reach", _linked(self.setup, replace(linkage, pin_reach=linkage.pin_reach + tape))),
        ]
        return [replace(self, setup=setup) for key, setup in steps if self.states(key)]

    def spread(self, figure: Callable[["Case"], float | None]) -> float:
        """Return how much a solved figure is left open by the resolution of the readings that it was solved from."""
        here = figure(self)
        there = [figure(one) for one in self.varied]
        return 0.0 if here is None else sum(abs(value - here) for value in there if value is not None)


def _ends(rule: PressureBand) -> tuple[tuple[object, float], tuple[object, float]]:
    return (rule.low_psi, rule.low_mpa), (rule.high_psi, rule.high_mpa)


def _found(setup: Setup, name: str, step: float) -> Setup:
    return replace(setup, as_found=replace(setup.as_found, **{name: (getattr(setup.as_found, name) or 0.0) + step}))


def _linked(setup: Setup, linkage: Linkage) -> Setup:
    return replace(setup, brake=replace(setup.brake, linkage=linkage))
