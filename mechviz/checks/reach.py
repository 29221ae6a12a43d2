"""Whether the brake can work at all as it was found: worn or slack beyond what its cam and chamber can do."""

from geometry.errors import Fault
from geometry.setup.merge import PLAY
from mechviz.checks.case import Case
from mechviz.checks.mend import mend
from mechviz.checks.proof import Doubt, assumed_stroke_doubt, twofold_doubt
from mechviz.checks.row import CheckRow
from mechviz.checks.train import base_arm_doubt, base_cam_doubt

OF_THE_CAM = ("condition.lining_thickness", "condition.drum_diameter")
"""What is beyond reach because of the cam."""
SOURCE = "mechviz: geometry of this brake"


def reach_rows(case: Case) -> list[CheckRow]:
    """Return one row for each thing that is beyond the brake; none where all is within its reach."""
    return [_row(case, fault) for fault in case.setup.beyond]


def _row(case: Case, fault: Fault) -> CheckRow:
    value = fault.given if isinstance(fault.given, float) else None
    if doubt := _doubt(case, fault):
        key, how = doubt
        whose = f" with a {case.chamber_name}" if key.startswith(OF_CHAMBER) else ""
        why = f"{fault.where}: {fault.said('inch')}{whose}, but {how}"
        missing = case.unless_stated(key)
        return CheckRow("within-reach", "not-evaluated", SOURCE, why, value, missing=missing)
    inch, metric = fault.possible("inch"), fault.possible("metric")
    bound = f" Possible: {inch} ({metric})." if inch else ""
    what = f"{fault.where}: {fault.said('inch')}.{bound}"
    what += "" if fault.where == "measured.stroke" else " Nothing can be worked out for this brake as it stands."
    what += f" {mend(case)}" if fault.where in PLAY and fault.most is not None else ""
    unknown = case.unknown_wear or (case.unknown_slack if "stroke" in fault.where else "")
    if unknown and not fault.where.startswith("measured."):
        what += f" That rests on figures of the base too: measure {unknown}, and write what this vehicle has."
    read = fault.where.startswith(("condition.", "measured."))
    return CheckRow("within-reach", "fail", SOURCE, what, value, basis="measured" if read else "stated")


OF_CHAMBER = ("chamber.", "measured.clamp_diameter", "measured.long_stroke_marks")


def _doubt(case: Case, fault: Fault) -> Doubt | None:
    """Why what is beyond the base's chamber, arm or cam may be within reach of this brake's own."""
    if fault.where in OF_THE_CAM:
        return base_cam_doubt(case)
    if fault.where not in (*PLAY, "measured.stroke"):
        return None
    chamber = assumed_stroke_doubt(case.setup) or case.chamber_doubt or twofold_doubt(case.setup)
    if fault.where == "measured.stroke" or _over_whole_stroke(case, fault):
        return chamber
    return chamber or base_arm_doubt(case) or base_cam_doubt(case)


def _over_whole_stroke(case: Case, fault: Fault) -> bool:
    """Whether the slack alone, as the rod's travel, is more than the chamber has, whatever arm and cam are."""
    given = fault.given if isinstance(fault.given, float) else 0.0
    return fault.where == "condition.free_stroke" and given > case.brake.chamber.rated_stroke
