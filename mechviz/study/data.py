"""A study for programs: JSON, every key with its unit."""

import json
from typing import Any

import numpy as np

from geometry.quantity import KindName
from geometry.reasons import Reason
from mechviz.report.figures import figure
from mechviz.study.limits import Limit
from mechviz.study.parameter import Parameter
from mechviz.study.running import Result
from mechviz.study.sensitivity import Sensitivity
from mechviz.study.table import column_name, in_metric
from mechviz.study.tolerance import ANY, Held, Share, Tolerance
from mechviz.study.worked import Worked

SCHEMA = 1


def study_json(worked: Worked) -> str:
    """Write a study as JSON: its points in all, its best points, indices and tolerances; ASCII only."""
    result, study = worked.result, worked.study
    codes, counts = np.unique(result.reason[~result.valid], return_counts=True)
    data = {
        "schema": SCHEMA,
        "title": study.title or study.base.title,
        "base": study.base.source,
        "plan": {"kind": study.plan.kind, "points": result.size, "seed": study.plan.seed},
        "parameters": [_parameter(p) for p in study.parameters],
        "possible": int(result.valid.sum()),
        "inside_limits": int(result.inside.sum()),
        "impossible": {Reason(c).words: n for c, n in zip(codes.tolist(), counts.tolist(), strict=True)},
        "outcomes": [_outcome(result, key) for key in result.outcomes],
        "best": {
            "by": list(worked.best.by),
            "front": int(worked.best.front.points.size),
            "points": [_point(result, int(n)) for n in worked.best.points],
        },
        "sensitivity": _sensitivity(worked.sensitivity),
        "tolerances": None if worked.tolerance is None else _tolerance(worked.tolerance),
    }
    return json.dumps(data, indent=1)


def _metric(value: float, kind: KindName) -> float | None:
    return figure(float(in_metric(np.array(value), kind)))


def _parameter(parameter: Parameter) -> dict[str, Any]:
    found: dict[str, Any] = {"key": parameter.key, "spread": parameter.spread.words}
    if parameter.words:
        return found | {"values": list(parameter.words)}
    low, high = parameter.spread.ends
    kind = parameter.kind
    return found | {column_name("from", kind): _metric(low, kind), column_name("to", kind): _metric(high, kind)}


def _outcome(result: Result, key: str) -> dict[str, Any]:
    outcome = result.study.outcome(key)
    kind, values = outcome.quantity.kind, result.outcomes[key]
    known, limit = values[np.isfinite(values)], result.limits[key]
    ends = np.percentile(known, [0, 50, 100]).tolist() if known.size else [np.nan] * 3
    names = [column_name(name, kind) for name in ("least", "median", "most")]
    outside = None if limit is None else int((~limit.holds(values)).sum())
    told = dict(zip(names, (_metric(end, kind) for end in ends), strict=True))
    return {"outcome": key, "words": outcome.words, **told, "limit": _limit(limit, kind), "outside": outside}


def _limit(limit: Limit | None, kind: KindName) -> dict[str, Any] | None:
    """A limit; its ends are null where there is none, or where they go with the chamber."""
    if limit is None:
        return None
    ends = {"at_least": limit.least, "at_most": limit.most}
    one = {name: float(np.min(end)) if np.min(end) == np.max(end) else np.nan for name, end in ends.items()}
    return {**{column_name(name, kind): _metric(end, kind) for name, end in one.items()}, "source": limit.source}


def _point(result: Result, index: int) -> dict[str, Any]:
    study = result.study
    found: dict[str, Any] = {}
    for p in study.parameters:
        value = float(result.values[p.key][index])
        found[column_name(p.key, p.kind)] = p.text(value) or _metric(value, p.kind)
    for o in study.outcomes:
        found[column_name(o.key, o.quantity.kind)] = _metric(float(result.outcomes[o.key][index]), o.quantity.kind)
    return found


def _sensitivity(found: Sensitivity) -> list[dict[str, Any]]:
    def of(row: int, column: int) -> dict[str, Any]:
        names = {"first": found.first, "total": found.total}
        errors = {"first_error": found.first_error, "total_error": found.total_error}
        return {name: figure(float(array[row, column])) for name, array in (names | errors).items()}

    return [
        {
            "outcome": key,
            "used": figure(float(found.used[row])),
            "parameters": {name: of(row, column) for column, name in enumerate(found.parameters)},
        }
        for row, key in enumerate(found.outcomes)
    ]


def _tolerance(found: Tolerance) -> dict[str, Any]:
    return {"brakes": found.drawn.size, "held": [_held(one) for one in found.held]}


def _held(held: Held) -> dict[str, Any]:
    return {
        "outcome": None if held.key == ANY else held.key,
        "outside": _share(held.outside),
        "missing": held.missing,
        "blame": [
            {
                "parameter": one.key,
                "variance": figure(one.variance),
                "variance_with_others": figure(one.total),
                "outside_with_half_the_tolerance": None if one.halved is None else _share(one.halved),
            }
            for one in held.blame
        ],
    }


def _share(share: Share) -> dict[str, Any]:
    low, high = share.interval
    return {"count": share.count, "share": figure(share.share), "from": figure(low), "to": figure(high)}
