"""What a setup file says, read and checked: plain floats in the units used inside, None where nothing was given."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import pi
from typing import Any, ClassVar

from geometry.brake import Brake
from geometry.clevis import Clevis
from geometry.errors import Fault
from geometry.guards import Guard
from geometry.parking import Parking
from geometry.quantity import System

IRON_MELTS = 1423.15
"""1150 degC in K, where gray iron begins to melt: no drum is hotter (common practice)."""

COARSEST = 25.4
"""The coarsest that a length is read, 1 in: coarser than that nothing is told from its limit (the project's figure)."""


@dataclass(frozen=True)
class AsFound:
    """The brake as it is on the vehicle.

    Parameters
    ----------
    lining_thickness : float
        At mid arc, mm.
    drum_diameter : float
        Inner diameter as measured cold, mm.
    drum_temperature : float
        K.
    free_stroke, lining_clearance : float or None
        How the adjuster is set, one of the two: pushrod stroke to first touch; least gap at mid arc, released. mm.
    lining_resolution, drum_resolution : float
        How finely thickness and diameter were read, mm.
    slack_temperature : float
        The drum's temperature when free stroke or clearance were found, K.

    """

    lining_thickness: float
    drum_diameter: float
    drum_temperature: float
    free_stroke: float | None
    lining_clearance: float | None
    lining_resolution: float
    drum_resolution: float
    slack_temperature: float

    def __post_init__(self) -> None:
        guard = Guard("condition")
        guard.positive("length", lining_thickness=self.lining_thickness, drum_diameter=self.drum_diameter)
        guard.positive("length", lining_resolution=self.lining_resolution, drum_resolution=self.drum_resolution)
        guard.not_negative("temperature", drum_temperature=self.drum_temperature)
        guard.not_negative("temperature", slack_temperature=self.slack_temperature)
        guard.not_more("temperature", IRON_MELTS, drum_temperature=self.drum_temperature)
        guard.not_more("temperature", IRON_MELTS, slack_temperature=self.slack_temperature)
        guard.not_more("length", COARSEST, lining_resolution=self.lining_resolution)
        guard.not_more("length", COARSEST, drum_resolution=self.drum_resolution)
        play = {"free_stroke": self.free_stroke, "lining_clearance": self.lining_clearance}
        guard.not_negative("length", **{k: v for k, v in play.items() if v is not None}).done()


@dataclass(frozen=True)
class Test:
    """How the stroke is tested: chamber and reservoir pressure (MPa), how finely read, by which procedure and rules."""

    __test__: ClassVar[bool] = False  # not a test of pytest's

    pressure: float
    reservoir_pressure: float | None
    pressure_resolution: float
    procedure: str
    rules: tuple[str, ...]

    def __post_init__(self) -> None:
        guard = Guard("test").positive("pressure", pressure=self.pressure)
        guard.positive("pressure", pressure_resolution=self.pressure_resolution)
        if self.reservoir_pressure is not None:
            guard.positive("pressure", reservoir_pressure=self.reservoir_pressure)
        guard.done()


@dataclass(frozen=True)
class Measured:
    """What was read on the vehicle: lengths mm, angles rad; None where nothing was read."""

    stroke: float | None
    arm_angle_released: float | None
    arm_angle_applied: float | None
    arm_length: float | None
    pin_reach: float | None
    clamp_diameter: float | None
    long_stroke_marks: bool | None
    resolution: float
    angle_resolution: float

    def __post_init__(self) -> None:
        guard = Guard("measured").positive("length", **self._read("arm_length", "pin_reach", "clamp_diameter"))
        guard.positive("length", resolution=self.resolution).not_more("length", COARSEST, resolution=self.resolution)
        guard.positive("angle", angle_resolution=self.angle_resolution)
        guard.not_negative("length", **self._read("stroke"))
        guard.between("angle", 0.0, pi, **self._read("arm_angle_released", "arm_angle_applied")).done()

    def _read(self, *names: str) -> dict[str, float]:
        return {name: value for name in names if (value := getattr(self, name)) is not None}


@dataclass(frozen=True)
class Setup:
    """One brake to look at, from one file.

    ``source`` is the file or the built-in name; ``arm_holes`` the arm's holes, camshaft to hole, mm, shortest first,
    empty where the file names none; ``parking`` None where no parking section is fitted; ``stated`` the
    dotted keys that the file itself wrote, so that an inherited figure is no reading; ``beyond`` what was found to be
    past what this brake can do (only where it was asked for so that it can be judged); ``nominal`` the
    lengths that [linkage] states by dotted key, mm, though others were measured and solved with; ``marked_limit`` the
    readjustment limit marked on the chamber, mm; ``system`` the units that most of its lengths were typed in;
    ``values`` every figure and word that it was made of by dotted key, its base's and the defaults included.
    """

    title: str
    base: str | None
    source: str
    brake: Brake
    clevis: Clevis
    arm_holes: tuple[float, ...]
    parking: Parking | None
    as_found: AsFound
    test: Test
    measured: Measured
    nominal: Mapping[str, float]
    marked_limit: float | None
    lining_attachment: str | None
    lining_pads: int | None
    stated: frozenset[str]
    beyond: tuple[Fault, ...]
    system: System
    values: Mapping[str, Any] = field(default_factory=dict[str, Any], compare=False, repr=False)
