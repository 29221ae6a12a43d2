"""Interference: nothing on brakes that are fine, and each planted fault found where it is."""

from dataclasses import replace

import pytest

from geometry.brake import Brake
from geometry.interference import arm_interferences, cam_interferences, interferences
from geometry.setup import read_setup
from tests.brakes import BRAKE, IN, part
from tests.oracle import random_brakes
from tests.test_oracle_agreement import brake_of

NEAR = part(BRAKE, "linkage", face_distance=1.2 * IN, pin_reach=0.3 * IN)
"""The chamber so near that the arm stands in its bracket when released."""
SHORT = part(BRAKE, "linkage", axis_offset=3.5 * IN, face_distance=2.2 * IN, pin_reach=0.6 * IN)
"""The rod so short that it leans into the opening as it comes out."""


@pytest.mark.parametrize("name", ["drive-16.5x7", "trailer-16.5x7", "steer-15x4", "worn-drive-16.5x7"])
def test_built_in_brakes_are_clear(name: str) -> None:
    assert interferences(read_setup(name).brake) == []


def test_an_arm_that_stands_in_the_bracket_is_found() -> None:
    found = {(i.moving, i.fixed): i for i in arm_interferences(NEAR)}
    hit = found["slack_adjuster", "bracket"]
    assert hit.stroke == 0
    assert hit.depth > 10
    assert hit.fault.where == "linkage.face_distance"
    assert "slack adjuster would reach" in str(hit.fault)
    assert "chamber bracket when released" in str(hit.fault)


def test_an_arm_that_hits_the_chamber_is_found() -> None:
    found = {(i.moving, i.fixed) for i in arm_interferences(SHORT)}
    assert ("slack_adjuster", "chamber_non_pressure") in found


def test_a_hit_later_in_the_stroke_says_when() -> None:
    hits = [i for i in arm_interferences(SHORT) if i.stroke > 0]
    assert hits
    assert all(f"from {i.stroke / SHORT.chamber.rated_stroke:.0%} of the rated stroke on" in str(i.fault) for i in hits)


@pytest.mark.parametrize("brake", [NEAR, SHORT])
def test_the_distance_that_would_be_clear_is_clear_and_no_larger_than_needed(brake: Brake) -> None:
    least = arm_interferences(brake)[0].fault.least
    assert least is not None

    def moved(face: float) -> Brake:
        back = face - brake.linkage.face_distance
        linkage = replace(brake.linkage, face_distance=face, pin_reach=brake.linkage.pin_reach + back)
        return replace(brake, linkage=linkage)

    assert arm_interferences(moved(least)) == []
    assert arm_interferences(moved(least - 1.0)) != []


def test_a_cam_whose_tip_lies_in_the_other_roller_is_found() -> None:
    brake = part(BRAKE, "shoe", roller_diameter=1.75 * IN)
    (hit,) = cam_interferences(brake)
    assert hit.fault.where == "cam.tip_radius"
    most = hit.fault.most
    assert most is not None
    assert most < brake.profile.tip_radius
    assert cam_interferences(part(brake, "profile", tip_radius=most - 0.1)) == []


def test_a_linkage_that_does_not_close_is_left_to_another_finding() -> None:
    assert arm_interferences(part(BRAKE, "linkage", pin_reach=1.0 * IN)) == []


def test_plausible_random_brakes_are_clear_in_the_arm_plane() -> None:
    for oracle, _ in random_brakes(77, 12):
        assert arm_interferences(brake_of(oracle)) == []
