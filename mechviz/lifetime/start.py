"""Whether a life can begin: new linings on the drum as found, with the slack that they are to be adjusted to.

The same findings as of a brake on the vehicle, so that a life is refused where `solve` would refuse its first day.
"""

from dataclasses import replace

from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import Fault
from geometry.fit import friction_findings, play_findings, room_findings
from geometry.reasons import Reason
from geometry.setup.model import AsFound
from mechviz.lifetime.study import Study

SLACK = "--free-stroke"


def start_faults(lived: Study) -> list[Fault]:
    """Return everything for which the brake cannot stand on the first day of its life; none where it can."""
    found = _hot_faults(lived)
    if found:
        return found
    new = _new(lived)
    for faults in (room_findings(lived.service.brake, new), friction_findings(lived.service.brake, new)):
        if faults:
            return [replace(fault, problem=f"with new linings {fault.problem}") for fault in faults]
    return _slack_faults(lived, new)


def _new(lived: Study) -> AsFound:
    """The brake with new linings, cold, and adjusted."""
    one = lived.service
    return replace(
        lived.setup.as_found,
        lining_thickness=one.brake.lining.thickness,
        drum_temperature=REFERENCE_TEMPERATURE,
        free_stroke=one.free_stroke,
        lining_clearance=None,
        slack_temperature=REFERENCE_TEMPERATURE,
    )


def _slack_faults(lived: Study, new: AsFound) -> list[Fault]:
    """Too much slack to begin with; or an application that cannot be for another reason."""
    faults = [replace(fault, where=SLACK) for fault in play_findings(lived.service.brake, new)]
    reason = Reason(int(lived.at(0.0).cold.reason))
    if faults or reason == Reason.EXISTS:
        return faults
    return [Fault(SLACK, f"cannot be applied when new: {reason.words}", reason.fix, lived.service.free_stroke)]


def _hot_faults(lived: Study) -> list[Fault]:
    """A hot application is one with the drum no colder than in a cold one."""
    hot = lived.service.hot
    if hot >= REFERENCE_TEMPERATURE * (1 - 1e-12):
        return []
    problem, fix = "is colder than the drum of the cold application", "leave it out"
    return [Fault("--hot", problem, fix, hot, "temperature", least=REFERENCE_TEMPERATURE)]
