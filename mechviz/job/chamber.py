"""Which chamber it is, by its clamp ring and its marks, before anybody names it."""

from dataclasses import dataclass

from geometry.quantity import System
from geometry.tables import chambers_by_outside_diameter
from geometry.tables.chambers import DIAMETER_TOLERANCE
from geometry.units import parse
from mechviz.checks.proof import MARKS, chamber_name
from mechviz.report.written import taped

DEFAULT_STEP = {"inch": 25.4 / 16, "metric": 1.0}


@dataclass(frozen=True)
class Seen:
    """What ring and marks say: ``words`` for the one who reads, and the keys that they settle (none where unsure)."""

    words: str
    named: tuple[tuple[str, object], ...] = ()


def seen_by_ring(values: dict[str, object], system: System) -> Seen | None:
    """Return what a clamp ring's diameter and the marks say of the chamber; None where no ring was measured.

    ``values`` are texts by key, as the setup file takes them. Source: 49 CFR 393.47(e)(1), outside diameters.
    """
    ring, marks = values.get("measured.clamp_diameter"), values.get("measured.long_stroke_marks")
    if not isinstance(ring, str):
        return None
    diameter = parse(ring, "length", "measured.clamp_diameter")
    known = marks if isinstance(marks, bool) else None
    found = chambers_by_outside_diameter(diameter, known)
    sizes = list(dict.fromkeys(one.size for one in found))
    if not sizes:
        return Seen(_no_such(diameter, known, system))
    if found[0].distance_mm + _step(values, system) > DIAMETER_TOLERANCE:
        return Seen(f"{taped(diameter, system)} is half-way between two sizes: measure the ring again.")
    size = sizes[0]
    if known is None:
        both = len({one.style for one in found if one.size == size}) > 1
        return Seen(f"Type {size}, standard or long stroke: look for {MARKS}." if both else f"Type {size}.")
    style = found[0].style
    words = f"By its ring and marks a {chamber_name(style, size)}."
    named = {"chamber.style", "chamber.size"} & values.keys()
    return Seen(words) if named else Seen(words, (("chamber.style", style), ("chamber.size", size)))


def _step(values: dict[str, object], system: System) -> float:
    """How finely the tape is read, mm."""
    written = values.get("measured.resolution")
    return parse(written, "length", "") if isinstance(written, str) else DEFAULT_STEP[system]


def _no_such(diameter: float, marks: bool | None, system: System) -> str:
    """A ring that no chamber of the table has; or none with such marks."""
    if marks and chambers_by_outside_diameter(diameter):
        return "No long-stroke chamber of the table has such a ring: look at the marks again."
    return f"No chamber of the table has a ring of {taped(diameter, system)}: measure across it, not over its ears."
