"""A worn brake on a long descent: the drum grows away from the lining, and the stroke runs out.

Ten minutes down 6 % at 30 mph without engine or retarder, an estimate. The brake was past its limit cold; hot, the same
95 psi has hardly any stroke left to push with.
"""

from pathlib import Path

from geometry.setup import read_setup
from mechviz.export import svg_to_png
from mechviz.heating.chart import heat_chart
from mechviz.heating.study import Asked, study

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the descent and return the share of the cold torque that is left when the drum is hottest."""
    setup = read_setup("worn-drive-16.5x7")
    heated = study(setup, Asked(kind="descent"))
    left = float(heated.at(heated.hottest).brake_torque / heated.cold.brake_torque)
    assert round(left, 2) == 0.28
    out.write_bytes(svg_to_png(heat_chart(heated, setup.system), WIDTH))
    return left


if __name__ == "__main__":
    print(f"{main():.2f} of the cold torque is left")
