"""The drawing's style sheet: the look's classes, and what a part's line weighs inside a plane.

Inside a plane the unit is the millimetre, and the renderer of PDF and PNG knows no ``vector-effect``: weights there are
divided by the plane's scale.
"""

from mechviz.drawing.lettering import SIZES
from mechviz.look import line_weight, stylesheet
from mechviz.look.measures import plain

HEIGHT = 900.0
RULES = """.mv .mv-big { font-size: BIGpx; font-weight: 700 }
.mv text.mv-of-soft { fill: var(--mv-soft) }
.mv-force { fill: none; stroke-width: 8px }
.mv-line-push { stroke: var(--mv-push) } .mv-line-turn { stroke: var(--mv-turn) }
.mv-line-hold { stroke: var(--mv-hold) } .mv-line-spread { stroke: var(--mv-spread) }
.mv-line-rub { stroke: var(--mv-rub) }
.mv-angle { fill: none; stroke: var(--mv-turn); stroke-width: 3px }
.mv-ray { fill: none; stroke: var(--mv-turn); stroke-width: 1.8px }
.mv-before { fill: none; stroke: var(--mv-turn); stroke-width: 1.6px; stroke-dasharray: 2 5; stroke-linecap: round }
.mv-between { stroke: var(--mv-grid); stroke-width: 2px }
.mv-square { fill: none; stroke: var(--mv-ink); stroke-width: 1.6px; stroke-dasharray: 7 4 }
.mv-named { fill: none; stroke: var(--mv-ink); stroke-width: 4px; stroke-dasharray: 9 6 }
.mv-stop { fill: none; stroke: var(--mv-ink); stroke-width: 4px }
.mv-scale { fill: none; stroke: var(--mv-ink); stroke-width: 2px }
.mv-tick { fill: none; stroke: var(--mv-ink); stroke-width: 0.9px }
.mv-free { fill: none; stroke: var(--mv-push); stroke-width: 2.4px }
.mv-pointer { fill: var(--mv-push); stroke: none }
.mv-ring { fill: var(--mv-paper); stroke: var(--mv-ink); stroke-width: 4px }
.mv-dots { stroke-dasharray: 3 4.5 }
.mv-block { fill: var(--mv-ink) }
.mv-dot { fill: var(--mv-ink) }
.mv-spot { fill: none; stroke: var(--mv-ink); stroke-width: 2px }
.mv-frame { fill: none; stroke: var(--mv-ink); stroke-width: 2px }
.mv-life-cold { fill: none; stroke-width: 3px; stroke-linejoin: round }
.mv-life-hot { fill: none; stroke-width: 2.6px; stroke-linejoin: round; stroke-dasharray: 12 6 }
.mv-life-stopped { fill: none; stroke: var(--mv-ink); stroke-width: 2.4px; stroke-dasharray: 1 6 }
.mv-life-stopped { stroke-linecap: round }
.mv-number { fill: var(--mv-paper); stroke: var(--mv-ink); stroke-width: 2px }
.mv-profile { fill: none; stroke: var(--mv-rub); stroke-width: 2.4px; stroke-linejoin: round }"""


def picture_css(scale: float) -> str:
    """Return the classes of a picture whose planes are drawn at ``scale`` (units per mm)."""
    return "\n".join([stylesheet(HEIGHT), note_css(), _plane_css(scale)])


def note_css() -> str:
    """Return the classes of the notes, which stand in picture units."""
    return RULES.replace("BIG", plain(SIZES["big"]))


def _plane_css(scale: float) -> str:
    """Line weights inside the planes, in mm."""
    outline, heavy, edge = (plain(line_weight(name, HEIGHT) / scale) for name in ("outline", "heavy", "edge"))
    sheet = plain(4.0 / scale)
    return f""".part path {{ stroke-width: {outline} }}
.part .mv-push {{ stroke-width: {heavy} }}
.part .mv-line-hold {{ fill: none; stroke: var(--mv-hold); stroke-width: {edge} }}
.part .mv-sheet {{ fill: none; stroke: var(--mv-push); stroke-width: {sheet}; stroke-linejoin: round }}
.part .power-spring {{ stroke-width: {plain(3.4 / scale)} }}
.plane .air {{ fill: var(--mv-push); fill-opacity: 0.55; stroke: none }}
.plane .heat {{ fill: var(--mv-rub); fill-opacity: 0.75; stroke: none }}"""
