"""How often the diagnosis is right, per defect, and whether its probabilities come true.

Run it with ``python -m tests.benchmarks.diagnosis [BRAKES]``. Brakes are drawn with a known cause, solved exactly,
measured with a mechanic's error and rounding (`tests.diagnosis.draws`), and diagnosed: as many of each cause for the
rates, as often as the priors say for the calibration. It says whether the diagnosis is right about the model, not
whether the model is right about brakes.
"""

import sys
from collections.abc import Sequence

import numpy as np

from geometry.diagnosis import groups_of, predict, readings_of, telling_apart
from geometry.setup import read_setup
from tests.diagnosis.draws import EVERYTHING, WORKSHOP, Drawn, draw
from tests.diagnosis.score import Scored, scored

SETUP = "drive-16.5x7"
KITS = {
    "stroke alone": ("stroke",),
    "stroke, free stroke": ("stroke", "free_stroke"),
    "wheel on, ten minutes": WORKSHOP,
    "everything": EVERYTHING,
}


def with_kit(drawn: Sequence[Drawn], kit: Sequence[str]) -> list[Drawn]:
    """The same brakes with only some of their readings."""
    return [Drawn(one.cause, one.readings.without(*(set(EVERYTHING) - set(kit)))) for one in drawn]


def main(brakes: int) -> None:
    setup = read_setup(SETUP)
    predictions = predict(setup)
    names = predictions.names
    groups = groups_of(telling_apart(predictions, readings_of(setup)))
    each = max(10, brakes // len(names))
    alike = draw(setup, [name for name in names for _ in range(each)], EVERYTHING, 11)
    print(f"{each} brakes of each cause, equally often; first, among the first three, its group first:")
    print_rates({kit: scored(predictions, with_kit(alike, of)) for kit, of in KITS.items()}, names, groups)
    often = np.random.default_rng(12).choice(names, brakes, p=predictions.prior)
    for error in (1.0, 2.0):
        drawn = draw(setup, [str(name) for name in often], EVERYTHING, 13, error)
        for kit, of in KITS.items():
            print(f"\n{brakes} brakes as often as the priors say, {kit}, hand's error x {error:g}:")
            print_calibration(scored(predictions, with_kit(drawn, of)).grouped(groups))


def print_rates(kits: dict[str, Scored], names: Sequence[str], groups: Sequence[Sequence[int]]) -> None:
    print(f"{'':24s}" + "".join(f"{kit:>24s}" for kit in kits))
    for n, name in enumerate(names):
        cells = [_rates(one, one.truth == n, groups) for one in kits.values()]
        print(f"{name:24s}" + "".join(f"{cell:>24s}" for cell in cells))
    print(f"{'all':24s}" + "".join(f"{_rates(one, one.truth >= 0, groups):>24s}" for one in kits.values()))
    for group in groups:
        if len(group) > 1:
            print("cannot be told apart:", ", ".join(names[n] for n in group))


def _rates(one: Scored, of: np.ndarray, groups: Sequence[Sequence[int]]) -> str:
    shares = one.among_first(1, of), one.among_first(3, of), one.grouped(groups).among_first(1, of)
    return "  ".join(f"{100 * share:4.0f} %" for share in shares)


def print_calibration(one: Scored) -> None:
    every = one.truth >= 0
    first, three = one.among_first(1, every), one.among_first(3, every)
    print(f"group first {first:.2f}, among three {three:.2f}, Brier {one.brier:.3f}")
    for low, high, count, stated, came_true in one.calibration():
        error = (stated * (1 - stated) / count) ** 0.5
        print(f"  {low:4.2f} to {high:4.2f}: {count:6d} said {stated:.3f}, came true {came_true:.3f} +- {error:.3f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 4000)
