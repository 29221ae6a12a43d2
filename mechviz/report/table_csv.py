"""Records as CSV for spreadsheets: one row a record, nested keys joined by dots, free text that cannot run."""

import csv
import io
from collections.abc import Mapping, Sequence
from typing import Any, cast

from mechviz.report.layout import printable

STARTS_A_FORMULA = ("=", "+", "-", "@")
"""A text that begins so is run by some spreadsheets; an apostrophe before it makes it text."""


def csv_text(records: Sequence[Mapping[str, Any]], title: str) -> str:
    """Write records as CSV with a header row; each row begins with the ``title``, None is an empty cell."""
    flat = [{"title": title, **flattened(record)} for record in records]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(flat[0] if flat else ["title"])
    writer.writerows([_cell(value) for value in row.values()] for row in flat)
    return out.getvalue()


def flattened(record: Mapping[str, Any], before: str = "") -> dict[str, Any]:
    """Return a record without nesting: ``{"gap": {"least": 1}}`` becomes ``{"gap.least": 1}``."""
    flat: dict[str, Any] = {}
    for key, value in record.items():
        if isinstance(value, Mapping):
            flat |= flattened(cast(Mapping[str, Any], value), f"{before}{key}.")
        else:
            flat[f"{before}{key}"] = value
    return flat


def _cell(value: Any) -> Any:
    if isinstance(value, str):
        plain = printable(value)
        return f"'{plain}" if plain.lstrip(" ").startswith(STARTS_A_FORMULA) else plain
    return value
