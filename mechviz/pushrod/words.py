"""Lengths and turns of a fit as they are said at the bench."""

from math import degrees, tau

from geometry.quantity import System, fraction
from geometry.reasons import Reason
from geometry.setup import Setup
from mechviz.checks.case import Case
from mechviz.report.written import both, fixed, quantity, tape_inches, taped

INCH = 25.4


def cut_words(length: float, system: System) -> str:
    """Write a length to be cut by a tape: a fraction of an inch to 1/16 (or whole millimetres), nothing else.

    >>> cut_words(153.9875, "inch"), cut_words(154.2, "metric")
    ('6 1/16 in', '154 mm')
    """
    if system == "metric":
        return f"{fixed(length, 0)} mm"
    sixteenths = round(length / INCH * 16) / 16 * INCH
    return fraction(sixteenths) or quantity(length, "length", "inch")


def exact_words(length: float) -> str:
    """Write an exact length in both units, finer than it can be cut.

    >>> exact_words(153.98)
    '6.062 in, 153.98 mm'
    """
    return f"{fixed(length / INCH, 3)} in, {fixed(length, 2)} mm"


def cell(length: float, system: System) -> str:
    """Write a length for a table: as a fraction where it is one, else two decimals; millimetres to one.

    >>> cell(152.4, "inch"), cell(33.6, "inch"), cell(33.6, "metric")
    ('6 in', '1.32 in', '33.6 mm')
    """
    if length != length:
        return "-"
    return (tape_inches(length) if system == "inch" else None) or quantity(length, "length", system)


def tick_words(system: System) -> str:
    """Return the step of a tape: ``1/16 in`` or ``1 mm``."""
    return "1/16 in" if system == "inch" else "1 mm"


def turns_words(turns: float) -> str:
    """Write turns of the worm: as a number, and in degrees of the wrench.

    >>> turns_words(0.272)
    '0.27 of a turn (98 degrees of the wrench)'
    """
    wrench = round(degrees(turns * tau))
    unit = "of a turn" if turns < 1 else "turns"
    return f"{fixed(turns, 2)} {unit} ({wrench} degrees of the wrench)"


def reason_words(reason: Reason) -> str:
    """Return why there is no such state, in the words of a fit: what is missing is room for the clearance."""
    no_room = reason in (Reason.INPUT_MISSING, Reason.CAM_BELOW_HEEL)
    return "the cam has no room for so much clearance" if no_room else reason.words


def fix_words(reason: Reason) -> str:
    """Return what to change at the bench so that a state can exist; the cam's turn goes with neither slack nor angle.

    >>> fix_words(Reason.CAM_PAST_TIP)
    'thicker linings, or a drum that is less worn'
    """
    return _FIXES.get(reason, reason.fix)


_FIXES = {
    Reason.CAM_PAST_TIP: "thicker linings, or a drum that is less worn",
    Reason.INPUT_MISSING: "a smaller --clearance",
    Reason.CAM_BELOW_HEEL: "a smaller --clearance",
    Reason.BOTTOMED: "a smaller --clearance",
}


def two_arms(setup: Setup, system: System) -> str:
    """Say that the arm was measured at another length than the file writes."""
    measured, written = setup.measured.arm_length, setup.nominal["linkage.arm_length"]
    assert measured is not None
    return f"{taped(written, system)} is written as linkage.arm_length, and {taped(measured, system)} was measured."


def let_it_cool(case: Case, system: System) -> str:
    """Say of a drum that is hot that nothing is set on it; nothing of one that is cold, or that nobody has felt."""
    if not case.warm:
        return ""
    heat = both(case.setup.as_found.drum_temperature, "temperature", system)
    return (
        f"The drum is hot, {heat}: let it cool before the adjuster is set, do not adjust hot. Set hot, the linings "
        "drag once the drum is cold and has shrunk."
    )
