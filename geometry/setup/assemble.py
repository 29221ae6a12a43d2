"""Parts from values, with the faults of all of them: one broken key does not hide what is wrong elsewhere."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any, TypeVar, cast

from geometry.brake import Brake
from geometry.clevis import Clevis
from geometry.errors import Fault, MechvizError
from geometry.fit import fit_findings
from geometry.parking import Parking
from geometry.setup import parts
from geometry.setup.builtin import builtin_text
from geometry.setup.keys import known_keys
from geometry.setup.merge import PROFILE_KEYS, merged
from geometry.setup.missing import EXAMPLE_SETUP, needed_keys
from geometry.setup.model import AsFound, Measured, Test
from geometry.setup.sheet import Sheet, Values, read_sheet
from geometry.setup.text import read_toml

T = TypeVar("T")

_NO_STAND_IN = {"cam.profile", "cam.table", "linkage.arm_holes"}
"""Where one of these is broken nothing can be said of the rest of the part."""

_THRUST = "chamber.thrust"
_AS_FOUND = ("condition.", "measured.")


@dataclass(frozen=True)
class Assembly:
    """Everything of a setup that is made of parts. Only whole where there is no fault."""

    brake: Brake
    clevis: Clevis
    arm_holes: tuple[float, ...]
    parking: Parking | None
    as_found: AsFound
    test: Test
    measured: Measured


@dataclass
class Bench:
    """Makes parts one after the other from ``values``; ``broken`` tells of a key whether it may not be used."""

    values: Values
    is_broken: Callable[[str], bool]
    faults: list[Fault] = field(default_factory=list[Fault])
    unsound: set[str] = field(default_factory=set[str])

    def make(self, name: str, keys: Sequence[str], build: Callable[[Values], T]) -> T:
        """Return the part ``name``, or the example setup's where it cannot be made."""
        needed = needed_keys(self.values)
        lacking = [key for key in keys if self.is_broken(key) or (key in needed and key not in self.values)]
        try:
            if not lacking:
                return build(self.values)
            self.faults += self._faults_whatever_stands_in(build, lacking)
        except MechvizError as error:
            self.faults += error.faults
        self.unsound.add(name)
        return build(example_values())

    def _faults_whatever_stands_in(self, build: Callable[[Values], Any], lacking: Sequence[str]) -> list[Fault]:
        """Faults of a part's sound keys: those found with tiny and with huge stand-ins for the broken ones alike."""
        if not _NO_STAND_IN.isdisjoint(lacking):
            return []
        thrust_lacks = any(_THRUST in key for key in lacking)
        sound = {key: v for key, v in self.values.items() if not (thrust_lacks and _THRUST in key)}
        found = [_faults(build, sound | _stand_ins(lacking, size)) for size in (1e-9, 1e9)]
        return [fault for fault in found[0] if fault in found[1] and fault.where not in lacking]


def _faults(build: Callable[[Values], Any], values: Values) -> list[Fault]:
    try:
        build(values)
    except MechvizError as error:
        return list(error.faults)
    return []


def _stand_ins(keys: Sequence[str], size: float) -> Values:
    usual = {key: example_values().get(key, size) for key in keys if _THRUST not in key}
    return {key: size if isinstance(value, float) else value for key, value in usual.items()}


@cache
def example_values() -> Values:
    """Return the values of the setup whose parts stand in for broken ones."""
    own = read_sheet(read_toml(builtin_text(EXAMPLE_SETUP)))
    return parts.DEFAULTS | merged(own, {})


def assemble(values: Values, own: Sheet) -> tuple[Assembly, list[Fault], list[Fault]]:
    """Return the parts made from ``values``, their faults, and what was found to be beyond what this brake can do."""
    bench = Bench(parts.DEFAULTS | values, own.is_broken)
    brake = _brake(bench)
    clevis = bench.make("clevis", _keys("clevis"), parts.clevis)
    holes = bench.make("arm holes", ["linkage.arm_holes"], parts.arm_holes)
    parking = bench.make("parking", _keys("parking"), parts.parking)
    found = bench.make("condition", _keys("condition"), parts.as_found)
    settings = bench.make("test", _keys("test"), parts.test_settings)
    measured = bench.make("measured", _keys("measured"), parts.measured)
    findings = fit_findings(brake, found, measured, frozenset(bench.unsound))
    beyond = [fault for fault in findings if fault.where.startswith(_AS_FOUND)]
    wrong = [fault for fault in findings if fault not in beyond]
    return Assembly(brake, clevis, holes, parking, found, settings, measured), bench.faults + wrong, beyond


def _brake(bench: Bench) -> Brake:
    chamber = bench.make("chamber", [*_keys("chamber"), *_keys("chamber.thrust")], parts.chamber)
    linkage = bench.make("linkage", [f"linkage.{key}" for key in parts.LINKAGE_KEYS], parts.linkage)
    profile = bench.make("profile", _cam_keys(bench.values), parts.profile)
    shoe = bench.make("shoe", [f"foundation.{key}" for key in parts.SHOE_KEYS], parts.shoe)
    lining = bench.make("lining", [f"foundation.{key}" for key in parts.LINING_KEYS], parts.lining)
    drum = bench.make("drum", [f"foundation.drum_{key}" for key in ("diameter", "expansion", "limit")], parts.drum)
    adjuster = bench.make("adjuster", _keys("adjuster"), parts.adjuster)
    if bench.unsound & {"lining", "drum"}:
        lining, drum = parts.lining(example_values()), parts.drum(example_values())
        bench.unsound |= {"lining", "drum"}

    keys = [f"foundation.{key}" for key in ("efficiency", "windup_stiffness", "axle", "drum_rotation")]

    def build(values: Values) -> Brake:
        return Brake(chamber, linkage, profile, shoe, lining, drum, adjuster, *(values[key] for key in keys))

    try:
        return bench.make("brake", keys, build)
    except MechvizError:  # reported already: the lining is too thick for the drum
        lining, drum = parts.lining(example_values()), parts.drum(example_values())
        bench.unsound |= {"lining", "drum"}
        return build(example_values())


def _keys(section: str) -> list[str]:
    return [f"{section}.{key}" for key in known_keys()[section] if key != "thrust"]


def _cam_keys(values: Values) -> list[str]:
    return ["cam.profile", *(f"cam.{key}" for key in PROFILE_KEYS.get(cast(str, values.get("cam.profile")), ()))]
