"""From a setup to the condition that the solver takes: the adjuster's setting from the slack that was found."""

from geometry.arrays import floats
from geometry.condition import Condition, angle_for_clearance, angle_for_free_stroke, contact
from geometry.setup import Setup


def condition_of(setup: Setup) -> Condition:
    """Return the brake as found; the released cam angle follows from the free stroke or the lining clearance."""
    found, brake = setup.as_found, setup.brake
    worn = floats(found.lining_thickness), floats(found.drum_diameter)
    at = contact(brake, *worn, floats(found.slack_temperature))
    if found.lining_clearance is not None:
        released = angle_for_clearance(brake, at, found.lining_clearance)
    else:
        assert found.free_stroke is not None  # a setup has one of the two
        released = angle_for_free_stroke(brake, at, found.free_stroke)
    return Condition(*worn, floats(found.drum_temperature), float(released))
