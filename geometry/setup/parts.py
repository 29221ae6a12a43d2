"""From values by dotted key to the parts of a brake, and to what was found on the vehicle."""

from typing import Any

from geometry.adjuster import Adjuster
from geometry.cam import Profile
from geometry.chamber import Chamber, ThrustTable
from geometry.clevis import Clevis
from geometry.drum import GRAY_IRON_EXPANSION, Drum
from geometry.errors import Fault, PartError
from geometry.guards import Guard
from geometry.involute import InvoluteProfile
from geometry.lining import Lining
from geometry.linkage import Linkage
from geometry.parking import SPRING_AREA, SPRING_FORCE, SPRING_RATE, Parking
from geometry.polar_cam import ConstantRiseProfile, TableProfile
from geometry.quantity import KINDS
from geometry.setup.model import AsFound, Measured, Test
from geometry.setup.sheet import Values
from geometry.setup.thrust import thrust_table
from geometry.shoe import Shoe

_INCH = KINDS["length"].inch_factor
_PSI = KINDS["pressure"].inch_factor
DEFAULTS: dict[str, Any] = {
    "chamber.return_spring_preload": 0.0,
    "chamber.return_spring_rate": 0.0,
    "foundation.return_spring_force": 0.0,
    "foundation.return_spring_rate": 0.0,
    "foundation.drum_rotation": "counter-clockwise",
    "foundation.drum_expansion": GRAY_IRON_EXPANSION,
    "adjuster.worm_turns": 22.0,
    "parking.fitted": False,
    "parking.spring_force": SPRING_FORCE,
    "parking.spring_rate": SPRING_RATE,
    "parking.spring_area": SPRING_AREA,
    "parking.vehicle": "truck",
    "condition.lining_resolution": _INCH / 32,
    "condition.drum_resolution": 0.005 * _INCH,
    "test.pressure_resolution": _PSI,
    "test.procedure": "roadside",
    "test.rules": ("us", "common"),
    "measured.resolution": _INCH / 16,
    "measured.angle_resolution": KINDS["angle"].inch_factor,
}
"""What holds where neither the file nor its base says anything."""


MOST_MARKED = 0.9
"""Share of the rated stroke that a limit marked on a chamber can be: no published one is nearer its end than 0.84."""


def chamber(values: Values) -> Chamber:
    """Make the chamber, its measured thrust included."""
    v = _section(values, "chamber")
    cone = {key: v[key] for key in ("diaphragm_diameter", "plate_diameter") if key in v}
    guard = Guard("chamber").positive("length", **cone)
    if "marked_limit" in v:
        guard.positive("length", marked_limit=v["marked_limit"])
        guard.hold(v["marked_limit"] <= MOST_MARKED * v["rated_stroke"], _marked_too_much(v))
    guard.done()
    return Chamber(
        v["style"],
        v["size"],
        v["rated_stroke"],
        v["effective_area"],
        v["return_spring_preload"],
        v["return_spring_rate"],
        _thrust(v),
    )


def _marked_too_much(v: Values) -> Fault:
    """A limit that is nearly the whole stroke is that of a chamber with a longer one."""
    limit, rated = v["marked_limit"], v["rated_stroke"]
    problem = "is too much of this chamber's whole stroke, rated_stroke = {amount}"
    fix = 'read both marks again (a long-stroke chamber has style = "clamp-long-stroke" and a longer rated_stroke)'
    where = "chamber.marked_limit"
    return Fault(where, problem, fix, limit, "length", most=MOST_MARKED * rated, amount=rated)


def _thrust(v: Values) -> ThrustTable | None:
    if "thrust.stroke" not in v:
        return None
    plain = Chamber("", "", v["rated_stroke"], v["effective_area"], v["return_spring_preload"], v["return_spring_rate"])
    spring = plain.return_spring_preload, plain.return_spring_rate
    measured = v["thrust.pressure"], v["thrust.stroke"], v["thrust.force"]
    return thrust_table(*measured, plain.rated_stroke, plain.effective_area, spring)


LINKAGE_KEYS = ("arm_length", "axis_offset", "face_distance", "pivot_depth", "pin_reach")


def linkage(values: Values) -> Linkage:
    """Make pushrod and arm."""
    v = _section(values, "linkage")
    return Linkage(**{key: v[key] for key in LINKAGE_KEYS})


def arm_holes(values: Values) -> tuple[float, ...]:
    """Return how far the arm's holes are from the camshaft, shortest first, each once; none where none are named."""
    holes: tuple[float, ...] = values.get("linkage.arm_holes", ())
    for hole in holes:
        Guard("linkage").positive("length", arm_holes=hole).done()
    return tuple(sorted(set(holes)))


def clevis(values: Values) -> Clevis:
    """Make the clevis and its thread."""
    return Clevis(**_section(values, "clevis"))


def profile(values: Values) -> Profile:
    """Make the cam."""
    v = _section(values, "cam")
    match v["profile"]:
        case "involute":
            return InvoluteProfile(v["base_radius"], v["heel_radius"], v["tip_radius"])
        case "constant-rise":
            return ConstantRiseProfile(v["rise"], v["heel_radius"], v["tip_radius"])
        case _:
            angles, radii = zip(*v["table"], strict=True)
            return TableProfile(angles, radii)


SHOE_KEYS = (
    "cam_distance",
    "anchor_distance",
    "anchor_spacing",
    "roller_diameter",
    "roller_spread",
    "roller_distance",
    "return_spring_force",
    "return_spring_rate",
)


def shoe(values: Values) -> Shoe:
    """Make the shoe."""
    v = _section(values, "foundation")
    return Shoe(**{key: v[key] for key in SHOE_KEYS})


LINING_KEYS = ("lining_thickness", "lining_start", "lining_end", "lining_width", "friction", "lining_arc_radius")


def lining(values: Values) -> Lining:
    """Make the lining as new."""
    v = _section(values, "foundation")
    size = v["lining_thickness"], v["lining_start"], v["lining_end"], v["lining_width"]
    return Lining(*size, v["friction"], v.get("lining_arc_radius"))


def drum(values: Values) -> Drum:
    """Make the drum as new."""
    v = _section(values, "foundation")
    return Drum(v["drum_diameter"], v["drum_expansion"], v.get("drum_limit"))


def adjuster(values: Values) -> Adjuster:
    """Make the slack adjuster."""
    v = _section(values, "adjuster")
    nothing: Values = {"senses": None}
    return Adjuster(**nothing | v)


def parking(values: Values) -> Parking | None:
    """Make the parking section; None where none is fitted."""
    v = _section(values, "parking")
    return Parking(v["spring_force"], v["spring_rate"], v["spring_area"], v["vehicle"]) if v["fitted"] else None


def as_found(values: Values) -> AsFound:
    """Make the present condition; a drum that is too hot is said once where its temperature is the slack's too."""
    found = _section(values, "condition")
    rest: Values = {"free_stroke": None, "lining_clearance": None, "slack_temperature": found["drum_temperature"]}
    try:
        return AsFound(**rest | found)
    except PartError as error:
        own = [fault for fault in error.faults if fault.where.removeprefix("condition.") in found]
        raise PartError(own or error.faults) from None


def test_settings(values: Values) -> Test:
    """Make the test's settings."""
    optional: Values = {"reservoir_pressure": None}
    return Test(**optional | _section(values, "test"))


MEASURED_KEYS = (
    "stroke",
    "arm_angle_released",
    "arm_angle_applied",
    "arm_length",
    "pin_reach",
    "clamp_diameter",
    "long_stroke_marks",
)


def measured(values: Values) -> Measured:
    """Make the readings, None where there is none."""
    nothing: Values = dict.fromkeys(MEASURED_KEYS)
    return Measured(**nothing | _section(values, "measured"))


def _section(values: Values, name: str) -> Values:
    return {key.removeprefix(f"{name}."): v for key, v in values.items() if key.startswith(f"{name}.")}
