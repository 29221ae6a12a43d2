"""The keys of a lesson file: of its own header, and of each step's. What is not listed here is a fault."""

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

Page = Literal["plain", "life", "faults", "air"]
View = Literal["drawing", "solid", "outside"]
Plot = Literal["none", "stroke", "angle", "force", "pressure"]
What = Literal["brake", "pressure", "lining", "temperature", "free_stroke", "wear", "time", "apart"]

SETTINGS = ("pressure", "lining", "temperature", "free_stroke")


class Keys(BaseModel):
    """A section of a header: unknown keys are faults, and so is a number where text belongs."""

    model_config = ConfigDict(extra="forbid", strict=True, populate_by_name=False, frozen=True)


class Settings(Keys):
    """What the page's sliders set. ``None`` is the brake as found."""

    pressure: str | None = None
    lining: str | None = None
    temperature: str | None = None
    free_stroke: str | None = None


class LessonKeys(Settings):
    """The lesson's own header; its settings are where a step begins that says nothing else."""

    lesson: Literal[1]
    title: str = Field(min_length=1, max_length=90)
    about: str = Field(default="", max_length=300)
    minutes: int = Field(default=20, ge=1, le=600)
    brake: str = "drive-16.5x7"
    holds_for: list[str] = Field(default_factory=list[str])


class MoveKeys(Keys):
    """What moves in a step, from where to where; ``adjuster`` says whether it follows a lining that wears."""

    what: What
    begin: str | None = Field(default=None, alias="from")
    end: str = Field(alias="to")
    adjuster: Literal["stays", "follows"] = "stays"


class SolidKeys(Keys):
    """How the solid brake is looked at."""

    begin: Literal["three-quarter", "wheel-side", "along-shaft", "into-drum", "from-above"] = Field(
        default="three-quarter", alias="from"
    )
    drum: Literal["see-through", "solid", "removed"] = "see-through"
    cut: Literal["none", "open", "across the drum", "along the shaft", "through the chamber"] = "none"
    wheel: bool = False
    apart: float = Field(default=0.0, ge=0.0, le=1.0, strict=False)


class LifeKeys(Keys):
    """Where in its working life the brake stands."""

    adjuster: Literal["working", "stopped"] = "working"
    wear: str = "0 mm"
    drum: Literal["cold", "hot"] = "cold"


class AirKeys(Keys):
    """Which scenario of the air, and when in it."""

    scenario: str
    time: str = "0 s"


class StepKeys(Settings):
    """A step's header."""

    title: str = Field(min_length=1, max_length=90)
    page: Page = "plain"
    view: View = "drawing"
    plot: Plot = "none"
    brake: str | None = None
    set: dict[str, Any] = Field(default_factory=dict[str, Any])
    at: str | None = None
    by: Literal["air", "hand"] = "air"
    move: MoveKeys | None = None
    light: list[str] = Field(default_factory=list[str])
    name: list[str] | None = None
    labels: Literal["shown", "hidden"] = "shown"
    solid: SolidKeys | None = None
    life: LifeKeys | None = None
    air: AirKeys | None = None
    fault: str | None = None
    caution: Literal["first", "with the answer"] = "first"
    impossible: bool = False
    sources: list[str] = Field(default_factory=list[str])


NESTED = {"move": MoveKeys, "solid": SolidKeys, "life": LifeKeys, "air": AirKeys}
"""Sections of a step's header, by their key."""
