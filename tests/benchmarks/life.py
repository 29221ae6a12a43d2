"""How many points of a working life the solver gives per second. Run it with ``python -m tests.benchmarks.life``.

A point is everything of `geometry.life.Life`: the brake released, an application cold and one hot. Processor time says
what it costs, wall time what one waits on this machine's cores; machines are noisy, so read both of one run.
"""

import time

import numpy as np

from geometry.found import condition_of
from geometry.life import life_states, service, upkeep
from geometry.life.states import WORKERS
from geometry.setup import read_setup
from geometry.states import at_pressure

POINTS = 1_000_000
RUNS = 5
SINGLY = 200


def main() -> None:
    """Print points a second, and the ratio to solving the same applications one at a time."""
    setup = read_setup("drive-16.5x7")
    one = service(setup.brake, 15.875, setup.test.pressure, 588.0)
    kept = upkeep(one)
    wear = np.linspace(0.0, 12.0, POINTS)
    waits, costs = [], []
    for _ in range(RUNS):
        wall, cpu = time.perf_counter(), time.process_time()
        life_states(one, kept, wear)
        waits.append(time.perf_counter() - wall)
        costs.append(time.process_time() - cpu)
    condition = condition_of(setup)
    start = time.perf_counter()
    for _ in range(SINGLY):
        at_pressure(one.brake, condition, one.pressure, "")
    each = (time.perf_counter() - start) / SINGLY
    print(f"points a second, {WORKERS} threads: {POINTS / min(waits):12,.0f}")
    print(f"processor time a point:       {1e6 * min(costs) / POINTS:12.2f} us")
    print(f"one state at a time:          {1e6 * each:12.0f} us")


if __name__ == "__main__":
    main()
