"""What a job asks for: each reading with how it is taken, in the order in which the hands come to it."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from geometry.quantity import System

Kind = Literal["length", "angle", "pressure", "temperature", "choice", "text"]
Place = Literal["axle", "left", "right"]
Side = Literal["left", "right"]
Phase = Literal["before", "after"]
Step = Literal["safe", "released", "applied", "wheel", "adjuster"]

SIDES: tuple[Side, ...] = ("left", "right")
PHASES: tuple[Phase, ...] = ("before", "after")

STEPS: Mapping[Step, str] = {
    "safe": "Make it safe",
    "released": "Brake released",
    "applied": "Brake held on",
    "wheel": "Lining and drum",
    "adjuster": "For a new adjuster",
}
"""The parts of the walk, in order."""

CAUSE = "cause"
"""What is said of a wheel that was out and is in again; no key of the setup file."""

ADJUSTMENT_CHECKS = ("stroke-limit", "free-stroke")
"""Checks that say whether the brake is in adjustment."""

CAUTIONS: Mapping[str, str] = {
    "spring": "A spring brake holds 1500 to 2000 lbf (7 to 9 kN). Never open, strike or unbolt its can.",
    "release": "Chock the wheels before anyone goes under: with the spring brakes released nothing else holds it.",
    "hot": "A drum that has just worked burns skin: do not touch it.",
    "clamp": "Do not loosen the clamp ring: the spring behind it can throw the chamber apart.",
    "hands": "Keep hands and sleeves out of the way of arm and pushrod: air moves them without warning.",
    "dust": "Brake dust: no dry brushing, no compressed air. Old linings may hold asbestos.",
    "lift": "Support the axle on stands before a wheel comes off, and lift the drum with a tool for it.",
    "cage": "Chock the wheels and cage the spring brake with its own tool before the clevis pin is drawn.",
}
"""By name; each stands where the step is that it is about."""

UNITS: Mapping[Kind, Mapping[System, str]] = {
    "length": {"inch": "in", "metric": "mm"},
    "angle": {"inch": "deg", "metric": "deg"},
    "pressure": {"inch": "psi", "metric": "kPa"},
    "temperature": {"inch": "degF", "metric": "degC"},
}
"""What a figure without a unit is taken for, by the job's units."""


@dataclass(frozen=True)
class Field:
    """One thing to read.

    Parameters
    ----------
    key : str
        The setup file's key.
    label : str
        What it is called.
    kind : str
        Of quantity, or ``choice`` or ``text``.
    place : str
        ``axle`` for what is read once, ``wheel`` for what is read left and right.
    step : str
        One of `STEPS`.
    holds : bool
        Whether the reading still holds after an adjustment; a stroke has to be read again.
    instrument, how : str
        What with, and where to put it, in one sentence.
    picture : str
        Name of the picture that shows where; empty where there is nothing to see.
    caution : str
        One of `CAUTIONS`, empty where the step is not dangerous.
    choices : tuple of (str, str)
        What can be chosen, as the file writes it and as it is said; empty for a figure.
    example : tuple of (str, str)
        What might be written, in inches and in millimetres.
    extra : bool
        Whether it is wanted only for a new adjuster.
    fold : str
        Heading under which it stands folded away, as it is seldom wanted; empty for the others.
    unset : str
        What a choice says before anything was chosen.
    least, most : float or None
        In mm, deg, psi or degF: beyond these it is a slip.

    """

    key: str
    label: str
    kind: Kind
    place: Literal["axle", "wheel"]
    step: Step
    holds: bool
    instrument: str
    how: str
    picture: str = ""
    caution: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    example: tuple[str, ...] = ()
    extra: bool = False
    fold: str = ""
    unset: str = "not looked yet"
    least: float | None = None
    most: float | None = None

    def unit(self, system: System) -> str:
        """Return the unit that a bare figure is taken to be in; empty where there is none."""
        return UNITS.get(self.kind, {}).get(system, "")

    def shown(self, system: System) -> str:
        """Return what might be written here."""
        return self.example[system == "metric"] if self.example else ""

    def takes(self, text: str) -> bool:
        """Tell whether a text can stand here: one of the choices, or anything where there are none."""
        return not self.choices or text in dict(self.choices)

    def said(self, value: str) -> str:
        """Return a choice as it is said; what was typed where it is none."""
        return dict(self.choices).get(value, value)


@cache
def fields() -> tuple[Field, ...]:
    """Return every field, in the order in which the hands come to it."""
    return tuple(_field(row) for row in _listed()["field"])


@cache
def told() -> tuple[Field, ...]:
    """Return what is said of a wheel after an adjustment and is no reading: it goes on the sheet, in no setup."""
    return tuple(_field(row) for row in _listed()["told"])


def _listed() -> dict[str, Any]:
    return tomllib.loads(files("mechviz.job").joinpath("fields.toml").read_text(encoding="utf-8"))


def _field(row: dict[str, Any]) -> Field:
    choices = tuple((value, said) for value, said in row.pop("choices", ()))
    example = tuple(row.pop("example", ()))
    return Field(**row, choices=choices, example=example)


@cache
def _by_key() -> dict[str, Field]:
    return {one.key: one for one in (*fields(), *told())}


def field(key: str) -> Field:
    """Return the field of a setup file's key, or of what is told. Raises `KeyError` for one that no job asks for."""
    return _by_key()[key]


def known(key: str) -> bool:
    """Tell whether a job asks for a key."""
    return key in _by_key()


def asked(place: Place) -> tuple[Field, ...]:
    """Return what is read at a place, in order."""
    wanted = "axle" if place == "axle" else "wheel"
    return tuple(one for one in fields() if one.place == wanted)


def written(place: Place) -> tuple[Field, ...]:
    """Return all that can be written at a place: what is read, then what is told."""
    return asked(place) if place == "axle" else (*asked(place), *told())
