"""How long a study of a million brakes takes, and how much faster that is than one brake at a time.

Run it with ``python -m tests.benchmarks.study``. Two studies: one of what a designer of the mounting changes (arm, rod,
chamber, slack), and one of the foundation as well, in which no brake's cam is like another's. Each brake is solved new
and worn out, cold and hot. The brakes that are solved one at a time are the first of the same study, each made and
solved by the scalar functions, and must come out the same. All figures come from one run; take the ratio.
"""

import time
import tracemalloc
from collections.abc import Callable

import numpy as np

from geometry.applied import solve_applied
from geometry.condition import Condition
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import MechvizError
from geometry.found import released_angle
from geometry.linkage import arm_state
from geometry.loads import loads_of
from geometry.setup import read_setup
from mechviz.checks.case import HOT
from mechviz.study import Outcome, Parameter, Plan, Study, Uniform, run
from mechviz.study.dominance import non_dominated
from mechviz.study.sensitivity import sensitivity
from mechviz.study.tolerance import tolerance
from tests.study.singly import made

IN = 25.4
POINTS, SINGLY = 1_000_000, 1_000
MOUNTING = (
    Parameter("linkage.arm_length", Uniform(5.0 * IN, 6.5 * IN)),
    Parameter("linkage.pin_reach", Uniform(5.5 * IN, 6.5 * IN)),
    Parameter("linkage.axis_offset", Uniform(5.2 * IN, 5.5 * IN)),
    Parameter("chamber.effective_area", Uniform(20 * IN**2, 36 * IN**2)),
    Parameter("condition.free_stroke", Uniform(0.4 * IN, 0.8 * IN)),
)
FOUNDATION = (
    *MOUNTING,
    Parameter("cam.base_radius", Uniform(0.48 * IN, 0.52 * IN)),
    Parameter("foundation.roller_diameter", Uniform(1.55 * IN, 1.65 * IN)),
    Parameter("foundation.anchor_spacing", Uniform(2.3 * IN, 2.7 * IN)),
    Parameter("foundation.friction", Uniform(0.3, 0.4)),
    Parameter("foundation.windup_stiffness", Uniform(9e6, 1.15e7)),
)
CONDITIONS = (("new", "cold"), ("new", "hot"), ("worn-out", "cold"), ("worn-out", "hot"))
OUTCOMES = tuple(
    Outcome(name, *at)  # pyright: ignore[reportArgumentType]
    for name in ("applied-stroke", "arm-angle-applied", "brake-torque")
    for at in CONDITIONS
)


def timed(call: Callable[[], object], runs: int = 3) -> float:
    """Return the least time of several runs, s."""
    times: list[float] = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


def one_at_a_time(study: Study, values: dict[str, np.ndarray]) -> list[list[float]]:
    """Make and solve each brake by itself, in the order of the outcomes."""
    rows: list[list[float]] = []
    for n in range(SINGLY):
        try:
            rows.append(solved(study, {key: float(column[n]) for key, column in values.items()}))
        except MechvizError:
            rows.append([np.nan] * len(study.outcomes))
    return rows


def solved(study: Study, figures: dict[str, float]) -> list[float]:
    """Solve one brake in every condition, each state by itself."""
    brake, found, test = made(study.base, figures)
    stroke, angle, torque = list[float](), list[float](), list[float]()
    for wear, heat in CONDITIONS:
        thickness = brake.lining.thickness if wear == "new" else study.least_lining
        worn = np.array([thickness]), np.array([brake.drum.diameter])
        slack = np.array([found.free_stroke], dtype=np.float64), np.array([np.nan])
        released = released_angle(brake, *worn, REFERENCE_TEMPERATURE, *slack)
        condition = Condition(*worn, HOT if heat == "hot" else REFERENCE_TEMPERATURE, released)
        applied = solve_applied(brake, condition, test.pressure)
        stroke.append(float(applied.stroke[0]))
        angle.append(float(arm_state(brake.linkage, applied.stroke).arm_angle[0]))
        torque.append(float(loads_of(brake, condition, test.pressure, applied).brake_torque[0]))
    return [*stroke, *angle, *torque]


def main() -> None:
    """Measure and print."""
    base = read_setup("drive-16.5x7")
    for name, parameters in (("mounting", MOUNTING), ("foundation too", FOUNDATION)):
        study = Study(base, parameters, OUTCOMES, Plan("monte-carlo", POINTS))
        values = study.plan.values(parameters)
        whole = timed(lambda s=study: run(s), 2)
        alone = timed(lambda s=study: run(s, workers=1), 2)
        result = run(study)
        singly = timed(lambda s=study, v=values: one_at_a_time(s, v), 1)
        rows = np.array(one_at_a_time(study, values))
        mine = np.stack([result.outcomes[o.key][:SINGLY] for o in OUTCOMES], axis=1)
        worst = float(np.nanmax(np.abs(mine / rows - 1)))
        same = bool(np.array_equal(np.isnan(mine), np.isnan(rows)))
        rate, slow = POINTS / whole, SINGLY / singly
        print(f"{name}: {len(parameters)} parameters, {len(CONDITIONS)} conditions, {len(OUTCOMES)} outcomes")
        print(f"  a million points              {whole:10.1f} s ({rate:,.0f} a second; one thread {alone:.1f} s)")
        print(
            f"  one at a time                 {slow:10,.0f} a second (largest difference {worst:.0e}, same gaps {same})"
        )
        print(f"  ratio                         {rate / slow:10,.0f}")
        print(f"  possible, inside every limit  {result.valid.mean():10.1%} {result.inside.mean():.1%}")
    # the torque asks for a long arm, the stroke for a short one, and the less torque the longer the shoes last
    keys = ("brake-torque.worn-out.cold", "applied-stroke.worn-out.hot", "arm-angle-applied.new.cold")
    objectives = np.stack([study.outcome(key).objective(result.outcomes[key]) for key in keys], axis=1)
    objectives = np.column_stack([objectives, -objectives[:, 0]])
    for count in (2, 3, 4):
        some = objectives[np.isfinite(objectives).all(axis=1), :count]
        print(f"front of {len(some):,} points in {count}  {timed(lambda s=some: non_dominated(s), 1):9.2f} s")
    print(f"sensitivity, 2048 base points   {timed(lambda: sensitivity(study, 2048), 1):10.2f} s")
    print(f"tolerances, 20 000 brakes       {timed(lambda: tolerance(study, 20_000), 1):10.2f} s")
    tracemalloc.start()
    few = run(Study(base, FOUNDATION, OUTCOMES, Plan("monte-carlo", 200_000)))
    peak = tracemalloc.get_traced_memory()[1]
    print(f"bytes a point at the peak       {peak / few.size:10.0f}")


if __name__ == "__main__":
    main()
