"""A measured pushrod force becomes the share of pressure times area that the chamber delivers."""

from collections.abc import Sequence
from itertools import pairwise

from geometry.chamber import ThrustTable
from geometry.errors import Fault, PartError


def thrust_table(
    pressure: float,
    strokes: Sequence[float],
    forces: Sequence[float],
    rated_stroke: float,
    effective_area: float,
    spring: tuple[float, float],
) -> ThrustTable:
    """Return the table of shares g = (F + return spring) / (P A) against the share of the rated stroke.

    Parameters
    ----------
    pressure : float
        At which the forces were measured, MPa.
    strokes, forces : sequence of float
        Pushrod stroke, mm, from 0; force that reached the pushrod there, N.
    rated_stroke, effective_area : float
        Of the chamber, mm and mm2.
    spring : tuple of float
        Return-spring preload and rate, N and N/mm.

    Raises
    ------
    PartError
        Rows that do not start at 0, do not rise, go past the rated stroke, or leave force at the rated stroke.

    A table that ends before the rated stroke is carried on to no force at the rated stroke.

    """
    _check(pressure, strokes, forces, rated_stroke)
    preload, rate = spring
    shares = [(f + preload + rate * s) / (pressure * effective_area) for s, f in zip(strokes, forces, strict=True)]
    reached = [s / rated_stroke for s in strokes]
    if reached[-1] > 1 - 1e-9:
        del reached[-1], shares[-1]
    return ThrustTable((*reached, 1.0), (*shares, 0.0))


def _check(pressure: float, strokes: Sequence[float], forces: Sequence[float], rated_stroke: float) -> None:
    where = "chamber.thrust"
    if not pressure > 0:
        fix = "write the pressure of the measurement"
        raise PartError(Fault(f"{where}.pressure", "must be more than zero", fix, pressure, "pressure"))
    if len(strokes) != len(forces):
        problem = f"has {len(forces)} forces for {len(strokes)} strokes"
        raise PartError(Fault(f"{where}.force", problem, "write one force for each stroke"))
    if strokes[0] != 0 or any(b <= a for a, b in pairwise(strokes)):
        raise PartError(Fault(f"{where}.stroke", "does not rise from 0", "write the rows in order, the first at 0 in"))
    if strokes[-1] > rated_stroke * (1 + 1e-9):
        fix = "leave out the rows beyond it"
        raise PartError(Fault(f"{where}.stroke", "goes beyond the rated stroke", fix, strokes[-1], most=rated_stroke))
    if min(forces) < 0:
        raise PartError(Fault(f"{where}.force", "has a force below zero", "write 0 lbf", min(forces), "force"))
    if strokes[-1] > rated_stroke * (1 - 1e-9) and forces[-1] > 0:
        problem = "leaves force at the rated stroke, where the diaphragm holds the pushrod"
        raise PartError(Fault(f"{where}.force", problem, "write 0 lbf there", forces[-1], "force"))
