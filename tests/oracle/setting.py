"""The adjuster's setting: the cam angles at which the linings touch, and the released cam angle."""

from __future__ import annotations

from dataclasses import dataclass

from .arm import arm_turn, stroke_at_turn
from .brake import SIDES, OracleBrake
from .contact import Contact, contact_at_cam, contact_at_turn
from .lining import Surface, first_touch, gap, make_surface
from .numeric import root
from .profile import Profile, make_profile
from .refusal import RefusedError

STEP = 0.03  # rad, how the cam is turned back in search of a lining clearance


@dataclass(frozen=True)
class Prepared:
    """All that does not depend on the stroke or the pressure.

    ``touch_turn`` is beta_c and ``touch_cam`` the cam angle at which each shoe reaches it; ``first`` and ``seat``
    are the smaller and the larger of the two, ``released`` the cam angle at stroke 0.
    """

    brake: OracleBrake
    profile: Profile
    surfaces: dict[str, Surface]
    touch_turn: dict[str, float]
    touch_cam: dict[str, float]
    first: float
    seat: float
    released: float
    free_stroke: float


def both_contacts(brake: OracleBrake, profile: Profile, cam_angle: float) -> dict[str, Contact]:
    """Both rollers on the cam at one cam angle."""
    return {side: contact_at_cam(brake, profile, side, cam_angle) for side in SIDES}


def cam_at_clearance(
    brake: OracleBrake, profile: Profile, surfaces: dict[str, Surface], first: float, wanted: float
) -> float:
    """Released cam angle at which the smaller of the two mid-arc gaps is as wanted: turn back, then the root."""

    def excess(cam_angle: float) -> float:
        contacts = both_contacts(brake, profile, cam_angle)
        return min(gap(brake, surfaces[s], surfaces[s].middle, contacts[s].turn) for s in SIDES) - wanted

    if excess(first) > 0.0:
        raise RefusedError("adjuster", "the lining touches elsewhere before its middle comes so close")
    back = first - STEP
    while excess(back) < 0.0:
        back -= STEP
    return root(excess, back, min(back + STEP, first), "adjuster", "no cam angle gives this lining clearance")


def released_cam_angle(
    brake: OracleBrake, profile: Profile, surfaces: dict[str, Surface], first: float
) -> tuple[float, float]:
    """Released cam angle and the free stroke that goes with it, from whichever setting the brake gives."""
    if brake.free_stroke is not None:
        if not 0.0 <= brake.free_stroke <= brake.rated_stroke:
            raise RefusedError("adjuster", "the free stroke is outside the rated stroke")
        return first - arm_turn(brake, brake.free_stroke), brake.free_stroke
    if brake.lining_clearance is not None:
        released = cam_at_clearance(brake, profile, surfaces, first, brake.lining_clearance)
    elif brake.released_cam_angle is not None:
        released = brake.released_cam_angle
    else:
        raise RefusedError("adjuster", "no setting given")
    return released, stroke_at_turn(brake, first - released)


def prepare(brake: OracleBrake) -> Prepared:
    """Solve the linings, the contacts and the adjuster."""
    profile = make_profile(brake)
    surfaces = {side: make_surface(brake, side) for side in SIDES}
    touch_turn = {side: first_touch(brake, surfaces[side]) for side in SIDES}
    touch_cam = {side: contact_at_turn(brake, profile, side, touch_turn[side]).cam_angle for side in SIDES}
    first, seat = min(touch_cam.values()), max(touch_cam.values())
    released, free_stroke = released_cam_angle(brake, profile, surfaces, first)
    return Prepared(brake, profile, surfaces, touch_turn, touch_cam, first, seat, released, free_stroke)
