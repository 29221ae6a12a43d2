"""One wheel as it was read, as far as that goes: what was understood, what is wrong beside which field, the checks."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import cast

from geometry.errors import Fault, MechvizError, PartError
from geometry.quantity import System
from geometry.setup import Setup, read_setup_text
from geometry.setup.keys import known_keys
from geometry.states import at_pressure
from mechviz.checks import CheckRow, run_checks
from mechviz.checks.case import Case
from mechviz.job import fields as f
from mechviz.job.chamber import Seen, seen_by_ring
from mechviz.job.fields import Phase, Side
from mechviz.job.model import Job
from mechviz.job.toml import setup_text
from mechviz.job.typed import for_the_file

LONGEST_TITLE = 80
"""Characters of a job's title that its setups carry."""
RESOLUTION: Mapping[System, str] = {"inch": "1/16 in", "metric": "1 mm"}
"""How finely a tape is read unless it is said."""


@dataclass(frozen=True)
class Understood:
    """What a wheel's texts come to.

    ``setup`` is None only where nothing can be made of them; ``errors`` are words by key; ``general`` are words about
    what no field of the wheel can put right; ``seen`` is the chamber that ring and marks name.
    """

    setup: Setup | None
    text: str
    errors: Mapping[str, str]
    general: tuple[str, ...]
    seen: Seen | None

    @cached_property
    def rows(self) -> tuple[CheckRow, ...]:
        """Every check, in the order of the checks; none where there is no setup. Made once, as long as this is kept."""
        return () if self.setup is None else tuple(run_checks(self.setup))

    @cached_property
    def torque(self) -> float | None:
        """The brake torque (N*mm) fully applied as found; None where there is none."""
        if self.setup is None:
            return None
        case = Case(self.setup, self.setup.test.rules)
        return at_pressure(case.brake, case.condition, case.full_pressure, "").brake_torque


@dataclass(frozen=True)
class Look:
    """One wheel of a job in one phase, judged."""

    job: Job
    side: Side
    phase: Phase

    @cached_property
    def understood(self) -> Understood:
        """What the texts come to."""
        job, texts = self.job, self.job.wheel(self.side, self.phase)
        return understood(
            tuple(texts.items()),
            tuple((key, _frozen(value)) for key, value in job.own.items()),
            job.base,
            self.title,
            job.system,
        )

    @property
    def title(self) -> str:
        """The wheel in a line, fit for a setup file, whatever the job is called."""
        plain = "".join(c if c.isprintable() else " " for c in self.job.title)
        return f"{plain[:LONGEST_TITLE].strip()}, {self.side}"

    @property
    def begun(self) -> bool:
        """Whether anything was read on this wheel in this phase."""
        return self.job.begun(self.side, self.phase)

    @property
    def setup(self) -> Setup | None:
        """The setup that the readings make, None where nothing can be made of them."""
        return self.understood.setup

    @property
    def errors(self) -> Mapping[str, str]:
        """What is wrong, in words, by the key of the field that it stands beside."""
        return self.understood.errors

    @cached_property
    def case(self) -> Case | None:
        """The wheel as the checks see it."""
        return None if self.setup is None else Case(self.setup, self.setup.test.rules)

    @property
    def rows(self) -> tuple[CheckRow, ...]:
        """Every check, in the order of the checks; none where nothing can be judged."""
        return self.understood.rows

    @property
    def taken(self) -> str:
        """When it was read."""
        return self.job.taken.get((self.side, self.phase), "")


def look(job: Job, side: Side, phase: Phase = "before") -> Look:
    """Return a wheel of a job, as far as its readings go."""
    return Look(job, side, phase)


@lru_cache(maxsize=256)
def understood(
    texts: tuple[tuple[str, str], ...], own: tuple[tuple[str, object], ...], base: str, title: str, system: System
) -> Understood:
    """Make a setup of texts by key; a text that cannot be used is left out, with what is wrong with it in words.

    ``own`` are keys of the file that no field asks for. Left out are first the texts that cannot be read by themselves,
    then those that the setup as a whole refuses, then keys of the file, until what is left makes one.
    """
    values, errors = _read(texts, system)
    seen, kept, general = seen_by_ring(values, system), dict(own), list[str]()
    named = dict(seen.named) if seen else {}
    while True:
        every = {"measured.resolution": RESOLUTION[system], **kept, **named, **values}
        text = setup_text(base, title, every)
        try:
            return Understood(read_setup_text(text, title, judging=True), text, errors, tuple(general), seen)
        except MechvizError as error:
            blamed = _blamed(error.faults, values, system)
            unfit = [] if blamed else [fault for fault in error.faults if fault.where in kept]
            general += [f"{fault.where}: {_small(said(fault, system))}" for fault in unfit]
            errors.update(blamed)
            if not blamed and not unfit and not named:
                general += [said(fault, system) for fault in error.faults]
                return Understood(None, text, errors, tuple(general), seen)
            _leave_out((values, kept), [*blamed, *(fault.where for fault in unfit)], named)


NAMES_THE_CHAMBER = ("chamber.size", "chamber.style")
"""What a figure of the chamber that is lacking follows from."""


def _blamed(faults: Sequence[Fault], values: Mapping[str, object], system: System) -> dict[str, str]:
    """The words for each key that a fault is said of; what a chamber lacks is said of its size, the first of it."""
    found = dict[str, str]()
    for fault in faults:
        if fault.where in values:
            found.setdefault(fault.where, said(fault, system))
        elif fault.where.startswith("chamber."):
            whose = next((key for key in NAMES_THE_CHAMBER if key in values), None)
            if whose:
                found.setdefault(whose, f"{_lacking(fault.where)} {_small(said(fault, system))}")
    return found


def _lacking(key: str) -> str:
    return f.field(key).label if f.known(key) else key.rpartition(".")[2].replace("_", " ").capitalize()


def _small(words: str) -> str:
    return f"{words[0].lower()}{words[1:]}"


def _leave_out(of: Sequence[dict[str, object]], keys: Sequence[str], named: dict[str, object]) -> None:
    """Leave keys out; where none is to blame it is the chamber that ring and marks named."""
    for values in of:
        for key in keys:
            values.pop(key, None)
    if not keys:
        named.clear()


def _frozen(value: object) -> object:
    """A value of a file that can be looked up by: its lists as tuples."""
    return tuple(_frozen(one) for one in cast(list[object], value)) if isinstance(value, list) else value


def _read(texts: tuple[tuple[str, str], ...], system: System) -> tuple[dict[str, object], dict[str, str]]:
    values, errors = dict[str, object](), dict[str, str]()
    for key, text in texts:
        try:
            values[key] = for_the_file(f.field(key), text, system)
        except PartError as error:
            errors[key] = said(error.faults[0], system)
    return values, errors


def said(fault: Fault, system: System) -> str:
    """Return a fault in words that stand beside its field: without the key's name, keys of others by their labels.

    >>> said(Fault("measured.stroke", "has no unit", 'write "2 in"'), "inch")
    'Has no unit: write "2 in".'
    """
    possible, problem = fault.possible(system), fault.said(system)
    fix = fault.fix.replace("{amount}", "")
    words = f"use {possible}, or {fix}" if possible else fix
    line = in_labels(f"{problem}: {words}".rstrip("."))
    return f"{line[0].upper()}{line[1:]}."


def in_labels(words: str) -> str:
    """Return words in which the file's keys are called as the fields are: a mechanic has no file.

    >>> in_labels("measure again measured.stroke")
    'measure again the applied stroke'
    """
    for one in sorted(f.fields(), key=lambda one: -len(one.key)):
        words = words.replace(one.key, f"the {one.label[0].lower()}{one.label[1:]}")
    return _KEY.sub(lambda found: CALLED.get(found[0], f"the {found[1].replace('_', ' ')}"), words)


_KEY = re.compile(rf"\b(?:{'|'.join(section for section in known_keys() if section)})\.([a-z][a-z_]+)\b")
CALLED: Mapping[str, str] = {
    "chamber.marked_limit": "the limit marked on the chamber",
    "foundation.windup_stiffness": "this brake's own wind-up stiffness",
    "test.pressure": "the pressure at the chamber",
    "chamber.effective_area": "the chamber's effective area",
}
"""Keys of the file that no field asks for, as a mechanic would say them."""
