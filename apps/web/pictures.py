"""Small pictures for the pages around the desks."""

from functools import cache

from geometry.found import condition_of
from geometry.setup import read_setup
from mechviz.drawing.picture import picture
from mechviz.drawing.scene import scene_at


@cache
def builtin_picture(name: str) -> str:
    """Return a drawing of a built-in brake as SVG, applied. Raises `SetupError` for a name that there is not."""
    from geometry.setup import builtin_text

    builtin_text(name)  # refuses what is no name of a built-in setup, such as a path
    setup = read_setup(name)
    return picture(scene_at(setup, condition_of(setup), "applied"), labels="none", column=False).svg
