"""The fit of a new adjuster on a wheel: the pushrod to cut, the setting, and what has to be measured before."""

from dataclasses import dataclass
from functools import lru_cache

from geometry.errors import MechvizError
from geometry.quantity import System
from geometry.setup import read_setup_text
from mechviz.checks import CheckRow, any_failed
from mechviz.job.look import Look, in_labels, said
from mechviz.pushrod.study import Asked, fitting
from mechviz.pushrod.text import SQUARE_ROD, answer_rows, fit_cautions, heading, how_to_measure, steps, why_none
from mechviz.pushrod.verdicts import fit_rows


@dataclass(frozen=True)
class Fit:
    """A fit in words.

    ``heading`` says whether to cut; ``rows`` the lengths, each with what it is (none where no rod does it);
    ``missing`` what has to be this vehicle's own first, as (key, how it is measured); ``steps`` the setting;
    ``failed`` the verdicts that are against it; ``good`` whether there is a length to cut by.
    """

    heading: str
    rows: tuple[tuple[str, str], ...]
    why: str
    missing: tuple[tuple[str, str], ...]
    steps: tuple[str, ...]
    failed: tuple[CheckRow, ...]
    cautions: tuple[str, ...]
    good: bool


def fit_of(look: Look) -> Fit | None:
    """Return the fit of a new adjuster on a wheel; None where nothing was read on it."""
    if look.setup is None or not look.begun:
        return None
    return _fit(look.understood.text, look.title, look.job.system)


@lru_cache(maxsize=32)
def _fit(text: str, title: str, system: System) -> Fit:
    try:
        found = fitting(read_setup_text(text, title, judging=True, fitting=True), Asked(), system)
    except MechvizError as error:
        why = " ".join(said(fault, system) for fault in error.faults)
        return Fit("No pushrod can be worked out", (), why, (), (), (), (), False)
    rows = fit_rows(found)
    failed, cut = any_failed(rows), found.best.cut is not None
    return Fit(
        heading=_said_small(heading(found, failed)) if cut else "No pushrod does it",
        rows=tuple(answer_rows(found)) if cut else (),
        why=SQUARE_ROD if cut else why_none(found),
        missing=tuple((WRITTEN_AS.get(key, key), in_labels(how_to_measure(found, key))) for key in found.missing),
        steps=tuple(in_labels(step) for step in steps(found)) if cut else (),
        failed=tuple(row for row in rows if row.result in ("fail", "close")),
        cautions=tuple(fit_cautions(found)),
        good=cut and not failed and not found.example,
    )


WRITTEN_AS = {"linkage.arm_length": "measured.arm_length"}
"""The field of a job in which a figure stands that the setup file calls otherwise."""


def _said_small(words: str) -> str:
    """A heading in sentence case."""
    return f"{words[0]}{words[1:].lower()}"
