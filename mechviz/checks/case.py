"""What the checks look at: the setup, and the states that it solves to, each solved once."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import isfinite
from typing import Literal

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.found import condition_of
from geometry.linkage import arm_state
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.setup.merge import PLAY
from geometry.states import State, at_pressures, unpressed
from geometry.tables import StrokeLimit, band, exact_inches, fallback_limit, stroke_limit, test_pressure_band
from geometry.tables.reader import millimetres
from mechviz.checks.grown import grown_stroke
from mechviz.checks.judge import Band, judge, judge_solved
from mechviz.checks.proof import (
    Doubt,
    assumed_stroke_doubt,
    chamber_doubt,
    chamber_name,
    ends,
    known_pressure,
    lower_limit_doubt,
    pressure_doubt,
)
from mechviz.checks.row import Result
from mechviz.checks.spread import Spread, spread_of

Drum = Literal["cold", "hot"]
HOT = (600.0 + 459.67) * 5 / 9
"""600 degF in K: the hot drum of the reported brake-temperature tests."""

COLD = REFERENCE_TEMPERATURE
"""70 degF in K: the cold drum of the same tests, and that at which drum diameters are stated."""

STROKE_ALLOWANCE = 25.4 / 4
"""How far a solved stroke may honestly be off, 1/4 in (the project's figure): wind-up differs from brake to brake, and
the published stroke budget has 0.2 in more of it than the built-in brakes."""

WARM = 20.0
"""How much warmer (K) than a cold drum one may be that is still called cold (the project's figure)."""


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
        released, touching = unpressed(self.brake, self.condition)
        return {"released": released, "contact": touching, "applied": self._pressed[0]}

    @cached_property
    def released_angle(self) -> float | None:
        """The arm's angle (rad) with the rod in, by the linkage alone; None where pushrod and arm do not meet."""
        angle = float(arm_state(self.brake.linkage, 0.0).arm_angle)
        return angle if isfinite(angle) else None

    def no_state(self, reason: Reason) -> str:
        """Why there is no such state, for people: of a slack that leaves no setting, what is beyond this brake."""
        if reason != Reason.INPUT_MISSING:
            return reason.words
        beyond = next((fault.said(self.setup.system) for fault in self.setup.beyond if fault.where in PLAY), "")
        return beyond or "the slack that was found leaves nothing to work out: see the row within reach"

    @property
    def full(self) -> State:
        """The state fully applied as found."""
        return self._pressed[1]

    @property
    def cold(self) -> State:
        """The state fully applied with the same adjustment and a drum at 70 degF."""
        return self._pressed[2]

    @property
    def hot(self) -> State:
        """The state fully applied with the same adjustment and a drum at 600 degF."""
        return self._pressed[3]

    @cached_property
    def _pressed(self) -> list[State]:
        """Applied as it was tested; and fully applied as found, cold and hot."""
        now, test, full = self.setup.as_found.drum_temperature, self.setup.test.pressure, self.full_pressure
        condition = replace(self.condition, drum_temperature=[now, now, COLD, HOT])
        return at_pressures(self.brake, condition, [test, full, full, full], ["applied"] * 4)

    @cached_property
    def limits(self) -> tuple[StrokeLimit, ...]:
        """The stroke limits of the rule sets chosen; one by the full stroke only where that is known."""
        us = (self._us_limit,) if "us" in self.rules else ()
        by_share = "australia" in self.rules and assumed_stroke_doubt(self.setup) is None
        return (*us, *((self._share_of_full_stroke,) if by_share else ()))

    @property
    def stands_in(self) -> bool:
        """Whether a stroke was read and none of the rule sets chosen has a limit: the readjustment limit stands in."""
        return not self.limits and self.setup.measured.stroke is not None

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
    def an_automatic_one(self) -> str:
        """How to speak of an automatic adjuster, at a sentence's beginning: the base's may be none of this brake."""
        return "An automatic adjuster" + ("" if self.states("adjuster.kind") else ", if this is one,")

    @property
    def chamber_name(self) -> str:
        """What the chamber is called: ``type 30 clamp``."""
        return chamber_name(self.brake.chamber.style, self.brake.chamber.size)

    @cached_property
    def chamber_doubt(self) -> Doubt | None:
        """Why the chamber may be another one, and the key that would settle it."""
        return chamber_doubt(self.setup)

    def limit_doubt(self, limit: float, stroke: float, resolution: float) -> Doubt | None:
        """Why a stroke inside a limit (mm) may be no pass: another chamber, or a lower limit, may hold."""
        return self.chamber_doubt or lower_limit_doubt(self.setup, limit, stroke, resolution)

    @property
    def knows_chamber(self) -> bool:
        """Whether the chamber is the vehicle's own: named by the file or by ring and marks, and not belied by them."""
        return self.chamber_doubt is None

    @cached_property
    def pressure_doubt(self) -> Doubt | None:
        """Why the pressure at which the stroke was read may not count, and the key that would settle it."""
        return pressure_doubt(self.setup)

    @property
    def more_air_doubt(self) -> Doubt | None:
        """Why a figure read when applied may be more than at a pressure that counts: there was more air than that."""
        known, rule = known_pressure(self.setup), test_pressure_band(self.setup.test.procedure)
        if known is None or known <= rule.high_mpa:
            return None
        how = f"it was read above {ends(rule)[1]}, which lengthens the stroke: measure again at a pressure that counts."
        return "test.reservoir_pressure", how

    @property
    def full_pressure(self) -> float:
        """The pressure (MPa) of a full application: the test's, or the nearest that counts."""
        rule = test_pressure_band(self.setup.test.procedure)
        return min(max(self.setup.test.pressure, rule.low_mpa), rule.high_mpa)

    @property
    def unknown_for_angles(self) -> str:
        """The first key that the file would have to give for the arm's angle to be solved; empty where it can be."""
        keys = {"arm_length": "measured", "pin_reach": "measured", "face_distance": "linkage", "axis_offset": "linkage"}
        lacking = (f"{home}.{key}" for key, home in keys.items() if not self._fitted(key))
        return next(lacking, "")

    @property
    def unknown_for_stroke(self) -> str:
        """The first key without which no stroke is expected: chamber and arm decide it with slack and pressure."""
        if self.chamber_doubt:
            return self.chamber_doubt[0]
        return "" if self._fitted("arm_length") else "measured.arm_length"

    def _fitted(self, key: str) -> bool:
        return self.states(f"linkage.{key}") or self.states(f"measured.{key}")

    @property
    def unknown_slack(self) -> str:
        """The key of the slack, empty where the file gives it."""
        known = any(self.states(key) for key in ("condition.free_stroke", "condition.lining_clearance"))
        return "" if known else "condition.free_stroke"

    @property
    def warm(self) -> bool:
        """Whether the file says that the drum was warmer than a cold one."""
        return self.setup.as_found.drum_temperature > COLD + WARM and self.states("condition.drum_temperature")

    @cached_property
    def slack_read_cold(self) -> "Case | None":
        """The same with its slack read on a cold drum, where the drum is warm and nobody wrote when that was read.

        None where there is nothing open: the slack counts as read with the drum as it is.
        """
        if not self.warm or self.unknown_slack or self.states("condition.slack_temperature"):
            return None
        as_found = replace(self.setup.as_found, slack_temperature=COLD)
        stated = self.setup.stated | {"condition.slack_temperature"}
        return Case(replace(self.setup, as_found=as_found, stated=stated), self.rules)

    @property
    def too_slack(self) -> bool:
        """Whether the slack found is more than the trade's band allows."""
        return self.slack_result == "fail"

    @property
    def slack_result(self) -> Result:
        """How the slack found stands against the upper end of the trade's band; ``not-evaluated`` unknown or hot."""
        rule, found, touch = band("free-stroke"), self.setup.as_found.free_stroke, self.spread.touch
        assert rule.high is not None  # the table's test holds the row
        if self.unknown_slack or self.slack_hot:
            return "not-evaluated"
        if self.slack_beyond or self.found["contact"].reason == Reason.BOTTOMED:
            return "fail"
        allowed = Band(most=millimetres(rule.high), most_included=False)
        if found is not None and self.states("condition.free_stroke"):
            return judge(found, allowed, self.setup.measured.resolution)
        return judge_solved(touch.value, allowed, touch.amount, touch.back)

    @property
    def slack_hot(self) -> bool:
        """Whether the slack found was read with the drum warmer than a cold one."""
        return not self.unknown_slack and self.setup.as_found.slack_temperature > COLD + WARM

    @property
    def slack_beyond(self) -> bool:
        """Whether there is more slack than this brake can have: more than cam and chamber can take up."""
        return any(fault.where in PLAY and fault.most is not None for fault in self.setup.beyond)

    @property
    def unknown_wear(self) -> str:
        """The first key of lining and drum that the file does not give."""
        keys = ("condition.lining_thickness", "condition.drum_diameter")
        return next((key for key in keys if not self.states(key)), "")

    def unless_stated(self, key: str) -> str:
        """Return a key that is missing; nothing where the file has it, however doubtful."""
        return "" if self.states(key) else key

    def states(self, *keys: str) -> bool:
        """Tell whether the file itself gives all of these keys, so that they may be taken for readings."""
        return all(key in self.setup.stated for key in keys)

    @cached_property
    def spread(self) -> Spread:
        """How much the resolution of the file's own readings leaves open of what was solved from them."""
        rule = test_pressure_band(self.setup.test.procedure)
        return spread_of(self.setup, (rule.low_mpa, rule.high_mpa), (COLD, HOT))

    @cached_property
    def unworn(self) -> "Case":
        """The same brake with new linings and a new drum, and the slack that was found."""
        brake = self.brake
        new = replace(
            self.setup.as_found, lining_thickness=brake.lining.thickness, drum_diameter=2.0 * brake.new_radius
        )
        return Case(replace(self.setup, as_found=new), self.rules)

    def grown(self, drum: Drum) -> float:
        """The stroke that was read (mm), fully applied and on a cold or a hot drum; NaN where nothing tells."""
        return grown_stroke(self.setup, {"cold": COLD, "hot": HOT}[drum], self.full_pressure)
