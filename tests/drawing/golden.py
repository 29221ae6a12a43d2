"""Golden structure of drawings: their ids, titles, words and numbers, without a byte of style.

``python -m tests.drawing.golden`` writes the files anew. Read the difference before it is committed.
"""

import re
from pathlib import Path

from mechviz.drawing.picture import picture
from tests.drawing.measure import SVG, Drawn
from tests.drawing.scenes import compared, pictured, scene

FOLDER = Path(__file__).parent / "golden"
DRAWINGS = {
    "worn-applied": lambda: pictured(scene("worn-drive-16.5x7")).svg,
    "drive-released-metric": lambda: picture(scene("drive-16.5x7", "released", "metric"), labels="all").svg,
    "steer-contact": lambda: pictured(scene("steer-15x4", "contact")).svg,
    "worn-life": lambda: compared("worn-drive-16.5x7", "life").svg,
}
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def listing(svg: str) -> list[str]:
    """A line an element with an id: its name, where it stands, its title, and its words."""
    found = Drawn(svg)
    lines = [f"viewBox {found.root.get('viewBox')}"]
    for name in found.ids:
        element = found.by_id[name]
        if name and not name.startswith("mv-"):
            place = " ".join(f"{number:.2f}" for number in found.matrix(name))
            title = element.findtext(f"{SVG}title") or ""
            words = found.words(name) if element.tag.endswith(("text", "tspan")) else ""
            lines.append(" | ".join(part for part in (name, place, title, words) if part))
    return lines


def same(line: str, golden: str) -> bool:
    """Whether two lines say the same, their numbers to a fiftieth."""
    numbers = [[float(n) for n in NUMBER.findall(text)] for text in (line, golden)]
    words = [NUMBER.sub("#", text) for text in (line, golden)]
    close = all(abs(a - b) <= 0.02 for a, b in zip(*numbers, strict=False))
    return words[0] == words[1] and len(numbers[0]) == len(numbers[1]) and close


if __name__ == "__main__":
    for name, draw in DRAWINGS.items():
        (FOLDER / f"{name}.txt").write_text("\n".join(listing(draw())) + "\n", encoding="utf-8")
