"""A verdict never gets better when the brake gets worse: pass, close, fail only ever goes that way."""

from collections.abc import Iterator, Sequence
from typing import Any

import pytest

from mechviz.checks import CheckRow
from tests.checks.test_checks import checked

ORDER = ("pass", "close", "fail")
OWN = '[foundation]\nwindup_stiffness = "180 N*m/deg"\n'

LININGS = ("0.60", "0.45", "0.36", "0.34", "0.32", "0.31", "0.30", "0.29", "0.28", "0.27", "0.26", "0.25", "0.22")
DRUMS = ("16.50", "16.55", "16.58", "16.60", "16.61", "16.62", "16.63", "16.66", "16.70", "16.80", "16.90")
CLEARANCES = ("0.02", "0.03", "0.05", "0.06", "0.07", "0.08", "0.09", "0.10", "0.11", "0.12", "0.15", "0.3")
SLACKS = ("0.55", "0.7", "0.9", "1.1", "1.2", "1.3", "1.5", "1.8", "2.0", "2.2", "2.4", "2.45", "2.5", "2.6", "3")
RISING = ("1/2", "9/16", "11/16", "13/16", "7/8", "1", "1 1/8", "1 3/16", "1 1/4", "1 5/16", "1 1/2", "1 3/4", "2.2")
HEATS = ("70", "150", "250", "350", "450", "550", "650", "800", "1000", "1300", "1600", "1900")
STROKES = ("1 1/2", "1 3/4", "1 15/16", "2", "2 1/16", "2 1/8", "2 1/4", "2 3/8", "2 7/16", "2 1/2", "2 5/8", "3")
WORSE: dict[str, tuple[str, Sequence[str]]] = {
    "lining, by clearance": (
        'lining_thickness = "{} in"\ndrum_diameter = "16.62 in"\nlining_clearance = "0.07 in"\n',
        LININGS,
    ),
    "lining, by slack": ('lining_thickness = "{} in"\ndrum_diameter = "16.62 in"\nfree_stroke = "0.9 in"\n', LININGS),
    "drum, by clearance": (
        'lining_thickness = "0.29 in"\ndrum_diameter = "{} in"\nlining_clearance = "0.06 in"\n',
        DRUMS,
    ),
    "drum, by slack": ('lining_thickness = "0.32 in"\ndrum_diameter = "{} in"\nfree_stroke = "0.7 in"\n', DRUMS),
    "clearance": ('lining_thickness = "0.5 in"\ndrum_diameter = "16.55 in"\nlining_clearance = "{} in"\n', CLEARANCES),
    "clearance, worn": (
        'lining_thickness = "0.30 in"\ndrum_diameter = "16.60 in"\nlining_clearance = "{} in"\n',
        CLEARANCES,
    ),
    "clearance, cam near its tip": (
        'lining_thickness = "0.228 in"\ndrum_diameter = "16.60 in"\nlining_clearance = "{} in"\n',
        CLEARANCES,
    ),
    "slack, cam past its tip": (
        'lining_thickness = "0.215 in"\ndrum_diameter = "16.60 in"\nfree_stroke = "{} in"\n',
        SLACKS,
    ),
    "slack, cam near its tip": (
        'lining_thickness = "0.228 in"\nlining_resolution = "0.002 in"\ndrum_diameter = "16.60 in"\n'
        'drum_resolution = "0.002 in"\nfree_stroke = "{} in"\n',
        SLACKS,
    ),
    "heat": (
        'lining_thickness = "0.30 in"\ndrum_diameter = "16.60 in"\nfree_stroke = "0.6 in"\n'
        'slack_temperature = "70 degF"\ndrum_temperature = "{} degF"\n',
        HEATS,
    ),
    "slack": ('lining_thickness = "0.5 in"\ndrum_diameter = "16.55 in"\nfree_stroke = "{} in"\n', SLACKS),
    "slack, worn": ('lining_thickness = "0.30 in"\ndrum_diameter = "16.62 in"\nfree_stroke = "{} in"\n', SLACKS),
    "slack rising at a fixed read stroke": (
        'lining_thickness = "0.5 in"\ndrum_diameter = "16.53 in"\nfree_stroke = "{} in"\n'
        '[measured]\nstroke = "1 23/32 in"\n',
        RISING,
    ),
    "slack rising at a fixed read stroke, drum colder": (
        'lining_thickness = "0.5 in"\ndrum_diameter = "16.53 in"\ndrum_temperature = "0 degF"\n'
        'slack_temperature = "0 degF"\nfree_stroke = "{} in"\n[measured]\nstroke = "1 31/32 in"\n',
        RISING,
    ),
    "clearance rising at a fixed read stroke": (
        'lining_thickness = "0.5 in"\ndrum_diameter = "16.53 in"\nlining_clearance = "{} in"\n'
        '[measured]\nstroke = "1 23/32 in"\n',
        CLEARANCES,
    ),
    "slack read hot": (
        'lining_thickness = "0.5 in"\ndrum_diameter = "16.53 in"\ndrum_temperature = "300 degF"\n'
        'slack_temperature = "300 degF"\nfree_stroke = "{} in"\n',
        SLACKS,
    ),
    "stroke": ('free_stroke = "0.65 in"\n[measured]\nstroke = "{} in"\n', STROKES),
    "stroke, much slack": ('free_stroke = "1 1/4 in"\n[measured]\nstroke = "{} in"\n', STROKES),
}
WATCHED = ("stroke-limit", "lining-thickness", "drum-diameter", "cam-profile-used", "cam-turn", "within-reach")
"""What gets worse with wear, slack and stroke; a released angle does not, nor one that agrees with what is expected."""
RESERVES = ("stroke-reserve-cold", "stroke-reserve-hot")
FAILS_ON = ("cam-profile-used", "cam-turn", "right-angle-stroke", *RESERVES)
"""What goes on failing with more wear and slack even where there is no state any more."""
TIGHT = 25.4 * 0.55
"""A slack (mm) below this is judged for being too little, which more of it mends."""
NO_STATE = ("There is no such state", "more than this chamber has: read it again")


def verdicts(rows: dict[str, list[CheckRow]]) -> dict[tuple[str, str], CheckRow]:
    named = {
        (check, str(place)): row for check in (*WATCHED, *RESERVES) for place, row in enumerate(rows.get(check, []))
    }
    (slack,) = rows["free-stroke"]
    if slack.result == "fail" or slack.value is None or slack.value > TIGHT:
        named["free-stroke", "loose"] = slack
    (angle,), (square,) = rows["arm-angle-applied"], rows["right-angle-stroke"]
    return named | {("arm-angle-applied", "past square"): angle, ("right-angle-stroke", "too early"): square}


FAST = ("drum, by clearance", "slack, worn", "stroke", "slack rising at a fixed read stroke")
"""One of each way to get worse with a written wind-up; of an assumed one every way is tried."""


def ways() -> Iterator[Any]:
    for name in WORSE:
        yield pytest.param(name, "", id=f"{name}-wind-up assumed")
        marks = () if name in FAST else pytest.mark.wide
        yield pytest.param(name, OWN, id=f"{name}-wind-up written", marks=marks)


@pytest.mark.parametrize(("name", "stiffness"), list(ways()))
def test_no_verdict_gets_better_as_the_brake_gets_worse(name: str, stiffness: str) -> None:
    """What is not evaluated has a reading missing or contradicted, or no such state, which then fails elsewhere."""
    body, figures = WORSE[name]
    worst: dict[tuple[str, str], int] = {}
    reached = set[str]()
    for figure in figures:
        rows = checked(f"{stiffness}[condition]\n{body.format(figure)}")
        fails = any(row.result == "fail" for several in rows.values() for row in several)
        for key, row in verdicts(rows).items():
            reached.add(row.result)
            if row.result in ORDER:
                now = ORDER.index(row.result)
                assert now >= worst.get(key, 0), (name, figure, row)
                worst[key] = now
            elif worst.get(key) == ORDER.index("fail"):
                assert fails, (name, figure, row)
                assert key[0] not in FAILS_ON or "stroke" in name, (name, figure, row)
                assert row.missing or any(words in row.advice for words in NO_STATE), (name, figure, row)
    assert "fail" in reached
