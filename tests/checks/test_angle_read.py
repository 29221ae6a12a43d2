"""The applied angle worked out from the released one that was read: judged, and held against the applied one."""

from math import degrees, radians

import pytest

from geometry.linkage import arm_state
from geometry.linkage_from_angle import angle_after, angle_after_parallel, linkage_with_angle
from geometry.setup import read_setup, read_setup_text
from mechviz.checks import Case, CheckRow, run_checks
from mechviz.checks.angle_read import CHECK, TOGETHER, worked_out

HEAD = 'schema = 1\nbase = "drive-16.5x7"\n[chamber]\nstyle = "clamp"\nsize = "30"\n[test]\n'
LENGTHS = '[linkage]\naxis_offset = "5.35 in"\nface_distance = "7.5 in"\n'


def text(released: str, *, stroke: str = "1 1/2", arm: str = "5 1/2", more: str = "", psi: str = "95") -> str:
    length = f'arm_length = "{arm} in"\n' if arm else ""
    return (
        f'{HEAD}reservoir_pressure = "{psi} psi"\n[condition]\nfree_stroke = "5/8 in"\n[measured]\n{length}'
        f'stroke = "{stroke} in"\narm_angle_released = "{released} deg"\n{more}'
    )


def row(written: str, check: str = CHECK) -> CheckRow:
    return next(one for one in run_checks(read_setup_text(written, "here")) if one.check == check)


@pytest.mark.parametrize("released", [95.0, 107.0, 120.0, 130.0])
def test_the_chamber_put_where_an_angle_was_read_gives_it_back(released: float) -> None:
    linkage = read_setup("drive-16.5x7").brake.linkage
    for stroke in (0.0, 30.0):
        found = linkage_with_angle(linkage, radians(released), stroke)
        assert found is not None
        assert degrees(float(arm_state(found, stroke).arm_angle)) == pytest.approx(released)


def test_the_built_in_brake_comes_from_its_own_released_angle_to_its_own_applied_one() -> None:
    linkage = read_setup("drive-16.5x7").brake.linkage
    released, there = (float(arm_state(linkage, stroke).arm_angle) for stroke in (0.0, 40.0))
    assert angle_after(linkage, released, 40.0) == pytest.approx(there)


def test_a_long_rod_comes_to_what_a_parallel_one_does() -> None:
    linkage = read_setup("drive-16.5x7").brake.linkage
    long = type(linkage)(linkage.arm_length, linkage.axis_offset, 1e6, 0.0, 1e6)
    there = angle_after(long, radians(107), 38.1)
    assert there == pytest.approx(angle_after_parallel(linkage.arm_length, radians(107), 38.1), abs=1e-4)


@pytest.mark.parametrize(("released", "result"), [("130", "fail"), ("95", "close"), ("107", "pass"), ("88", "fail")])
def test_a_released_angle_is_followed_to_full_application_and_judged(released: str, result: str) -> None:
    found = row(text(released))
    assert (found.result, found.basis) == (result, "solved")
    assert "worked out from released angle" in found.advice


def test_what_is_open_holds_the_rod_that_stays_parallel() -> None:
    setup = read_setup_text(text("130"), "here")
    found = worked_out(Case(setup, setup.test.rules))
    assert found is not None
    parallel = angle_after_parallel(139.7, radians(130), 38.1)
    assert degrees(parallel) == pytest.approx(111.7, abs=0.1)
    assert found.angle - found.less <= parallel <= found.angle + found.more


def test_a_low_pressure_proves_only_an_arm_that_is_past_square_already() -> None:
    assert row(text("130", psi="60")).result == "not-evaluated"
    assert row(text("88", psi="60")).result == "fail"
    assert row(text("88", psi="130")).result == "not-evaluated"


def test_without_an_arm_it_is_missing() -> None:
    assert row(text("130", arm="")).missing == "measured.arm_length"


def test_both_angles_read_are_held_against_each_other() -> None:
    assert row(text("130", more='arm_angle_applied = "89 deg"\n'), TOGETHER).result == "fail"
    assert row(text("107", more='arm_angle_applied = "90 deg"\n'), TOGETHER).result == "pass"


def test_where_the_lengths_say_where_the_arm_stands_their_rows_judge_it() -> None:
    full = text("130", more='pin_reach = "6 in"\n') + LENGTHS
    checks = {one.check: one.result for one in run_checks(read_setup_text(full, "here"))}
    assert CHECK not in checks
    assert checks["arm-angle-released-as-solved"] == "fail"
