"""A window on the desktop in which the solid brake is walked round, taken apart, cut open and pressed.

The mouse orbits, pans and zooms; sliders press the brake and take it apart; keys do the rest (`KEYS`). What the window
shows is a `Window`, whose every act is a method, so that it can be tested without a screen.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import cached_property
from textwrap import fill
from time import monotonic
from typing import Any

import numpy as np

from geometry.arrays import Array
from geometry.condition import Condition
from geometry.errors import Fault
from geometry.found import condition_of
from geometry.kinematics import Poses, solve_poses
from geometry.setup import Setup
from geometry.states import at_stroke
from mechviz.drawing.foot import CAUTION
from mechviz.drawing.scene import Scene
from mechviz.drawing.words import figure, length
from mechviz.look.colours import colours
from mechviz.look.font import font_folder
from mechviz.solid.fineness import FILM
from mechviz.solid.gl import NoGraphicsError
from mechviz.solid.shot import Shot, shown
from mechviz.solid.stage import Stage
from mechviz.solid.views import VIEWS

STEPS = 121
"""Poses from released to the last stroke that there is."""
TICK = 40
"""Milliseconds from one picture to the next while it plays."""
SECONDS = 4.0
"""Of one application, there and back, while it plays."""
DRUM = ("ghost", "whole", "off")

COLUMNS, NARROW = 46, 34
"""Characters of a line on a part, and of one at the foot, left of the sliders."""

KEYS = (
    ("space", "play, stop"),
    ("c", "cut open, whole"),
    ("d", "drum: looked through, whole, off"),
    ("w", "wheel on, off"),
    ("v", "next view"),
    ("h", "this help"),
    ("q", "close"),
)


class Window:
    """The solid brake in a window.

    ``shown`` says whether there is a screen; without one everything works but is not seen. Close it with `close`.
    """

    def __init__(self, setup: Setup, shot: Shot, size: tuple[int, int] = (1280, 800), *, shown: bool = True) -> None:
        self.setup, self.shot, self.condition = setup, shot, condition_of(setup)
        self.poses = all_poses(setup, self.condition)
        self.place, self.apart = 0, shot.apart
        self.drum, self.wheel, self.playing, self.helping = 0, False, False, False
        self.began = 0.0
        parked = setup.parking is not None
        self.stage = Stage(setup.brake, self.condition, shot, size, parking=parked, fineness=FILM, window=shown)
        self._words: dict[str, str] = {}
        self.sliders: dict[str, Any] = {}
        self._redress(shot)
        self.stage.look()
        self._wire()

    def close(self) -> None:
        """Close the window and give back all that VTK holds."""
        self.stage.close()

    def show(self) -> None:
        """Open the window and come back when it is closed. Raises `NoGraphicsError` where none can be opened."""
        if any(word in type(self.stage.plotter.render_window).__name__ for word in ("EGL", "OSOpenGL")):
            fix = "start it on a desktop, or use mechviz animate for a page"
            raise NoGraphicsError(Fault("show", "no window can be opened here", fix, kind="number"))
        self.stage.plotter.show(title=f"mechviz: {self.setup.title}", auto_close=False)

    def _wire(self) -> None:
        plotter = self.stage.plotter
        acts: dict[str, Callable[[], None]] = {
            "space": self.play, "c": self.cut, "d": self.next_drum, "w": self.wheel_on, "v": self.next_view,
            "h": self.help,
        }  # fmt: skip
        for key, act in acts.items():
            plotter.add_key_event(key, act)
        last = float(self.poses.stroke[-1])
        self._slider(self.press_to, (0.0, last / self._unit), self._stroke_name, 0.36)
        self._slider(self.take_apart, (0.0, 1.0), "taken apart", 0.70)
        if plotter.iren is not None:
            plotter.iren.add_observer("MouseMoveEvent", self._hovered)
            plotter.add_timer_event(max_steps=10**9, duration=TICK, callback=self._ticked)

    @property
    def _unit(self) -> float:
        return 25.4 if self.setup.system == "inch" else 1.0

    @property
    def _stroke_name(self) -> str:
        return f"stroke, {'in' if self.setup.system == 'inch' else 'mm'}"

    def _slider(self, act: Callable[[float], None], span: tuple[float, float], title: str, left: float) -> None:
        plotter = self.stage.plotter
        if plotter.iren is None:
            return
        ink = colours(self.shot.theme)["ink"]
        self.sliders[title] = plotter.add_slider_widget(
            act, span, value=span[0], title=title, pointa=(left, 0.07), pointb=(left + 0.26, 0.07),
            color=ink, style="modern", title_height=0.020, slider_width=0.02, tube_width=0.006,
            interaction_event="always",
        )  # fmt: skip

    def press_to(self, stroke: float) -> None:
        """Put the pushrod at a stroke, in the setup's own units."""
        self.place = int(np.argmin(np.abs(self.poses.stroke - stroke * self._unit)))
        self._pose()

    def take_apart(self, share: float) -> None:
        """Take the brake apart so far, 0 to 1."""
        self.apart = share
        self._pose()

    def play(self) -> None:
        """Press and let go by turns, or stop."""
        self.playing, self.began = not self.playing, monotonic()

    def cut(self) -> None:
        """Cut chamber and drum open, or show them whole."""
        self._redress(replace(self.shot, cut=not self.shot.cut))

    def next_drum(self) -> None:
        """Show the drum in the next way."""
        self.drum = (self.drum + 1) % len(DRUM)
        self._hide()

    def wheel_on(self) -> None:
        """Put the wheel on, or take it off."""
        self.wheel = not self.wheel
        self._hide()

    def next_view(self) -> None:
        """Look from the next view."""
        names = list(VIEWS)
        following = VIEWS[names[(names.index(self.shot.view.name) + 1) % len(names)]]
        self._redress(replace(self.shot, view=following))  # what is cut away depends on the view
        self.stage.look(following)
        self.stage.plotter.render()

    def help(self) -> None:
        """Show what the keys do, or no longer."""
        self.helping = not self.helping
        self._write_foot()

    def _write_foot(self) -> None:
        """Write the keys, all or how to see them, and under them the caution, which always stands there."""
        keys = "\n".join(f"{key}: {does}" for key, does in KEYS) if self.helping else "h: keys"
        self._write("foot", f"{keys}\n{fill(CAUTION, NARROW)}", "lower_left")

    def point_at(self, x: int, y: int) -> str:
        """Name the part at a pixel (from the lower left corner), and say what it does; return its name, or nothing."""
        from vtkmodules.vtkRenderingCore import vtkCellPicker

        picker = vtkCellPicker()
        picker.Pick(x, y, 0, self.stage.plotter.renderer)
        actor = picker.GetActor()
        name = next((name for name, one in self.stage.actors.items() if one is actor), "")
        self._tell(name)
        return name

    def _hovered(self, *_: object) -> None:
        self.point_at(*self.stage.plotter.iren.get_event_position())

    def _tell(self, name: str) -> None:
        solid = self.stage.solids.get(name)
        about = (
            [] if solid is None else [solid.title, solid.does, f"Look for: {solid.look_for}" if solid.look_for else ""]
        )
        words = "\n".join(fill(line, COLUMNS) for line in about)
        if self._words.get("part") != words:
            self._write("part", words, "upper_left")

    def _hide(self) -> None:
        hidden, ghost = shown(self.shot.view, DRUM[self.drum], self.wheel)
        self._redress(replace(self.shot, hidden=hidden, ghost=ghost))

    def _redress(self, shot: Shot) -> None:
        self.shot = shot
        self.stage.dress(shot)
        self._pose()
        self._write_foot()
        self.stage.plotter.render()

    def _pose(self) -> None:
        self.stage.pose(self.poses, self.place, apart=self.apart)
        self._write("figures", self.figures, "upper_right")

    @property
    def figures(self) -> str:
        """The stroke, the arm's angle and the cam's turn of what is shown."""
        system = self.setup.system
        state = at_stroke(self.setup.brake, self.condition, float(self.poses.stroke[self.place]), "stroke")
        scene = Scene(self.setup, self.condition, state)
        return "\n".join(
            [
                f"stroke {length(scene.stroke, system)}, limit {length(scene.case.limit.limit_mm, system)}",
                f"arm at {figure(state.arm_angle, 'angle', system)}",
                f"cam turned {figure(state.cam_turn, 'angle', system)}",
            ]
        )

    def _write(self, name: str, words: str, where: str) -> None:
        """Write words into a corner of the window."""
        self._words[name] = words
        self.stage.plotter.add_text(
            words or " ", position=where, name=f"words-{name}", font_size=11,
            color=colours(self.shot.theme)["ink"], font_file=FONT, render=False,
        )  # fmt: skip

    def _ticked(self, _: int) -> None:
        if self.playing:
            self.play_at(monotonic() - self.began)

    def play_at(self, seconds: float) -> None:
        """Show what is played so long after its beginning."""
        share = 0.5 - 0.5 * np.cos(2 * np.pi * seconds / SECONDS)
        self.place = round(share * self.applied)
        if self._stroke_name in self.sliders:
            stroke = float(self.poses.stroke[self.place]) / self._unit
            self.sliders[self._stroke_name].GetRepresentation().SetValue(stroke)
        self._pose()
        self.stage.plotter.render()

    @cached_property
    def applied(self) -> int:
        """Which of the poses is the applied brake's; the last one where it has none."""
        scene = Scene(self.setup, self.condition, at_stroke(self.setup.brake, self.condition, 0.0, "stroke"))
        stroke = scene.events["applied"].stroke
        return len(self.poses.stroke) - 1 if stroke is None else int(np.argmin(np.abs(self.poses.stroke - stroke)))


FONT = str(next(font_folder().glob("*.ttf")))


def all_poses(setup: Setup, condition: Condition) -> Poses:
    """Return the poses of a brake from released as far as there are any, evenly along the stroke."""
    rated = setup.brake.chamber.rated_stroke
    tried: Array = np.linspace(0.0, rated, STEPS)
    there = np.isfinite(solve_poses(setup.brake, condition, tried).stroke)
    last = float(tried[np.flatnonzero(there)[-1]]) if there.any() else 0.0
    return solve_poses(setup.brake, condition, np.linspace(0.0, last, STEPS))
