"""The rollers between cam and shoes, each on its journal."""

from geometry.brake import SIDES, Brake
from geometry.outlines.outline import ROLLER, Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import cut, disc


def rollers(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> list[Outline]:
    """Return the outlines of both rollers, origin their centres; a punch mark shows that they turn."""
    radius = brake.shoe.roller_radius
    journal = proportions.journal * radius
    mark = disc((0.5 * (radius + journal), 0.0), 0.11 * (radius - journal) + 0.02 * radius, detail)
    bore = disc((0.0, 0.0), journal, detail, hole=True)
    shape = cut("foundation.roller_diameter", disc((0.0, 0.0), radius, detail), bore, mark)
    does = "Rides on the S-cam and pushes its shoe out, rolling so that the cam does not scrub."
    return [
        Outline(f"roller_{side}", "wheel", "spread", f"{side.capitalize()} roller", does, ROLLER[side], shape)
        for side in SIDES
    ]
