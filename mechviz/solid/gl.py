"""Whether this machine can draw solids: VTK without OpenGL does not raise, it takes its process down with it."""

import subprocess
import sys
from functools import cache

from geometry.errors import Fault, MechvizError

PACKAGES = "libegl1 libgl1-mesa-dri"
"""Debian's packages that make it work, with no display and no X server."""

_TRIAL = """
import pyvista
plotter = pyvista.Plotter(off_screen=True, window_size=[16, 16])
plotter.add_mesh(pyvista.Cube())
plotter.render()
assert plotter.screenshot(return_img=True).any()
plotter.close()
"""


class NoGraphicsError(MechvizError, RuntimeError):
    """A machine that cannot draw solids."""


@cache
def can_draw() -> bool:
    """Say whether a small trial in a process of its own comes back alive; asked once."""
    trial = subprocess.run([sys.executable, "-c", _TRIAL], capture_output=True, timeout=120, check=False)
    return trial.returncode == 0


def needed() -> None:
    """Raise `NoGraphicsError`, with what to install, where this machine cannot draw solids."""
    if not can_draw():
        fix = f"install it (on Debian: apt install {PACKAGES}); the drawing and the animated page do without"
        raise NoGraphicsError(Fault("solid view", "there is no OpenGL on this machine", fix, kind="number"))
