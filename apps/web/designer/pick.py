"""A point that was picked: the figure of each dimension, whatever else is studied meanwhile."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from geometry.setup import Setup
from geometry.setup.many import varied_keys
from mechviz.study import Listed, Outcome, Parameter, Plan, Study, size_parameter
from mechviz.study.chosen import chosen_text
from mechviz.study.parameter import SIZE

DIGITS = 7
"""That a figure is kept with: more than any drawing has, few enough for an address."""
LETTERS = "ABCD"
"""What picks are called by, and how many there are at most."""
CHOSEN = ": chosen point"
"""With what the title of such a file ends."""


@dataclass(frozen=True)
class Pick:
    """Figures by key in the units used inside; a chamber's size is its word.

    >>> Pick.of({"linkage.arm_length": 139.70000001}).values
    (('linkage.arm_length', 139.7),)
    """

    values: tuple[tuple[str, float | str], ...] = ()

    @classmethod
    def of(cls, values: Mapping[str, float | str]) -> "Pick":
        """Return a pick with its figures in the digits that it is kept with."""
        return cls(tuple((k, v if isinstance(v, str) else float(f"{v:.{DIGITS}g}")) for k, v in values.items()))

    @property
    def by_key(self) -> dict[str, float | str]:
        """The figures by key."""
        return dict(self.values)

    def moved(self, key: str, value: float | str) -> "Pick":
        """Return it with another figure."""
        return Pick.of(self.by_key | {key: value})

    def figures(self, parameters: Sequence[Parameter]) -> dict[str, float]:
        """Return the figures as a study counts them: a size as its place in the list."""
        found = self.by_key
        return {p.key: _counted(p, found[p.key]) for p in parameters}


def _counted(parameter: Parameter, value: float | str) -> float:
    if not parameter.words:
        return float(value)
    return float(parameter.words.index(str(value))) if value in parameter.words else 0.0


def picked(parameters: Sequence[Parameter], figures: Mapping[str, float]) -> Pick:
    """Return the point of a study with these figures."""
    return Pick.of({p.key: p.text(figures[p.key]) or figures[p.key] for p in parameters})


def study_of_pick(setup: Setup, pick: Pick, outcomes: Sequence[Outcome]) -> Study:
    """Return the study that has this one point. Raises `PartError` for a figure that this setup has not."""
    parameters = tuple(
        size_parameter((str(value),)) if key == SIZE else Parameter(key, Listed((float(value),)))
        for key, value in pick.values
    )
    asked = tuple(outcomes) or (Outcome("applied-stroke"),)
    return Study(setup, parameters, asked, Plan("grid", 1), setup.title.removesuffix(CHOSEN))


def pick_text(setup: Setup, pick: Pick, outcomes: Sequence[Outcome]) -> str:
    """Return the setup file of a pick. Raises `MechvizError` where such a brake cannot be."""
    study = study_of_pick(setup, pick, outcomes)
    return chosen_text(study, pick.figures(study.parameters))


def known(pick: Pick) -> Pick:
    """Return a pick without what is no key of a setup: an address may hold anything."""
    return Pick(tuple((k, v) for k, v in pick.values if k == SIZE or (k in varied_keys() and not isinstance(v, str))))
