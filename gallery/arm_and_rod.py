"""Which arm and which pushrod suit a brake: the stroke that is left when it is worn out, and what hems it in.

The drive axle's brake with every arm and rod between the ends of the map. Hatched is what breaks a limit: too long an
arm leaves a hot brake without its push, a rod too long or too short stands the arm away from square.
"""

from pathlib import Path

from mechviz.export import svg_to_png
from mechviz.study import run
from mechviz.study.file import read_study
from mechviz.study.map import map_of
from mechviz.study.map_chart import map_chart

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the map and return the share of all arms, rods and chambers of the study that keep every limit."""
    study = read_study("arm-and-rod")
    share = float(run(study).inside.mean())
    assert round(share, 2) == 0.49
    assert study.map_of is not None
    out.write_bytes(svg_to_png(map_chart(map_of(study, *study.map_of), study.base.system), WIDTH))
    return share


if __name__ == "__main__":
    print(f"{main():.0%} keep every limit")
