"""`mechviz show`: the solid brake in a window on the desktop."""

import os
import sys

from apps.commands.looks import Apart, Cut, Drum, Look, View, Wheel
from apps.commands.options import SetupName, Units, refused
from apps.terminal import say

EPILOGUE = """Examples:
  mechviz show worn-drive-16.5x7
  mechviz show quarry.toml --view wheel-side --cut

The mouse turns it, pans and zooms; the sliders press the brake
and take it apart; h in the window lists the keys. Without a
desktop, the animated page and draw --solid show the same."""


def show(
    setup: SetupName,
    /,
    *,
    view: View = None,
    drum: Drum = None,
    wheel: Wheel = False,
    cut: Cut = False,
    apart: Apart = None,
    units: Units = None,
) -> int:
    """Open a window in which the brake is walked round, taken apart, cut open and pressed."""
    from dataclasses import replace

    from geometry.setup import read_setup
    from mechviz.solid.alone import window

    read = read_setup(setup)
    shot = Look(view, drum, wheel, cut, apart).shot()
    if not _has_screen():
        fix = "use mechviz animate for a page, or mechviz draw --solid for a picture"
        raise refused("show", "there is no screen to open a window on", fix)
    say("Close the window, or press q in it, to come back.\n")
    window(read if units is None else replace(read, system=units), shot)
    return 0


def _has_screen() -> bool:
    """Whether a window can be opened: everywhere but on a Linux without a display."""
    return sys.platform != "linux" or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
