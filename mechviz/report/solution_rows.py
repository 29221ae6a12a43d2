"""The rows of a solution's table, in the order of motion: air pushes, the rod turns, the cam spreads, linings rub."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from geometry.brake import Side
from geometry.quantity import KindName, System
from geometry.states import ShoeState, State
from mechviz.report.stands import to_square
from mechviz.report.written import NOTHING, fixed, other, pair, unit_word


@dataclass(frozen=True)
class Row:
    """One line: its label, and what each state shows under it. A row without a ``cell`` is a heading."""

    label: str
    cell: Callable[[State], str] | None = None


def rows(system: System, leading: Side) -> list[Row]:
    """Return every row, its figures in ``system`` with the other in brackets."""
    return [
        *_push(system),
        *_turn(system),
        *_spread(system, leading),
        *_rub(system, leading),
    ]


def _push(system: System) -> list[Row]:
    return [
        Row("PUSH"),
        _row("stroke", "length", system, lambda s: s.stroke),
        _row("pressure", "pressure", system, lambda s: s.pressure),
        _row("chamber force", "force", system, lambda s: s.chamber_force),
    ]


def _turn(system: System) -> list[Row]:
    return [
        Row("TURN"),
        _row("arm angle", "angle", system, lambda s: s.arm_angle),
        Row("to square, deg", lambda s: to_square(s.arm_angle)),
        _row("arm turn", "angle", system, lambda s: s.arm_turn),
        _row("cam turn", "angle", system, lambda s: s.cam_turn),
        _row("camshaft torque", "torque", system, lambda s: s.camshaft_torque),
    ]


def _spread(system: System, leading: Side) -> list[Row]:
    found = [Row("SPREAD")]
    for side in _sides(leading):
        shoe = _of(side)
        found += [
            Row(f"{side} shoe ({_role(side, leading)})"),
            Row("- turn, deg", _degrees(lambda s, shoe=shoe: shoe(s).turn)),
            _row("- roller force", "force", system, lambda s, shoe=shoe: shoe(s).roller_force),
        ]
    return found


def _rub(system: System, leading: Side) -> list[Row]:
    found = [Row("RUB")]
    for side in _sides(leading):
        found += [Row(f"{side} gap, {_units('length', system)}"), *_gaps(_of(side), system)]
    return [*found, _row("brake torque", "torque", system, lambda s: s.brake_torque)]


def _gaps(shoe: Callable[[State], ShoeState], system: System) -> list[Row]:
    places: Sequence[tuple[str, Callable[[ShoeState], float | None]]] = (
        ("- anchor end", lambda s: s.gap_anchor_end),
        ("- middle", lambda s: s.gap_middle),
        ("- cam end", lambda s: s.gap_cam_end),
        ("- least", lambda s: s.gap_least),
    )
    return [Row(name, lambda s, gap=gap: gap_text(gap(shoe(s)), system)) for name, gap in places]


def gap_text(gap: float | None, system: System) -> str:
    """Write a gap in thousandths of an inch and hundredths of a millimetre: ``0.018 (0.46)``."""
    if gap is None:
        return NOTHING
    inches, millimetres = fixed(gap / 25.4, 3), fixed(gap, 2)
    return f"{inches} ({millimetres})" if system == "inch" else f"{millimetres} ({inches})"


def _row(name: str, kind: KindName, system: System, value: Callable[[State], float | None]) -> Row:
    return Row(f"{name}, {_units(kind, system)}", lambda s: pair(value(s), kind, system))


def _units(kind: KindName, system: System) -> str:
    first, second = unit_word(kind, system), unit_word(kind, other(system))
    return first if first == second else f"{first} ({second})"


def _degrees(value: Callable[[State], float | None]) -> Callable[[State], str]:
    """A shoe turns by fractions of a degree: two decimals."""
    return lambda s: NOTHING if (turn := value(s)) is None else fixed(turn * 57.29577951308232, 2)


def _sides(leading: Side) -> tuple[Side, Side]:
    return ("left", "right") if leading == "left" else ("right", "left")


def _of(side: Side) -> Callable[[State], ShoeState]:
    return lambda s: s.left if side == "left" else s.right


def _role(side: Side, leading: Side) -> str:
    return "leading" if side == leading else "trailing"
