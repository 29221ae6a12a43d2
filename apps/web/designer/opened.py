"""A study file at the desk: what is saved of a study, and what one that is opened makes of the desk."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import PurePosixPath
from typing import Any

from apps.web.designer.asked import Asked
from apps.web.designer.job import DRAWN
from apps.web.designer.pick import Pick
from apps.web.designer.question import question, tolerance_question
from apps.web.designer.state import MOST_ASKED, MOST_POINTS, MOST_VARIED, DesignerState
from apps.web.designer.varied import Varied
from geometry.errors import Fault, MechvizError
from geometry.quantity import KindName, System
from geometry.setup import Setup, builtin_names, read_setup
from geometry.setup.write import quantity_text
from mechviz.study import Listed, Normal, Outcome, Parameter, Study, Uniform
from mechviz.study.file import read_study_text
from mechviz.study.spread import DEVIATIONS


@dataclass(frozen=True)
class Opened:
    """What a study file makes of the desk: ``base`` is the built-in brake that it is of, None for the one at hand.

    ``choice`` is what to choose, ``notes`` say what of the file this desk cannot hold.
    """

    base: str | None
    choice: Mapping[str, Any]
    notes: tuple[str, ...]


def whole_study(state: DesignerState, setup: Setup, point: Pick) -> Study | None:
    """Return a desk's study with all that its file has to carry: tolerances about the point, best pair, map."""
    study = question(state, setup).study
    if study is None:
        return None
    produced = tolerance_question(state, setup, point)
    parameters = study.parameters
    if produced is not None:
        made = {p.key: p for p in produced.parameters}
        parameters = tuple(_with_made(p, made.get(p.key)) for p in parameters)
    across, up = state.axes
    pictured = (across, up, state.mapped) if across != up else None
    best_by = tuple(dict.fromkeys(state.goals))
    return replace(study, parameters=parameters, map_of=pictured, best_by=best_by, brakes=DRAWN if produced else 0)


def _with_made(studied: Parameter, made: Parameter | None) -> Parameter:
    """A parameter with how it is made; a size by its place among those that are studied."""
    if made is None:
        return studied
    if studied.words:
        return replace(studied, made=Listed((float(studied.words.index(made.words[0])),)))
    return replace(studied, made=made.spread)


def opened(text: str, setup: Setup | None, own_name: str) -> Opened:
    """Return what a study file makes of a desk with ``setup`` at hand, which is saved as ``own_name``.

    Raises `MechvizError` for what cannot be read, or be held by a desk. No file is read but the one that was given.
    """

    def base_of(name: str) -> Setup:
        if name in builtin_names():
            return read_setup(name)
        if setup is not None and PurePosixPath(name).name == own_name:
            return setup
        known = f"open that setup file first, then the study; or write base as one of {', '.join(builtin_names())}"
        raise MechvizError(Fault("base", "is a setup file that is not open here", known, f'"{name[:80]}"', "number"))

    study = read_study_text(text, base_of=base_of)
    base, notes = study.base, list[str]()
    _bounded(study)
    system: System = base.system
    varied = [_varied(p, system, notes) for p in study.parameters]
    asked = [_asked(o, system) for o in study.outcomes]
    goals = (*study.best_by, *(o.key for o in study.outcomes))
    notes += (
        ["this desk looks for the best in two outcomes: the first two of best.by"] if len(study.best_by) > 2 else []
    )
    notes += [f"this desk draws {DRAWN:,} brakes for tolerances"] if study.brakes not in (0, DRAWN) else []
    across, up, of = study.map_of or ("", "", "")
    choice: dict[str, Any] = {
        "varied": varied,
        "asked": asked,
        "kind": study.plan.kind,
        "points": max(study.plan.points, 2),
        "seed": min(study.plan.seed, 2**31 - 1),
        "best": (goals[0], goals[min(1, len(goals) - 1)]) if study.best_by else ("", ""),
        "across": across,
        "up": up,
        "of": of,
        "filters": {},
        "point": _point(study),
    }
    builtin = base.source if base is not setup else None
    return Opened(builtin, choice, tuple(notes))


def _bounded(study: Study) -> None:
    """Refuse what is more than the desk holds."""
    for where, count, most in (
        ("parameters", len(study.parameters), MOST_VARIED),
        ("outcomes", len(study.outcomes), MOST_ASKED),
        ("plan.points", study.plan.points, MOST_POINTS),
    ):
        if count > most:
            fix = f"leave some out, or use mechviz study on the command line; this desk takes {most:,}"
            raise MechvizError(Fault(where, "are more than this desk holds", fix, f"{count:,}", "number"))


def _varied(parameter: Parameter, system: System, notes: list[str]) -> Varied:
    if parameter.words:
        return Varied(parameter.key, ", ".join(parameter.words))
    kind, spread = parameter.kind, parameter.spread
    low, high = (_typed(end, kind, system) for end in spread.ends)
    if not isinstance(spread, Uniform | Normal):
        notes.append(
            f"{parameter.name} is a {spread.words} in the file: here it is the range from its least to its most"
        )
    made = parameter.made or spread
    if not isinstance(made, Normal):
        return Varied(parameter.key, low, high)
    return Varied(parameter.key, low, high, _difference(DEVIATIONS * made.deviation, kind, system))


def _typed(value: float, kind: KindName, system: System) -> str:
    return repr(value) if kind == "number" else quantity_text(value, kind, system)


def _difference(value: float, kind: KindName, system: System) -> str:
    """A tolerance; one of a temperature counts in degrees of the system, without a zero."""
    if kind == "temperature":
        return f"{value * 1.8!r} degF" if system == "inch" else f"{value!r} degC"
    return _typed(value, kind, system)


def _asked(outcome: Outcome, system: System) -> Asked:
    kind = outcome.quantity.kind
    least, most = ("" if end is None else _typed(end, kind, system) for end in (outcome.least, outcome.most))
    return Asked(outcome.name, outcome.wear, outcome.heat, least, most)


def _point(study: Study) -> Pick:
    """The point that the file's brakes are made about; nothing where it names none."""
    found: dict[str, float | str] = {}
    for p in study.parameters:
        made = p.made or (p.spread if isinstance(p.spread, Normal) else None)
        if made is not None:
            found[p.key] = p.text(made.middle) or made.middle
    return Pick.of(found)
