"""What has to be this vehicle's own before a rod is cut by the answer, and how each is measured."""

from collections.abc import Mapping

from geometry.setup import builtin_names
from mechviz.checks.case import Case
from mechviz.pushrod.limits import arms_disagree

HOW: Mapping[str, str] = {
    "linkage.face_distance": "from the camshaft's centre to the chamber's mounting face, along the pushrod",
    "linkage.axis_offset": "from the camshaft's centre to the chamber's centreline, square to the pushrod",
    "linkage.arm_length": "from the camshaft's centre to the clevis pin's, on the arm of before; it must match the "
    "axle's other end",
    "chamber.size": "with chamber.style, as cast or stamped on it; its stroke is part of the rod's length",
}
"""How each is taken, to follow ``measure it``."""


def missing_keys(case: Case) -> list[str]:
    """Return what of arm, mounting and chamber is not surely this vehicle's own; all of it for a built-in setup.

    An arm that was measured at another length than is written is either of the two.
    """
    arm = ("linkage.arm_length", "measured.arm_length")
    known = {
        **{key: case.states(key) for key in ("linkage.face_distance", "linkage.axis_offset")},
        "linkage.arm_length": any(case.states(key) for key in arm) and not arms_disagree(case.setup),
        "chamber.size": case.knows_chamber,
    }
    builtin = case.setup.source in builtin_names()
    return [key for key, own in known.items() if builtin or not own]
