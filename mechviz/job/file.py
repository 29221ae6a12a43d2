"""A job as a file: TOML of our own, every text as it was typed; read back, all that is wrong is said at once."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, cast

from geometry.errors import Fault, MechvizError, SetupError
from geometry.quantity import System
from geometry.setup import builtin_names
from geometry.setup.builtin import nearest_builtin
from geometry.setup.keys import known_keys
from geometry.setup.text import read_toml
from geometry.units import in_words, shorten
from mechviz.job import fields as f
from mechviz.job.fields import PHASES, SIDES, Phase, Place
from mechviz.job.model import ABOUT, Entry, Job
from mechviz.job.toml import quoted, written

SCHEMA = 1
PLACES: tuple[Place, ...] = ("axle", *SIDES)
TAKEN = "taken"
LONGEST_TIME = 40
TOP = ("schema", "kind", "base", "units", "about", *PLACES, "brake")
"""Keys at the top of a job file."""


def job_text(job: Job) -> str:
    """Return a job as the text of its file."""
    lines = [f"schema = {SCHEMA}", 'kind = "job"']
    lines += [f"base = {quoted(job.base)}", f"units = {quoted(job.system)}"]
    about = [f"{name} = {quoted(getattr(job, name))}" for name in ABOUT if getattr(job, name)]
    lines += ["", "[about]", *about] if about else []
    for place in PLACES:
        for phase in PHASES:
            lines += _section(job, place, phase)
    if job.own:
        lines += ["", "[brake]", *(f"{quoted(key)} = {written(value)}" for key, value in job.own.items())]
    return "\n".join(lines) + "\n"


def _section(job: Job, place: Place, phase: Phase) -> list[str]:
    """What was typed at a place in a phase, in the order of the hands; nothing where nothing was."""
    typed = [(one.key, job.entries.get((place, phase, one.key), "")) for one in f.written(place)]
    rows = [f"{quoted(key)} = {quoted(text)}" for key, text in typed if text]
    taken = "" if place == "axle" else job.taken.get((place, phase), "")
    rows = [f"{TAKEN} = {quoted(taken)}", *rows] if taken else rows
    return ["", f"[{place}.{phase}]", *rows] if rows else []


def is_job(text: str) -> bool:
    """Tell whether a text is that of a job and not of a setup. Raises `SetupError` for what is no TOML."""
    return read_toml(text).get("kind") == "job"


def read_job_text(text: str) -> Job:
    """Return the job that a text describes. Raises `SetupError` with everything that is wrong in it."""
    raw = read_toml(text)
    faults = [*_head(raw), *_unknown(raw)]
    base, about = _known_base(raw, faults), _about(Job(), raw, faults)
    (entries, taken), own = _entries(raw, faults), _own(raw, faults)
    if faults:
        raise SetupError(tuple(faults))
    system: System = "metric" if raw.get("units") == "metric" else "inch"
    return replace(about, base=base, system=system, entries=entries, taken=taken, own=own)


def _fault(where: str, problem: str, fix: str, given: object = None) -> Fault:
    return Fault(where, problem, fix, None if given is None else in_words(given), kind="number")


def _head(raw: Mapping[str, Any]) -> list[Fault]:
    found = list[Fault]()
    if raw.get("kind") != "job":
        found.append(_fault("kind", "is not that of a job", 'write kind = "job", or open it as a setup'))
    if raw.get("schema") != SCHEMA or isinstance(raw.get("schema"), bool):
        found.append(_fault("schema", "is a format that this program does not know", f"write schema = {SCHEMA}"))
    if raw.get("units", "inch") not in ("inch", "metric"):
        found.append(_fault("units", "are neither of the two", 'write units = "inch" or "metric"', raw["units"]))
    return found


def _unknown(raw: Mapping[str, Any]) -> list[Fault]:
    return [_fault(shorten(key), "is nothing that a job has", f"use {', '.join(TOP)}") for key in raw if key not in TOP]


def _known_base(raw: Mapping[str, Any], faults: list[Fault]) -> str:
    base = raw.get("base", Job.base)
    if base in builtin_names():
        return cast(str, base)
    faults.append(_fault("base", "is no built-in setup", nearest_builtin(str(base)), base))
    return Job.base


def _about(job: Job, raw: Mapping[str, Any], faults: list[Fault]) -> Job:
    for name, value in _table(raw, "about", faults).items():
        if not isinstance(value, str):
            faults.append(_fault(f"about.{shorten(name)}", "is no text", "write it in quotes", value))
            continue
        try:
            job = job.about(name, value)
        except MechvizError as error:
            faults.extend(replace(one, where=f"about.{one.where}") for one in error.faults)
    return job


def _own(raw: Mapping[str, Any], faults: list[Fault]) -> dict[str, object]:
    """Keys of a setup that no field asks for; the setup itself judges their values."""
    own = _table(raw, "brake", faults)
    keys = {f"{section}.{name}" for section, names in known_keys().items() for name in names if section}
    for key in [key for key in own if key not in keys]:
        faults.append(_fault(f"brake.{shorten(key)}", "is no key of a setup", "leave it out"))
    return own


def _table(raw: Mapping[str, Any], name: str, faults: list[Fault]) -> dict[str, Any]:
    """A section, empty where there is none."""
    found = raw.get(name, {})
    if isinstance(found, dict):
        return cast(dict[str, Any], found)
    faults.append(_fault(name, "must be a section", f"write [{name}] on a line of its own", found))
    return {}


def _entries(raw: Mapping[str, Any], faults: list[Fault]) -> tuple[dict[Entry, str], dict[Any, str]]:
    entries, taken = dict[Entry, str](), dict[Any, str]()
    for place in PLACES:
        of_place = _table(raw, place, faults)
        for phase in [one for one in of_place if one not in PHASES]:
            faults.append(_fault(f"{place}.{shorten(phase)}", "is neither before nor after", "use before or after"))
        for phase in PHASES:
            for key, value in _table(of_place, phase, faults).items():
                where = f"{place}.{phase}.{shorten(key)}"
                if key == TAKEN and place != "axle":
                    _take(taken, (place, phase), value, where, faults)
                else:
                    _enter(entries, (place, phase, key), value, where, faults)
    return entries, taken


def _take(taken: dict[Any, str], of: object, value: object, where: str, faults: list[Fault]) -> None:
    if isinstance(value, str) and len(value) <= LONGEST_TIME:
        taken[of] = value
    else:
        faults.append(_fault(where, "is no time", 'write it like "2026-11-26 03:28"'))


def _enter(entries: dict[Entry, str], entry: Entry, value: object, where: str, faults: list[Fault]) -> None:
    place, phase, key = entry
    if not isinstance(value, str):
        faults.append(_fault(where, "is no text", "write it in quotes, as it was typed", value))
        return
    try:
        Job().typed(place, phase, key, value)
    except MechvizError as error:
        faults.extend(_fault(where, one.problem, one.fix) for one in error.faults)
        return
    if value:
        entries[entry] = value


CHAMBER_PRESSURE = "test.pressure"
"""Follows the reservoirs, which are read anew for each test."""


def job_of_setup(text: str, side: Place = "left") -> Job:
    """Return a job with a setup's own readings on one wheel, as a file to go on with. Raises `SetupError`.

    Keys that no field asks for are kept as they are; what the file takes from its base stays there.
    """
    from geometry.setup.sheet import main_system, read_sheet

    sheet = read_sheet(read_toml(text))
    if sheet.faults:
        raise SetupError(tuple(sheet.faults))
    base = str(sheet.typed.get("base", Job.base))
    job = Job(vehicle=str(sheet.typed.get("title", ""))[: ABOUT["vehicle"]], base=base)
    entries, own = dict[Entry, str](), dict[str, object]()
    for key, value in sheet.typed.items():
        text = str(value).lower() if isinstance(value, bool) else str(value)
        if f.known(key) and f.field(key).takes(text):
            place: Place = "axle" if f.field(key).place == "axle" else side
            entries[place, "before", key] = text
        elif "." in key and key != CHAMBER_PRESSURE:
            own[key] = value
    system = main_system(sheet.typed, "inch")
    return Job(job.vehicle, base=base, system=system, entries=entries, own=own)
