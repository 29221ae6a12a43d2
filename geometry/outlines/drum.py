"""The drum: a ring round the present friction surface, hot or cold, worn or new."""

from geometry.brake import Brake
from geometry.condition import Condition
from geometry.drum import drum_radius
from geometry.outlines.outline import Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Area, cut, disc


def drum_radii(brake: Brake, condition: Condition, proportions: Proportions = PROPORTIONS) -> tuple[float, float]:
    """Return the inner and the outer radius (mm) of the drum as it is: wear thins the wall, heat grows both."""
    _, diameter, temperature, _ = condition.arrays
    wall = proportions.drum_wall * brake.new_radius
    inner = float(drum_radius(brake.drum, diameter, temperature))
    return inner, max(float(drum_radius(brake.drum, 2 * (brake.new_radius + wall), temperature)), inner + 0.1 * wall)


def drum_bore(brake: Brake, condition: Condition, detail: float) -> Area:
    """Return the room inside the drum: the friction surface as a disc, its sides on the true circle."""
    return disc((0.0, 0.0), drum_radii(brake, condition)[0], detail, hole=True)


def drum(brake: Brake, condition: Condition, detail: float, proportions: Proportions = PROPORTIONS) -> Outline:
    """Return the outline of the drum, brake plane."""
    outer = disc((0.0, 0.0), drum_radii(brake, condition, proportions)[1], detail)
    ring = cut("condition.drum_diameter", outer, drum_bore(brake, condition, detail))
    does = "Turns with the wheel; the linings rub on its inner surface."
    return Outline("drum", "wheel", "hold", "Brake drum", does, "ground_wheel", ring)
