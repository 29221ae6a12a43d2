"""Brakes to draw: the built-in ones and odd ones, in the states that matter."""

from dataclasses import replace
from functools import cache

from geometry.condition import Condition
from geometry.found import condition_of
from geometry.quantity import System
from geometry.setup import Setup, read_setup, read_setup_text
from mechviz.checks.case import HOT
from mechviz.drawing.compare import Compared, Comparison, comparison
from mechviz.drawing.picture import Picture, picture
from mechviz.drawing.scene import Scene, hotter, scene_at

WORN = "worn-drive-16.5x7"
BASE = f'schema = 1\nbase = "{WORN}"\n'
SETUPS = {
    "one-anchor": f'{BASE}title = "One anchor"\n[foundation]\nanchor_spacing = "0 in"\n',
    "long-title": f'{BASE}title = "{"A <title> & more of it, " * 4}"\n',
    "clockwise": f'{BASE}title = "Clockwise"\n[foundation]\ndrum_rotation = "clockwise"\n',
    "small-chamber": (
        'schema = 1\ntitle = "Small"\nbase = "steer-15x4"\n[chamber]\nstyle = "clamp"\nsize = "9"\n'
        'rated_stroke = "1.75 in"\n[linkage]\narm_length = "6.5 in"\naxis_offset = "6.35 in"\n'
        '[condition]\nfree_stroke = "0.4 in"\n'
    ),
}
BUILT_IN = ("drive-16.5x7", "steer-15x4", "trailer-16.5x7", WORN)
NAMES = (*BUILT_IN, *SETUPS)
DIFFERENT = (WORN, "steer-15x4", "one-anchor", "long-title", "small-chamber")
"""Brakes of which each is drawn in another way: the drive and the trailer brake have the worn one's parts."""


def unlike(name: str) -> bool:
    """Return whether a brake is one of the `DIFFERENT` ones."""
    return name in DIFFERENT


@cache
def setup(name: str, system: System = "inch") -> Setup:
    read = read_setup_text(SETUPS[name], name) if name in SETUPS else read_setup(name)
    return replace(read, system=system)


def scene(name: str, at: str | float = "applied", system: System = "inch", hot: bool = False) -> Scene:
    return _scene(name, at, system, hot)


@cache
def _scene(name: str, at: str | float, system: System, hot: bool) -> Scene:
    read = setup(name, system)
    condition: Condition = condition_of(read)
    condition = hotter(condition, HOT) if hot else condition
    kind = "event" if isinstance(at, str) else "stroke"
    return scene_at(read, condition, at, kind, asked=f"{at} mm")


_PICTURES: dict[int, Picture] = {}


def pictured(shown: Scene) -> Picture:
    """The picture of a scene that `scene` keeps, drawn once."""
    if id(shown) not in _PICTURES:
        _PICTURES[id(shown)] = picture(shown)
    return _PICTURES[id(shown)]


def compared(name: str, kind: Comparison, system: System = "inch") -> Compared:
    return _compared(name, kind, system)


@cache
def _compared(name: str, kind: Comparison, system: System) -> Compared:
    return comparison(setup(name, system), kind)
