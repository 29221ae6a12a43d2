"""A brake in adjustment, applied at 95 psi: air pushes the rod, the rod turns the arm and the cam, the linings press.

With the linings a little worn and a free stroke of 0.55 in the pushrod comes out 1.46 in; 2 in is the limit.
"""

from pathlib import Path

from geometry.setup import read_setup
from mechviz.drawing.picture import picture
from mechviz.drawing.scene import found_scene
from mechviz.export import svg_to_png

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the brake and return its stroke, inches."""
    scene = found_scene(read_setup("drive-16.5x7"))
    assert scene.state.stroke is not None
    stroke = scene.state.stroke / 25.4
    assert round(stroke, 2) == 1.46
    out.write_bytes(svg_to_png(picture(scene).svg, WIDTH))
    return stroke


if __name__ == "__main__":
    print(f"stroke {main():.2f} in")
