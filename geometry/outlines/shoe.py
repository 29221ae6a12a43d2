"""The shoes: a platform that carries the lining, and a web from the anchor pin to the roller."""

from geometry.brake import SIDES, Brake
from geometry.outlines.outline import SHOE, Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Area, mirrored, sector, sound
from geometry.outlines.shoe_form import platform_ends, platform_radii
from geometry.outlines.web import web_shape


def platform_shape(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Area:
    """Return the platform, outward frame, reference pose: a little longer than the lining."""
    shape = sector(*platform_radii(brake, proportions), *platform_ends(brake, proportions), detail)
    return sound(shape, "foundation.lining_thickness")


def shoes(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> list[Outline]:
    """Return web and platform of both shoes, each in its shoe's frame."""
    web, platform = web_shape(brake, detail, proportions), platform_shape(brake, detail, proportions)
    outlines: list[Outline] = []
    for side in SIDES:
        title, body = f"{side.capitalize()} shoe", SHOE[side]
        shapes = (web, platform) if side == "right" else (mirrored(web), mirrored(platform))
        swings = "Swings on its anchor pin when the roller at its other end is pushed out."
        carries = "Carries the lining and spreads the push along it."
        outlines.append(Outline(f"{body}_web", "wheel", "spread", f"{title}, web", swings, body, shapes[0]))
        outlines.append(Outline(f"{body}_platform", "wheel", "spread", f"{title}, platform", carries, body, shapes[1]))
    return outlines
