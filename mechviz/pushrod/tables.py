"""The tables of a fit: what a sixteenth either way does, and one hole of the arm beside the other."""

from collections.abc import Callable
from math import degrees

from geometry.arrays import Array
from geometry.clevis import protrusion, thread_held
from geometry.quantity import KindName, System
from geometry.rod_states import RodStates
from mechviz.pushrod.clevis import knows_clevis
from mechviz.pushrod.limits import arms_disagree
from mechviz.pushrod.study import PRESENT, WORN, Fitting, Hole
from mechviz.pushrod.words import cell, cut_words, two_arms
from mechviz.report.columns import Line, tabled
from mechviz.report.written import NOTHING, fixed, quantity


def either_way(fit: Fitting, width: int) -> list[str]:
    """Return the table of the rod to cut, a tick shorter and a tick longer."""
    clevis, system = fit.setup.clevis, fit.system

    def line(name: str, of: Callable[[RodStates], str]) -> Line:
        return Line(name, "", tuple(of(rod) for rod in fit.best.rods))

    def lengths(name: str, of: Callable[[RodStates], float]) -> Line:
        return line(name, lambda rod: cell(of(rod), system))

    thread = [
        lengths("thread held in the clevis", lambda rod: float(thread_held(clevis, rod.pin_reach, fit.rod_end))),
        line(
            "rod's end at clevis' inside",
            lambda rod: _end(float(protrusion(clevis, rod.pin_reach, fit.rod_end)), system),
        ),
    ]
    return tabled(
        ["shorter", "as cut", "longer"],
        [
            line("face to pin", lambda rod: cut_words(rod.pin_reach, fit.system)),
            line("arm applied, linings now", lambda rod: angle_cell(float(rod.arm_angle[PRESENT]))),
            line("arm applied, linings worn", lambda rod: angle_cell(float(rod.arm_angle[WORN]))),
            line("arm released", lambda rod: angle_cell(rod.released_angle)),
            lengths("stroke applied, linings now", lambda rod: float(rod.stroke[PRESENT])),
            lengths("stroke applied, worn", lambda rod: float(rod.stroke[WORN])),
            lengths("square at a stroke of", lambda rod: rod.square_stroke),
            *(thread if knows_clevis(fit) else []),
        ],
        width,
    )


def _end(past: float, system: System) -> str:
    """How far the rod's end stands past the clevis' inside, or short of it."""
    if abs(past) < ROUNDING:
        return "flush"
    return f"{cell(abs(past), system)} {'past' if past > 0 else 'short'}"


ROUNDING = 1e-6
"""A rod nearer to flush than this, mm, is flush."""


def angle_cell(angle: float) -> str:
    """Write an angle for a table.

    >>> angle_cell(1.5707963)
    '90.0 deg'
    """
    return f"{fixed(degrees(angle), 1)} deg" if angle == angle else NOTHING


def holes_table(fit: Fitting, width: int) -> list[str]:
    """Return the table of the arm's holes, each with its own rod."""
    heads = [cell(hole.arm_length, fit.system) for hole in fit.holes]

    def line(name: str, of: Callable[[RodStates], str]) -> Line:
        cells = (NOTHING if hole.cut is None else of(hole.cut) for hole in fit.holes)
        return Line(name, "", tuple(cells))

    def amount(name: str, kind: KindName, of: Callable[[RodStates], Array]) -> Line:
        return line(name, lambda rod: quantity(float(of(rod)[PRESENT]), kind, fit.system))

    return tabled(
        heads,
        [
            line("face to pin", lambda rod: cut_words(rod.pin_reach, fit.system)),
            line("arm applied, new", lambda rod: angle_cell(float(rod.arm_angle[0]))),
            line("arm applied, now", lambda rod: angle_cell(float(rod.arm_angle[PRESENT]))),
            line("arm applied, worn", lambda rod: angle_cell(float(rod.arm_angle[WORN]))),
            line("arm released", lambda rod: angle_cell(rod.released_angle)),
            line("stroke applied, now", lambda rod: cell(float(rod.stroke[PRESENT]), fit.system)),
            line("stroke applied, worn", lambda rod: cell(float(rod.stroke[WORN]), fit.system)),
            amount("chamber force, now", "force", lambda rod: rod.chamber_force),
            amount("brake torque, now", "torque", lambda rod: rod.brake_torque),
            Line("", "", tuple(_mark(fit, hole) for hole in fit.holes)),
        ],
        width,
    )


def _mark(fit: Fitting, hole: Hole) -> str:
    if fit.faults(hole):
        return "do not use"
    return "use this" if hole is fit.best else "possible"


def hole_reasons(fit: Fitting) -> list[str]:
    """Say why the best hole is the best, and what is wrong with each that is not to be used."""
    said = [f"{cell(h.arm_length, fit.system)}: {', '.join(fit.faults(h))}" for h in fit.holes if fit.faults(h)]
    name = cell(fit.best.arm_length, fit.system)
    if fit.faults(fit.best):
        return [f"No hole holds every limit from new to worn. {'; '.join(said)}."]
    own = fit.own_arm
    if arms_disagree(fit.setup):
        why = f"{two_arms(fit.setup, fit.system)} Find out which the axle's other end has. Shown with {name}."
    elif not fit.knows_arm:
        why = f"Measure the arm of before, or that of the axle's other end: the hole must match it. Shown with {name}."
    elif fit.as_before(fit.best):
        why = f"Use {name}: it is the arm length of before, and the axle's other end must have the same."
    else:
        before = cell(own, fit.system)
        why = f"Use {name}: of the holes that hold every limit from new to worn the nearest to the {before} of before."
    return [why, *(f"Not {one}." for one in said)]
