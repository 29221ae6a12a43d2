"""Figures that a lesson's text may name in braces: ``{stroke.applied}``, ``{limit}``, ``{90 psi}``.

Each is worked out from the brake at hand, so that a lesson written for one brake is true for another. A name may begin
with when it is looked at: ``start`` (where the step's move begins), ``found`` (the brake as found), ``hot`` and
``cold`` (as the step stands, the drum at 600 or at 70 degF); nothing is where the step ends. Figures of an application
end with the event: ``released``, ``contact``, ``applied``; nothing is applied.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cached_property
from math import isfinite
from typing import Any

from geometry.defects import Outcome
from geometry.errors import PartError
from geometry.parking import hold_off_pressure
from geometry.quantity import KindName, System
from geometry.setup import Setup
from geometry.states import State, events
from geometry.tables import lining_limits, stroke_limit
from geometry.units import UnitKind, parse
from mechviz.checks.case import COLD, HOT, Case
from mechviz.checks.in_use import open_of_solved_stroke
from mechviz.drawing.words import apart, bound, figure, length, small, to_square
from mechviz.faults.study import Row
from mechviz.lessons.stand import EVENTS, Stand, found_stand
from mechviz.lifetime.study import Asked, Study, study
from mechviz.report.written import fixed

NAME = re.compile(r"\{([^{}]*)\}")
WHEN = ("start", "found", "hot", "cold")
QUANTITIES: tuple[UnitKind, ...] = ("length", "pressure", "temperature", "force", "angle", "speed", "mass", "torque")


class NoFigureError(Exception):
    """The brake at hand has no such figure; says why."""


@dataclass(frozen=True)
class Moment:
    """One brake in one condition, what it is told in, and what a step adds: its defect."""

    setup: Setup
    stand: Stand
    system: System
    row: Row | None = None

    @cached_property
    def states(self) -> dict[str, State]:
        """Released, contact and applied, by name."""
        found = events(self.setup.brake, self.stand.condition(self.setup), self.stand.pressure)
        return {state.name: state for state in found}

    @cached_property
    def case(self) -> Case:
        """The setup as the checks see it."""
        return Case(self.setup, self.setup.test.rules)

    @cached_property
    def life(self) -> Study:
        """The life under an adjuster that has stopped."""
        return study(self.setup, Asked(state="working")).stopped()

    @property
    def limit(self) -> float:
        """The readjustment limit, mm."""
        return self.case.limit.limit_mm


Tell = Callable[[Moment], str]
TellState = Callable[[State, Moment], str]


def _of(name: str, kind: KindName) -> TellState:
    def tell(state: State, moment: Moment) -> str:
        value = getattr(state, name)
        if value is None:
            why = state.reason.words if state.reason else f"nothing presses {state.name}"
            raise NoFigureError(why)
        return length(value, moment.system) if kind == "length" else figure(value, kind, moment.system)

    return tell


def _gap(state: State, moment: Moment) -> str:
    gaps = [gap for gap in (state.left.gap_least, state.right.gap_least) if gap is not None]
    if not gaps:
        raise NoFigureError(state.reason.words)
    return small(max(min(gaps), 0.0), moment.system)


def _stands(state: State, moment: Moment) -> str:
    _of("arm_angle", "angle")(state, moment)
    return to_square(state.arm_angle or 0.0)


def _roller(state: State, moment: Moment) -> str:
    forces = [shoe.roller_force for shoe in (state.left, state.right) if shoe.roller_force is not None]
    if not forces:
        raise NoFigureError(f"nothing presses {state.name}")
    return figure(max(forces), "force", moment.system)


def _share(state: State, moment: Moment) -> str:
    """What of pressure times area reaches the rod."""
    if state.chamber_force is None or not state.pressure:
        raise NoFigureError(f"nothing pushes {state.name}")
    full = state.pressure * moment.setup.brake.chamber.effective_area
    return f"{round(100 * state.chamber_force / full)} %"


def _left(state: State, moment: Moment) -> str:
    _of("stroke", "length")(state, moment)
    return length(moment.setup.brake.chamber.rated_stroke - (state.stroke or 0.0), moment.system)


STATE: Mapping[str, TellState] = {
    "stroke": _of("stroke", "length"),
    "angle": _of("arm_angle", "angle"),
    "stands": _stands,
    "cam_turn": _of("cam_turn", "angle"),
    "force": _of("chamber_force", "force"),
    "cam_torque": _of("camshaft_torque", "torque"),
    "torque": _of("brake_torque", "torque"),
    "roller_force": _roller,
    "gap": _gap,
    "share": _share,
    "left": _left,
}
"""Figures of an event: what of the rated stroke is ``left``, the ``share`` of pressure times area that pushes."""


def _verdict(moment: Moment) -> str:
    state = moment.states["applied"]
    if state.stroke is None:
        raise NoFigureError(state.reason.words)
    over = state.stroke - moment.limit
    if abs(over) <= open_of_solved_stroke(moment.case) and abs(over) < 0.5:
        return "at the limit"
    by = apart(moment.limit, state.stroke, moment.system)
    return f"over the limit by {by}" if over > 0 else f"inside the limit by {by}"


def _windup(moment: Moment) -> str:
    applied, contact = moment.states["applied"].stroke, moment.states["contact"].stroke
    if applied is None or contact is None:
        raise NoFigureError("the brake cannot be applied")
    return length(applied - contact, moment.system)


def _long(moment: Moment) -> str:
    chamber = moment.setup.brake.chamber
    for style in ("clamp-long-stroke",):
        found = stroke_limit(style, chamber.size, None)
        if found is not None:
            return bound(found.limit_mm, moment.system)
    raise NoFigureError(f"the table has no long-stroke chamber of size {chamber.size}")


def _clamp(moment: Moment) -> str:
    inches = moment.case.limit.outside_diameter_in
    if inches is None:
        raise NoFigureError("the table has no clamp ring of this chamber")
    return bound(float(inches) * 25.4, moment.system)


def _least_lining(moment: Moment) -> str:
    setup = moment.setup
    rules = lining_limits(setup.brake.axle, setup.lining_pads, setup.lining_attachment)
    limits = [rule.limit_mm for rule in rules if rule.rule_set == "us"]
    return bound(max(limits), moment.system)


def _area(value: float, system: System) -> str:
    words = figure(value, "area", system)
    return words.replace("sq in", "square inches").replace("sq cm", "square centimetres")


def _parking(tell: Callable[[Any, Moment], str]) -> Tell:
    def told(moment: Moment) -> str:
        if moment.setup.parking is None:
            raise NoFigureError("this brake has no parking section")
        return tell(moment.setup.parking, moment)

    return told


def _outcome(name: str, kind: KindName) -> Tell:
    def told(moment: Moment) -> str:
        value = float(getattr(_row(moment).outcome, name))
        if not isfinite(value):
            raise NoFigureError("with this defect there is none")
        return length(value, moment.system) if kind == "length" else figure(value, kind, moment.system)

    return told


def _row(moment: Moment) -> Row:
    if moment.row is None:
        raise NoFigureError("the step shows no defect")
    return moment.row


def _fault_gap(moment: Moment) -> str:
    outcome: Outcome = _row(moment).outcome
    gaps = [gap for gap in (float(outcome.gap_left), float(outcome.gap_right)) if isfinite(gap)]
    if not gaps:
        raise NoFigureError("with this defect there is none")
    return small(max(min(gaps), 0.0), moment.system)


def _life(event: str) -> Tell:
    def told(moment: Moment) -> str:
        found = next((one for one in moment.life.happening if one.name == event), None)
        if found is None:
            raise NoFigureError("it does not come in this brake's life")
        return _thin(found.wear, moment.system)

    return told


def _thin(value: float, system: System) -> str:
    """A lining's wear: thousandths of an inch, hundredths of a millimetre."""
    return f"{fixed(value / 25.4, 3)} in" if system == "inch" else f"{fixed(value, 2)} mm"


MOMENT: Mapping[str, Tell] = {
    "brake": lambda m: m.setup.title,
    "pressure": lambda m: figure(m.stand.pressure, "pressure", m.system),
    "temperature": lambda m: figure(m.stand.temperature, "temperature", m.system),
    "lining": lambda m: length(m.stand.lining, m.system),
    "worn": lambda m: _thin(m.setup.brake.lining.thickness - m.stand.lining, m.system),
    "free_stroke": lambda m: STATE["stroke"](m.states["contact"], m),
    "windup": _windup,
    "verdict": _verdict,
    "limit": lambda m: bound(m.limit, m.system),
    "limit.source": lambda m: m.case.limit.source,
    "limit.long": _long,
    "chamber": lambda m: m.case.chamber_name,
    "chamber.size": lambda m: m.setup.brake.chamber.size,
    "chamber.ring": _clamp,
    "chamber.stroke": lambda m: bound(m.setup.brake.chamber.rated_stroke, m.system),
    "chamber.area": lambda m: _area(m.setup.brake.chamber.effective_area, m.system),
    "arm": lambda m: bound(m.setup.brake.linkage.arm_length, m.system),
    "lining.new": lambda m: bound(m.setup.brake.lining.thickness, m.system),
    "lining.least": _least_lining,
    "drum": lambda m: length(m.setup.as_found.drum_diameter, m.system),
    "drum.new": lambda m: bound(2 * m.setup.brake.new_radius, m.system),
    "parking.force": _parking(lambda p, m: figure(p.spring_force, "force", m.system)),
    "parking.release": _parking(lambda p, m: figure(float(hold_off_pressure(p, 0.0)), "pressure", m.system)),
    "fault": lambda m: _row(m).title,
    "fault.inside": lambda m: _row(m).inside,
    "fault.outside": lambda m: _row(m).outside,
    "fault.stroke": _outcome("stroke", "length"),
    "fault.free_stroke": _outcome("free_stroke", "length"),
    "fault.angle": _outcome("applied_angle", "angle"),
    "fault.released_angle": _outcome("released_angle", "angle"),
    "fault.force": _outcome("chamber_force", "force"),
    "fault.torque": _outcome("brake_torque", "torque"),
    "fault.gap": _fault_gap,
    "life.limit": _life("stroke-limit"),
    "life.square": _life("right-angle-lost"),
    "life.hot": _life("hot-bottoms"),
    "life.cold": _life("cold-bottoms"),
}
"""Figures of the brake as it stands, of its parts, of a step's defect, of the life with an adjuster that stopped."""

FIGURES = (*(f"{name}.{event}" for name in STATE for event in EVENTS), *STATE, *MOMENT)
"""Every name without its ``start``, ``found``, ``hot`` or ``cold``."""


def names_in(text: str) -> Iterator[tuple[str, str, str]]:
    """Give every name in braces that stands for no figure, what is wrong with it, and what would do."""
    for match in NAME.finditer(text):
        name = match[1].strip()
        if _typed(name):
            if _read(name) is None:
                yield name, "is no figure with a unit", "write it like {90 psi} or {1 3/4 in}"
        elif _bare(name) not in FIGURES:
            near = get_close_matches(_bare(name), FIGURES, 1, 0.5)
            fix = f"write {{{near[0]}}}" if near else f"write one of {', '.join((*STATE, *MOMENT))}"
            yield name, "is no figure that is known here", fix


def _typed(name: str) -> bool:
    """Whether a name is a figure that was typed with its unit."""
    return name[:1].isdigit()


def _bare(name: str) -> str:
    first, dot, rest = name.partition(".")
    return rest if dot and first in WHEN else name


def _read(text: str) -> tuple[KindName, float] | None:
    for kind in QUANTITIES:
        try:
            return kind, parse(text, kind, "")  # type: ignore[return-value]  # all of them are kinds of quantity
        except PartError:
            continue
    return None


@dataclass(frozen=True)
class Figures:
    """The figures of a step: its brake where the step begins and where it ends."""

    setup: Setup
    start: Stand
    end: Stand
    system: System
    row: Row | None = None

    def say(self, text: str, missing: Callable[[str, str], None]) -> str:
        """Return a text with every name in braces told; ``missing`` hears of a figure that this brake does not have."""

        def told(match: re.Match[str]) -> str:
            name = match[1].strip()
            try:
                return self.tell(name)
            except NoFigureError as error:
                missing(name, str(error))
                return match[0]

        return NAME.sub(told, text)

    def tell(self, name: str) -> str:
        """Return a figure with its unit. Raises `NoFigureError` where this brake has none."""
        if _typed(name):
            return _converted(name, self.system)
        first = name.partition(".")[0]
        moment = self._moment(first if first in WHEN and "." in name else "")
        bare = _bare(name)
        if bare in MOMENT:
            return MOMENT[bare](moment)
        figure_name, _, event = bare.partition(".")
        return STATE[figure_name](moment.states[event or "applied"], moment)

    def _moment(self, when: str) -> Moment:
        return self._moments[when]

    @cached_property
    def _moments(self) -> dict[str, Moment]:
        stands = {
            "": self.end,
            "start": self.start,
            "found": found_stand(self.setup),
            "hot": replace(self.end, temperature=HOT),
            "cold": replace(self.end, temperature=COLD),
        }
        return {when: Moment(self.setup, stand, self.system, self.row) for when, stand in stands.items()}


SPELLED = {
    " degF": " \N{DEGREE SIGN}F",
    " degC": " \N{DEGREE SIGN}C",
    " deg": "\N{DEGREE SIGN}",
    "lbf*ft": "lbf ft",
    "N*m": "N m",
}


def _converted(typed: str, system: System) -> str:
    """A figure as it was typed, in the units of the reader.

    >>> _converted("90 psi", "inch"), _converted("90 psi", "metric"), _converted("1 3/4 in", "metric")
    ('90 psi', '621 kPa', '44.5 mm')
    """
    found = _read(typed)
    assert found is not None  # names_in has looked
    kind, value = found
    plain = " ".join(typed.split())
    spelled = plain
    for unit, word in SPELLED.items():
        spelled = spelled.replace(unit, word)
    metric = any(plain.endswith(unit) for unit in ("mm", "kPa", "degC", " N", "kN", "km/h", "kg", "N*m", "cm"))
    if kind == "angle" or metric == (system == "metric"):
        return spelled
    return bound(value, system) if kind == "length" else figure(value, kind, system)
