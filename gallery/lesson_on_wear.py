"""One step of the shipped lesson on wear, as its film shows it: the question, the picture, and the answer.

With an adjuster that takes up nothing the stroke meets its limit of 2 in after 0.031 in of lining.
"""

from pathlib import Path

from PIL import Image

from mechviz.lessons import build_lesson, load_lesson
from mechviz.lessons.film import lesson_film
from mechviz.solid.film import Screen

PICTURE = Path(__file__).with_suffix(".png")
SCREEN = Screen(1040, 585)


def main(out: Path = PICTURE) -> float:
    """Draw the step with its answer and return how much lining has worn, inches."""
    built = build_lesson(load_lesson("05-wear"))
    step = built.steps[1]
    worn = (step.start.lining - step.end.lining) / 25.4
    assert round(worn, 3) == 0.031
    film = lesson_film(built)
    answered = next(hold for hold in film.holds if hold.step == 1 and "answer" in hold.sections)
    frame = film.frame(answered)
    small = Image.fromarray(frame).resize((SCREEN.width, SCREEN.height), Image.Resampling.LANCZOS)
    small.quantize(96).save(out, optimize=True)
    return worn


if __name__ == "__main__":
    print(f"worn {main():.3f} in")
