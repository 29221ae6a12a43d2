"""A chosen point as a setup file reads back to the very same brake; tables hold what the study does."""

import csv
import io
import tomllib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyarrow import parquet

from geometry.setup import builtin_names, read_setup, read_setup_text
from geometry.setup.write import quantity_text, setup_text
from geometry.units import parse
from mechviz.checks.case import Case
from mechviz.study import Listed, Outcome, Parameter, Plan, Study, Uniform, run, size_parameter
from mechviz.study.chosen import chosen_setup, chosen_text, point
from mechviz.study.table import column_name, columns, csv_bytes, parquet_bytes

IN = 25.4
DRIVE = read_setup("drive-16.5x7")
TABLED = """schema = 1
title = "A \\"quoted\\" title"
base = "drive-16.5x7"
[cam]
profile = "table"
table = [["0 deg", "0.60 in"], ["70 deg", "1.20 in"], ["140 deg", "1.85 in"]]
[chamber.thrust]
pressure = "100 psi"
stroke = ["0 in", "1.5 in", "2.5 in"]
force = ["2970 lbf", "2900 lbf", "0 lbf"]
[linkage]
arm_holes = ["5 in", "5.5 in"]
[foundation]
lining_attachment = "riveted"
lining_pads = 2
drum_limit = "16.62 in"
drum_expansion = "6.0e-6 1/degF"
lining_arc_radius = "8.2 in"
[condition]
lining_clearance = "0.030 in"
[test]
rules = ["us", "quebec"]
"""


@pytest.mark.parametrize("system", ["inch", "metric"])
@pytest.mark.parametrize("name", [*builtin_names(), "tabled"])
def test_a_setup_written_out_reads_back_to_the_same_figures(name: str, system: str) -> None:
    setup = read_setup_text(TABLED, "tabled") if name == "tabled" else read_setup(name)
    again = read_setup_text(setup_text(setup.values, setup.title, system, ["a remark"]), "again")  # pyright: ignore[reportArgumentType]
    for part in ("title", "brake", "as_found", "test", "clevis", "arm_holes", "parking", "marked_limit"):
        assert getattr(again, part) == getattr(setup, part), part
    assert (again.lining_attachment, again.lining_pads) == (setup.lining_attachment, setup.lining_pads)


@settings(max_examples=300, deadline=None)
@given(st.floats(0.01, 9e3), st.sampled_from(["length", "area", "force", "rate"]), st.sampled_from(["inch", "metric"]))
def test_any_figure_is_read_back_as_the_same_float(value: float, kind: str, system: str) -> None:
    assert parse(quantity_text(value, kind, system), kind, "") == value  # pyright: ignore[reportArgumentType]


STUDY = Study(
    DRIVE,
    (
        Parameter("linkage.arm_length", Uniform(5.2 * IN, 6.0 * IN)),
        Parameter("foundation.lining_start", Uniform(0.55, 0.7)),
        Parameter("condition.drum_temperature", Uniform(280.0, 320.0)),
        Parameter("foundation.friction", Uniform(0.3, 0.4)),
        size_parameter(("24", "30")),
    ),
    (Outcome("applied-stroke"), Outcome("brake-torque"), Outcome("arm-angle-applied")),
    Plan("monte-carlo", 12, seed=4),
    "Chosen",
)


def test_a_chosen_point_checks_to_the_same_figures() -> None:
    result = run(STUDY)
    for n in range(result.size):
        setup = chosen_setup(STUDY, point(result, n))
        state = Case(setup, setup.test.rules).found["applied"]
        assert state.stroke == pytest.approx(result.outcomes["applied-stroke"][n], rel=1e-13)
        assert state.brake_torque == pytest.approx(result.outcomes["brake-torque"][n], rel=1e-12)
        assert state.arm_angle == pytest.approx(result.outcomes["arm-angle-applied"][n], rel=1e-13)
        assert setup.brake.chamber.size == STUDY.parameters[-1].text(result.values["chamber.size"][n])


def test_the_file_says_what_was_chosen() -> None:
    text = chosen_text(STUDY, point(run(STUDY), 0))
    assert text.startswith("# One point of a study of Drive axle, 16.5 x 7:\n#   arm length 5.")
    assert "chamber size 24" in text or "chamber size 30" in text
    assert tomllib.loads(text)["title"] == "Chosen: chosen point"
    assert "[measured]" not in text


def test_clearance_displaces_the_bases_free_stroke() -> None:
    study = Study(
        DRIVE, (Parameter("condition.lining_clearance", Listed((0.5,))),), (Outcome("free-stroke"),), Plan("grid", 1)
    )
    setup = chosen_setup(study, {"condition.lining_clearance": 0.5})
    assert (setup.as_found.free_stroke, setup.as_found.lining_clearance) == (None, 0.5)


def test_csv_and_parquet_hold_every_figure_word_and_reason() -> None:
    wide = (Parameter("linkage.pin_reach", Uniform(3.0 * IN, 9.0 * IN)), size_parameter(("24", "30")))
    result = run(Study(DRIVE, wide, STUDY.outcomes, Plan("monte-carlo", 400, seed=2), "Title"))
    assert not result.valid.all()
    table = parquet.read_table(io.BytesIO(parquet_bytes(result)))
    rows = list(csv.DictReader(io.StringIO(csv_bytes(result).decode())))
    held = columns(result)
    assert table.column_names == list(held) == list(rows[0])
    assert len(rows) == table.num_rows == 400
    assert table.schema.metadata[b"title"] == b"Title"
    name = column_name("applied-stroke", "length")
    stroke = result.outcomes["applied-stroke"]
    np.testing.assert_array_equal(table[name].to_numpy(), stroke)
    assert [row[name] == "" for row in rows] == np.isnan(stroke).tolist()
    first = int(np.flatnonzero(result.valid)[0])
    assert float(rows[first][name]) == stroke[first]
    assert float(rows[first]["brake_torque_Nm"]) == pytest.approx(result.outcomes["brake-torque"][first] / 1000)
    assert float(rows[first]["arm_angle_applied_deg"]) == pytest.approx(
        np.degrees(result.outcomes["arm-angle-applied"][first])
    )
    assert {row["chamber_size"] for row in rows} == {"24", "30"}
    reasons = {row["reason"] for row in rows}
    assert "" in reasons
    assert "the pushrod and the arm do not meet" in reasons
    assert table["inside_limits"].to_pylist() == result.inside.tolist()
