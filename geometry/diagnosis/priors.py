"""What is believed before anything is measured. No frequencies are published; all figures are the project's own.

The weights say how often a cause is met against the others when a brake is looked at because something seems wrong:
8 for what is met most, 1 for what is rare. One cause at a time: two defects at once are not weighed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf, log

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.defects import Defect
from geometry.tables import drum_limits, lining_limits

INCH = 25.4
NOTHING = "nothing-wrong"
SOUND = 0.4
"""Probability that nothing is wrong, before anything is measured."""

WEIGHTS: Mapping[str, float] = {
    "diaphragm-leak": 3,
    "chamber-too-small": 1,
    "chamber-too-large": 1,
    "stroke-class": 1,
    "pushrod-too-long": 2,
    "pushrod-too-short": 2,
    "loose-bracket": 2,
    "arm-too-long": 1,
    "arm-too-short": 1,
    "adjuster-stuck": 8,
    "adjusted-too-tight": 2,
    "play": 4,
    "rollers-worn": 2,
    "cam-past-profile": 0.5,
    "anchor-frozen-released": 1,
    "anchor-frozen-applied": 2,
    "return-spring-broken": 2,
    "lining-thin": 4,
    "lining-cracked": 1,
    "lining-glazed": 3,
    "lining-oil-soaked": 3,
    "drum-oversize": 3,
    "drum-cracked": 1,
    "drum-out-of-round": 2,
}

ALWAYS_BEYOND = frozenset({"cam-past-profile"})
"""Defects that are named for a state which cannot be: where the brake still works, it is not this one."""

COMPLIANCE = (log(1.1), 0.15)
"""Wind-up of a brake over that of its setup, mean and sd of the logarithm. The published stroke budget has 1.15 in of
it, about 1.2 times the built-in brakes': 1.0 and 1.2 both lie within one sd."""

MODEL: Mapping[str, float] = {
    "stroke": 0.1 * INCH,
    "free_stroke": INCH / 32,
    "lining_clearance": 0.08,
    "arm_angle_released": np.radians(1.0),
    "arm_angle_applied": np.radians(1.0),
}
"""How far a solved figure may be off whatever is put in, 1 sd in mm or rad: what the model leaves out. Of the stroke
the most, as the fall of a chamber's force near its end is the project's own curve."""

MARKS_MISSED = 0.01
"""How often the marks of a long-stroke chamber are overlooked, or seen where there are none."""

CHAMBER_UNKNOWN = 0.15
"""How much a chamber's area may differ, 1 sd as a share, where the file does not say which chamber it is."""

LEAST_LINING = 2.0
"""mm: no lining that is still held on its shoe is thinner."""

GRADES = 2001


def prior_of(name: str, others: float) -> float:
    """Return the probability of a cause before anything is measured; ``others`` is the weight of all defects."""
    return SOUND if name == NOTHING else (1 - SOUND) * WEIGHTS[name] / others


def amount_at(defect: Defect, share: ArrayLike) -> Array:
    """Return the amount below which a defect lies with each probability, 0 to 1.

    A beta distribution from 0 to the most, of mean the usual amount and rising evenly from nothing: Beta(2, 2 (most /
    usual - 1)). What is either there or not has one amount.
    """
    if defect.usual >= defect.most:
        return defect.most + 0.0 * floats(share)
    x = floats(np.linspace(0.0, 1.0, GRADES))
    shape = 2 * (defect.most / defect.usual - 1)
    middle = 0.5 * (x[1:] + x[:-1])
    grown = np.concatenate([[0.0], np.cumsum(middle * (1 - middle) ** (shape - 1))])
    return defect.most * np.interp(floats(share), grown / grown[-1], x)


def amount_nodes(defect: Defect, count: int) -> tuple[Array, Array]:
    """Return amounts that are equally probable, and how far (1 sd) each stands for its neighbourhood."""
    if defect.usual >= defect.most:
        return floats([defect.most]), floats([0.0])
    edges = amount_at(defect, np.linspace(0.0, 1.0, count + 1))
    middle = amount_at(defect, (np.arange(count) + 0.5) / count)
    return middle, np.diff(edges) / np.sqrt(12)


@dataclass(frozen=True)
class Slack:
    """Free stroke, mm, of a brake whose adjuster does its work: mean and sd, cold."""

    mean: float
    sd: float


def slack_of(brake: Brake) -> Slack:
    """Return the slack of a sound brake: about the trade's 1/2 to 3/4 in, wider between adjustments by hand."""
    return Slack(0.625 * INCH, (0.10 if brake.adjuster.kind == "automatic" else 0.15) * INCH)


@dataclass(frozen=True)
class Room:
    """Between which figures linings and drum lie, evenly: of a brake without and with a cause, mm."""

    sound_lining: tuple[float, float]
    sound_drum: tuple[float, float]
    lining: tuple[float, float]
    drum: tuple[float, float]


def room_of(brake: Brake, name: str) -> Room:
    """Return the room for a cause: sound parts are inside their limits; what is named for a limit is beyond it."""
    thin, wide = _limits(brake)
    lining = (LEAST_LINING, thin if name == "lining-thin" else inf)
    drum = (wide if name == "drum-oversize" else 0.0, inf)
    return Room((thin, max(brake.lining.thickness, thin + 1.0)), (brake.drum.diameter, wide), lining, drum)


def _limits(brake: Brake) -> tuple[float, float]:
    """The least lining and the widest drum: the largest published one, the drum's own or the least published one."""
    thin = max(rule.limit_mm for rule in lining_limits(brake.axle) if rule.rule_set == "us")
    published = min(rule.limit_mm for rule in drum_limits(brake.drum.diameter / INCH))
    return thin, brake.drum.limit or published
