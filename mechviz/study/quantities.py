"""What a study can ask of a brake: each with its name, its kind, what is better, and how it comes from a piece."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from geometry.arrays import Array
from geometry.brake import SIDES
from geometry.cam_train import parameter_at_angle, ride
from geometry.condition import heel_angle, tip_angle
from geometry.effective_stroke import effective_strokes
from geometry.lining import gap_at
from geometry.linkage import arm_state, stroke_at_right_angle, stroke_at_turn
from geometry.quantity import KindName
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.shoe import turn_cos_sin
from mechviz.checks.angle import OWN_RULE, SQUARE
from mechviz.look.colours import VerbName
from mechviz.study.limits import PROFILE_SOURCE, PUSH_SOURCE, Limit, first_band, no_less_than_nothing, of_band
from mechviz.study.piece import Condition, Piece

Better = Literal["less", "more", "nearer"]
Stage = Literal["released", "applied", "forces"]
"""How far an application must get for a quantity to exist."""


@dataclass(frozen=True)
class Quantity:
    """One quantity: ``words`` name it, ``find`` solves it for a piece in a condition.

    ``better`` is which way is wanted, ``nearer`` to ``aim``; ``stage`` says whose reason tells why it is missing.
    ``limit`` gives its limit under the setup's rules; ``by_stroke`` holds it against the chamber's readjustment limit.
    ``cold`` says that the limit is one of a cold drum, so that hot it has none.
    """

    name: str
    words: str
    kind: KindName
    verb: VerbName
    better: Better
    stage: Stage
    find: Callable[[Piece, Condition], Array]
    limit: Callable[[Setup], Limit | None] = lambda _: None
    by_stroke: Literal["", "most", "left"] = ""
    aim: float = 0.0
    cold: bool = False

    def objective(self, values: Array) -> Array:
        """Return the values so that less is better."""
        if self.better == "nearer":
            return np.abs(values - self.aim)
        return -values if self.better == "more" else values


def _free(piece: Piece, at: Condition) -> Array:
    """The stroke of first touch with the drum as hot as it is then."""
    return stroke_at_turn(piece.brake.linkage, piece.applied(at).start)


def _stroke(piece: Piece, at: Condition) -> Array:
    return piece.applied(at).stroke


def _push_left(piece: Piece, at: Condition) -> Array:
    key = "effective stroke"
    effective = piece.once(key, lambda: effective_strokes(piece.brake.chamber, piece.pressure))
    return effective - piece.applied(at).stroke


def _angle_released(piece: Piece, at: Condition) -> Array:
    angle = arm_state(piece.brake.linkage, 0.0).arm_angle
    return np.where(piece.at_rest(at) == Reason.EXISTS, angle, np.nan)


def _angle_contact(piece: Piece, at: Condition) -> Array:
    return arm_state(piece.brake.linkage, _free(piece, at)).arm_angle


def _angle_applied(piece: Piece, at: Condition) -> Array:
    return arm_state(piece.brake.linkage, piece.applied(at).stroke).arm_angle


def _square(piece: Piece, _: Condition) -> Array:
    return np.atleast_1d(np.asarray(stroke_at_right_angle(piece.brake.linkage), dtype=np.float64))


def _square_after(piece: Piece, at: Condition) -> Array:
    return _square(piece, at) - _free(piece, at)


def _arm_turn(piece: Piece, at: Condition) -> Array:
    return piece.applied(at).turn


def _cam_turn(piece: Piece, at: Condition) -> Array:
    """From the rollers at their lowest to first touch, as the checks count it."""
    return piece.released(at[0]) + piece.applied(at).start - heel_angle(piece.brake)


def _profile_left(piece: Piece, at: Condition) -> Array:
    """The whole of the arm's turn is counted, wind-up too, as in the checks, which also look at any less slack."""
    return tip_angle(piece.brake) - (piece.released(at[0]) + piece.applied(at).turn)


def _clearance(piece: Piece, at: Condition) -> Array:
    """The gap at mid arc, released, of the tighter shoe."""
    brake, contact, released = piece.brake, piece.contact(at), piece.released(at[0])
    gaps: list[Array] = []
    for side in SIDES:
        parameter = parameter_at_angle(brake.profile, brake.shoe, side, released)
        turn = turn_cos_sin(brake.shoe, ride(brake.profile, brake.shoe, side, parameter).place)
        gaps.append(gap_at(brake.shoe, contact.surface, contact.radius, *turn, brake.lining.middle))
    return np.where(piece.at_rest(at) == Reason.EXISTS, np.minimum(*gaps), np.nan)


def _force(name: str) -> Callable[[Piece, Condition], Array]:
    return lambda piece, at: getattr(piece.forces(at), name)


_NONE = no_less_than_nothing
APPLIED = {"arm-angle-applied": ("common",), "arm-angle-applied-army": ("army",)}
TURNED = {"cam-turn": ("quebec", "common")}
"""Bands by the rule sets under which the checks use them."""
QUANTITIES: Mapping[str, Quantity] = {
    one.name: one
    for one in (
        Quantity(
            "free-stroke",
            "free stroke",
            "length",
            "push",
            "less",
            "applied",
            _free,
            lambda _: of_band("free-stroke"),
            cold=True,
        ),
        Quantity(
            "applied-stroke",
            "applied stroke",
            "length",
            "push",
            "less",
            "applied",
            _stroke,
            by_stroke="most",
            cold=True,
        ),
        Quantity(
            "stroke-reserve",
            "stroke left to the readjustment limit",
            "length",
            "push",
            "more",
            "applied",
            _stroke,
            by_stroke="left",
            cold=True,
        ),
        Quantity(
            "push-reserve",
            "stroke left before the push is lost",
            "length",
            "push",
            "more",
            "applied",
            _push_left,
            lambda _: _NONE(PUSH_SOURCE),
        ),
        Quantity("lining-clearance", "lining clearance at mid arc", "length", "rub", "more", "released", _clearance),
        Quantity(
            "arm-angle-released",
            "arm angle released",
            "angle",
            "turn",
            "nearer",
            "released",
            _angle_released,
            lambda _: of_band("arm-angle-released"),
            aim=SQUARE,
        ),
        Quantity(
            "arm-angle-contact",
            "arm angle at contact",
            "angle",
            "turn",
            "nearer",
            "applied",
            _angle_contact,
            lambda _: Limit(OWN_RULE, least=SQUARE),
            aim=SQUARE,
        ),
        Quantity(
            "arm-angle-applied",
            "arm angle applied",
            "angle",
            "turn",
            "nearer",
            "applied",
            _angle_applied,
            lambda setup: first_band(setup, APPLIED),
            aim=SQUARE,
        ),
        Quantity(
            "stroke-where-square",
            "stroke where arm and pushrod stand square",
            "length",
            "turn",
            "less",
            "applied",
            _square,
            by_stroke="most",
            cold=True,
        ),
        Quantity(
            "square-after-contact",
            "stroke from first touch to square",
            "length",
            "turn",
            "more",
            "applied",
            _square_after,
            lambda _: _NONE(OWN_RULE),
        ),
        Quantity("arm-turn", "arm turn, released to applied", "angle", "turn", "less", "applied", _arm_turn),
        Quantity(
            "cam-turn",
            "cam turn, heel to first touch",
            "angle",
            "turn",
            "less",
            "applied",
            _cam_turn,
            lambda setup: first_band(setup, TURNED),
        ),
        Quantity(
            "cam-profile-left",
            "cam profile left, applied",
            "angle",
            "turn",
            "more",
            "applied",
            _profile_left,
            lambda _: _NONE(PROFILE_SOURCE),
        ),
        Quantity("chamber-force", "chamber force", "force", "push", "more", "forces", _force("chamber_force")),
        Quantity("camshaft-torque", "camshaft torque", "torque", "turn", "more", "forces", _force("camshaft_torque")),
        Quantity("roller-force-left", "roller force, left", "force", "spread", "less", "forces", _force("roller_left")),
        Quantity(
            "roller-force-right", "roller force, right", "force", "spread", "less", "forces", _force("roller_right")
        ),
        Quantity(
            "lining-pressure", "peak lining pressure", "pressure", "rub", "less", "forces", _force("lining_pressure")
        ),
        Quantity("brake-torque", "brake torque", "torque", "rub", "more", "forces", _force("brake_torque")),
    )
}
"""By name, in the order of the chain of motion."""


def why_missing(quantity: Quantity, piece: Piece, at: Condition) -> NDArray[np.int8]:
    """Return the `Reason` that each brake has for lacking a quantity."""
    if quantity.stage == "released":
        return piece.at_rest(at)
    return piece.forces(at).reason if quantity.stage == "forces" else piece.applied(at).reason
