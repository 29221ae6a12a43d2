"""Where each part stands along the shaft: the widths that the two planes do not show.

The *brake's frame* is that of the wheel plane, origin the drum's centre, +x right, +y towards the camshaft, with +z
along the shaft from the wheel towards the chamber: right-handed, seen from the chamber's side. z = 0 is the middle of
the lining's width. Nothing in the solution depends on a width but the lining's own; the shares are the project's own
for a plausible brake, not any maker's.
"""

from dataclasses import dataclass

from geometry.brake import Brake
from geometry.outlines.chamber_form import chamber_form
from geometry.outlines.proportions import PROPORTIONS, Proportions

Span = tuple[float, float]
"""From a lower to a higher z, mm."""


@dataclass(frozen=True)
class Widths:
    """Widths and places along the shaft, as shares of the lining's width unless another size is named."""

    cam: float = 0.21
    web: float = 0.05
    web_play: float = 0.03
    spider: float = 0.10
    drum_lip: float = 0.06
    drum_wall: float = 0.075
    hub_flange: float = 0.07
    # of the arm's length
    arm: float = 0.13
    boss: float = 0.27
    fork: float = 0.30
    # of the chamber's outside radius
    plane_gap: float = 0.16
    bracket: float = 0.62


WIDTHS = Widths()


@dataclass(frozen=True)
class Places:
    """Spans (mm) along the shaft in the brake's frame.

    ``lining`` is the lining and the platform, ``webs`` the two webs of a shoe, ``roller`` its rolling part and
    ``journal`` all of it; ``drum`` the ring and ``drum_flange`` the plate that is bolted to the ``hub_flange``.
    ``arm`` is the middle of the arm plane; ``boss``, ``blade`` and ``fork`` are half widths there.
    """

    lining: Span
    cam: Span
    webs: tuple[Span, Span]
    roller: Span
    journal: Span
    spider: Span
    pins: Span
    drum: Span
    drum_flange: Span
    hub_flange: Span
    arm: float
    boss: float
    blade: float
    fork: float
    shaft: Span
    tube: Span
    axle: Span

    @property
    def shaft_end(self) -> Span:
        """The splined end of the camshaft, in the slack adjuster."""
        return self.arm - self.boss, self.shaft[1]


def places(brake: Brake, widths: Widths = WIDTHS, proportions: Proportions = PROPORTIONS) -> Places:
    """Return where the parts of a brake stand along its shaft."""
    w, arm_length = brake.lining.width, brake.linkage.arm_length
    outer = chamber_form(brake, proportions).outer
    cam = 0.5 * widths.cam * w
    near, far = cam + widths.web_play * w, cam + (widths.web_play + widths.web) * w
    spider = far + 0.5 * widths.web_play * w, far + (0.5 * widths.web_play + widths.spider) * w
    flange = -0.5 * w - (widths.drum_lip + widths.hub_flange) * w
    drum = flange, (0.5 + widths.drum_lip) * w
    plane = drum[1] + (1.0 + widths.plane_gap) * outer
    boss = 0.5 * widths.boss * arm_length
    return Places(
        lining=(-0.5 * w, 0.5 * w),
        cam=(-cam, cam),
        webs=((-far, -near), (near, far)),
        roller=(-near + 0.2 * widths.web_play * w, near - 0.2 * widths.web_play * w),
        journal=(-far - 0.01 * w, far + 0.01 * w),
        spider=spider,
        pins=(-far - 0.02 * w, spider[1]),
        drum=drum,
        drum_flange=(flange - widths.drum_wall * w, flange),
        hub_flange=(flange, flange + widths.hub_flange * w),
        arm=plane,
        boss=boss,
        blade=0.5 * widths.arm * arm_length,
        fork=0.5 * widths.fork * arm_length,
        shaft=(cam, plane + 1.35 * boss),
        tube=(spider[1], plane - 1.6 * boss),
        axle=(spider[1], plane + 0.75 * outer),
    )
