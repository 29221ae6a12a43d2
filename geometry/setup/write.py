"""A setup's values as the text of a file that reads back to the very same figures."""

import json
from collections.abc import Mapping, Sequence
from math import inf, nextafter
from typing import Any

import numpy as np

from geometry.errors import PartError
from geometry.quantity import KINDS, KindName, System
from geometry.setup.keys import SECTIONS, known_keys
from geometry.setup.many import varied_keys
from geometry.setup.parts import DEFAULTS
from geometry.setup.sheet import Values
from geometry.units import UnitKind, parse

_LISTS: Mapping[str, KindName] = {
    "chamber.thrust.stroke": "length",
    "chamber.thrust.force": "force",
    "linkage.arm_holes": "length",
}
_NOT_OF_A_DESIGN = ("measured",)
"""Sections that are readings of one vehicle."""


def setup_text(values: Values, title: str, system: System, remarks: Sequence[str] = ()) -> str:
    """Return the text of a setup file with these values by dotted key, under a title and below some remarks.

    Lengths and the rest are written in the units of ``system`` with as many digits as they need. What is a default, or
    was measured on a vehicle, is left out.
    """
    lines = [*(f"# {remark}" for remark in remarks), "schema = 1", f"title = {_quoted(title)}"]
    for section in SECTIONS:
        if section in _NOT_OF_A_DESIGN:
            continue
        found = [key for name in known_keys()[section] if (key := f"{section}.{name}") in values and _told(key, values)]
        if found:
            lines += ["", f"[{section}]"]
            lines += [f"{key.rpartition('.')[2]} = {_written(key, values[key], system)}" for key in found]
    return "\n".join(lines) + "\n"


def _told(key: str, values: Values) -> bool:
    return key not in DEFAULTS or DEFAULTS[key] != values[key]


def _written(key: str, value: Any, system: System) -> str:
    if key == "cam.table":
        rows = ([quantity_text(a, "angle", system), quantity_text(r, "length", system)] for a, r in value)
        return "[" + ", ".join(f"[{_quoted(angle)}, {_quoted(radius)}]" for angle, radius in rows) + "]"
    if key in _LISTS:
        return "[" + ", ".join(_quoted(quantity_text(one, _LISTS[key], system)) for one in value) + "]"
    kind = _kind(key)
    if value is None:
        return _quoted("bedded")  # the one key that has a word for none
    if kind is None or kind == "number":
        return json.dumps(value, ensure_ascii=False)
    return _quoted(quantity_text(value, kind, system))


def _kind(key: str) -> UnitKind | None:
    if key == "foundation.drum_expansion":
        return "expansion"
    section, _, name = key.rpartition(".")
    if key == "chamber.thrust.pressure":
        return "pressure"
    from geometry.setup.keys import kind_of

    return varied_keys().get(f"{section}.{name}") or kind_of(key)


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def quantity_text(value: float, kind: UnitKind, system: System) -> str:
    """Return a figure (in the unit used inside) with a unit, in the fewest digits that are read back as the same.

    >>> quantity_text(139.7, "length", "inch"), quantity_text(0.1 + 0.2, "length", "metric")
    ('5.5 in', '0.30000000000000004 mm')
    """
    if kind == "expansion":
        return f"{value!r} 1/K"
    k = KINDS[kind]
    unit, factor, zero = (
        (k.inch, k.inch_factor, k.inch_zero) if system == "inch" else (k.metric, k.metric_factor, k.metric_zero)
    )
    near = (value - zero) / factor
    tries = [float(f"{near:.{digits}g}") for digits in range(1, 17)] + [
        near,
        nextafter(near, inf),
        nextafter(near, -inf),
    ]
    spelled = (np.format_float_positional(one, trim="-") for one in tries)
    found = next((text for text in spelled if _reads_as(f"{text} {unit}", kind) == value), None)
    return f"{value!r} {k.inside}" if found is None else f"{found} {unit}"


def _reads_as(text: str, kind: UnitKind) -> float | None:
    try:
        return parse(text, kind, "")
    except PartError:
        return None
