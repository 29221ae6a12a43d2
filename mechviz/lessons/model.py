"""A lesson as it is written: read and checked as far as that needs no brake."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from mechviz.lessons.blocks import Text
from mechviz.lessons.faults import Spot
from mechviz.lessons.keys import LessonKeys, StepKeys
from mechviz.lessons.markdown import Body, Section, text_of


@dataclass(frozen=True)
class Step:
    """One step: what its header asks for, and its text by section.

    ``lines`` says on which line of the file each key of the header stands.
    """

    number: int
    line: int
    keys: StepKeys
    body: Body
    lines: Mapping[str, int] = field(default_factory=dict[str, int])

    def spot(self, key: str = "") -> Spot:
        """Return where a key stands; the header's first line where the file does not write it."""
        return Spot(self.number, self.lines.get(key, self.lines.get(key.split(".", maxsplit=1)[0], self.line)))

    def text(self, section: Section) -> Text:
        """Return a section's text, empty where there is none."""
        return text_of(self.body.get(section, []))

    @property
    def asks(self) -> bool:
        """Whether the step has a question."""
        return bool(self.body.get("question"))


@dataclass(frozen=True)
class Lesson:
    """A whole lesson.

    ``name`` is that of the file or of the shipped lesson, ``source`` its text; ``lines`` says on which line each key of
    the lesson's own header stands.
    """

    name: str
    keys: LessonKeys
    steps: tuple[Step, ...]
    source: str
    lines: Mapping[str, int] = field(default_factory=dict[str, int])

    def spot(self, key: str) -> Spot:
        """Return where a key of the lesson's own header stands."""
        return Spot(0, self.lines.get(key, 1))

    @property
    def title(self) -> str:
        """What it is called."""
        return self.keys.title

    @property
    def brakes(self) -> tuple[str, ...]:
        """Built-in setups that it claims to hold for, its own first."""
        return tuple(dict.fromkeys((self.keys.brake, *self.keys.holds_for)))
