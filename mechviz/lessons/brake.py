"""The brake of a step: the lesson's, or another one that the step's ``set`` makes of it."""

import json
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

from geometry.quantity import System
from geometry.setup import Setup, builtin_names, read_setup, read_setup_text
from geometry.setup.merge import PLAY
from geometry.setup.text import read_file

Raw = Mapping[str, Any]


def changed_setup(setup: Setup, changes: Raw, text: str | None = None) -> Setup:
    """Return a setup with some of its keys set anew. Raises `SetupError` of the keys that cannot be.

    ``changes`` has the sections of a setup file; ``text`` is that of the setup itself, where it is from no file. What
    was measured on the one vehicle was not measured on the other.
    """
    if not changes:
        return setup
    raw = _merged(_own(setup, text), changes)
    made = read_setup_text(toml_of(raw), setup.source)
    return replace(made, title=setup.title, system=setup.system)


def in_units(setup: Setup, system: System | None) -> Setup:
    """Return a setup that is told in a system of units."""
    return setup if system is None else replace(setup, system=system)


def setup_called(name: str) -> Setup:
    """Return a built-in setup."""
    return read_setup(name)


def _own(setup: Setup, text: str | None) -> dict[str, Any]:
    """What the setup's own file says, or that it is based on the built-in one."""
    if text is None and setup.source in builtin_names():
        return {"schema": 1, "base": setup.source}
    raw = tomllib.loads(read_file(Path(setup.source)) if text is None else text)
    raw.pop("measured", None)
    return raw


def _merged(own: Raw, changes: Raw) -> dict[str, Any]:
    found = dict(own)
    for section, values in changes.items():
        inside = found.get(section)
        both = isinstance(values, dict) and isinstance(inside, dict)
        found[section] = {**cast(Raw, inside), **cast(Raw, values)} if both else values
    slack, told = [key.partition(".")[2] for key in PLAY], cast(Raw, changes.get("condition", {}))
    if isinstance(told, dict) and any(key in told for key in slack):
        found["condition"] = {k: v for k, v in found["condition"].items() if k in told or k not in slack}
    return found


def toml_of(raw: Raw) -> str:
    """Return values of a setup file as TOML: sections of text, numbers, true or false, and lists of these."""
    top = [f"{_key(key)} = {_value(value)}" for key, value in raw.items() if not isinstance(value, dict)]
    return "\n".join(
        [*top, *(_section(key, cast(Raw, value)) for key, value in raw.items() if isinstance(value, dict))]
    )


def _section(name: str, values: Raw) -> str:
    own = [f"{_key(key)} = {_value(value)}" for key, value in values.items() if not isinstance(value, dict)]
    inner = [_section(f"{name}.{key}", cast(Raw, value)) for key, value in values.items() if isinstance(value, dict)]
    return "\n".join([f"[{'.'.join(_key(part) for part in name.split('.'))}]", *own, *inner])


def _key(name: str) -> str:
    return name if name.replace("_", "").replace("-", "").isalnum() and name.isascii() else _value(name)


def _value(value: object) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case int() | float():
            return repr(value)
        case list():
            return "[" + ", ".join(_value(one) for one in cast(list[object], value)) + "]"
        case _:
            return json.dumps(str(value), ensure_ascii=False).replace("\x7f", "\\u007f")
