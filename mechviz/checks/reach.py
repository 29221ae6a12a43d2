"""Whether the brake can work at all as it was found: worn or slack beyond what its cam and chamber can do."""

from geometry.errors import Fault
from mechviz.checks.case import Case
from mechviz.checks.row import CheckRow
from mechviz.checks.train import base_cam_doubt

OF_THE_CAM = ("condition.lining_thickness", "condition.drum_diameter")
"""What is beyond reach because of the cam."""
SOURCE = "mechviz: geometry of this brake"


def reach_rows(case: Case) -> list[CheckRow]:
    """Return one row for each thing that is beyond the brake; none where all is within its reach."""
    return [_row(case, fault) for fault in case.setup.beyond]


def _row(case: Case, fault: Fault) -> CheckRow:
    value = fault.given if isinstance(fault.given, float) else None
    inch, metric = fault.possible("inch"), fault.possible("metric")
    bound = f" Possible: {inch} ({metric})." if inch else ""
    what = f"{fault.where}: {fault.said('inch')}.{bound}"
    what += "" if fault.where == "measured.stroke" else " Nothing can be worked out for this brake as it stands."
    cam = base_cam_doubt(case) if fault.where in OF_THE_CAM else None
    if cam:
        why = f"{fault.where}: {fault.said('inch')}, with the base's cam: {cam[1]}"
        return CheckRow("within-reach", "not-evaluated", SOURCE, why, value, missing=cam[0])
    unknown = case.unknown_wear or (case.unknown_slack if "stroke" in fault.where else "")
    if unknown and not fault.where.startswith("measured."):
        what += f" That rests on figures of the base too: measure {unknown}, and write what this vehicle has."
    read = fault.where.startswith(("condition.", "measured."))
    return CheckRow("within-reach", "fail", SOURCE, what, value, basis="measured" if read else "stated")
