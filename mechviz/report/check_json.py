"""A check for programs: one row per check and rule set, in the unit of the published source."""

import json
from collections.abc import Sequence
from typing import Any

from mechviz.checks.row import CheckRow
from mechviz.report.figures import in_unit

SCHEMA = 1


def check_data(title: str, rows: Sequence[CheckRow]) -> dict[str, Any]:
    """Return what `check_json` writes, as plain Python values; the rows keep the order in which they were made."""
    return {"schema": SCHEMA, "title": title, "checks": [row_data(row) for row in rows]}


def check_json(title: str, rows: Sequence[CheckRow]) -> str:
    """Write a check as JSON: ASCII only, None as null, never NaN."""
    return json.dumps(check_data(title, rows), indent=2, allow_nan=False)


def row_data(row: CheckRow) -> dict[str, Any]:
    """Return one row: its figures in its own unit, to six decimals."""
    return {
        "check": row.check,
        "result": row.result,
        "value": in_unit(row.value, row.kind, row.unit),
        "limit": in_unit(row.limit, row.kind, row.unit),
        "margin": in_unit(row.margin, row.kind, row.unit, difference=True),
        "unit": row.unit,
        "resolution": in_unit(row.resolution, row.kind, row.unit, difference=True),
        "allowance": in_unit(row.allowance, row.kind, row.unit, difference=True),
        "basis": row.basis,
        "against": row.against,
        "source": row.source,
        "advice": row.advice,
    }
