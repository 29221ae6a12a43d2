"""The table that the animated page is driven by: solved once here, only interpolated there.

Everything that moves follows from four figures: chamber pressure, lining thickness, drum temperature and the
adjuster's setting (the cam's released angle). The drum's diameter is the setup's. The chain of motion comes apart into
links of one variable, so the table is short and holds for any combination:

==========  ====================================  =====================================================
part        against                               gives
==========  ====================================  =====================================================
arm         arm turn from released                stroke, lever, arm angle, pushrod tilt
cam         cam angle, heel to tip                shoe turns, return spring's torque on the camshaft
shoe        shoe turn, heel to tip                cam angle of either side, moment arm, push levers
surface     lining thickness                      the circle that the lining's surface lies on
longShoe    lining thickness, shoe turn           what the shoe factors are made of
thrust      stroke                                share of pressure times area that reaches the pushrod
==========  ====================================  =====================================================

``constants`` are the single figures that join them, ``box`` the ends of the page's sliders, ``found`` where they stand
to begin with, ``limits`` where motion ends, ``reasons`` the codes and words for states that cannot exist. All figures
are mm, rad, N, N*mm, MPa, K. Grids and knots are base64 of little-endian float64.
"""

import json
from typing import Any

import numpy as np

from geometry.applied import last_turn
from geometry.arrays import floats
from geometry.brake import Brake
from geometry.condition import Condition, heel_angle, tip_angle, turn_range
from geometry.drum import REFERENCE_TEMPERATURE, drum_radius
from geometry.kinematics import free_stroke
from geometry.linkage import arm_state, stroke_at_right_angle, stroke_at_turn
from geometry.quantity import KINDS
from geometry.reasons import Reason
from mechviz.page import chain

POSITIONS = 25
"""Places round the lining's arc at which the page shows the gap, both ends included."""

THINNEST = 0.10 * KINDS["length"].inch_factor
MOST_PRESSURE = 130.0 * KINDS["pressure"].inch_factor
HOTTEST = 800.0
"""The sliders' ends: mm (or half the lining found, where that is less), MPa, degF."""

OUTSIDE_TABLE = -1
"""Beside the solver's `Reason` codes: the lining's thickness is not one that the table was made for."""

Table = dict[str, Any]


def page_table(brake: Brake, condition: Condition, pressure: float) -> Table:
    """Return the table of a brake that fits together, found in one condition, at a chamber pressure (MPa).

    Raises `AssemblyError` for a cam too rough to be tabulated.
    """
    box = slider_box(brake, condition)
    lining = box["lining"]
    return {
        "schema": 1,
        "constants": _constants(brake, condition),
        "box": box,
        "found": _found(brake, condition, pressure),
        "limits": _limits(brake),
        "reasons": {reason.name: {"code": int(reason), "words": reason.words} for reason in Reason} | _OUTSIDE,
        "positions": np.linspace(brake.lining.start, brake.lining.end, POSITIONS).tolist(),
        "arm": chain.arm_grid(brake).packed(),
        "cam": chain.cam_grid(brake).packed(),
        "shoe": chain.shoe_grid(brake, condition).packed(),
        "surface": chain.surface_grid(brake, condition, lining).packed(),
        "longShoe": chain.long_shoe_sheet(brake, condition, lining).packed(),
        "thrust": chain.thrust_knots(brake.chamber),
    }


def table_json(table: Table) -> str:
    """Return the table as compact JSON."""
    return json.dumps(table, separators=(",", ":"), allow_nan=False)


_OUTSIDE = {"OUTSIDE_TABLE": {"code": OUTSIDE_TABLE, "words": "the lining is thinner or thicker than the page covers"}}


def slider_box(brake: Brake, condition: Condition) -> dict[str, tuple[float, float]]:
    """Return the least and greatest of what the sliders set.

    ``pressure`` MPa, ``lining`` mm, ``temperature`` K, ``setting`` rad; and ``freeStroke`` mm, another way to set it.
    """
    thickness = float(condition.arrays[0])
    zero, factor = KINDS["temperature"].inch_zero, KINDS["temperature"].inch_factor
    return {
        "pressure": (0.0, MOST_PRESSURE),
        "lining": (min(THINNEST, 0.5 * thickness), max(brake.lining.thickness, thickness)),
        "temperature": (zero, zero + HOTTEST * factor),
        "setting": (heel_angle(brake), tip_angle(brake)),
        "freeStroke": (0.0, brake.chamber.rated_stroke),
    }


def _found(brake: Brake, condition: Condition, pressure: float) -> dict[str, float]:
    thickness, _, temperature, released = condition.arrays
    return {
        "pressure": pressure,
        "lining": float(thickness),
        "temperature": float(temperature),
        "setting": float(released),
        "freeStroke": float(free_stroke(brake, condition)),
    }


def _limits(brake: Brake) -> dict[str, float | None]:
    """Where motion ends: the chamber or the open linkage, the cam's ends; and where the right angle stands, mm."""
    last, (heel_turn, tip_turn) = last_turn(brake), turn_range(brake)
    square = stroke_at_right_angle(brake.linkage)
    return {
        "ratedStroke": brake.chamber.rated_stroke,
        "lastTurn": last,
        "lastStroke": float(stroke_at_turn(brake.linkage, last)),
        "heelAngle": heel_angle(brake),
        "tipAngle": tip_angle(brake),
        "heelTurn": heel_turn,
        "tipTurn": tip_turn,
        "squareStroke": square if np.isfinite(square) else None,
    }


def _constants(brake: Brake, condition: Condition) -> Table:
    chamber, linkage, shoe, lining = brake.chamber, brake.linkage, brake.shoe, brake.lining
    diameter = condition.arrays[1]
    return {
        "area": chamber.effective_area,
        "springPreload": chamber.return_spring_preload,
        "springRate": chamber.return_spring_rate,
        "armLength": linkage.arm_length,
        "armDirection": float(arm_state(linkage, 0.0).direction),
        "anchor": shoe.anchor,
        "rollerReach": shoe.radius,
        "rollerBearing": shoe.roller_bearing,
        "platformRadius": brake.new_radius - lining.thickness,
        "surfaceRadius": float(0.5 * diameter) if lining.arc_radius is None else lining.arc_radius,
        "drumRadius": float(drum_radius(brake.drum, diameter, floats(REFERENCE_TEMPERATURE))),
        "drumGrowth": brake.drum.expansion,
        "drumReference": REFERENCE_TEMPERATURE,
        "windup": brake.windup_stiffness,
        "efficiency": brake.efficiency,
        "friction": lining.friction,
        "leading": brake.leading_side,
    }
