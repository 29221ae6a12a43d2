"""Compounding: the pedal pressed to the floor with the parking brake on.

Spring and air push the same rod. Arm, cam and drum get half as much again as a full brake application ever gives them,
which is why the parking brake is released before a heavy application.
"""

from pathlib import Path

from geometry.setup import read_setup
from mechviz.air.chart import air_chart
from mechviz.air.study import study
from mechviz.export import svg_to_png

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the air over time and return the greatest push as a share of what full air gives."""
    setup = read_setup("drive-16.5x7")
    told = study(setup, "compound")
    share = float(told.hardest.brake.pushrod_force) / told.full_air
    assert round(share, 2) == 1.41
    out.write_bytes(svg_to_png(air_chart(told, setup.system), WIDTH))
    return share


if __name__ == "__main__":
    print(f"the pushrod gets {main():.2f} of what full air gives")
