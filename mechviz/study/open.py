"""How much of a point's outcomes readings and model leave open, so that it is judged as the checks judge its file."""

from collections.abc import Mapping
from dataclasses import replace
from math import inf, isfinite

import numpy as np

from geometry.arrays import Array
from geometry.setup import Setup
from geometry.setup.merge import PLAY
from mechviz.checks.agreement import ANGLE_ALLOWANCE
from mechviz.checks.judge import Band, judge_solved
from mechviz.checks.row import Result
from mechviz.checks.slack_cold import GROWTH_SHORT
from mechviz.checks.spread import FEELER, LENGTHS
from mechviz.study.limits import Limit
from mechviz.study.outcome import Outcome
from mechviz.study.parameter import Parameter
from mechviz.study.running import Result as Solved
from mechviz.study.running import Study, solve_at
from mechviz.study.spread import Listed

ARM_ANGLES = ("arm-angle-released", "arm-angle-contact", "arm-angle-applied")
"""The angles that the model's own allowance belongs to."""
STROKES = ("applied-stroke", "stroke-reserve", "push-reserve")
"""What grows with the drum's heat."""
READ = ("free-stroke",)
"""What is a reading of the file itself, and fails as read."""


def worse_steps(setup: Setup) -> dict[str, float]:
    """Return by key the step (mm, MPa) that makes a figure that can be read on a vehicle worse, as in the checks."""
    found, tape = setup.as_found, setup.measured.resolution
    steps = {
        "condition.lining_thickness": -found.lining_resolution,
        "condition.drum_diameter": found.drum_resolution,
        "condition.free_stroke": tape,
        "condition.lining_clearance": FEELER,
        "test.pressure": setup.test.pressure_resolution,
        **{f"linkage.{name}": tape for name in LENGTHS},
    }
    return {key: step for key, step in steps.items() if _has(setup, key)}


def _has(setup: Setup, key: str) -> bool:
    value = setup.values.get(key)
    return isinstance(value, int | float) and isfinite(value)


def solve_open(study: Study, values: Mapping[str, float]) -> tuple[Solved, dict[str, tuple[float, float]]]:
    """Return a point solved (its first row), and how much is open of each outcome: in all, and towards the better.

    The further rows have each reading a step worse. In the unit of the outcome.
    """
    setup, steps = study.base, worse_steps(study.base)
    if set(PLAY) & set(values):  # the slack is said in one way
        steps = {key: step for key, step in steps.items() if key not in PLAY or key in values}
    more = [key for key in steps if key not in values]
    own = {key: float(setup.values[key]) for key in more}
    wider = replace(study, parameters=(*study.parameters, *(Parameter(key, Listed((own[key],))) for key in more)))
    rows = {key: np.full(1 + len(steps), value) for key, value in {**values, **own}.items()}
    for place, (key, step) in enumerate(steps.items(), start=1):
        rows[key][place] += step
    found = solve_at(wider, rows, workers=1)
    return found, {o.key: _open(o, found.outcomes, study.outcomes) for o in study.outcomes}


def _open(outcome: Outcome, columns: Mapping[str, Array], every: tuple[Outcome, ...]) -> tuple[float, float]:
    """How much is open of one outcome; without bound where a reading a step worse leaves no such state."""
    column = columns[outcome.key]
    off = np.abs(column[1:] - column[0])
    model = ANGLE_ALLOWANCE if outcome.name in ARM_ANGLES else _growth_short(outcome, columns, every)
    amount = float(np.where(np.isnan(off), inf, off).sum()) + model
    return amount, 0.0 if outcome.name in READ else float(np.nansum(off)) + model


def _growth_short(outcome: Outcome, columns: Mapping[str, Array], every: tuple[Outcome, ...]) -> float:
    """By how much the growth of a hot brake's stroke may be more than solved, where the same cold is asked for too."""
    if outcome.name not in STROKES or outcome.condition[1] != "hot":
        return 0.0
    cold = next((o for o in every if o.name == outcome.name and o.condition == (outcome.wear, "cold")), None)
    growth = 0.0 if cold is None else abs(float(columns[outcome.key][0] - columns[cold.key][0]))
    return GROWTH_SHORT * growth if isfinite(growth) else 0.0


def verdict(value: float, limit: Limit, left: tuple[float, float]) -> Result:
    """Judge a point's outcome (its limit being that of this one point) as the checks judge a solved figure."""
    band = Band(float(limit.least), float(limit.most), limit.least_included, limit.most_included)
    return judge_solved(value, band, *left)
