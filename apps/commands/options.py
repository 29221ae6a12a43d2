"""Options that several commands share."""

import re
from collections.abc import Generator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

if TYPE_CHECKING:
    from geometry.errors import Fault
    from geometry.units import UnitKind

System = Literal["inch", "metric"]
RuleSet = Literal["us", "quebec", "army", "australia", "common"]

SetupName = Annotated[str, Parameter(name="SETUP", help="A setup file, or the name of a built-in setup.")]
Json = Annotated[bool, Parameter(name="--json", help="Write JSON instead of text.", show_default=False)]
Csv = Annotated[bool, Parameter(name="--csv", help="Write CSV instead of text.", show_default=False)]
Units = Annotated[
    System | None,
    Parameter(
        name="--units", metavar="SYSTEM", help="Which units stand first in the text; the setup's own if not given."
    ),
]


def output_option(help: str) -> Parameter:
    """Return the option that names the file to write."""
    return Parameter(name=["--output", "-o"], metavar="FILE", help=help)


def stem_of(setup: str) -> str:
    """Return what a file made of a setup is called, without its suffix.

    >>> stem_of("trucks/quarry.toml"), stem_of("drive-16.5x7")
    ('quarry', 'drive-16.5x7')
    """
    return Path(setup).stem if setup.endswith(".toml") else setup


def one_format(json: bool, csv: bool) -> None:
    """Refuse JSON and CSV at once."""
    from geometry.errors import Fault, MechvizError

    if json and csv:
        raise MechvizError(Fault("--json, --csv", "both were asked for", "choose one", kind="number"))


def counted(points: int, most: int, what: str) -> None:
    """Refuse a ``--points`` that is no count of ``what`` to be listed."""
    from geometry.errors import Fault, MechvizError

    if not 2 <= points <= most:
        raise MechvizError(Fault("--points", f"is no count of {what}", f"use 2 to {most}", str(points), "number"))


def refused(where: str, problem: str, fix: str, given: str | None = None) -> Exception:
    """Return the error of an option that cannot be used."""
    from geometry.errors import Fault, MechvizError

    return MechvizError(Fault(where, problem, fix, given=given, kind="number"))


def renamed(out: Path, suffix: str) -> str:
    """Return the name of a file with another suffix, to suggest it; one of our own where there is no name at all.

    >>> renamed(Path("life.txt"), ".svg"), renamed(Path("."), ".svg")
    ('life.svg', 'brake.svg')
    """
    return out.with_suffix(suffix).name if out.name else f"brake{suffix}"


def quantity_option(name: str, metavar: str, help: str) -> Parameter:
    """Return the option ``--name`` that takes a figure with its unit, which may begin with a minus."""
    return Parameter(name=f"--{name}", metavar=metavar, allow_leading_hyphen=True, help=help)


def typed_figure(typed: str | None, kind: "UnitKind", option: str) -> float | None:
    """Return what was typed as a figure in the unit used inside; None where nothing was."""
    from geometry.units import parse

    return None if typed is None else parse(typed, kind, option)


@contextmanager
def as_typed(options: Mapping[str, str]) -> Generator[None]:
    """Say what is wrong with a part's figure of the option that it was typed as.

    ``options`` gives the option of each figure: ``{"life.pressure": "--pressure"}``.
    """
    from geometry.errors import PartError

    try:
        yield
    except PartError as error:
        raise PartError([_of_option(fault, options) for fault in error.faults]) from None


def _of_option(fault: "Fault", options: Mapping[str, str]) -> "Fault":
    """The fault with each figure's name, wherever it stands, in the words that can be typed."""
    from dataclasses import replace

    problem, fix = fault.problem, fault.fix
    for figure, option in options.items():
        name = re.compile(rf"(?<!-)\b{figure.split('.')[-1]}\b")
        problem, fix = name.sub(option, problem), name.sub(option, fix)
    return replace(fault, where=options.get(fault.where, fault.where), problem=problem, fix=fix)
