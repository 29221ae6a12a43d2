"""A loose chamber bracket beside the same brake with a sound one: more stroke than its slack explains.

The free stroke is the same on both, so that the slack felt by hand finds nothing. Applied, the chamber gives way and
the rod has to follow: the stroke is at its limit, and the arm is past square.
"""

from pathlib import Path

from geometry.setup import read_setup
from mechviz.export import svg_to_png
from mechviz.faults.picture import faults_picture
from mechviz.faults.study import combined_row, sound_row

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw both and return by how much the stroke is longer (inches)."""
    setup = read_setup("drive-16.5x7")
    sound, loose = sound_row(setup), combined_row(setup, {"loose-bracket": None})
    longer = float(loose.outcome.stroke - sound.outcome.stroke) / 25.4
    assert round(longer, 2) == 0.53
    out.write_bytes(svg_to_png(faults_picture(setup, sound, loose).svg, WIDTH))
    return longer


if __name__ == "__main__":
    print(f"longer by {main():.2f} in")
