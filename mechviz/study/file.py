"""The study file: TOML in, a `Study` out, or every fault in it in plain words, figures in the units of their key."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from math import inf
from pathlib import Path
from typing import Any, TypeVar, cast

from pydantic import ValidationError

from geometry.errors import Fault, MechvizError, SetupError
from geometry.setup import Setup, builtin_names, read_setup
from geometry.setup.builtin import nearest_builtin
from geometry.setup.many import varied_keys
from geometry.setup.read import SetupFileError
from geometry.setup.text import read_file, read_toml
from geometry.setup.words import file_fault, not_more_than_can_be_read
from geometry.units import in_words, is_finite, parse
from mechviz.study.keys import CHOICES, OutcomeKeys, ParameterKeys, StudyKeys, in_plain_words
from mechviz.study.outcome import Outcome
from mechviz.study.parameter import SIZE, Parameter, size_parameter
from mechviz.study.plan import Plan
from mechviz.study.quantities import QUANTITIES
from mechviz.study.running import Study
from mechviz.study.spread import DEVIATIONS, Listed, Normal, Spread, Triangular, Uniform

T = TypeVar("T")
STARTER = "arm-and-rod"


@cache
def study_names() -> tuple[str, ...]:
    """Return the names of the built-in studies."""
    found = files("mechviz.study").joinpath("studies").iterdir()
    return tuple(sorted(f.name.removesuffix(".toml") for f in found if f.name.endswith(".toml")))


def study_text(name: str) -> str:
    """Return a built-in study as a file to start from."""
    return files("mechviz.study").joinpath("studies", f"{name}.toml").read_text(encoding="utf-8")


def read_study(path_or_name: str) -> Study:
    """Return the study in a file, or the built-in one of that name. Raises `SetupError` with all faults."""
    if path_or_name in study_names():
        return read_study_text(study_text(path_or_name))
    path = Path(path_or_name)
    if not path_or_name or "\0" in path_or_name or not path.exists():
        fix = f"give the path of a study file, or {' or '.join(study_names())}"
        raise SetupError(file_fault("study", "is neither a file nor a built-in study", fix, path_or_name or '""'))
    return read_study_text(read_file(path), path.parent)


def is_study(text: str) -> bool:
    """Tell whether a text is meant as a study file: it is TOML, and has what only these have."""
    try:
        return bool({"parameters", "outcomes"} & set(read_toml(text)))
    except MechvizError:
        return False


def read_study_text(text: str, folder: Path | None = None, base_of: Callable[[str], Setup] | None = None) -> Study:
    """Return the study that a TOML text describes; a base that is a file is looked for in ``folder`` first.

    ``base_of`` finds the base by its name instead, where no file may be read; it raises `SetupError`.
    """
    raw = _unfolded(read_toml(text))
    try:
        keys = StudyKeys.model_validate(raw)
    except ValidationError as error:
        faults = [in_plain_words(found) for found in error.errors(include_url=False)]
        raise SetupError(not_more_than_can_be_read(faults)) from None
    if not keys.title.isprintable():
        raise SetupError(file_fault("title", "is not one line of plain text", "leave out what cannot be printed"))
    base = base_of(keys.base) if base_of else _base(keys.base, folder)
    reader = _Reader(base)
    parameters = [reader.parameter(key, one) for key, one in keys.parameters.items()]
    outcomes = [reader.outcome(n, one) for n, one in enumerate(keys.outcomes, start=1)]
    plan = reader.tried(
        "plan", lambda: Plan(reader.chosen("plan.kind", keys.plan.kind), keys.plan.points, keys.plan.seed)
    )
    if reader.faults:
        raise SetupFileError(not_more_than_can_be_read(reader.faults), base.system)
    known = [o for o in outcomes if o is not None]
    varied = tuple(p for p in parameters if p is not None)
    best = reader.named("best.by", keys.best.by if keys.best else (), [o.key for o in known])
    pictured = reader.pictured(keys, varied, known)
    brakes = keys.tolerances.brakes if keys.tolerances else 0
    study = reader.tried(
        "", lambda: Study(base, varied, tuple(known), plan or Plan(), keys.title, pictured, tuple(best), brakes)
    )
    if reader.faults or study is None:
        raise SetupFileError(not_more_than_can_be_read(reader.faults), base.system)
    return study


def _unfolded(raw: dict[str, Any]) -> dict[str, Any]:
    """Read ``[parameters.linkage.arm_length]`` as ``[parameters."linkage.arm_length"]``, which is meant."""
    parameters = raw.get("parameters")
    if not isinstance(parameters, dict):
        return raw
    found: dict[str, Any] = {}
    for key, value in cast(dict[str, Any], parameters).items():
        inner = cast(dict[str, Any], value) if isinstance(value, dict) else {}
        if "." not in key and inner and all(isinstance(one, dict) for one in inner.values()):
            found |= {f"{key}.{name}": one for name, one in inner.items()}
        else:
            found[key] = value
    return {**raw, "parameters": found}


def _base(name: str, folder: Path | None) -> Setup:
    """The setup that a study names: built in, or a file, beside the study's own first."""
    if name in builtin_names():
        return read_setup(name)
    beside = Path(name) if folder is None else folder / name
    if not name or "\0" in name or not (beside.exists() or Path(name).exists()):
        raise SetupError(
            file_fault("base", "is neither a file nor a built-in setup", nearest_builtin(name), name or '""')
        )
    return read_setup(beside if beside.exists() else name)


@dataclass
class _Reader:
    """Reads what depends on the base, and keeps every fault."""

    base: Setup
    faults: list[Fault] = field(default_factory=list[Fault])

    def tried(self, where: str, make: Callable[[], T]) -> T | None:
        """Return what is made, or keep the faults of the error, placed at ``where`` if they are nowhere yet."""
        try:
            return make()
        except MechvizError as error:
            for fault in error.faults:
                at = f"{where}.{fault.where}" if where and not fault.where.startswith(where) else fault.where
                self.faults.append(
                    Fault(at, fault.problem, fault.fix, fault.given, fault.kind, fault.least, fault.most)
                )
            return None

    def refuse(self, where: str, problem: str, fix: str, given: str | None = None) -> None:
        """Keep a fault."""
        self.faults.append(file_fault(where, problem, fix, given))

    def chosen(self, key: str, word: str, where: str = "") -> Any:
        """Return a word that is one of the key's choices; otherwise keep a fault and return the first of them."""
        choices = CHOICES[key]
        if word in choices:
            return word
        near = get_close_matches(word[:60].lower(), choices, 1, 0.5)
        self.refuse(where or key, f"is not one of {', '.join(choices)}", f'write "{(near or choices)[0]}"', word)
        return choices[0]

    def figure(self, key: str, where: str, value: Any) -> float:
        """Return a figure of a key of the setup file; NaN where it is none, which is kept as a fault."""
        kind = varied_keys()[key]
        if kind == "number":
            good = isinstance(value, int | float) and not isinstance(value, bool) and is_finite(value)
            if not good:
                self.refuse(where, "is not a plain number", "write a number without quotes", in_words(value))
            return float(value) if good else float("nan")
        found = self.tried(where, lambda: parse(value, kind, where))
        if found is None:
            return float("nan")
        if kind == "temperature" and where.rpartition(".")[2] in DIFFERENCES:
            return found - parse("0" + _NUMBER.sub("", str(value)), kind, where)  # 20 degF more is 11.1 K
        return found

    def parameter(self, key: str, given: ParameterKeys) -> Parameter | None:
        """Return a parameter."""
        where = f"parameters.{key}"
        if key == SIZE:
            return self._sizes(where, given)
        if key not in varied_keys():
            self._unknown(where, key)
            return None
        every = ("beginning", "to", "mode", "nominal", "tolerance", "deviation")
        names = [name for name in every if _has(given, name)]
        figures = {name: self.figure(key, f"{where}.{_NAMES.get(name, name)}", getattr(given, name)) for name in names}
        stated = set(names)
        made: Callable[[], Spread] | None = None
        if given.values is not None:
            listed = tuple(self.figure(key, f"{where}.values", one) for one in given.values)
            figures, make = {}, (lambda: Listed(listed)) if not stated else None
        else:
            made = self._made(key, where, stated, figures)
            make = self._spread(
                where, given, stated - {"nominal", "tolerance", "deviation"} if made else stated, figures
            )
        if make is None:
            self.refuse(where, "says its spread in no way that is known", _WAYS)
            return None
        if any(value != value for value in figures.values()):
            return None
        spread = self.tried(where, make)
        produced = None if made is None else self.tried(where, made)
        return None if spread is None else Parameter(key, spread, made=produced)

    def _made(self, key: str, where: str, stated: set[str], f: Mapping[str, float]) -> Callable[[], Spread] | None:
        """What makes the spread that comes from production, where a range is given beside it; else None.

        It is about ``nominal``, else about the base's own figure; without a tolerance it stays there.
        """
        beside = stated - {"beginning", "to", "mode"}
        if not {"beginning", "to"} <= stated or not beside or {"tolerance", "deviation"} <= beside:
            return None
        own = self.base.values.get(key)
        nominal = f.get("nominal", float(own) if isinstance(own, int | float) else float("nan"))
        if not is_finite(nominal) and "nominal" not in stated:
            self.refuse(f"{where}.nominal", "is missing, and the base has no such figure", "write nominal")
        if "tolerance" in beside:
            return lambda: Normal.within(nominal, f["tolerance"])
        if "deviation" in beside:
            return lambda: Normal(nominal, f["deviation"])
        return lambda: Listed((nominal,))

    def _spread(
        self, where: str, given: ParameterKeys, stated: set[str], f: Mapping[str, float]
    ) -> Callable[[], Spread] | None:
        """What makes the spread that the keys describe; None where they describe none."""
        word = (
            None
            if given.distribution is None
            else self.chosen("distribution", given.distribution, f"{where}.distribution")
        )
        if stated == {"beginning", "to"}:
            if word == "triangular":
                return lambda: Triangular(f["beginning"], 0.5 * (f["beginning"] + f["to"]), f["to"])
            if word == "normal":
                middle, half = 0.5 * (f["beginning"] + f["to"]), 0.5 * (f["to"] - f["beginning"])
                return lambda: Normal.within(middle, half)
            return lambda: Uniform(f["beginning"], f["to"])
        if stated == {"beginning", "mode", "to"} and word in (None, "triangular"):
            return lambda: Triangular(f["beginning"], f["mode"], f["to"])
        if stated == {"nominal", "deviation"} and word in (None, "normal"):
            return lambda: Normal(f["nominal"], f["deviation"])
        if stated == {"nominal", "tolerance"}:
            low, high = f["nominal"] - f["tolerance"], f["nominal"] + f["tolerance"]
            if word == "uniform":
                return lambda: Uniform(low, high)
            if word == "triangular":
                return lambda: Triangular(low, f["nominal"], high)
            return lambda: Normal.within(f["nominal"], f["tolerance"])
        return None

    def _sizes(self, where: str, given: ParameterKeys) -> Parameter | None:
        sizes = given.values or []
        if not sizes or not all(isinstance(one, str | int) and not isinstance(one, bool) for one in sizes):
            self.refuse(f"{where}.values", "is no list of sizes", 'write values = ["24", "30"]')
            return None
        found = size_parameter(tuple(str(one) for one in sizes))
        if given.nominal is None:
            return found
        if str(given.nominal) not in found.words:
            self.refuse(f"{where}.nominal", "is none of the values", "write one of them", in_words(given.nominal))
            return None
        return replace(found, made=Listed((float(found.words.index(str(given.nominal))),)))

    def _unknown(self, where: str, key: str) -> None:
        known = (SIZE, *varied_keys())
        near = get_close_matches(key[:60].lower(), known, 1, 0.6)
        endings = [one for one in known if one.endswith(f".{key.rpartition('.')[2]}")]
        meant = (near or endings)[:1]
        fix = f'write [parameters."{meant[0]}"]' if meant else f"use one of {', '.join(known)}"
        self.refuse(where, "is no figure that can be varied", fix)

    def outcome(self, place: int, given: OutcomeKeys) -> Outcome | None:
        """Return an outcome."""
        where = f"outcomes[{place}]"
        if given.name not in QUANTITIES:
            near = get_close_matches(given.name[:60].lower(), list(QUANTITIES), 1, 0.5)
            fix = f'write "{near[0]}"' if near else f"use one of {', '.join(QUANTITIES)}"
            self.refuse(f"{where}.name", "is no outcome", fix, given.name)
            return None
        wear, heat = self.chosen("wear", given.wear, f"{where}.wear"), self.chosen("heat", given.heat, f"{where}.heat")
        kind = QUANTITIES[given.name].kind
        ends: list[float | None] = []
        for name in ("least", "most"):
            value = getattr(given, name)
            at = f"{where}.{name}"
            ends.append(None if value is None else self.tried(at, lambda v=value, a=at: parse(v, kind, a)))
        low, high = ends
        if (-inf if low is None else low) > (inf if high is None else high):
            self.refuse(f"{where}.least", "is more than most", "write the smaller one as least")
        return Outcome(given.name, wear, heat, low, high)

    def named(self, where: str, words: Sequence[str], known: Sequence[str]) -> list[str]:
        """Return the words that are among the known ones; each other is a fault."""
        for word in words:
            if word not in known:
                near = get_close_matches(word[:80], known, 1, 0.4)
                fix = f'write "{near[0]}"' if near else f"use one of {', '.join(known)}"
                self.refuse(where, "is not one of this study's", fix, word)
        return [word for word in words if word in known]

    def pictured(
        self, keys: StudyKeys, parameters: Sequence[Parameter], outcomes: Sequence[Outcome]
    ) -> tuple[str, str, str] | None:
        """Return the axes and the outcome of the map: the first ones unless they are named; None of one parameter."""
        found, of = [p.key for p in parameters], [o.key for o in outcomes]
        asked = [("map.x", keys.map.x, found), ("map.y", keys.map.y, found), ("map.outcome", keys.map.outcome, of)]
        for where, word, known in asked:
            self.named(where, () if word is None else (word,), known)
        x = keys.map.x or next((key for key in found if key != keys.map.y), "")
        y = keys.map.y or next((key for key in found if key != x), "")
        if keys.map.x and keys.map.x == keys.map.y:
            self.refuse("map.y", "is the same as x", "name another parameter", y)
        return (x, y, keys.map.outcome or of[0]) if x and y else None


_NAMES = {"beginning": "from"}
DIFFERENCES = ("tolerance", "deviation")
"""Figures that count from another one, so that a temperature's zero does not matter."""
_NUMBER = re.compile(r"^[-+0-9./,\s]+(?:e[-+]?[0-9]+)?", re.IGNORECASE)
_WAYS = (
    "write from and to (nominal with tolerance may stand beside them); "
    "or values = [...]; or nominal with tolerance (a normal distribution's "
    f"{DEVIATIONS:.0f} deviations) or deviation; or from, mode and to"
)


def _has(given: ParameterKeys, name: str) -> bool:
    return getattr(given, name) is not None
