"""A setup's brake sound and with defects, each solved, and what was asked for read from text."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from geometry.arrays import floats
from geometry.brake import Brake
from geometry.defects import CONTRARY, DEFECTS, Defect, Outcome, Wheel, apply_all, defect, solve_wheel
from geometry.errors import Fault, MechvizError, PartError
from geometry.found import condition_of
from geometry.quantity import KindName
from geometry.setup import Setup
from geometry.units import parse

FOUND = "As found"
NOT_FELT = "Of an oval drum nothing comes to stroke and torque: no lining presses on it."
Amounts = Mapping[str, float | None]


@dataclass(frozen=True)
class Row:
    """A wheel with something wrong, its name for people, and what comes of it."""

    name: str
    title: str
    wheel: Wheel
    outcome: Outcome
    defects: tuple[Defect, ...] = ()

    @property
    def inside(self) -> str:
        """What the defects do."""
        return " ".join(self.inside_of(one) for one in self.defects)

    @property
    def outside(self) -> str:
        """What shows of them."""
        return " ".join(one.outside for one in self.defects if self.shows(one))

    def inside_of(self, one: Defect) -> str:
        """What a defect does beside the others."""
        return one.inside if self.shows(one) else NOT_FELT

    def shows(self, one: Defect) -> bool:
        """Whether a defect shows beside the others: where no shoe moves, the drum's form does not come to the rod."""
        return not (self.wheel.blocked and one.name == "drum-out-of-round")


def sound_wheel(setup: Setup) -> Wheel:
    """Return a setup's brake as found, with nothing else wrong."""
    return Wheel(setup.brake, condition_of(setup), setup.test.pressure)


def sound_row(setup: Setup, title: str = FOUND) -> Row:
    """Return the row of the brake as found, under a title."""
    wheel = sound_wheel(setup)
    return Row("as-found", title, wheel, solve_wheel(wheel))


def every_row(setup: Setup) -> list[Row]:
    """Return a row for each defect alone, in its usual amount; one that this brake cannot have is left out."""
    wheel = sound_wheel(setup)
    rows = [(one, _tried(wheel, one)) for one in DEFECTS]
    return [Row(one.name, one.title, sick, solve_wheel(sick), (one,)) for one, sick in rows if sick is not None]


def _tried(wheel: Wheel, one: Defect) -> Wheel | None:
    """The wheel with the defect; None where it would be no brake, or where it is the same brake."""
    try:
        sick = one.on(wheel)
    except PartError:
        return None
    return None if sick is wheel else sick


def combined_row(setup: Setup, amounts: Amounts) -> Row:
    """Return the row of several defects together. Raises `PartError` for amounts that cannot be."""
    wheel = apply_all(sound_wheel(setup), dict(amounts))
    found = tuple(one for one in DEFECTS if one.name in amounts)
    title = " and ".join(one.title if n == 0 else one.title.lower() for n, one in enumerate(found))
    name = "+".join(one.name for one in found) or "as-found"
    return Row(name, title or FOUND, wheel, solve_wheel(wheel), found)


def read_amounts(typed: Sequence[str]) -> dict[str, float | None]:
    """Return defects and their amounts from ``name`` or ``name=amount``. Raises `MechvizError` with every fault."""
    found, wrong = dict[str, float | None](), list[Fault]()
    for text in typed:
        try:
            name, equals, amount = text.partition("=")
            one = defect(name.strip())
            if one.name in found:
                raise PartError(Fault(f"--fault {one.name}", "is asked for twice", "write it once", kind="number"))
            found[one.name] = _amount(one, amount) if equals else None
        except MechvizError as error:
            wrong += error.faults
    wrong += [_contrary(*pair) for pair in CONTRARY if found.keys() >= set(pair)]
    if wrong:
        raise MechvizError(wrong)
    return found


def _contrary(one: str, other: str) -> Fault:
    problem = f"contradicts --fault {other}: one wheel cannot have both"
    return Fault(f"--fault {one}", problem, "leave one of the two out", kind="number")


def _amount(one: Defect, text: str) -> float:
    """An amount: with a unit where it is a length or an angle, a share or a percentage otherwise."""
    where = f"--fault {one.name}"
    if one.kind != "number":
        return parse(text.strip(), one.kind, where)
    number, percent, rest = text.strip().partition("%")
    try:
        if rest.strip():
            raise ValueError
        value = float(number) / (100 if percent else 1)
    except ValueError:
        fix = "write a share such as 0.3 or 30 %"
        raise PartError(Fault(where, "is no share", fix, text.strip() or '""', "number")) from None
    return value


def drawn_setup(setup: Setup, wheel: Wheel) -> Setup:
    """Return the setup that a wheel would be drawn from: its brake and its pressure."""
    pressure = float(floats(wheel.pressure))
    return replace(setup, brake=wheel.brake, test=replace(setup.test, pressure=pressure))


def drawn_part(one: Defect, brake: Brake) -> str:
    """Return the name of the outline that a defect belongs to; both shoes may swing on one anchor pin."""
    shared = brake.shoe.anchor_spacing == 0 and one.part.startswith("anchor_pin")
    return "anchor_pin_shared" if shared else one.part


KINDS: Mapping[str, KindName] = {
    "stroke": "length",
    "free_stroke": "length",
    "released_angle": "angle",
    "applied_angle": "angle",
    "gap_left": "length",
    "gap_right": "length",
    "chamber_force": "force",
    "brake_torque": "torque",
    "drag": "torque",
    "swing": "length",
    "torque_swing": "torque",
}
"""What each figure of an outcome is."""
