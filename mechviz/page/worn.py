"""The working life on the page: what a life is, beside the table that every state of it is read from.

A life is a setting of the adjuster for every wear; the rest follows from the table as any other state does. So all that
is sent are the wears at which the adjuster moves, what it is set to from there on, and what happens when.
"""

from typing import Any

from geometry.drum import REFERENCE_TEMPERATURE
from geometry.life import Event
from geometry.setup import Setup
from mechviz.lifetime.study import FINE, Asked, Study, study
from mechviz.lifetime.text import said
from mechviz.page.grid import packed

SHORT = {
    "stroke-limit": "limit met",
    "right-angle-lost": "square before touch",
    "lining-minimum": "lining minimum",
    "cam-profile-used": "cam out of profile",
    "hot-cam-past-tip": "cam past tip when hot",
    "hot-bottoms": "bottoms when hot",
    "cold-bottoms": "bottoms cold",
}
"""Each event in as few words as fit on an axis."""


def life_data(setup: Setup, thinnest: float) -> dict[str, Any]:
    """Return both lives of a setup's brake, mm, rad, MPa, K; none goes on below the table's ``thinnest`` lining."""
    working = study(setup, Asked(state="working"))
    lived = working.service
    return {
        "new": lived.brake.lining.thickness,
        "pressure": lived.pressure,
        "cold": REFERENCE_TEMPERATURE,
        "hot": lived.hot,
        "working": _life(working, thinnest),
        "stopped": _life(working.stopped(), thinnest),
    }


def _life(lived: Study, thinnest: float) -> dict[str, Any]:
    new = lived.service.brake.lining.thickness
    end = min(lived.end, new - thinnest)
    return {
        "moves": packed(lived.upkeep.moves),
        "settings": packed(lived.upkeep.settings),
        "slip": lived.upkeep.slip,
        "end": end,
        "events": [_event(event, lived, end) for event in lived.happening if event.wear <= end + new / FINE],
    }


def _event(event: Event, lived: Study, end: float) -> dict[str, Any]:
    words = {system: said(event, lived, system) for system in ("inch", "metric")}
    return {"name": event.name, "at": min(event.wear, end), "short": SHORT[event.name], "words": words}
