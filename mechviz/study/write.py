"""A study as the text of a study file that reads back to the same study."""

import json
from dataclasses import replace
from typing import Any

from geometry.quantity import KindName, System
from geometry.setup.write import quantity_text
from mechviz.study.outcome import Outcome
from mechviz.study.parameter import Parameter
from mechviz.study.running import Study
from mechviz.study.spread import DEVIATIONS, Listed, Normal, Spread, Triangular


def study_file_text(study: Study, base: str | None = None, system: System | None = None) -> str:
    """Return the study file of a study, figures in the units of ``system`` (the base's own unless given).

    ``base`` is what the file calls its base setup: where that is a file it has to stand beside the study's; the name or
    path that it was read from unless given.
    """
    units = system or study.base.system
    blocks = [["schema = 1", f"title = {_quoted(study.title)}", f"base = {_quoted(base or study.base.source)}"]]
    blocks += [_parameter(p, units) for p in study.parameters]
    blocks += [_outcome(o, units) for o in study.outcomes]
    plan = study.plan
    blocks.append(["[plan]", f"kind = {_quoted(plan.kind)}", f"points = {plan.points}", f"seed = {plan.seed}"])
    if study.best_by:
        blocks.append(["[best]", f"by = {json.dumps(list(study.best_by))}"])
    if study.map_of:
        names = zip(("x", "y", "outcome"), study.map_of, strict=True)
        blocks.append(["[map]", *(f"{name} = {_quoted(key)}" for name, key in names)])
    if study.brakes:
        blocks.append(["[tolerances]", f"brakes = {study.brakes}"])
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def _parameter(parameter: Parameter, system: System) -> list[str]:
    def said(**figures: float) -> list[str]:
        return [f"{name.rstrip('_')} = {_figure(value, parameter.kind, system)}" for name, value in figures.items()]

    head, spread = f'[parameters."{parameter.key}"]', parameter.spread
    if parameter.words:
        at = parameter.text(parameter.made.middle) if parameter.made else None
        made = [] if at is None else [f"nominal = {_quoted(at)}"]
        return [head, f"values = {json.dumps(list(parameter.words))}", *made]
    if parameter.made is not None:
        return _parameter(replace(parameter, made=None), system) + _made(parameter, parameter.made, system)
    match spread:
        case Listed(values=values):
            return [head, f"values = [{', '.join(_figure(value, parameter.kind, system) for value in values)}]"]
        case Normal(mean=mean, deviation=deviation):
            return [head, *said(nominal=mean), f"deviation = {_difference(deviation, parameter.kind, system)}"]
        case Triangular(low=low, mode=mode, high=high):
            return [head, *said(from_=low, mode=mode, to=high)]
        case _:
            low, high = spread.ends
            return [head, *said(from_=low, to=high)]


def _made(parameter: Parameter, made: Spread, system: System) -> list[str]:
    """How a parameter comes from production, beside its range."""
    kind = parameter.kind
    lines = [f"nominal = {_figure(made.middle, kind, system)}"]
    if not isinstance(made, Normal):
        return lines
    whole = DEVIATIONS * made.deviation
    if whole / DEVIATIONS == made.deviation:
        return [*lines, f"tolerance = {_difference(whole, kind, system)}"]
    return [*lines, f"deviation = {_difference(made.deviation, kind, system)}"]


def _figure(value: float, kind: KindName, system: System) -> str:
    return repr(value) if kind == "number" else _quoted(quantity_text(value, kind, system))


def _difference(value: float, kind: KindName, system: System) -> str:
    """A deviation; one of temperature counts in kelvin, whose zero does not matter to it."""
    return _quoted(f"{value!r} K") if kind == "temperature" else _figure(value, kind, system)


def _outcome(outcome: Outcome, system: System) -> list[str]:
    lines = ["[[outcomes]]", f"name = {_quoted(outcome.name)}"]
    words = {"wear": outcome.wear, "heat": outcome.heat}
    lines += [f"{key} = {_quoted(word)}" for key, word in words.items() if word != "found"]
    ends: dict[str, Any] = {"least": outcome.least, "most": outcome.most}
    kind = outcome.quantity.kind
    return lines + [f"{key} = {_figure(end, kind, system)}" for key, end in ends.items() if end is not None]


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
