"""The parking section's name, under the section: its spring is held back by the air, as on the road."""

from mechviz.drawing.layout import Layout
from mechviz.drawing.lettering import Text
from mechviz.drawing.names import Labels
from mechviz.drawing.note import Note

RIGHT, DOWN = 4.0, 24.0
"""Where the name begins, from the section's lower left corner: clear of the chamber's air port."""


def parked(where: Layout, labels: Labels) -> list[Note]:
    """Return the note, where a section is fitted and anything is named at all."""
    if where.parked is None or labels == "none":
        return []
    x, y, _, height = where.parked
    name = Text("power spring, held back", x + RIGHT, y + height + DOWN, rank="hold")
    return [Note("parking", "Parking section", texts=(name,))]
