"""Options that several commands share."""

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

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


def renamed(out: Path, suffix: str) -> str:
    """Return the name of a file with another suffix, to suggest it; one of our own where there is no name at all.

    >>> renamed(Path("life.txt"), ".svg"), renamed(Path("."), ".svg")
    ('life.svg', 'brake.svg')
    """
    return out.with_suffix(suffix).name if out.name else f"brake{suffix}"
