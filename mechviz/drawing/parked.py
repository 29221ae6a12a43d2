"""The parking section's name, under the section: its spring is held back by the air, as on the road."""

from mechviz.drawing.layout import MARGIN, Layout
from mechviz.drawing.lettering import Text, folded
from mechviz.drawing.names import Labels
from mechviz.drawing.note import Note

RIGHT, DOWN = 4.0, 24.0
"""Where the name begins, from the section's lower left corner: clear of the chamber's air port."""


def parked(where: Layout, labels: Labels) -> list[Note]:
    """Return the note, where a section is fitted and anything is named at all."""
    if where.parked is None or labels == "none":
        return []
    x, y, _, height = where.parked
    lines = folded("power spring, held back", where.width - MARGIN / 2 - x - RIGHT)
    texts = (Text(line, x + RIGHT, y + height + DOWN * (n + 1), rank="hold") for n, line in enumerate(lines))
    return [Note("parking", "Parking section", texts=tuple(texts))]
