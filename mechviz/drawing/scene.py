"""What a picture shows: one brake in one state, with everything that is drawn or written solved once."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from geometry.arrays import floats
from geometry.brake import Brake
from geometry.condition import Condition, Contact, contact
from geometry.found import condition_of
from geometry.kinematics import Poses, solve_poses
from geometry.outlines import Outline, brake_outlines, deforming
from geometry.pose_table import PoseTable, pose_table
from geometry.quantity import System
from geometry.setup import Setup
from geometry.states import ShoeState, State, at_pressure, at_stroke, event, events
from mechviz.checks.case import COLD, WARM, Case
from mechviz.checks.in_use import open_of_solved_stroke


@dataclass(frozen=True)
class Scene:
    """A setup in a condition and a state. Raises nothing: a state that cannot exist has its reason in ``state``.

    ``asked`` is what was typed for a state that is no event of an application. With ``hand`` no air pushes: somebody
    pulls the arm, which can be no further than to the linings.
    """

    setup: Setup
    condition: Condition
    state: State
    asked: str = ""
    hand: bool = False

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
    def open_stroke(self) -> float:
        """How much readings and model leave open of a worked-out stroke, mm."""
        return open_of_solved_stroke(self.case)

    @cached_property
    def events(self) -> dict[str, State]:
        """Released, contact and applied in this condition, by name."""
        return {s.name: s for s in events(self.brake, self.condition, self.setup.test.pressure)}

    @property
    def free_stroke(self) -> float | None:
        """The stroke (mm) at which the first lining touches in this condition; None where it never does."""
        return self.events["contact"].stroke

    @cached_property
    def poses(self) -> Poses:
        """The pose that is drawn, as arrays of one element: this state's, or where its motion ends."""
        if self.state.stroke is not None:
            return solve_poses(self.brake, self.condition, [self.state.stroke])
        last = solve_poses(self.brake, self.condition, [self.brake.chamber.rated_stroke])
        return last if np.isfinite(last.stroke[0]) else solve_poses(self.brake, self.condition, [0.0])

    @property
    def stroke(self) -> float:
        """The stroke that is drawn, mm."""
        return float(self.poses.stroke[0])

    @cached_property
    def table(self) -> PoseTable:
        """The transforms of every body."""
        return pose_table(self.brake, self.poses)

    @cached_property
    def outlines(self) -> tuple[Outline, ...]:
        """Every part, back to front, the deforming ones as they are in this state; a parking section released."""
        changed, parked = deforming(self.brake, self.poses), self.setup.parking is not None
        return tuple(changed.get(o.name, o) for o in brake_outlines(self.brake, self.condition, parking=parked))

    @cached_property
    def contact(self) -> Contact:
        """Where the linings meet the drum."""
        thickness, diameter, temperature, _ = (floats(v).reshape(1) for v in self.condition.arrays)
        return contact(self.brake, thickness, diameter, temperature)

    @property
    def stands(self) -> bool:
        """Whether there is any pose to draw."""
        return bool(np.isfinite(self.poses.stroke[0]))

    @property
    def exists(self) -> bool:
        """Whether the state can exist."""
        return self.state.stroke is not None

    @property
    def left_to_bottom(self) -> float | None:
        """The stroke (mm) that is left before the chamber bottoms; None where the state cannot exist."""
        return None if self.state.stroke is None else self.brake.chamber.rated_stroke - self.state.stroke

    @property
    def moved(self) -> bool:
        """Whether the pushrod has left its place: something pushes it."""
        return self.exists and self.stroke > 0

    @property
    def hot(self) -> bool:
        """Whether the drum is warmer than a cold one by more than a hand would tell."""
        return float(self.condition.arrays[2]) > COLD + WARM

    @property
    def touching(self) -> bool:
        """Whether a lining touches the drum."""
        return touches(self.state.left) or touches(self.state.right)

    def linings(self, many: str, one: str) -> str:
        """Say something of the linings that touch: of both in the words for many, of one in those for one."""
        left, right = touches(self.state.left), touches(self.state.right)
        return f"The linings {many}" if left == right else f"The {'left' if left else 'right'} lining {one}"

    @property
    def pressing(self) -> bool:
        """Whether anything presses: a pressure holds the linings on the drum."""
        return self.state.brake_torque is not None and self.state.brake_torque > 0


TOUCH = 1e-3
"""A gap below this (mm) is contact."""


def touches(shoe: ShoeState) -> bool:
    """Return whether a shoe's lining touches the drum."""
    return shoe.gap_least is not None and shoe.gap_least <= TOUCH


def scene_at(setup: Setup, condition: Condition, at: str | float, kind: str = "event", asked: str = "") -> Scene:
    """Return the scene of an event's name, of a ``stroke`` (mm) or of a ``pressure`` (MPa)."""
    brake = setup.brake
    if kind == "stroke":
        return Scene(setup, condition, at_stroke(brake, condition, float(at), "stroke"), asked)
    if kind == "pressure":
        return Scene(setup, condition, at_pressure(brake, condition, float(at), "pressure"), asked)
    return Scene(setup, condition, event(brake, condition, setup.test.pressure, str(at)))


def found_scene(setup: Setup) -> Scene:
    """Return a setup's brake as found, applied where it can be, else released."""
    condition = condition_of(setup)
    scene = scene_at(setup, condition, "applied")
    return scene if scene.exists else scene_at(setup, condition, "released")


def hotter(condition: Condition, temperature: float) -> Condition:
    """Return the same adjustment with the drum at another temperature (K)."""
    return replace(condition, drum_temperature=temperature)
