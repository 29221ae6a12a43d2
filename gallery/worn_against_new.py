"""One brake three times: new and adjusted, as found with its adjuster no longer adjusting, and then with a hot drum.

All three are applied with the same 95 psi. Worn linings take the stroke past its limit, heat takes it on towards the
end of the chamber, and there the push on the rod falls away: hot, this brake has little more than half of the force
that it had new. The limit being for a cold drum, the hot stroke is told against it and not judged.
"""

from pathlib import Path

from geometry.setup import read_setup
from mechviz.drawing.compare import comparison, panels
from mechviz.export import svg_to_png

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the three and return what is left of the new brake's force on the rod, as a share."""
    setup = read_setup("worn-drive-16.5x7")
    new, _, hot = (panel.scene.state.chamber_force for panel in panels(setup, "life"))
    assert new is not None
    assert hot is not None
    assert round(hot / new, 2) == 0.56
    out.write_bytes(svg_to_png(comparison(setup, "life").svg, WIDTH))
    return hot / new


if __name__ == "__main__":
    print(f"force left when hot: {main():.0%}")
