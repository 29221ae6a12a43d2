"""An outcome of a study: one quantity in one condition, with its limit."""

from dataclasses import dataclass

from geometry.arrays import Array
from geometry.errors import PartError
from geometry.setup.words import file_fault
from mechviz.study.piece import Condition, Heat, Wear
from mechviz.study.quantities import QUANTITIES, Quantity

WEAR_WORDS: dict[Wear, str] = {
    "found": "",
    "new": "new",
    "half-worn": "half worn",
    "worn-out": "worn out",
    "worn-drum": "worn out on the largest drum",
}
HEAT_WORDS: dict[Heat, str] = {"found": "", "cold": "cold", "hot": "hot"}


@dataclass(frozen=True)
class Outcome:
    """A quantity by name, with the brake as found, new, half worn or worn out, its drum as found, cold or hot.

    New is a new lining on a new drum, worn out the least lining that is legal on it, half worn half-way, and
    ``worn-drum`` the least lining on the largest drum; there the adjuster is set cold to the slack of the setup. Cold
    is 70, hot 600 degF with the same setting. ``least`` and ``most`` are limits of the study's own beside the published
    one, in the unit used inside.
    """

    name: str
    wear: Wear = "found"
    heat: Heat = "found"
    least: float | None = None
    most: float | None = None

    def __post_init__(self) -> None:
        if self.name not in QUANTITIES:
            raise PartError(
                file_fault("outcomes.name", "is no outcome", f"use one of {', '.join(QUANTITIES)}", self.name)
            )

    @property
    def quantity(self) -> Quantity:
        """What it is."""
        return QUANTITIES[self.name]

    @property
    def condition(self) -> Condition:
        """Wear and heat; cold where the wear is no longer that found and nothing else is said."""
        return self.wear, "cold" if self.heat == "found" and self.wear != "found" else self.heat

    @property
    def key(self) -> str:
        """How it is called in tables: ``applied-stroke``, ``applied-stroke.worn-out.hot``."""
        wear, heat = self.condition
        return ".".join([self.name, *([] if wear == heat == "found" else [wear, heat])])

    @property
    def words(self) -> str:
        """How it is called by people: ``applied stroke, worn out, hot``."""
        wear, heat = self.condition
        said = [self.quantity.words, WEAR_WORDS[wear], HEAT_WORDS[heat]]
        return ", ".join(word for word in said if word)

    def objective(self, values: Array) -> Array:
        """Return its values so that less is better."""
        return self.quantity.objective(values)
