"""An adjuster that has stopped: a few hundredths of an inch of wear, and the brake is past its limit.

A new brake, adjusted to 5/8 in of free stroke, whose adjuster never moves again. The dashed lines are hot. The limit is
met long before a lining looks worn, then the arm is past square before anything touches, then the hot chamber bottoms.
"""

from pathlib import Path

from geometry.setup import read_setup
from mechviz.export import svg_to_png
from mechviz.lifetime.chart import life_chart
from mechviz.lifetime.study import Asked, study

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the life and return the wear (inches) at which the stroke meets its limit."""
    setup = read_setup("drive-16.5x7")
    lived = study(setup, Asked(state="stuck"))
    worn = lived.event("stroke-limit").wear / 25.4
    assert round(worn, 3) == 0.025
    out.write_bytes(svg_to_png(life_chart(lived, setup.system), WIDTH))
    return worn


if __name__ == "__main__":
    print(f"the limit is met after {main():.3f} in of wear")
