"""The pressure at which the stroke was measured: inside the band of the procedure that the file names."""

from geometry.tables import test_pressure_band
from mechviz.checks.case import Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.proof import other_procedure
from mechviz.checks.row import CheckRow, missing_row


def test_pressure_rows(case: Case) -> list[CheckRow]:
    """Judge the reservoir pressure; the two published procedures disagree, and the row names the one used."""
    test = case.setup.test
    band = test_pressure_band(test.procedure)
    name = f"{band.source} ({test.procedure} procedure)"
    value = test.reservoir_pressure
    if not case.states("test.reservoir_pressure") and case.states("test.pressure") and test.pressure > band.high_mpa:
        value = test.pressure  # the reservoirs cannot hold less than the chamber
    elif value is None or not case.states("test.reservoir_pressure"):
        how = "read the gauge, engine off, before the brake is applied."
        return [missing_row("test-pressure", name, "test.reservoir_pressure", how, kind="pressure", unit="psi")]
    doubt = case.pressure_doubt
    if doubt and doubt[0] == "test.pressure":
        figures = (test.pressure, band.low_mpa, test.pressure - band.low_mpa, "pressure", "psi")
        return [CheckRow("test-pressure", "fail", name, f"The stroke does not count: {doubt[1]}", *figures)]
    allowed = Band(band.low_mpa, band.high_mpa)
    result = judge(value, allowed, test.pressure_resolution)
    edge = allowed.nearest(value)
    advice = {
        "pass": "The stroke was measured at the pressure that this procedure asks for.",
        "close": "At the edge of the procedure's band within what the gauge can tell: read it again.",
        "fail": f"A stroke counts at {band.low_psi} to {band.high_psi} psi ({1000 * band.low_mpa:.0f} to "
        f"{1000 * band.high_mpa:.0f} kPa): bring the reservoirs there, measure again{other_procedure(case.setup)}.",
    }[result]
    return [
        CheckRow(
            "test-pressure",
            result,
            name,
            advice,
            value,
            edge,
            allowed.margin(value),
            "pressure",
            "psi",
            test.pressure_resolution,
        )
    ]
