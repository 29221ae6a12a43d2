"""What a picture shows: one brake in one state, with everything that is drawn or written solved once."""

from dataclasses import dataclass
from functools import cached_property

from geometry.arrays import floats
from geometry.brake import Brake
from geometry.condition import Condition, Contact, contact
from geometry.kinematics import Poses, solve_poses
from geometry.outlines import Outline, brake_outlines, deforming
from geometry.pose_table import PoseTable, pose_table
from geometry.quantity import System
from geometry.setup import Setup
from geometry.states import State, at_pressure, at_stroke, events
from mechviz.checks import Case


@dataclass(frozen=True)
class Scene:
    """A setup in a condition and a state. Raises nothing: a state that cannot exist has its reason in ``state``."""

    setup: Setup
    condition: Condition
    state: State

    @property
    def brake(self) -> Brake:
        """The brake."""
        return self.setup.brake

    @property
    def system(self) -> System:
        """The units to write in."""
        return self.setup.system

    @cached_property
    def case(self) -> Case:
        """The setup as the checks see it: the readjustment limit comes from there."""
        return Case(self.setup, self.setup.test.rules)

    @cached_property
    def events(self) -> dict[str, State]:
        """Released, contact and applied in this condition, by name."""
        return {s.name: s for s in events(self.brake, self.condition, self.setup.test.pressure)}

    @cached_property
    def poses(self) -> Poses:
        """The pose of this state, as arrays of one element."""
        return solve_poses(self.brake, self.condition, [0.0 if self.state.stroke is None else self.state.stroke])

    @cached_property
    def table(self) -> PoseTable:
        """The transforms of every body."""
        return pose_table(self.brake, self.poses)

    @cached_property
    def outlines(self) -> tuple[Outline, ...]:
        """Every part, back to front, the deforming ones as they are in this state."""
        changed = deforming(self.brake, self.poses)
        return tuple(changed.get(o.name, o) for o in brake_outlines(self.brake, self.condition))

    @cached_property
    def contact(self) -> Contact:
        """Where the linings meet the drum."""
        thickness, diameter, temperature, _ = (floats(v).reshape(1) for v in self.condition.arrays)
        return contact(self.brake, thickness, diameter, temperature)

    @property
    def pressing(self) -> bool:
        """Whether anything presses: a pressure holds the linings on the drum."""
        return self.state.brake_torque is not None and self.state.brake_torque > 0


def scene_at(setup: Setup, condition: Condition, at: str | float, kind: str = "event") -> Scene:
    """Return the scene of an event's name, of a ``stroke`` (mm) or of a ``pressure`` (MPa)."""
    brake = setup.brake
    if kind == "stroke":
        return Scene(setup, condition, at_stroke(brake, condition, float(at), "stroke"))
    if kind == "pressure":
        return Scene(setup, condition, at_pressure(brake, condition, float(at), "pressure"))
    state = next(s for s in events(brake, condition, setup.test.pressure) if s.name == at)
    return Scene(setup, condition, state)
