"""The brake taken apart: what comes off in which order, and what sits in what.

Every part is a closed solid from the same outlines as the drawing. The parking section stays whole: its spring can
kill, and nobody opens it. The number is how far the drum has come off, in widths of its lining.
"""

from pathlib import Path

from geometry.setup import read_setup
from mechviz.drawing.scene import found_scene
from mechviz.export import svg_to_png
from mechviz.solid.apart import shift
from mechviz.solid.shot import OUTSIDE, Shot
from mechviz.solid.still import still
from mechviz.solid.views import VIEWS

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the brake in pieces and return how far its drum has come off, in lining widths."""
    setup = read_setup("worn-drive-16.5x7")
    away = -shift(setup.brake, "drum")[2] / setup.brake.lining.width
    assert round(away, 1) == 4.6
    shot = Shot(VIEWS["wheel-side"], apart=1.0, ghost=frozenset(), hidden=OUTSIDE)
    out.write_bytes(svg_to_png(still(found_scene(setup), shot, "all").svg, WIDTH))
    return away


if __name__ == "__main__":
    print(f"drum {main():.1f} lining widths off")
