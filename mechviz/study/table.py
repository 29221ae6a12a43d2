"""A study's result as a table: columns with their unit in the name, as CSV or Parquet."""

import io
from typing import Any

import numpy as np

from geometry.arrays import Array
from geometry.quantity import KINDS, KindName
from geometry.reasons import Reason
from mechviz.report.layout import printable
from mechviz.study.running import Result

SUFFIXES: dict[str, str] = {
    "N*m": "Nm",
    "cm**2": "cm2",
    "N/mm": "N_per_mm",
    "N*m/deg": "Nm_per_deg",
    "mm/deg": "mm_per_deg",
}
"""Metric units as they end a column's name, where they are spelled otherwise."""


def column_name(key: str, kind: KindName) -> str:
    """Return a column's name: its key, and its unit.

    >>> column_name("applied-stroke.worn-out.hot", "length"), column_name("foundation.friction", "number")
    ('applied_stroke_worn_out_hot_mm', 'foundation_friction')
    """
    unit = KINDS[kind].metric
    return "_".join([key.replace("-", "_").replace(".", "_"), *([SUFFIXES.get(unit, unit)] if unit else [])])


def in_metric(values: Array, kind: KindName) -> Array:
    """Return figures in the metric unit that people are shown, temperatures in degC."""
    return (values - KINDS[kind].metric_zero) / KINDS[kind].metric_factor


def columns(result: Result) -> dict[str, Any]:
    """Return the table by column: parameters, outcomes, whether all is inside its limit, and why something is missing.

    Figures are in metric units (numpy arrays, NaN where there is no such state); sizes and reasons are lists of words.
    """
    found: dict[str, Any] = {}
    for p in result.study.parameters:
        values = result.values[p.key]
        words = np.array(p.words)[values.astype(np.intp)] if p.words else None
        found[column_name(p.key, p.kind)] = in_metric(values, p.kind) if words is None else words
    for o in result.study.outcomes:
        found[column_name(o.key, o.quantity.kind)] = in_metric(result.outcomes[o.key], o.quantity.kind)
    found["inside_limits"] = result.inside
    found["reason"] = np.array([""] + [r.words for r in list(Reason)[1:]])[result.reason]
    return found


def _arrow(result: Result) -> Any:
    import pyarrow as pa

    arrow: Any = pa
    arrays = {name: arrow.array(column, from_pandas=True) for name, column in columns(result).items()}
    return arrow.table(arrays, metadata={"title": printable(result.study.title or result.study.base.title)})


def csv_bytes(result: Result) -> bytes:
    """Return the table as CSV with a header row; what does not exist is an empty cell."""
    from pyarrow import csv

    out = io.BytesIO()
    writer: Any = csv
    writer.write_csv(_arrow(result), out)
    return out.getvalue()


def parquet_bytes(result: Result) -> bytes:
    """Return the table as Parquet; what does not exist is null, the study's title in the file's metadata."""
    from pyarrow import parquet

    out = io.BytesIO()
    writer: Any = parquet
    writer.write_table(_arrow(result), out, compression="zstd")
    return out.getvalue()
