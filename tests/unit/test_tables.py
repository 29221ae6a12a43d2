"""The tables as files and as lookups: every row is sourced, every name is helped, nothing unknown passes."""

import subprocess
import sys
from csv import DictReader
from dataclasses import FrozenInstanceError
from fractions import Fraction
from importlib.resources import files
from itertools import pairwise
from math import inf, nan

import pytest

from geometry import tables
from geometry.errors import PartError
from geometry.tables.reader import exact_inches, figure, rows

FILES = [
    "air_pressures",
    "air_times",
    "bands",
    "drum_limits",
    "effective_areas",
    "lining_limits",
    "oos_count",
    "rated_strokes",
    "stroke_limits",
    "test_pressures",
]


def lines(name):
    return files("geometry.tables").joinpath(f"{name}.csv").read_text(encoding="utf-8").splitlines()


def test_every_table_is_package_data_and_none_is_untested():
    shipped = sorted(f.name for f in files("geometry.tables").iterdir() if f.name.endswith(".csv"))
    assert shipped == [f"{name}.csv" for name in FILES]


@pytest.mark.parametrize("name", FILES)
def test_every_table_opens_with_standard_section_edition_unit_and_status(name):
    header = "\n".join(line for line in lines(name) if line.startswith("#"))
    for word in ("# standard: ", "# section: ", "# edition: ", "# unit: ", "# status: V read"):
        assert word in header


@pytest.mark.parametrize("name", FILES)
def test_every_row_has_a_status_and_a_source_and_as_many_cells_as_columns(name):
    assert rows(name)
    for row in DictReader(line for line in lines(name) if not line.startswith("#")):
        assert None not in row
        assert None not in row.values()
        assert row["status"] in {"V", "M", "C", "D"}
        assert row.get("outside_diameter_status", "V") in {"V", "M", "C", "D"}
        assert row["source"].strip()
        assert all(cell == cell.strip() for cell in row.values())


def test_every_end_of_a_band_says_whether_it_is_included():
    for row in rows("bands"):
        assert row["low_kind"] in (("at least", "more than") if row["low"] else ("",))
        assert row["high_kind"] in (("at most", "less than") if row["high"] else ("",))


@pytest.mark.parametrize(
    ("text", "value"),
    [("2", Fraction(2)), ("3/16", Fraction(3, 16)), ("1 3/4", Fraction(7, 4)), ("0.120", Fraction(3, 25))],
)
def test_figures_are_read_exactly(text, value):
    assert figure(text) == value


@pytest.mark.parametrize(
    "meant",
    [
        Fraction(5, 2),
        Fraction(33, 32),
        Fraction("16.625"),
        Fraction(64) / Fraction("25.4"),
        Fraction("63.55") / Fraction("25.4"),
    ],
)
def test_a_float_in_inches_gives_the_fraction_that_was_meant(meant):
    assert exact_inches(meant) == meant
    assert exact_inches(float(meant)) == meant
    assert exact_inches(float(meant * Fraction("25.4")) / 25.4) == meant


def test_rows_cannot_be_changed():
    with pytest.raises(FrozenInstanceError):
        tables.stroke_limit("clamp", "30").limit_in = Fraction(3)  # type: ignore[misc]


@pytest.mark.parametrize(
    ("call", "where", "near"),
    [
        (lambda: tables.stroke_limit("clmp", "30"), "chamber.style", "did you mean clamp?"),
        (lambda: tables.limits_for("Bolt-type"), "chamber.style", "did you mean bolt?"),
        (lambda: tables.sizes("roto chamber"), "chamber.style", "did you mean rotochamber?"),
        (lambda: tables.nominal_rated_stroke("clamp long stroke", "30"), "chamber.style", "clamp-long-stroke?"),
        (lambda: tables.effective_area_in2("xyz", "30"), "chamber.style", "use one of clamp,"),
        (lambda: tables.test_pressure_band("anual"), "test.procedure", "did you mean annual?"),
        (lambda: tables.band("cam turn"), "band", "did you mean cam-turn?"),
        (lambda: tables.lining_limits("steer"), "foundation.axle", "did you mean steering?"),
        (lambda: tables.lining_limits("steering", 1, "rivetted"), "lining.attachment", "did you mean riveted?"),
    ],
)
def test_an_unknown_name_is_an_error_that_names_the_nearest(call, where, near):
    with pytest.raises(PartError) as caught:
        call()
    (fault,) = caught.value.faults
    assert fault.where == where
    assert near in str(fault)


@pytest.mark.parametrize(
    "call",
    [
        lambda bad: tables.over_by_in(bad, tables.stroke_limit("clamp", "30")),
        lambda bad: tables.oos_defects([bad]),
        tables.drum_limits,
        tables.fallback_limit,
        tables.chambers_by_outside_diameter,
        lambda bad: tables.stroke_limit("clamp", "30", bad),
    ],
)
@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_what_is_not_a_number_never_passes(call, bad):
    with pytest.raises(PartError, match="not a number"):
        call(bad)


@pytest.mark.parametrize(
    "call",
    [
        lambda: tables.fallback_limit(0),
        lambda: tables.stroke_limit("clamp", "30", -2.5),
        lambda: tables.drum_limits(-16.5),
        lambda: tables.chambers_by_outside_diameter(0.0),
        lambda: tables.lining_limits("steering", 0),
        lambda: tables.oos_needed(0),
    ],
)
def test_what_must_be_above_zero_is_refused_otherwise(call):
    with pytest.raises(PartError):
        call()


def test_a_chamber_that_is_not_in_the_tables_has_no_limit():
    assert tables.stroke_limit("clamp", "31") is None
    assert tables.nominal_rated_stroke("clamp-long-stroke", "12") is None
    assert tables.effective_area_in2("bolt", "H") is None


def test_a_size_is_found_however_it_is_typed():
    assert tables.stroke_limit(" bolt", " a ").size == "A"


def test_styles_and_sizes_are_listed_in_the_order_of_the_rule():
    assert tables.styles() == ("clamp", "clamp-long-stroke", "bolt", "rotochamber")
    assert tables.sizes("clamp-long-stroke") == ("12", "16", "20", "24", "30")


CLAMP = [row for row in tables.limits_for("clamp") if row.outside_diameter_in]


@pytest.mark.parametrize("row", CLAMP, ids=lambda row: row.size)
@pytest.mark.parametrize("off", [-4.9, 0.0, 4.9])
def test_a_clamp_ring_names_its_chamber_and_no_other(row, off):
    measured = float(row.outside_diameter_in) * 25.4 + off
    (only,) = tables.chambers_by_outside_diameter(measured, long_stroke=False)
    assert (only.style, only.size) == ("clamp", row.size)
    assert only.distance_mm == pytest.approx(abs(off), abs=1e-9)


def test_the_tolerance_is_under_half_of_the_smallest_spacing():
    rings = sorted(float(row.outside_diameter_in) * 25.4 for row in CLAMP)
    smallest = min(b - a for a, b in pairwise(rings))
    assert smallest == pytest.approx(10.31875)
    assert smallest / 2 - 0.5 < tables.DIAMETER_TOLERANCE < smallest / 2


def test_the_marks_on_the_chamber_tell_long_stroke_from_standard():
    def kinds(long_stroke):
        return [(c.style, c.size) for c in tables.chambers_by_outside_diameter(172.0, long_stroke)]

    assert kinds(False) == [("clamp", "20")]
    assert kinds(True) == [("clamp-long-stroke", "20")]
    assert kinds(None) == [("clamp", "20"), ("clamp-long-stroke", "20")]


@pytest.mark.parametrize("measured", [100.0, 167.05, 195.0, 240.0])
def test_nothing_near_names_nothing(measured):
    assert tables.chambers_by_outside_diameter(measured) == []


def test_no_clamp_ring_of_a_long_stroke_6_exists():
    assert tables.chambers_by_outside_diameter(114.3, long_stroke=True) == []


def test_a_wider_tolerance_gives_the_nearest_first():
    found = tables.chambers_by_outside_diameter(168.0, long_stroke=False, tolerance_mm=12.0)
    assert [c.size for c in found] == ["20", "16"]


def test_reading_the_tables_loads_no_numerical_library():
    code = "import sys, geometry.tables as t; t.stroke_limit('clamp', '30'); print(sorted(sys.modules))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert "geometry.tables.strokes" in loaded
    for heavy in ("'numpy'", "'pandas'", "'pint'", "'scipy'"):
        assert heavy not in loaded
