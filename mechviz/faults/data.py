"""Defects for programs: one record each, every key with its unit."""

import json
from collections.abc import Sequence
from typing import Any

from geometry.quantity import KINDS as UNITS
from geometry.reasons import Reason
from mechviz.faults.study import KINDS, Row
from mechviz.report.figures import figure

SCHEMA = 1
SUFFIXES = {"length": "mm", "angle": "deg", "force": "N", "torque": "Nm"}


def record(row: Row) -> dict[str, Any]:
    """Return one row; ``reason`` is null where the state exists."""
    reason = Reason(int(row.outcome.reason))
    figures = {
        f"{key}_{SUFFIXES[kind]}": figure(float(getattr(row.outcome, key)), UNITS[kind].metric_factor)
        for key, kind in KINDS.items()
    }
    words = {"inside": row.inside, "outside": row.outside}
    why = None if reason == Reason.EXISTS else reason.words
    return {"name": row.name, "title": row.title, **figures, "reason": why, **words}


def faults_json(title: str, sound: Row, rows: Sequence[Row]) -> str:
    """Write the brake as found and with defects as JSON."""
    data = {"schema": SCHEMA, "title": title, "as_found": record(sound), "faults": [record(row) for row in rows]}
    return json.dumps(data, indent=2, allow_nan=False)
