"""Faults in plain words: where in the file, what is wrong there, and what would do."""

from collections.abc import Sequence
from difflib import get_close_matches

from pydantic_core import ErrorDetails

from geometry.errors import Fault, PartError
from geometry.setup.keys import known_keys
from geometry.units import in_words, shorten

MOST_FAULTS = 60
"""Reported of one file; beyond this it is another kind of file."""


def file_fault(where: str, problem: str, fix: str, given: str | None = None) -> Fault:
    """Make a fault of the file itself."""
    return Fault(where, problem, fix, None if given is None else shorten(given), kind="number")


def in_plain_words(error: ErrorDetails) -> list[Fault]:
    """Translate one of pydantic's findings."""
    path = [str(part) for part in error["loc"]]
    cause = error.get("ctx", {}).get("error")
    if isinstance(cause, PartError):
        return [_placed(path, fault) for fault in cause.faults]
    if error["type"] == "extra_forbidden":
        return [unknown_key(path, isinstance(error["input"], dict))]
    where, name = dotted(path), path[-1]
    if error["type"] in ("model_type", "model_attributes_type"):
        fix = f"write [{where}] on a line of its own, and the keys of {name} below it"
        return [file_fault(where, "must be a section", fix, in_words(error["input"]))]
    return [file_fault(where, error["msg"].lower(), "look at a built-in setup for how it is written")]


def _placed(path: Sequence[str], fault: Fault) -> Fault:
    return Fault(dotted(path) + fault.where, fault.problem, fault.fix, fault.given, fault.kind, fault.least, fault.most)


def dotted(path: Sequence[str]) -> str:
    """Join a path as it is written in messages: ``linkage.pin_reach``."""
    return ".".join(shorten(part) or '""' for part in path)


def unknown_key(path: Sequence[str], is_section: bool = False) -> Fault:
    """Say that a key, or a section, is not known, and which one was likely meant."""
    section, name = ".".join(path[:-1]), path[-1][:60]
    inside = f"a key of [{section}]" if section else "a section or a key at the top of the file"
    return file_fault(dotted(path), f"is not {inside}", _meant(section, name, is_section))


def _meant(section: str, name: str, is_section: bool) -> str:
    known = known_keys()
    if is_section and (near := get_close_matches(name.lower(), [s for s in known if s], 1, 0.6)):
        return f"write [{near[0]}]"
    keys = known.get(section, ())
    if name not in keys and (homes := [s for s, there in known.items() if s and name in there]):
        return f"move it to [{homes[0]}]" + "".join(f" or [{home}]" for home in homes[1:])
    if near := get_close_matches(name.lower(), keys, 1, 0.6):
        return f"write {near[0]}"
    everywhere = {key: s for s, there in known.items() for key in there}
    if elsewhere := get_close_matches(name.lower(), list(everywhere), 1, 0.75):
        home = everywhere[elsewhere[0]]
        return f"write {elsewhere[0]}, " + (f"in [{home}]" if home else "at the top of the file")
    return f"leave it out; known here: {', '.join(keys)}"


def not_more_than_can_be_read(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return the faults, without repeats, and where there are too many a last line that says how many more."""
    once = tuple(dict.fromkeys(faults))
    if len(once) <= MOST_FAULTS:
        return once
    rest = file_fault("setup file", f"has {len(once) - MOST_FAULTS} more faults", "start from a built-in setup")
    return (*once[:MOST_FAULTS], rest)
