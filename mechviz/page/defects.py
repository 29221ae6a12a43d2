"""The defects on the page: each one's brake as a patch of the sound one's data, so that all of it moves as solved.

A patch holds what differs: links of the table, facts, deforming shapes, and the outlines and solids of parts that have
another form. With it the page's data are those of a page of the defective brake, in the sound brake's layout.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import isfinite
from typing import Any

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.defects import OUTCOMES, Wheel, felt
from geometry.errors import AssemblyError
from geometry.outlines import Outline
from geometry.outlines.all_parts import arm_outlines, wheel_outlines
from geometry.reasons import Reason
from geometry.setup import Setup
from mechviz.drawing.layout import Layout, rule_start
from mechviz.drawing.parts import path_data
from mechviz.faults.study import Row, drawn_part, drawn_setup, every_row, sound_row
from mechviz.page.facts import brake_facts
from mechviz.page.motion import motion_data
from mechviz.page.picture import drawn_facts
from mechviz.page.solid import SolidView
from mechviz.page.table import page_table

Data = Mapping[str, Any]

NEVER = (Reason.NOT_POSITIVE, Reason.INPUT_MISSING)
"""A brake that has less than nothing of something cannot be drawn: the defect is left out."""

FRAMES = 17
"""Of a deforming shape: fewer than the sound brake's, for a line between them is still hair's breadth off."""

CRACKED = ("return-spring-broken",)
"""Defects whose part is drawn in two pieces."""


@dataclass(frozen=True)
class Sound:
    """The brake as found: the page's ``data`` of it (``table``, ``motion``, ``facts``), parts, layout and solids."""

    setup: Setup
    data: Data
    outlines: tuple[Outline, ...]
    where: Layout
    solid: SolidView

    @cached_property
    def paths(self) -> Mapping[str, str]:
        """The parts as path data, by name."""
        return _paths(self.outlines)


def defects_data(sound: Sound) -> dict[str, Any]:
    """Return every defect that this brake can have, and the figures of the brake as found."""
    rows = [row for row in every_row(sound.setup) if row.outcome.reason not in NEVER]
    found = [_defect(sound, row) for row in rows]
    return {"sound": _outcome(sound_row(sound.setup)), "list": [one for one in found if one is not None]}


def _defect(sound: Sound, row: Row) -> dict[str, Any] | None:
    """One defect's words, figures and patch; None where it leaves a brake whose parts cannot be put together."""
    wheel, (one,) = row.wheel, row.defects
    try:
        patch = _patch(sound, one.name, wheel)
    except AssemblyError:
        return None
    return {
        "name": one.name,
        "title": one.title,
        "part": drawn_part(one, wheel.brake).replace("_", "-"),
        "inside": one.inside,
        "outside": one.outside,
        "blocked": wheel.blocked,
        "play": wheel.play,
        "kept": wheel.residual > 0 or wheel.fallen,
        "broken": one.name in CRACKED,
        "outcome": _outcome(row),
        "patch": patch,
    }


def _outcome(row: Row) -> dict[str, float | None]:
    figures = {name: float(getattr(row.outcome, name)) for name in OUTCOMES}
    return {name: value if isfinite(value) else None for name, value in figures.items()}


def _patch(sound: Sound, name: str, wheel: Wheel) -> dict[str, Any]:
    brake, condition = felt(wheel)
    own = replace(drawn_setup(sound.setup, wheel), brake=brake)
    table = page_table(brake, condition, own.test.pressure)
    table["found"] = _standing(table["found"], sound.data["table"]["found"])
    found = {"table": _changed(table, sound.data["table"])}
    outlines = _outlines(sound, brake, condition)
    if outlines is sound.outlines:
        return found
    where = replace(sound.where, rule=rule_start(brake, sound.where.scale, sound.where.arm))
    facts = brake_facts(own) | drawn_facts(brake, condition, outlines, where)
    facts["limit"]["known"] = sound.data["facts"]["limit"]["known"]  # the defect says which chamber it is
    return found | {
        "motion": _motion(brake, sound),
        "facts": _changed(facts, sound.data["facts"]),
        "shapes": _changed(_paths(outlines), sound.paths),
        "solid": sound.solid.patch(name, brake, condition),
    }


def _standing(mine: Mapping[str, float], sound: Mapping[str, float]) -> dict[str, float]:
    """Where the sliders stand; an adjuster that cannot follow stands where it stood."""
    return {name: value if isfinite(value) else sound[name] for name, value in mine.items()}


def _outlines(sound: Sound, brake: Brake, condition: Condition) -> tuple[Outline, ...]:
    """The brake's parts; only a plane that looks another is drawn anew. Friction, stiffness, springs are not seen."""
    was = sound.setup.brake
    arms = (brake.chamber, brake.linkage) != (was.chamber, was.linkage)
    formed = (brake.lining.end, brake.shoe.roller_diameter, float(condition.arrays[1]))
    wheels = formed != (was.lining.end, was.shoe.roller_diameter, sound.setup.as_found.drum_diameter)
    if not arms and not wheels:
        return sound.outlines
    old = {plane: tuple(o for o in sound.outlines if o.plane == plane) for plane in ("wheel", "arm")}
    wheel = wheel_outlines(brake, condition) if wheels else old["wheel"]
    return (*wheel, *(arm_outlines(brake, condition, parking=sound.setup.parking is not None) if arms else old["arm"]))


def _paths(outlines: tuple[Outline, ...]) -> dict[str, str]:
    return {o.name.replace("_", "-"): path_data(o) for o in outlines if o.body != "deforms" and o.verb != "rub"}


def _changed(mine: Data, sound: Data) -> dict[str, Any]:
    return {name: value for name, value in mine.items() if value != sound.get(name)}


def _motion(brake: Brake, sound: Sound) -> dict[str, Any]:
    """What differs of the motion, shape by shape."""
    mine, was = motion_data(brake, FRAMES), motion_data(sound.setup.brake, FRAMES)
    shapes = {name: _changed(mine[name], was[name]) for name in ("byStroke", "byCam")}
    return shapes | ({} if mine["roll"] == was["roll"] else {"roll": mine["roll"]})
