"""Jobs that several tests look at."""

from collections.abc import Mapping

from mechviz.job import fields as f
from mechviz.job.fields import Phase, Place, Side
from mechviz.job.model import Job

NOW = "2026-11-26 03:30"


def put(job: Job, place: Place, readings: Mapping[str, str], phase: Phase = "before") -> Job:
    for key, text in readings.items():
        job = job.typed(place, phase, key, text, NOW)
    return job


AXLE = {"foundation.axle": "non-steering", "adjuster.kind": "automatic", "test.reservoir_pressure": "95"}
GOOD = {
    "condition.drum_temperature": "cold",
    "measured.clamp_diameter": "8 1/8",
    "measured.long_stroke_marks": "false",
    "measured.arm_length": "5 1/2",
    "condition.free_stroke": "5/8",
    "measured.stroke": "1 5/8",
    "condition.lining_thickness": "5/8",
}
OVER = GOOD | {"measured.stroke": "2 1/8", "condition.free_stroke": "1 1/8"}


def job(left: Mapping[str, str] = GOOD, right: Mapping[str, str] = GOOD) -> Job:
    begun = put(Job(vehicle="Quarry tipper", axle="axle 2", mechanic="J. Doe"), "axle", AXLE)
    return put(put(begun, "left", left), "right", right)


def adjusted() -> Job:
    """Out of adjustment on the left, its cause found and mended there, and measured again."""
    after = put(job(OVER), "axle", {"test.reservoir_pressure": "95"}, "after")
    again = {"condition.drum_temperature": "cold", "measured.stroke": "1 1/2", "condition.free_stroke": "5/8"}
    return put(after, "left", again | {f.CAUSE: "adjuster replaced"}, "after")


def filled(fill: Mapping[str, str], longest: str) -> Job:
    """A job in which everything was typed that can be: choices the last ones, figures as in ``fill`` or ``longest``."""
    full = Job(vehicle="W" * 120, axle="M" * 120, mechanic="W" * 120, note="W" * 600)
    places: tuple[Place, ...] = ("axle", "left", "right")
    for place in places:
        for phase in f.PHASES:
            for one in f.asked(place):
                text = fill.get(one.key, one.choices[-1][0] if one.choices else longest or one.shown("inch"))
                full = full.typed(place, phase, one.key, text, f"{NOW} and as long as it may be")
    return full


SIDES: tuple[Side, ...] = ("left", "right")
