"""TOML written by ourselves: the few kinds of value that a setup or a job has, every text escaped."""

import json
from collections.abc import Mapping, Sequence
from typing import cast


def setup_text(base: str, title: str, values: Mapping[str, object]) -> str:
    """Return a setup file's text from values by dotted key."""
    head = {"schema": 1, "title": title, "base": base}
    sections: dict[str, dict[str, object]] = {}
    for key, value in values.items():
        section, _, name = key.rpartition(".")
        sections.setdefault(section, {})[name] = value
    return _lines(head) + "".join(f"\n[{name}]\n{_lines(keys)}" for name, keys in sections.items() if name)


def _lines(keys: Mapping[str, object]) -> str:
    return "".join(f"{name} = {written(value)}\n" for name, value in keys.items())


def written(value: object) -> str:
    r"""Return a value as TOML writes it.

    >>> written(True), written("1 3/4 in"), written(["a", 1.5]), written('say "x"\x7f')
    ('true', '"1 3/4 in"', '["a", 1.5]', '"say \\"x\\"\\u007f"')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return f"[{', '.join(written(item) for item in cast(Sequence[object], value))}]"
    if isinstance(value, int | float):
        return repr(value)
    return quoted(str(value))


def quoted(text: str) -> str:
    """Return a text in quotes; what no UTF-8 file can hold is replaced."""
    sound = text.encode("utf-8", "replace").decode("utf-8")
    return json.dumps(sound, ensure_ascii=False).replace("\x7f", "\\u007f")
