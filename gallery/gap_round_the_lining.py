"""A few hundredths of an inch: the gap between a worn lining and its drum, brake released, truthfully enlarged.

The magnifier shows the middle of the right lining, the diagram both linings from the anchor end to the cam end. The
gap is not the same all round: a shoe that swings on a pin opens most near the middle of its arc and least at the pin.
"""

from pathlib import Path

from geometry.found import condition_of
from geometry.setup import read_setup
from mechviz.drawing.gaps import gap_profile
from mechviz.drawing.picture import picture
from mechviz.drawing.scene import scene_at
from mechviz.export import svg_to_png

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the brake released and return the least gap of its right lining, inches."""
    setup = read_setup("worn-drive-16.5x7")
    scene = scene_at(setup, condition_of(setup), "released")
    least = float(gap_profile(scene, "right").min()) / 25.4
    assert round(least, 3) == 0.024
    out.write_bytes(svg_to_png(picture(scene, theme="dark").svg, WIDTH, "dark"))
    return least


if __name__ == "__main__":
    print(f"least gap {main():.3f} in")
