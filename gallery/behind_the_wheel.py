"""What the wheel hides: drum off, the S-cam between its rollers, and the arm outside that turns it.

In two planes nobody sees that one shaft carries the turn from the arm outside to the cam inside. Here the brake stands
in space, applied at 95 psi, seen from where the wheel was. Arm and cam are one piece but for the wind-up of what lies
between: the arm has turned further than the cam.
"""

from math import degrees
from pathlib import Path

from geometry.setup import read_setup
from mechviz.drawing.scene import found_scene
from mechviz.export import svg_to_png
from mechviz.solid.shot import OUTSIDE, WHEEL_END, Shot
from mechviz.solid.still import still
from mechviz.solid.views import VIEWS

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the brake and return the wind-up between arm and cam, degrees."""
    scene = found_scene(read_setup("drive-16.5x7"))
    windup = degrees(float(scene.poses.arm_turn[0] - scene.poses.cam_turn[0]))
    assert round(windup, 1) == 9.0
    shot = Shot(VIEWS["wheel-side"], hidden=OUTSIDE | WHEEL_END, ghost=frozenset())
    out.write_bytes(svg_to_png(still(scene, shot).svg, WIDTH))
    return windup


if __name__ == "__main__":
    print(f"wind-up {main():.1f} deg")
