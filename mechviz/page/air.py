"""The air on the page: a few scenarios of pressures over time, and the stroke and pushes that they hold.

The mechanism follows from the stroke as everywhere on the page. Pressures, stroke and pushes are sampled over time so
closely that straight lines between the samples are the solver's own figures, to what `CLOSE` says.
"""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

import numpy as np

from geometry.air import SCENARIOS, AirStates, Course, Happening, air_states, course, happenings
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.found import condition_of
from geometry.outlines import parking_floor, parking_frames
from geometry.parking import Parking
from geometry.setup import Setup
from geometry.tables import air_mark
from mechviz.air.study import RESERVOIR
from mechviz.page.grid import packed, packed_short
from mechviz.page.motion import Frames

SHOWN = ("story", "compound", "slow-leak", "loss-while-braking")
"""Scenarios on the page: between them everything that is done to the air."""

WITHOUT_SPRING = ("press", "slow-leak", "loss-while-braking")
"""The same for a brake without a parking section: nothing can be parked."""

CLOSE = {
    "reservoir": 5e-4,
    "holdOff": 5e-4,
    "service": 5e-4,
    "stroke": 0.004,
    "springStroke": 0.02,
    "serviceForce": 15.0,
    "springForce": 15.0,
    "pushrodForce": 15.0,
    "brakeTorque": 2e4,
}
"""How far a straight line between two samples may be off: MPa, mm, N, N*mm."""

MOST = 1500
SHORTEST = 1e-7
"""Samples of a scenario at the most, and how far (s) two of them may come together."""

OUT = 17
"""Frames of the power spring on its way out."""


def air_data(setup: Setup) -> dict[str, Any]:
    """Return the scenarios on a setup's brake as found; pressures MPa, times s, lengths mm, forces N, torques N*mm."""
    parking = setup.parking
    thickness, diameter, temperature, setting = (float(value) for value in condition_of(setup).arrays)
    found = (thickness, diameter, temperature, setting)
    return {
        "full": RESERVOIR,
        "warning": air_mark("low-pressure-warning").high,
        "at": {"lining": thickness, "temperature": temperature, "setting": setting},
        "scenarios": [_scenario(name, setup.brake, parking, found) for name in shown(parking)],
        "section": section_data(setup),
    }


def shown(parking: Parking | None) -> tuple[str, ...]:
    """Return the names of the scenarios that a page shows."""
    return WITHOUT_SPRING if parking is None else SHOWN


Figures = tuple[float, float, float, float]


@lru_cache(maxsize=32)
def _scenario(name: str, brake: Brake, parking: Parking | None, found: Figures) -> dict[str, Any]:
    """One scenario, solved once for each brake."""
    condition = Condition(*found)
    run = course(SCENARIOS[name], parking, RESERVOIR)
    happened = happenings(brake, parking, condition, run)
    times, columns = sampled_air(brake, parking, condition, run, [one.time for one in happened])
    return {
        "name": name,
        "title": SCENARIOS[name].title,
        "end": run.end,
        "closing": run.closing,
        "time": packed(times),
        "columns": {key: packed_short(values) for key, values in columns.items()},
        "events": [_event(one) for one in happened],
    }


def _event(one: Happening) -> dict[str, Any]:
    return {"at": one.time, "name": one.name, "words": one.words, "short": one.short, "done": one.done}


def columns_of(parking: Parking | None, states: AirStates) -> Mapping[str, Array]:
    """Return the figures of states that the page shows over time, by the names of `CLOSE`.

    ``springStroke`` is how far the power spring's plate has come out, mm: where it pushes, as far as the pushrod.
    """
    brake = states.brake
    out = np.zeros_like(states.time)
    if parking is not None:
        free = (parking.spring_force - parking.spring_area * states.hold_off) / max(parking.spring_rate, 1e-9)
        out = np.minimum(np.maximum(free, 0.0), brake.stroke)
    return {
        "reservoir": states.reservoir,
        "holdOff": states.hold_off,
        "service": states.service,
        "stroke": brake.stroke,
        "springStroke": out,
        "serviceForce": brake.service_force,
        "springForce": brake.spring_force,
        "pushrodForce": brake.pushrod_force,
        "brakeTorque": brake.brake_torque,
    }


def sampled_air(
    brake: Brake, parking: Parking | None, condition: Condition, run: Course, marks: list[float]
) -> tuple[Array, Mapping[str, Array]]:
    """Return times (s) from beginning to end, ``marks`` among them, and the columns there, close enough to be joined.

    Each gap whose middle is off a straight line is halved, until none is.
    """

    def at(time: Array) -> Mapping[str, Array]:
        return columns_of(parking, air_states(brake, parking, condition, run, time))

    times = np.unique(np.concatenate([run.starts, marks, np.linspace(0.0, run.end, 33)]))
    columns = at(times)
    while times.size < MOST:
        middle = 0.5 * (times[1:] + times[:-1])
        fine = at(middle)
        off = [np.abs(fine[key] - 0.5 * (c[1:] + c[:-1])) > CLOSE[key] for key, c in columns.items()]
        add = np.any(off, axis=0) & (np.diff(times) > SHORTEST)
        if not add.any():
            break
        order = np.argsort(np.concatenate([times, middle[add]]), kind="stable")
        times = np.concatenate([times, middle[add]])[order]
        columns = {key: np.concatenate([c, fine[key][add]])[order] for key, c in columns.items()}
    return floats(times), columns


def section_data(setup: Setup, count: int = OUT) -> dict[str, Any] | None:
    """Return how a parking section moves: its spring and its diaphragm as far as the chamber's stroke; None of none.

    ``count`` frames are sent, the first with the spring held back.
    """
    if setup.parking is None:
        return None
    rated = setup.brake.chamber.rated_stroke
    frames = parking_frames(setup.brake, floats(np.linspace(0.0, rated, count)))
    return {
        "frames": {name.replace("_", "-"): Frames(0.0, rated, points).packed() for name, points in frames.items()},
        "floor": parking_floor(setup.brake).tolist(),
    }
