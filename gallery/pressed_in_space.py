"""A film: the brake is pressed and let go, seen from where the wheel was.

Every frame is a state of the solver. The rod moves first, the arm and the cam turn, the shoes open, the linings touch;
then the rod goes on while cam and shoes stand: what gives is the structure between them. The number is that last part.
"""

from dataclasses import replace
from pathlib import Path

from geometry.found import condition_of
from geometry.kinematics import free_stroke
from geometry.setup import read_setup
from mechviz.solid.encode import encoded
from mechviz.solid.film import Screen, film_frames
from mechviz.solid.shot import OUTSIDE, WHEEL_END, Shot
from mechviz.solid.story import FPS, press_film
from mechviz.solid.views import VIEWS

PICTURE = Path(__file__).with_suffix(".gif")
SCREEN = Screen(400, 225)


def main(out: Path = PICTURE, every: int = 1) -> float:
    """Film one application (``every`` so many frames of it) and return the stroke past first contact, inches."""
    setup = read_setup("drive-16.5x7")
    condition = condition_of(setup)
    shot = Shot(VIEWS["wheel-side"], hidden=OUTSIDE | WHEEL_END, ghost=frozenset())
    takes = [replace(take, strokes=take.strokes[::every], names=()) for take in press_film(setup, condition, shot)]
    past = (takes[1].strokes[0] - float(free_stroke(setup.brake, condition))) / 25.4
    assert round(past, 2) == 0.91
    for _ in encoded(film_frames(setup, takes, SCREEN), out, FPS, SCREEN):
        pass
    return float(past)


if __name__ == "__main__":
    print(f"{main():.2f} in of stroke past first contact")
