"""Whether arm, cam, rollers and shoes are this brake's own: what only the base has decides nothing."""

from geometry.setup.merge import PROFILE_KEYS
from mechviz.checks.case import Case
from mechviz.checks.proof import Doubt

TRAIN = ("cam_distance", "anchor_distance", "anchor_spacing", "roller_diameter", "roller_spread", "roller_distance")
"""Of the foundation, what decides with the cam's own shape how far it turns."""


def base_arm_doubt(case: Case) -> Doubt | None:
    """Return why nothing is judged that was worked out with an arm that only the base has."""
    if case.states("linkage.arm_length") or case.states("measured.arm_length"):
        return None
    return "measured.arm_length", "the arm is the base's, and it decides how far the rod moves: measure this one's."


def base_cam_doubt(case: Case) -> Doubt | None:
    """Return why nothing is judged on a cam, rollers and shoes that only the base has; None where all is written."""
    own = next((keys for keys in PROFILE_KEYS.values() if case.states(*(f"cam.{key}" for key in keys))), None)
    of_cam = ["cam.profile"] if own is None else []
    lacking = [key for key in (*of_cam, *(f"foundation.{key}" for key in TRAIN)) if not case.states(key)]
    how = "this is worked out with the base's {}. Cam, rollers and shoes have to be this brake's own: write them."
    return (lacking[0], how.format("cam" if of_cam else lacking[0])) if lacking else None
