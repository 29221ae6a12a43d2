"""The lines of a solution's table, in the order of motion: air pushes, the arm turns, the cam spreads, linings rub."""

from collections.abc import Callable, Sequence
from math import degrees

from geometry.brake import Side
from geometry.quantity import KindName, System
from geometry.states import ShoeState, State
from mechviz.report.columns import Line
from mechviz.report.written import NOTHING, fixed, other, pair, unit_word
from mechviz.square import off_square

Of = Callable[[State], float | None]
OfShoe = Callable[[State], ShoeState]

GAPS: Sequence[tuple[str, Callable[[ShoeState], float | None]]] = (
    ("anchor end", lambda shoe: shoe.gap_anchor_end),
    ("middle", lambda shoe: shoe.gap_middle),
    ("cam end", lambda shoe: shoe.gap_cam_end),
    ("least", lambda shoe: shoe.gap_least),
)


def table_lines(states: Sequence[State], system: System, leading: Side) -> list[Line]:
    """Return every line, its figures in ``system`` with the other in brackets; the leading shoe stands first."""
    sides: tuple[Side, Side] = ("left", "right") if leading == "left" else ("right", "left")
    return [
        *_push(states, system),
        *_turn(states, system),
        Line("SPREAD"),
        *(line for side in sides for line in _spread(states, system, side, leading)),
        Line("RUB"),
        *(line for side in sides for line in _rub(states, system, side)),
        _line("brake torque", "torque", states, system, lambda s: s.brake_torque),
    ]


def _push(states: Sequence[State], system: System) -> list[Line]:
    return [
        Line("PUSH"),
        _line("stroke", "length", states, system, lambda s: s.stroke),
        _line("pressure", "pressure", states, system, lambda s: s.pressure),
        _line("chamber force", "force", states, system, lambda s: s.chamber_force),
    ]


def _turn(states: Sequence[State], system: System) -> list[Line]:
    return [
        Line("TURN"),
        _line("arm angle", "angle", states, system, lambda s: s.arm_angle),
        Line("  to square", "deg", tuple(_to_square(s.arm_angle) for s in states)),
        _line("arm turn", "angle", states, system, lambda s: s.arm_turn),
        _line("cam turn", "angle", states, system, lambda s: s.cam_turn),
        _line("camshaft torque", "torque", states, system, lambda s: s.camshaft_torque),
    ]


def _spread(states: Sequence[State], system: System, side: Side, leading: Side) -> list[Line]:
    shoe = _shoe_of(side)
    return [
        Line(f"  {side} shoe ({'leading' if side == leading else 'trailing'})"),
        Line("  - turn", "deg", tuple(_fine_degrees(shoe(s).turn) for s in states)),
        _line("- roller force", "force", states, system, lambda s: shoe(s).roller_force),
    ]


def _rub(states: Sequence[State], system: System, side: Side) -> list[Line]:
    shoe = _shoe_of(side)
    gaps = [Line(f"  - {name}", "", tuple(gap_cell(gap(shoe(s)), system) for s in states)) for name, gap in GAPS]
    return [Line(f"  {side} shoe: lining to drum, {_units('length', system)}"), *gaps]


def gap_cell(gap: float | None, system: System) -> str:
    """Write a gap in thousandths of an inch and hundredths of a millimetre; a closed one as ``touches``.

    >>> gap_cell(0.4572, "inch"), gap_cell(0.0, "inch"), gap_cell(-0.06, "inch")
    ('0.018 (0.46)', 'touches', '-0.002 (-0.06)')
    """
    if gap is None:
        return NOTHING
    if abs(gap) < TOUCHING:
        return "touches"
    inches, millimetres = fixed(gap / 25.4, 3), fixed(gap, 2)
    return f"{inches} ({millimetres})" if system == "inch" else f"{millimetres} ({inches})"


def squeezed(state: State) -> bool:
    """Tell whether a lining's gap is written below 0."""
    gaps = (gap(shoe) for shoe in (state.left, state.right) for _, gap in GAPS)
    return any(gap is not None and gap <= -TOUCHING for gap in gaps)


TOUCHING = 0.005
"""A gap nearer to 0 than this, mm, would be written 0.00."""


def _line(name: str, kind: KindName, states: Sequence[State], system: System, value: Of) -> Line:
    return Line(f"  {name}", _units(kind, system), tuple(pair(value(s), kind, system) for s in states))


def _to_square(angle: float | None) -> str:
    """``17 to go``, ``4 past`` or ``square``."""
    if angle is None:
        return NOTHING
    off = off_square(angle)
    return "square" if off == 0 else f"{abs(off)} to go" if off > 0 else f"{-off} past"


def _units(kind: KindName, system: System) -> str:
    first, second = unit_word(kind, system), unit_word(kind, other(system))
    return first if first == second else f"{first} ({second})"


def _fine_degrees(turn: float | None) -> str:
    """A shoe turns by fractions of a degree: two decimals."""
    return NOTHING if turn is None else fixed(degrees(turn), 2)


def _shoe_of(side: Side) -> OfShoe:
    return lambda state: state.left if side == "left" else state.right
