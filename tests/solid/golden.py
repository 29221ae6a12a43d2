"""Writes the golden renders anew: ``python -m tests.solid.golden``. Look at every one of them afterwards."""

from PIL import Image

from tests.solid.test_stage import GOLDEN, SHOTS, stage

if __name__ == "__main__":
    GOLDEN.mkdir(exist_ok=True)
    for name, shot in SHOTS.items():
        with stage(shot) as made:
            Image.fromarray(made.image()).save(GOLDEN / f"{name}.png", optimize=True)
