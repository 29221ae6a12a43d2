"""A setup's fit: one rod for each hole of the arm, how it stands from new to worn, and which hole is best."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import floor, isfinite, pi

import numpy as np

from geometry.arrays import floats
from geometry.brake import Brake
from geometry.clevis import flush_reach
from geometry.condition import Condition, angle_for_clearance, contact
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import Fault, PartError
from geometry.pushrod_fit import PushrodFit, fit_pin_reach, with_pushrod
from geometry.pushrod_slack import Bench, clearance_for_free_stroke
from geometry.quantity import System
from geometry.rod_states import RodStates, rod_states
from geometry.setup import Setup
from geometry.tables import LiningLimit
from geometry.worm import worm_turns_of
from mechviz.checks.case import Case
from mechviz.checks.judge import ROUNDING
from mechviz.checks.slack import usual_free_stroke
from mechviz.pushrod.faults import IN_THE_CHAMBER, NO_ROD, rod_faults
from mechviz.pushrod.limits import in_the_chamber, own_arm, rod_ends, worn_by
from mechviz.pushrod.missing import missing_keys

CASES = ("new", "present", "worn")
"""The conditions that a rod is held against: new linings, those found, and linings at their least thickness."""

PRESENT, WORN = 1, 2
FALLBACK = 0.030 * 25.4
"""Clearance, mm, where none gives the free stroke wanted: about what that takes on the built-in brakes."""
TICKS = {"inch": Fraction("25.4") / 16, "metric": Fraction(1)}
"""How finely a rod is cut, mm, exactly."""


@dataclass(frozen=True)
class Asked:
    """The arm angle wanted at full application (rad) and the lining clearance to set (mm).

    Where no clearance is asked for it is the one that gives the middle of the trade's band of free strokes: that is
    what a check judges.
    """

    angle: float = pi / 2
    clearance: float | None = None

    def __post_init__(self) -> None:
        if not 0 < self.angle < pi:
            fix = "write the angle between arm and pushrod, about 90 deg"
            raise PartError(Fault("--angle", "is no angle of an arm", fix, self.angle, "angle"))
        if self.clearance is not None and not self.clearance >= 0:
            fix = "write zero or a positive figure"
            raise PartError(Fault("--clearance", "must not be negative", fix, self.clearance))


@dataclass(frozen=True, eq=False)
class Hole:
    """One hole of the arm (mm from the camshaft): its exact rods in each of `CASES`, and the rods that can be cut.

    ``clearance`` (mm) is set in each ``condition``. ``rods`` are a tick shorter, the one to cut and a tick longer;
    empty where no rod does it.
    """

    arm_length: float
    clearance: float
    condition: Condition
    exact: PushrodFit
    rods: tuple[RodStates, ...]

    @property
    def cut(self) -> RodStates | None:
        """The rod to cut: to the nearest tick."""
        return self.rods[1] if self.rods else None


@dataclass(frozen=True)
class Fitting:
    """A setup under fit."""

    setup: Setup
    asked: Asked
    system: System
    worn_by: LiningLimit
    holes: tuple[Hole, ...]

    @property
    def tick(self) -> float:
        """How finely a rod is cut, mm."""
        return float(TICKS[self.system])

    @cached_property
    def case(self) -> Case:
        """The setup as the checks see it."""
        return Case(self.setup, self.setup.test.rules)

    @cached_property
    def stroke_limit(self) -> float:
        """The chamber's readjustment limit, mm."""
        return self.case.limit.limit_mm

    @property
    def condition(self) -> Condition:
        """`CASES` with the clearance set that the best hole needs."""
        return self.best.condition

    @property
    def cam_turn(self) -> float:
        """How far the cam turns from released to first contact in the present condition, rad: the same for any rod."""
        thickness, diameter, temperature, released = (floats(a)[PRESENT] for a in self.condition.arrays)
        return float(contact(self.setup.brake, thickness, diameter, temperature).first - released)

    @property
    def worm_turns(self) -> float:
        """By how many turns the worm goes back from first contact for the wanted clearance."""
        return float(worm_turns_of(self.setup.brake.adjuster, self.cam_turn))

    @cached_property
    def best(self) -> Hole:
        """The hole to use: of those that hold every limit the one nearest to the arm of before.

        The arm's length sets the brake's force, and must be the same at both ends of an axle: it is not for a fit to
        change it for the better. Where no hole holds every limit it is the one with the fewest faults.
        """
        return min(self.holes, key=self._rank)

    def cleared(self, clearance: float) -> Condition:
        """Return `CASES` with another clearance set, mm."""
        return _conditions(self.setup, clearance, self.worn_by)

    @property
    def own_arm(self) -> float:
        """The arm that belongs to this brake, mm: as the file writes it, else as measured, else the base's."""
        return own_arm(self.setup)

    @property
    def knows_arm(self) -> bool:
        """Whether the file itself gives the length of the arm that is, or was, fitted, and nothing belies it."""
        return "linkage.arm_length" not in self.missing

    def as_before(self, hole: Hole) -> bool:
        """Tell whether a hole is that of the arm of before, as finely as an arm is measured."""
        return abs(hole.arm_length - self.own_arm) <= self.setup.measured.resolution + ROUNDING

    def _rank(self, hole: Hole) -> tuple[bool, int, float]:
        """A hole with a rod first, then the fewest faults, then the nearest."""
        away = abs(hole.arm_length - self.own_arm)
        return hole.cut is None, len(self.faults(hole)), away

    def faults(self, hole: Hole) -> list[str]:
        """Return why a hole is not to be used, in a few words each; none where it holds from new to worn."""
        return self._faults[hole]

    @cached_property
    def _faults(self) -> dict[Hole, list[str]]:
        return {hole: self._faults_of(hole) for hole in self.holes}

    def _faults_of(self, hole: Hole) -> list[str]:
        if hole.cut is None:
            return [NO_ROD]
        inside = [IN_THE_CHAMBER] if in_the_chamber(self.setup, hole.cut.pin_reach) else []
        return [*rod_faults(self.brake(hole), hole.cut, self.stroke_limit), *inside]

    def brake(self, hole: Hole) -> Brake:
        """Return the brake with a hole's rod cut and fitted. The hole must have one."""
        assert hole.cut is not None
        return with_pushrod(self.setup.brake, hole.cut.pin_reach, hole.arm_length)

    @property
    def rod_end(self) -> float:
        """Where the rod ends, mm from the face: as it is where that will do, else flush with the clevis' inside."""
        cut, clevis = self.best.cut, self.setup.clevis
        assert cut is not None
        flush = float(flush_reach(clevis, cut.pin_reach))
        _, longest = rod_ends(self.setup, cut.pin_reach)
        return flush if clevis.rod_reach is None or clevis.rod_reach > longest else clevis.rod_reach

    @property
    def cut_off(self) -> float | None:
        """What is cut off the rod as it is, mm, 0 of one that will do; None where it is not known, or no rod fits."""
        cut, reach = self.best.cut, self.setup.clevis.rod_reach
        if cut is None or reach is None or in_the_chamber(self.setup, cut.pin_reach):
            return None
        return max(reach - self.rod_end, 0.0)

    @cached_property
    def missing(self) -> list[str]:
        """The keys that the file itself would have to give for the length to be cut by; none where it gives them."""
        return missing_keys(self.case)

    @property
    def example(self) -> bool:
        """Whether the answer is an example only: a built-in setup, or arm and mounting from a base."""
        return bool(self.missing)


def fitting(setup: Setup, asked: Asked, system: System) -> Fitting:
    """Return a setup's fit, its rods cut to the tick of ``system``."""
    rule = worn_by(setup)
    holes = setup.arm_holes or (own_arm(setup),)
    fitted = tuple(_hole(setup, asked, rule, hole, TICKS[system]) for hole in holes)
    return Fitting(setup, asked, system, rule, fitted)


def _clearance(setup: Setup, asked: Asked, arm_length: float) -> float:
    """The clearance asked for, else the one of the usual free stroke; where nothing gives that, about as much."""
    if asked.clearance is not None:
        return asked.clearance
    found = setup.as_found
    bench = Bench(setup.brake, found.lining_thickness, found.drum_diameter, REFERENCE_TEMPERATURE, setup.test.pressure)
    usual = clearance_for_free_stroke(bench, usual_free_stroke(), asked.angle, arm_length)
    return usual if isfinite(usual) else FALLBACK


def _conditions(setup: Setup, clearance: float, worn_by: LiningLimit) -> Condition:
    """`CASES` on the drum as found, cold, each with the same clearance set."""
    found, brake = setup.as_found, setup.brake
    worn = min(worn_by.limit_mm, found.lining_thickness)
    thickness = floats([max(brake.lining.thickness, found.lining_thickness), found.lining_thickness, worn])
    diameter, cold = (np.full(3, value) for value in (found.drum_diameter, REFERENCE_TEMPERATURE))
    at = contact(brake, thickness, diameter, cold)
    return Condition(thickness, diameter, cold, angle_for_clearance(brake, at, clearance))


def _hole(setup: Setup, asked: Asked, rule: LiningLimit, arm_length: float, tick: Fraction) -> Hole:
    brake, pressure = setup.brake, setup.test.pressure
    clearance = _clearance(setup, asked, arm_length)
    condition = _conditions(setup, clearance, rule)
    exact = fit_pin_reach(brake, condition, pressure, asked.angle, arm_length)
    wanted = float(exact.pin_reach[PRESENT])
    if not wanted > 1.5 * tick:
        return Hole(arm_length, clearance, condition, exact, ())
    lengths = [float((nearest(wanted, tick) + step) * tick) for step in (-1, 0, 1)]
    rods = [rod_states(with_pushrod(brake, length, arm_length), condition, pressure) for length in lengths]
    return Hole(arm_length, clearance, condition, exact, tuple(rods))


def nearest(length: float, tick: Fraction) -> int:
    """Return the number of ticks (mm) that is nearest to a length (mm), halves upwards.

    >>> nearest(154.0, TICKS["inch"]), nearest(154.5, TICKS["metric"])
    (97, 155)
    """
    return floor(Fraction(length) / tick + Fraction(1, 2))
