"""The file's own lines, one by one: values that were understood, what was typed, and what is wrong."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, cast

from pydantic import BaseModel, ValidationError

from geometry.errors import Fault
from geometry.quantity import System
from geometry.setup.keys import FileKeys
from geometry.setup.words import MOST_FAULTS, file_fault, in_plain_words
from geometry.units import typed_system

Values = dict[str, Any]
"""Parsed values by dotted key: ``linkage.pin_reach``."""


@dataclass
class Sheet:
    """``values`` by dotted key; ``typed`` what stood in the file; ``broken`` the keys (or sections) with a fault."""

    values: Values
    typed: Mapping[str, object]
    broken: set[str] = field(default_factory=set[str])
    faults: list[Fault] = field(default_factory=list[Fault])

    def is_broken(self, key: str) -> bool:
        """Say whether a fault was found in a key, or in a section that it stands in."""
        parts = key.split(".")
        return any(".".join(parts[: n + 1]) in self.broken for n in range(len(parts)))


def read_sheet(raw: dict[str, Any]) -> Sheet:
    """Read every key of a parsed file; what cannot be used is reported and left out."""
    typed = dict(leaves(raw))
    try:
        sheet = Sheet(_flat(FileKeys.model_validate(raw)), typed)
    except ValidationError as error:
        sheet = _without_the_broken(raw, typed, error)
    if "schema" not in raw:
        sheet.faults.insert(0, file_fault("schema", "is missing", "write schema = 1 as the first line"))
    sheet.values.pop("schema_number", None)
    return sheet


def _without_the_broken(raw: dict[str, Any], typed: Mapping[str, object], error: ValidationError) -> Sheet:
    """Report what is broken, and read the rest of the file without it."""
    paths, faults = list[list[str]](), list[Fault]()
    for found in error.errors(include_url=False):
        paths.append([str(part) for part in found["loc"]])
        if len(faults) <= MOST_FAULTS:
            faults.extend(in_plain_words(found))
    rest = _without(raw, paths)
    return Sheet(_flat(FileKeys.model_validate(rest)), typed, {".".join(path) for path in paths}, faults)


def _without(raw: dict[str, Any], paths: Sequence[Sequence[str]]) -> dict[str, Any]:
    """Return a file's values without what stands at some paths, leaving the original as it is."""
    left, inside = dict(raw), dict[str, list[Sequence[str]]]()
    for name, *below in paths:
        inside.setdefault(name, []).append(below)
    for name, below in inside.items():
        if all(below) and isinstance(left.get(name), dict):
            left[name] = _without(left[name], below)
        else:
            left.pop(name, None)
    return left


def _flat(section: BaseModel, above: str = "") -> Values:
    """Return what a section states, by dotted key."""
    values: Values = {}
    for name in section.model_fields_set:
        value = getattr(section, name)
        values.update(_flat(value, f"{above}{name}.") if isinstance(value, BaseModel) else {above + name: value})
    return values


def leaves(raw: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, object]]:
    """Yield every value of a parsed file with its dotted key."""
    for name, value in raw.items():
        if isinstance(value, dict) and above.count(".") < 3:
            yield from leaves(cast(dict[str, Any], value), f"{above}{name}.")
        else:
            yield above + name, value


def main_system(typed: Mapping[str, object], otherwise: System) -> System:
    """Return the unit system of most lengths that were typed; ``otherwise`` where it is a draw."""
    lengths = [typed_system(text) for value in typed.values() for text in _texts(value)]
    inch, metric = lengths.count("inch"), lengths.count("metric")
    return otherwise if inch == metric else "inch" if inch > metric else "metric"


def _texts(value: object) -> Iterator[object]:
    """A value, or the values of a list and of the lists in it."""
    if not isinstance(value, list):
        yield value
        return
    for item in cast(list[object], value)[:1000]:
        yield from cast(list[object], item)[:10] if isinstance(item, list) else [item]
