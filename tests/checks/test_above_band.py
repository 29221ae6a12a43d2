"""Air above the procedure's band: nothing solved passes on a stroke read there, and too much air is a failed test."""

import pytest

from mechviz.checks import CheckRow
from tests.checks.test_checks import checked, result

BODY = """
[condition]
lining_thickness = "0.5 in"
drum_diameter = "16.53 in"
free_stroke = "11/16 in"
[test]
pressure = "{pressure} psi"
{reservoir}
[measured]
stroke = "{stroke}"
clamp_diameter = "8 3/32 in"
long_stroke_marks = false
"""


def rows(pressure: int, read: bool = True) -> dict[str, list[CheckRow]]:
    """The rows of a brake whose reservoir was ``read`` too, or only the gauge at its chamber, over the base's rest."""
    reservoir = f'reservoir_pressure = "{pressure} psi"' if read else ""
    return checked(BODY.format(pressure=pressure, stroke="1 5/8 in", reservoir=reservoir), bare=not read)


@pytest.mark.parametrize("pressure", [85, 95, 100, 110, 120, 140, 150])
def test_no_reading_is_finer_than_the_tape_whatever_the_air(pressure: int) -> None:
    for check, found in rows(pressure).items():
        for row in found:
            assert row.resolution is None or row.resolution >= 0.0, check


@pytest.mark.parametrize("pressure", [110, 140])
def test_no_reserve_passes_on_a_stroke_read_with_too_much_air(pressure: int) -> None:
    found = rows(pressure)
    (cold,) = found["stroke-reserve-cold"]
    assert cold.result == "not-evaluated"
    assert "measured above 100 psi" in cold.advice
    assert result(found, "stroke-reserve-hot") != "pass"
    assert result(rows(100), "stroke-reserve-cold") == "pass"


@pytest.mark.parametrize(("pressure", "said"), [(95, "not-evaluated"), (100, "not-evaluated"), (110, "fail")])
def test_a_chamber_with_more_than_the_band_fails_though_nobody_read_the_reservoir(pressure: int, said: str) -> None:
    (row,) = rows(pressure, read=False)["test-pressure"]
    assert row.result == said
    if said == "fail":
        assert row.value == pytest.approx(pressure * 0.006894757, rel=1e-5)


def test_the_base_s_reservoir_is_not_told_as_this_vehicle_s() -> None:
    (row,) = rows(60, read=False)["stroke-limit"]
    assert "though the reservoir has it" not in row.advice
