"""Many setups from one: any of its figures replaced by an array, its parts made by the same functions."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from geometry.arrays import Array, Mask, floats
from geometry.brake import Brake
from geometry.errors import Fault, PartError
from geometry.guards import marking
from geometry.quantity import KindName
from geometry.setup import parts
from geometry.setup.keys import SECTIONS, kind_of
from geometry.setup.merge import PLAY
from geometry.setup.model import AsFound, Setup, Test
from geometry.setup.sheet import Values
from geometry.setup.words import file_fault

_VARIED_SECTIONS = ("chamber", "linkage", "cam", "foundation", "condition", "test")
_NOT_VARIED = {
    "chamber.diaphragm_diameter",
    "chamber.plate_diameter",
    "linkage.arm_holes",
    "condition.lining_resolution",
    "condition.drum_resolution",
    "test.pressure_resolution",
    "test.reservoir_pressure",
}
"""Figures that stand for others, say how finely something was read, or do nothing to the mechanism."""
_MORE_KINDS: Mapping[str, KindName] = {
    "foundation.friction": "number",
    "foundation.efficiency": "number",
    "foundation.lining_arc_radius": "length",
}
"""Of what is written in a file without a unit, or as a word too."""


@cache
def varied_keys() -> Mapping[str, KindName]:
    """Return the dotted keys that can be an array, with the kind of quantity that each is."""
    keys = (f"{section}.{name}" for section in _VARIED_SECTIONS for name in SECTIONS[section].model_fields)
    found: dict[str, KindName] = {}
    for key in keys:
        kind = _MORE_KINDS.get(key) or kind_of(key)
        if kind is not None and key not in _NOT_VARIED:
            found[key] = kind
    return found


@dataclass(frozen=True)
class ManySetups:
    """The parts of many setups; ``wrong`` are those with a part that cannot be, which must not be solved."""

    brake: Brake
    as_found: AsFound
    test: Test
    wrong: Mask


def many_setups(setup: Setup, figures: Mapping[str, Array]) -> ManySetups:
    """Return the parts of a setup with other ``figures`` by dotted key, in the units used inside; shapes broadcast.

    What the guards refuse of one setup is marked in ``wrong``. Raises `PartError` for a key that this setup cannot
    have another figure for.
    """
    values = one_setup_values(setup, {key: floats(figure) for key, figure in figures.items()})
    with marking() as marks:
        chamber, linkage, shoe = parts.chamber(values), parts.linkage(values), parts.shoe(values)
        rest = (values[f"foundation.{name}"] for name in ("efficiency", "windup_stiffness", "axle", "drum_rotation"))
        bedding = parts.lining(values), parts.drum(values), parts.adjuster(values)
        brake = Brake(chamber, linkage, parts.profile(values), shoe, *bedding, *rest)
        found, test = parts.as_found(values), parts.test_settings(values)
    return ManySetups(brake, found, test, marks.wrong)


def one_setup_values(setup: Setup, figures: Mapping[str, object]) -> Values:
    """Return a setup's values by dotted key under others; one way to state the slack displaces the other."""
    check_varied(setup, figures)
    values: Values = {**setup.values}
    for key, other in (PLAY, PLAY[::-1]):
        if key in figures:
            values.pop(other, None)
    return values | dict(figures)


def check_varied(setup: Setup, keys: Mapping[str, object]) -> None:
    """Raise `PartError` with a fault for each key that this setup cannot have many figures of."""
    faults = [fault for key in keys for fault in _unfit(setup, key)]
    if all(key in keys for key in PLAY):
        problem = "is varied as well as free_stroke, and each fixes the adjuster's setting"
        faults.append(file_fault(PLAY[1], problem, "keep one of them"))
    if faults:
        raise PartError(faults)


def _unfit(setup: Setup, key: str) -> list[Fault]:
    if key not in varied_keys():
        return [file_fault(key, "is no figure that can be varied", "a dimension of the setup file")]
    optional = (*PLAY, "condition.slack_temperature", "foundation.drum_limit", "foundation.lining_arc_radius")
    if key not in setup.values and key not in (*optional, "chamber.marked_limit"):
        problem, fix = "is no figure of this base", "leave it out, or take a base that has it"
        return [file_fault(key, problem, fix)]
    tabled = ("chamber.rated_stroke", "chamber.effective_area", "chamber.return_spring_preload")
    if setup.brake.chamber.thrust is not None and key in (*tabled, "chamber.return_spring_rate"):
        return [file_fault(key, "belongs to the measured thrust of this chamber", "a base without [chamber.thrust]")]
    return []


def one_setup_figures(figures: Mapping[str, Array], index: int) -> dict[str, float]:
    """Return the figures of one of many setups, each array being (n,) or of one element."""
    return {key: float(array.reshape(-1)[min(index, array.size - 1)]) for key, array in figures.items()}


def rows_of(figures: Mapping[str, Array], which: Mask) -> dict[str, Array]:
    """Return the figures (n,) of those setups alone at which ``which`` (n,) is true."""
    return {key: np.broadcast_to(array, which.shape)[which] for key, array in figures.items()}
