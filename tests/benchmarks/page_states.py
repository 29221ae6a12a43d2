"""How long the page's script takes for one state, and how large its table is.

Run it with ``python -m tests.benchmarks.page_states``. The states are random ones over the whole box of the built-in
drive axle's brake, each into the same object as the page does, on one core of whatever node there is; the page may
spend 2 ms of script a frame.
"""

import numpy as np

from mechviz.page.table import table_json
from tests.page.engines import in_node, node
from tests.page.samples import SAMPLES, points
from tests.page.test_table import rows

STATES = 20_000


def main() -> None:
    """Measure and print."""
    if node() is None:
        raise SystemExit("no node here: install the test extra, whose type checker brings it")
    sample = SAMPLES["drive"]()
    table = sample.table()
    columns = points(sample, STATES, seed=1)
    print(f"table                 {len(table_json(table)) / 1000:9.1f} kB of JSON")
    for method, asked in (("state", "pressure"), ("atStroke", "stroke")):
        given = rows(columns, "lining", "temperature", "setting", asked)
        held = [point | {key: given[0][key] for key in ("lining", "temperature")} for point in given]
        for what, wanted in (("everything changes", given), (f"{asked} and setting change", held)):
            times = np.array(in_node("times", table, wanted, method))
            print(f"{method:9}{np.median(times):9.2f} us a state, median of {len(times)} runs ({what})")


if __name__ == "__main__":
    main()
