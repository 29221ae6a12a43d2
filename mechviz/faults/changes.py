"""What a defect changes, figure by figure, and what it leaves as it was."""

from dataclasses import dataclass

from geometry.quantity import KindName, System
from mechviz.drawing.lettering import Rank
from mechviz.drawing.words import NONE, figure, small
from mechviz.faults.study import Row


@dataclass(frozen=True)
class Figure:
    """A figure of both brakes: what it is called, what it is, its key in an outcome and the verb that it belongs to."""

    name: str
    key: str
    kind: KindName
    rank: Rank


FIGURES = (
    Figure("applied stroke", "stroke", "length", "push"),
    Figure("free stroke", "free_stroke", "length", "push"),
    Figure("arm released", "released_angle", "angle", "turn"),
    Figure("arm applied", "applied_angle", "angle", "turn"),
    Figure("least gap", "gap", "length", "rub"),
    Figure("force on the rod", "chamber_force", "force", "push"),
    Figure("brake torque", "brake_torque", "torque", "rub"),
    Figure("drag when let go", "drag", "torque", "rub"),
    Figure("stroke swings by", "swing", "length", "push"),
    Figure("torque swings by", "torque_swing", "torque", "rub"),
)


RARE = ("drag when let go", "stroke swings by", "torque swings by")
"""Figures that most brakes have none of: not told where they read as they did."""


@dataclass(frozen=True)
class Change:
    """A figure as it was and as it is."""

    figure: Figure
    was: str
    now: str

    @property
    def words(self) -> str:
        """Both, with the unit once.

        >>> Change(FIGURES[0], "1.46 in", "1.86 in").words
        '1.46 to 1.86 in'
        """
        number, _, unit = self.was.partition(" ")
        return f"{number if unit and self.now.endswith(unit) else self.was} to {self.now}"


def changes(sound: Row, sick: Row, system: System) -> tuple[list[Change], list[str]]:
    """Return the figures that read another way, and the names of those that read as they did."""
    found, same = list[Change](), list[str]()
    for one in FIGURES:
        was, now = (_written(one, row, system) for row in (sound, sick))
        if was == now:
            same.append(one.name)
        else:
            found.append(Change(one, was, now))
    return found, [name for name in same if name not in RARE]


def _written(one: Figure, row: Row, system: System) -> str:
    outcome = row.outcome
    if one.key == "gap":
        gap = min(float(outcome.gap_left), float(outcome.gap_right))
        return small(gap, system) if gap == gap else NONE
    return figure(float(getattr(outcome, one.key)), one.kind, system)
