"""The reservoir pressure at which a stroke is measured: two procedures, which disagree."""

from dataclasses import dataclass
from fractions import Fraction

from geometry.tables.reader import MM_PER_INCH, known, rows

MPA_PER_PSI = Fraction("0.45359237") * Fraction("9.80665") / MM_PER_INCH**2
"""Exact: pound-force in newtons over square inches in square millimetres."""


@dataclass(frozen=True)
class PressureBand:
    """Reservoir pressures between which a stroke counts, both included, in psi as published."""

    procedure: str
    low_psi: int
    high_psi: int
    status: str
    source: str

    @property
    def low_mpa(self) -> float:
        """The lower end in MPa, as the float nearest to the exact value."""
        return float(self.low_psi * MPA_PER_PSI)

    @property
    def high_mpa(self) -> float:
        """The upper end in MPa, as the float nearest to the exact value."""
        return float(self.high_psi * MPA_PER_PSI)


def procedures() -> tuple[str, ...]:
    """Return the names of the test procedures."""
    return tuple(row["procedure"] for row in rows("test_pressures"))


def test_pressure_band(procedure: str) -> PressureBand:
    """Return the pressure band of a procedure (roadside or annual). Raises `PartError` for an unknown one."""
    name = known("test.procedure", procedure, procedures())
    row = next(row for row in rows("test_pressures") if row["procedure"] == name)
    return PressureBand(name, int(row["low_psi"]), int(row["high_psi"]), row["status"], row["source"])


# Without this pytest takes the name for a test of its own; functions may carry attributes.
test_pressure_band.__test__ = False  # pyright: ignore[reportFunctionMemberAccess]
