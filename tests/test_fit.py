"""Whether a brake goes together: nothing is found of a sound one, and what is found bounds what the solver takes."""

from dataclasses import replace

import pytest

from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import Fault
from geometry.fit import fit_findings
from geometry.setup import AsFound, Measured, builtin_names, read_setup
from tests.brakes import BRAKE, DRUM, FREE_STROKE, IN, LINING, part

FOUND = AsFound(LINING, DRUM, REFERENCE_TEMPERATURE, FREE_STROKE, None, 0.8, 0.1, REFERENCE_TEMPERATURE)
NOTHING = Measured(None, None, None, None, None, None, None, 1.6, 0.02)


def findings(
    found: AsFound = FOUND, measured: Measured = NOTHING, unsound: frozenset[str] = frozenset()
) -> list[Fault]:
    return fit_findings(BRAKE, found, measured, unsound)


@pytest.mark.parametrize("name", builtin_names())
def test_nothing_is_found_of_a_built_in(name: str) -> None:
    setup = read_setup(name)
    assert fit_findings(setup.brake, setup.as_found, setup.measured) == []


def test_the_thickest_lining_named_is_the_thickest_that_the_solver_takes() -> None:
    (fault,) = findings(replace(FOUND, lining_thickness=2 * LINING))
    assert fault.most is not None
    assert findings(replace(FOUND, lining_thickness=fault.most, free_stroke=0.0)) == []
    assert findings(replace(FOUND, lining_thickness=fault.most + 1e-3, free_stroke=0.0))[0].where == fault.where


def test_the_thinnest_lining_named_is_the_thinnest_that_the_solver_takes() -> None:
    (fault,) = findings(replace(FOUND, lining_thickness=1.0))
    assert fault.least is not None
    assert findings(replace(FOUND, lining_thickness=fault.least, free_stroke=1.0)) == []
    assert findings(replace(FOUND, lining_thickness=fault.least - 1e-3, free_stroke=1.0))[0].where == fault.where


def test_the_greatest_clearance_named_is_the_greatest() -> None:
    open_brake = replace(FOUND, free_stroke=None, lining_clearance=20.0)
    (fault,) = findings(open_brake)
    assert fault.most is not None
    assert findings(replace(open_brake, lining_clearance=fault.most)) == []
    assert findings(replace(open_brake, lining_clearance=fault.most + 1e-3)) != []


def test_the_friction_that_locks_is_named() -> None:
    locking = part(BRAKE, "lining", friction=1.2)
    (fault,) = fit_findings(locking, FOUND, NOTHING)
    assert fault.most is not None
    assert fit_findings(part(BRAKE, "lining", friction=fault.most * 0.999), FOUND, NOTHING) == []
    assert fit_findings(part(BRAKE, "lining", friction=fault.most * 1.001), FOUND, NOTHING) != []


def test_a_machined_arc_keeps_some_clearance_at_its_middle() -> None:
    tight = part(BRAKE, "lining", arc_radius=BRAKE.new_radius + 0.5)
    (fault,) = fit_findings(tight, replace(FOUND, free_stroke=None, lining_clearance=0.0), NOTHING)
    assert fault.where == "condition.lining_clearance"
    assert fault.least is not None
    assert fault.least > 0


def test_a_stroke_at_the_rated_stroke_is_taken_and_one_beyond_is_not() -> None:
    rated = BRAKE.chamber.rated_stroke
    assert findings(measured=replace(NOTHING, stroke=rated)) == []
    assert [f.where for f in findings(measured=replace(NOTHING, stroke=rated + 0.01))] == ["measured.stroke"]


def test_findings_that_need_a_broken_part_are_left_out() -> None:
    thick, beyond = replace(FOUND, lining_thickness=2 * LINING), replace(NOTHING, stroke=4 * IN)
    assert [f.where for f in findings(thick, beyond)] == ["condition.lining_thickness", "measured.stroke"]
    assert [f.where for f in findings(thick, beyond, frozenset({"shoe"}))] == ["measured.stroke"]
    assert findings(thick, beyond, frozenset({"condition", "chamber"})) == []
