"""Slider-cranks worked out in print, on the pushrod and arm.

R. L. Norton, Design of Machinery, chapter 4, offset slider-crank: crank 40, rod 120, offset -20 mm, crank at 60 deg;
open circuit: rod at 152.91 deg, slider at 126.84 mm; crossed circuit: 27.09 deg, -86.84 mm. Status: from memory,
recomputed. In-line slider-crank, crank 10, rod 20 in, crank at 45 deg: rod at 159.295 deg, as read in a textbook
example whose title was not recorded.

The crank is our arm, the rod our pushrod, the slider the pushrod's pivot, the offset the chamber's centreline. The
book measures the rod's angle at the slider, towards the pin. Our pivot lies on the side -x and never below the
camshaft (y >= 0), so the book's figure is turned by half a turn (open circuit) or mirrored top to bottom (crossed
circuit, whose slider already lies on the side -x): the arm then stands at 60 + 180 or at -60 deg.

With the arm there the pin lies below the line from camshaft to pivot. `turn_state` follows the arm all the way
round and so gives both circuits from the arm's direction. An assembled brake never gets there: `arm_state`, which
starts from the stroke, always takes the pin on the chamber's side. For the same stroke that is the same triangle
turned over, so the angle at the pin, and nothing else of the pose, can be held against the book there as well.
"""

from math import atan2, cos, degrees, radians, sin

import pytest

from geometry.linkage import Linkage, arm_state, arm_turn, turn_state

CRANK = radians(60.0)


def offset_slider_crank() -> Linkage:
    return Linkage(arm_length=40.0, axis_offset=20.0, face_distance=120.0, pivot_depth=10.0, pin_reach=110.0)


def pivot_distance(linkage: Linkage, direction: float) -> float:
    """How far the pivot lies on the side -x of the camshaft, the arm standing at a direction (rad)."""
    released = float(arm_state(linkage, 0.0).direction)
    return -(linkage.pivot_start + float(turn_state(linkage, released - direction)[0]))


def test_open_circuit():
    linkage = offset_slider_crank()
    slider = pivot_distance(linkage, CRANK + radians(180.0))
    assert slider == pytest.approx(126.84, abs=0.005)
    rod = atan2(40.0 * sin(CRANK) + 20.0, 40.0 * cos(CRANK) - slider)
    assert degrees(rod) == pytest.approx(152.91, abs=0.005)


def test_crossed_circuit():
    linkage = offset_slider_crank()
    slider = -pivot_distance(linkage, -CRANK)
    assert slider == pytest.approx(-86.84, abs=0.005)
    rod = atan2(40.0 * sin(CRANK) + 20.0, 40.0 * cos(CRANK) - slider)
    assert degrees(rod) == pytest.approx(27.09, abs=0.005)


@pytest.mark.parametrize(("slider", "rod"), [(126.84, 152.91), (86.84, 27.09)])
def test_the_assembled_linkage_has_the_same_angle_at_the_pin(slider, rod):
    linkage = offset_slider_crank()
    arm_angle = degrees(float(arm_state(linkage, 130.0 - slider).arm_angle))
    # between the pin's directions to the crank's centre (60 + 180) and to the slider (rod + 180)
    assert arm_angle == pytest.approx(abs(rod - 60.0), abs=0.01)  # both printed figures are rounded


def test_in_line_slider_crank():
    inches = Linkage(arm_length=10.0, axis_offset=0.0, face_distance=26.0, pivot_depth=1.0, pin_reach=19.0)
    released = float(arm_state(inches, 0.0).direction)
    stroke = float(turn_state(inches, released - radians(180.0 - 45.0))[0])  # mirrored: our pivot is on the side -x
    state = arm_state(inches, stroke)
    assert degrees(float(state.direction)) == pytest.approx(135.0, abs=1e-9)
    assert 180.0 - degrees(float(state.tilt)) == pytest.approx(159.295, abs=0.0005)
    assert float(arm_turn(inches, stroke)) == pytest.approx(released - radians(135.0), abs=1e-12)
