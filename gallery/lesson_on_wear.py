"""One step of the shipped lesson on wear, as its film shows it: the question, the picture, and the answer.

With an adjuster that takes up nothing the stroke meets its limit of 2 in after 0.031 in of lining.
"""

from pathlib import Path

from mechviz.export import svg_to_png
from mechviz.lessons import build_lesson, load_lesson
from mechviz.lessons.film import frame_svg, lesson_film

PICTURE = Path(__file__).with_suffix(".png")
WIDTH = 1040


def main(out: Path = PICTURE) -> float:
    """Draw the step with its answer and return how much lining has worn, inches."""
    built = build_lesson(load_lesson("05-wear"))
    step = built.steps[1]
    worn = (step.start.lining - step.end.lining) / 25.4
    assert round(worn, 3) == 0.031
    holds = lesson_film(built).holds
    answered = next(hold for hold in holds if hold.step == 1 and "answer" in hold.sections)
    out.write_bytes(svg_to_png(frame_svg(built, answered, "light"), WIDTH))
    return worn


if __name__ == "__main__":
    print(f"worn {main():.3f} in")
