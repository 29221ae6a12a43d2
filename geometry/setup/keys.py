"""Every key that a setup file may have. None of them is required here: a base may have it."""

from functools import cache
from typing import cast, get_args

from pydantic import BaseModel, ConfigDict, Field

from geometry.quantity import KINDS, KindName
from geometry.setup import fields as f


class Section(BaseModel):
    """A section of the file: no key but those named."""

    model_config = ConfigDict(extra="forbid")


class ThrustKeys(Section):
    """[chamber.thrust]: pushrod force against stroke as measured at one pressure, the return spring included."""

    pressure: f.Pressure | None = None
    stroke: f.Lengths | None = None
    force: f.Forces | None = None


class ChamberKeys(Section):
    """[chamber]."""

    style: f.Style | None = None
    size: f.Size | None = None
    rated_stroke: f.Length | None = None
    marked_limit: f.Length | None = None
    effective_area: f.Area | None = None
    diaphragm_diameter: f.Length | None = None
    plate_diameter: f.Length | None = None
    return_spring_preload: f.Force | None = None
    return_spring_rate: f.Rate | None = None
    thrust: ThrustKeys | None = None


class LinkageKeys(Section):
    """[linkage]."""

    arm_length: f.Length | None = None
    axis_offset: f.Length | None = None
    face_distance: f.Length | None = None
    pivot_depth: f.Length | None = None
    pin_reach: f.Length | None = None
    arm_holes: f.Holes | None = None


class ClevisKeys(Section):
    """[clevis]: what a pushrod's cut depends on; nothing else is worked out from it."""

    pin_to_inside: f.Length | None = None
    pin_to_end: f.Length | None = None
    rod_thread: f.Length | None = None
    rod_reach: f.Length | None = None


class CamKeys(Section):
    """[cam]: which of the keys hold depends on ``profile``."""

    profile: f.Profile | None = None
    base_radius: f.Length | None = None
    heel_radius: f.Length | None = None
    tip_radius: f.Length | None = None
    rise: f.Rise | None = None
    table: f.CamTable | None = None


class FoundationKeys(Section):
    """[foundation]."""

    drum_diameter: f.Length | None = None
    drum_limit: f.Length | None = None
    drum_expansion: f.Expansion | None = None
    drum_rotation: f.Rotation | None = None
    cam_distance: f.Length | None = None
    anchor_distance: f.Length | None = None
    anchor_spacing: f.Length | None = None
    roller_diameter: f.Length | None = None
    roller_spread: f.Length | None = None
    roller_distance: f.Length | None = None
    return_spring_force: f.Force | None = None
    return_spring_rate: f.Rate | None = None
    lining_thickness: f.Length | None = None
    lining_start: f.Angle | None = None
    lining_end: f.Angle | None = None
    lining_width: f.Length | None = None
    lining_arc_radius: f.ArcRadius | None = None
    lining_attachment: f.Attachment | None = None
    lining_pads: f.Pads | None = None
    friction: f.Number | None = None
    efficiency: f.Number | None = None
    windup_stiffness: f.Stiffness | None = None
    axle: f.Axle | None = None


class AdjusterKeys(Section):
    """[adjuster]."""

    kind: f.AdjusterKind | None = None
    senses: f.Senses | None = None
    worm_turns: f.Number | None = None
    state: f.AdjusterState | None = None
    deadband: f.Length | None = None
    step: f.Angle | None = None
    interval: f.Length | None = None
    slip: f.Number | None = None


class ParkingKeys(Section):
    """[parking]: the spring section behind the service chamber, where one is fitted."""

    fitted: f.Flag | None = None
    spring_force: f.Force | None = None
    spring_rate: f.Rate | None = None
    spring_area: f.Area | None = None
    vehicle: f.Vehicle | None = None


class ConditionKeys(Section):
    """[condition]: as found on the vehicle."""

    lining_thickness: f.Length | None = None
    lining_resolution: f.Length | None = None
    drum_diameter: f.Length | None = None
    drum_resolution: f.Length | None = None
    drum_temperature: f.Temperature | None = None
    slack_temperature: f.Temperature | None = None
    free_stroke: f.Length | None = None
    lining_clearance: f.Length | None = None


class TestKeys(Section):
    """[test]."""

    __test__ = False  # not a test of pytest's

    pressure: f.Pressure | None = None
    reservoir_pressure: f.Pressure | None = None
    pressure_resolution: f.Pressure | None = None
    procedure: f.Procedure | None = None
    rules: f.Rules | None = None


class MeasuredKeys(Section):
    """[measured]: any of these, each may be missing."""

    stroke: f.Length | None = None
    arm_angle_released: f.Angle | None = None
    arm_angle_applied: f.Angle | None = None
    arm_length: f.Length | None = None
    pin_reach: f.Length | None = None
    clamp_diameter: f.Length | None = None
    long_stroke_marks: f.Flag | None = None
    resolution: f.Length | None = None
    angle_resolution: f.Angle | None = None


class FileKeys(Section):
    """The whole file."""

    schema_number: f.Schema | None = Field(None, alias="schema")
    title: f.Line | None = None
    base: f.Line | None = None
    chamber: ChamberKeys | None = None
    linkage: LinkageKeys | None = None
    clevis: ClevisKeys | None = None
    cam: CamKeys | None = None
    foundation: FoundationKeys | None = None
    adjuster: AdjusterKeys | None = None
    parking: ParkingKeys | None = None
    condition: ConditionKeys | None = None
    test: TestKeys | None = None
    measured: MeasuredKeys | None = None


SECTIONS: dict[str, type[Section]] = {
    "chamber": ChamberKeys,
    "chamber.thrust": ThrustKeys,
    "linkage": LinkageKeys,
    "clevis": ClevisKeys,
    "cam": CamKeys,
    "foundation": FoundationKeys,
    "adjuster": AdjusterKeys,
    "parking": ParkingKeys,
    "condition": ConditionKeys,
    "test": TestKeys,
    "measured": MeasuredKeys,
}


@cache
def known_keys() -> dict[str, tuple[str, ...]]:
    """Return the keys of each section by the section's name; ``""`` is the top of the file."""
    top = {"": tuple(field.alias or name for name, field in FileKeys.model_fields.items())}
    return top | {name: tuple(section.model_fields) for name, section in SECTIONS.items()}


@cache
def kind_of(key: str) -> KindName | None:
    """Return the kind of quantity that a dotted key takes; None for a word, a list or what people are never shown."""
    section, _, name = key.rpartition(".")
    field = SECTIONS[section].model_fields.get(name) if section in SECTIONS else None
    for choice in get_args(field.annotation) if field else ():
        for validator in getattr(choice, "__metadata__", ()):
            if getattr(validator.func, "func", None) is f.read_quantity and validator.func.args[0] in KINDS:
                return cast(KindName, validator.func.args[0])
    return None
