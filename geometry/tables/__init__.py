"""The published limits: one CSV file a table, one module to look each of them up.

Every row carries a status (V read in a copy of the source, M from memory, C common practice, D derived) and its
source. Inches stay the exact fractions that were published: 1 3/8 in is 34.925 mm, never the rounded 34.9.
Where two sources disagree both rows stand, and the caller says which one a verdict used.
"""

from geometry.tables.air import AirMark, AirTimes, air_mark, air_times
from geometry.tables.bands import Band, band, bands
from geometry.tables.chambers import (
    DIAMETER_TOLERANCE,
    ChamberCandidate,
    assumed_rated_stroke,
    chambers_by_outside_diameter,
    effective_area_in2,
    nominal_rated_stroke,
    rated_strokes,
)
from geometry.tables.drums import DrumLimit, drum_limits
from geometry.tables.linings import LiningLimit, lining_limits
from geometry.tables.oos import oos_defects, oos_needed
from geometry.tables.pressures import PressureBand, procedures, test_pressure_band
from geometry.tables.reader import exact_inches
from geometry.tables.strokes import (
    StrokeLimit,
    fallback_limit,
    limits_for,
    over_by_in,
    sizes,
    stroke_limit,
    styles,
)

__all__ = [
    "DIAMETER_TOLERANCE",
    "AirMark",
    "AirTimes",
    "Band",
    "ChamberCandidate",
    "DrumLimit",
    "LiningLimit",
    "PressureBand",
    "StrokeLimit",
    "air_mark",
    "air_times",
    "assumed_rated_stroke",
    "band",
    "bands",
    "chambers_by_outside_diameter",
    "drum_limits",
    "effective_area_in2",
    "exact_inches",
    "fallback_limit",
    "limits_for",
    "lining_limits",
    "nominal_rated_stroke",
    "oos_defects",
    "oos_needed",
    "over_by_in",
    "procedures",
    "rated_strokes",
    "sizes",
    "stroke_limit",
    "styles",
    "test_pressure_band",
]
