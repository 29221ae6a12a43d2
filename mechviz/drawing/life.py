"""Conditions to hold against each other: the brake as new, as found, and as found with a hot drum."""

from dataclasses import dataclass, replace

from geometry.condition import Condition
from geometry.found import condition_of
from geometry.setup import Setup
from mechviz.checks.case import COLD, HOT
from mechviz.checks.slack import usual_free_stroke
from mechviz.drawing.scene import hotter
from mechviz.drawing.words import bound, figure, length


@dataclass(frozen=True)
class Stage:
    """A stage of a brake's life: its name, its condition in a few words, and the condition."""

    name: str
    words: str
    condition: Condition


def stages(setup: Setup) -> tuple[Stage, Stage, Stage]:
    """Return a setup's brake new and adjusted, as found, and as found at 600 degF."""
    found = condition_of(setup)
    lining = f"lining {length(setup.as_found.lining_thickness, setup.system)}"
    hot = figure(HOT, "temperature", setup.system)
    new = f"new lining {length(setup.brake.lining.thickness, setup.system)}, free stroke {_slack(setup)}"
    cold = figure(float(found.arrays[2]), "temperature", setup.system)
    return (
        Stage("New, adjusted", new, as_new(setup)),
        Stage("As found", f"{lining}, drum at {cold}", found),
        Stage("As found, drum hot", f"{lining}, drum at {hot}", hotter(found, HOT)),
    )


def as_new(setup: Setup) -> Condition:
    """Return the condition with new linings in a new cold drum, adjusted to the middle of the trade's free stroke."""
    brake = setup.brake
    found = replace(
        setup.as_found,
        lining_thickness=brake.lining.thickness,
        drum_diameter=brake.drum.diameter,
        drum_temperature=COLD,
        free_stroke=usual_free_stroke(),
        lining_clearance=None,
    )
    return condition_of(replace(setup, as_found=found))


def _slack(setup: Setup) -> str:
    return bound(usual_free_stroke(), setup.system)
