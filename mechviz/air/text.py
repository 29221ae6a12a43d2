"""Air over time for people: what is done and what comes of it, each with its pressures, stroke and push."""

from geometry.air import AirStates, Happening
from geometry.arrays import Array
from geometry.parking import Parking, hold_off_pressure
from geometry.quantity import KindName, System
from geometry.reasons import Reason
from geometry.tables import air_mark
from mechviz.air.study import Study
from mechviz.report.cautions import CHOCKS, COMPOUND, ESTIMATE, HEADING, SPRING
from mechviz.report.clock import clock
from mechviz.report.dashes import dash_words
from mechviz.report.layout import boxed, fitting, hang
from mechviz.report.written import NOTHING, both, fixed, number, unit_word

COLUMNS = 9
"""Characters a figure."""

_FIGURES: tuple[tuple[str, KindName], ...] = (
    ("reservoir", "pressure"),
    ("springs", "pressure"),
    ("chamber", "pressure"),
    ("stroke", "length"),
    ("pushrod", "force"),
)


def air_text(told: Study, system: System, width: int) -> str:
    """Write a scenario in at most ``width`` columns."""
    width = fitting(width)
    title = f"{told.setup.title}: {told.scenario.title}"
    lines = [line for text in (title, *_with(told, system)) for line in hang(text, width)]
    lines += ["", *_heads(system)]
    for one in told.happenings:
        lines += [
            _row(clock(one.time), told, told.at(one.time), system),
            *hang(_said(one), width, "  > " if one.done else "    "),
        ]
    lines += [_row(clock(told.course.end), told, told.at(told.course.end), system), "    the end.", ""]
    lines += [line for text in (*_summary(told, system), *foot(told)) for line in hang(text, width)]
    return "\n".join([*lines, "", *boxed(HEADING, air_cautions(told), width)]) + "\n"


def air_cautions(told: Study) -> list[str]:
    """Return the cautions that belong beside a scenario."""
    return [*([COMPOUND, SPRING] if told.setup.parking else []), CHOCKS, ESTIMATE]


def _with(told: Study, system: System) -> list[str]:
    times = told.course.times
    warning = air_mark("low-pressure-warning")
    return [
        f"Setup: {told.setup.source}. {section_words(told, system)}",
        f"Air: {both(float(told.course.stretches[0].reservoir.at(0.0)), 'pressure', system)} in the reservoir, "
        f"compressor off. The chamber fills to 60 % in {times.apply:.2f} s and empties to 5 % in "
        f"{times.release:.2f} s, the longest a {kind_words(times.vehicle)} may take [{times.source}]; warning below "
        f"{both(warning.high, 'pressure', system)} [{warning.source}].",
    ]


def kind_words(vehicle: str) -> str:
    """Return a kind of vehicle as it is said."""
    return {"truck": "truck or bus", "towing": "towing vehicle"}.get(vehicle, vehicle)


def section_words(told: Study, system: System) -> str:
    """Return what is fitted behind the service chamber, as a sentence or two."""
    parking = told.setup.parking
    if parking is None:
        return "No parking section is fitted to this brake: only service air presses it."
    force = both(parking.spring_force, "force", system)
    return (
        f"Parking section: spring {force} held back, less as it comes out; held all the way back at "
        f"{both(float(hold_off_pressure(parking)), 'pressure', system)}, from its full stroke pushed back from "
        f"{both(_begins(told, parking), 'pressure', system)} on."
    )


def _begins(told: Study, parking: Parking) -> float:
    return float(hold_off_pressure(parking, told.setup.brake.chamber.rated_stroke))


def _heads(system: System) -> list[str]:
    names = "".join(f"{name:>{COLUMNS + 1}}" for name, _ in _FIGURES)
    units = "".join(f"{unit_word(kind, system):>{COLUMNS + 1}}" for _, kind in _FIGURES)
    return [f"{'time':>12}{names}", f"{'':>12}{units}"]


def _row(time: str, told: Study, states: AirStates, system: System) -> str:
    brake = states.brake
    springs = states.hold_off if told.setup.parking else None
    values = (states.reservoir, springs, states.service, brake.stroke, brake.pushrod_force)
    cells = [_cell(value, kind, system) for value, (_, kind) in zip(values, _FIGURES, strict=True)]
    return f"{time:>12}" + "".join(f"{cell:>{COLUMNS + 1}}" for cell in cells)


def _cell(value: Array | None, kind: KindName, system: System) -> str:
    """A figure; forces to three digits, but to no part of a unit."""
    if value is None:
        return NOTHING
    words = number(float(value), kind, system)
    return fixed(float(words), 0) if kind == "force" and words != NOTHING else words


def _said(one: Happening) -> str:
    return f"{one.words}."


def _summary(told: Study, system: System) -> list[str]:
    hardest = told.hardest
    force = float(hardest.brake.pushrod_force)
    reservoir = both(float(told.course.stretches[0].reservoir.at(0.0)), "pressure", system)
    pushed = [
        f"Pushed hardest after {clock(float(hardest.time))}: {both(force, 'force', system)} on the pushrod, "
        f"{fixed(force / told.full_air, 2)} of what the {reservoir} in the reservoir gives by itself."
    ]
    dashes = dash_words(told.at(told.fine).brake.reason)
    words = pushed if force > 0 else dashes or ["The pushrod is not pushed at all."]
    return [*words, *([_without_air(told, system)] if told.scenario.phases[-1].loss < float("inf") else [])]


def _without_air(told: Study, system: System) -> str:
    """What holds the brake once the last air is out."""
    left = told.without_air
    held, reason = float(left.brake_torque), Reason(int(left.reason))
    if held > 0:
        return f"With the air gone the spring alone leaves a brake torque of {both(held, 'torque', system)}."
    why = "" if reason == Reason.EXISTS else f": {reason.words}"
    return f"With the air gone nothing holds this brake{why}."


def foot(told: Study) -> list[str]:
    """Return what the figures rest on."""
    texts = [
        "Computed, not measured. Lines fill and empty as first-order lags fitted to those two times; how fast air is "
        "lost, and the spring-brake line's own times, are the project's figures. What an application takes out of the "
        "reservoir is not counted, and a second circuit is not modelled."
    ]
    if told.setup.parking:
        band = air_mark("tractor-protection")
        texts.append(
            "Spring force: handbooks (read); its rate and area are the project's own, set so that it releases at about "
            "60 psi and begins at 30 to 40 psi (from memory). The valve that shuts by itself does so between "
            f"{both(band.low, 'pressure', 'inch')} and {both(band.high, 'pressure', 'inch')} [{band.source}]; "
            f"here at {both(told.course.closing, 'pressure', 'inch')}."
        )
    return texts
