"""Where the right angle is lost: a worn brake's arm goes through square long before its linings press hard.

A push turns an arm best at 90 degrees. As found, this arm passes square at a stroke of a good inch and a half and ends
far past it: every further inch of stroke turns the cam less, while the chamber's own push already falls.
"""

from math import hypot, sqrt
from pathlib import Path

from geometry.setup import read_setup
from mechviz.drawing.picture import picture
from mechviz.drawing.scene import found_scene
from mechviz.export import svg_to_png

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the brake, applied, and return the stroke (inches) at which its arm stood square."""
    scene = found_scene(read_setup("worn-drive-16.5x7"))
    link = scene.brake.linkage
    # square, arm and pushrod are the short sides of a right triangle whose long side joins pivot and camshaft
    across = hypot(link.arm_length, link.pushrod_length)
    square = (-sqrt(across**2 - link.axis_offset**2) - link.pivot_start) / 25.4
    assert round(square, 2) == 1.38
    out.write_bytes(svg_to_png(picture(scene, labels="none").svg, WIDTH))
    return square


if __name__ == "__main__":
    print(f"square at {main():.2f} in")
