"""A setup file as text that is changed key by key: what its writer put around the keys, comments too, stays.

Keys are dotted, ``condition.lining_thickness``; a value is what TOML has there: text, a number, a list.
"""

from collections.abc import Mapping
from contextlib import suppress
from typing import Any, cast

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Item, Table

from geometry.setup.keys import known_keys
from geometry.setup.sheet import leaves
from geometry.setup.text import read_toml


def started(base: str) -> str:
    """Return the text of a setup that is the built-in one of that name, and states nothing of its own."""
    return tomlkit.dumps({"schema": 1, "base": base})


def values_of(text: str) -> dict[str, object]:
    """Return what a text states, by dotted key. Raises `SetupError` for what is no TOML."""
    return dict(leaves(read_toml(text)))


def with_value(text: str, key: str, value: object) -> str:
    """Return the text with ``key`` as given: written over where it stands, added to its section where it does not."""
    document = tomlkit.parse(text)
    section, name = _section(document, key, make=True)
    if section is not None:
        section[name] = value
    return tomlkit.dumps(document)


def without(text: str, key: str) -> str:
    """Return the text without ``key``, and without its section where nothing is left in it."""
    document = tomlkit.parse(text)
    section, name = _section(document, key, make=False)
    if section is not None and name in section:
        del section[name]
        _drop_if_empty(document, key.rpartition(".")[0])
    return tomlkit.dumps(document)


def written(values: Mapping[str, object]) -> str:
    """Return a text that states ``values`` (by dotted key), sections in the order of a setup file."""
    order = [f"{section}.{name}".strip(".") for section, names in known_keys().items() for name in names]
    text = tomlkit.dumps({"schema": 1})
    for key in sorted(values, key=lambda key: order.index(key) if key in order else len(order)):
        if key != "schema":
            text = with_value(text, key, values[key])
    return text


def literal(value: object) -> str:
    """Return a value as it stands in a file: ``"1 3/4 in"`` with its quotes, ``0.35``, ``true``."""
    return tomlkit.item(cast(Any, value)).as_string()


def value_of(literal: str) -> object:
    """Return the value that stands in a file as ``literal``; the text itself where it is no value of TOML."""
    with suppress(TOMLKitError, ValueError):
        return tomlkit.value(literal).unwrap()
    return literal


def _section(document: tomlkit.TOMLDocument, key: str, make: bool) -> tuple[Table | None, str]:
    """The table that a key stands in (none where it is absent, or where something else stands there) and its name."""
    *above, name = key.split(".")
    table = cast(Table, document)
    for part in above:
        if part not in table and make:
            table[part] = tomlkit.table()
        inner = cast(Item | None, table.get(part))
        if not isinstance(inner, Table):
            return None, name
        table = inner
    return table, name


def _drop_if_empty(document: tomlkit.TOMLDocument, section: str) -> None:
    """Take away a section in which no key is left."""
    if not section:
        return
    above, name = _section(document, section, make=False)
    if above is not None and not above.get(name):
        del above[name]
