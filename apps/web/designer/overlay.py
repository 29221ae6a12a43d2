"""The kept points over one another in one drawing."""

from apps.web.designer.desk import Desk
from apps.web.designer.html_point import names_of
from apps.web.designer.judged import figure_words
from apps.web.designer.pick import LETTERS
from geometry.errors import MechvizError
from geometry.setup import read_setup_text
from mechviz.drawing.overlaid import Overlaid, overlaid
from mechviz.drawing.scene import found_scene
from mechviz.look.colours import ThemeName


def overlay_svg(made: Desk, theme: ThemeName | None) -> str:
    """Return the drawing; one of a brake that cannot be is left out of it. Empty where nothing can be drawn."""
    brakes: list[Overlaid] = []
    for letter, pick in zip(LETTERS, made.state.picks, strict=False):
        try:
            setup = read_setup_text(made.text_of(pick), letter)
        except MechvizError:
            continue
        names = names_of(list(pick.by_key))
        words = ", ".join(f"{name} {value}" for name, value in figure_words(pick, names, setup.system))
        brakes.append(Overlaid(letter, words, found_scene(setup)))
    return overlaid(brakes, theme) if brakes else ""
