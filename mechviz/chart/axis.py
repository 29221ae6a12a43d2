"""What runs across all plots of a chart: lining, or time."""

from dataclasses import dataclass

from mechviz.chart.frame import BOTTOM, LEFT, RIGHT, decimals, round_step
from mechviz.drawing.lettering import Rank, Text

MINUTES_FROM = 180.0
"""s: an axis longer than this is in minutes."""


@dataclass(frozen=True)
class Axis:
    """Figures from 0 to ``end``: ``rounds`` are ticks with their words, ``word`` its name in a ``rank``'s colour."""

    end: float
    rounds: tuple[tuple[float, str], ...]
    word: str
    rank: Rank = "ink"

    def x(self, value: float) -> float:
        """Return where a figure stands."""
        return LEFT + (RIGHT - LEFT) * value / self.end

    def ticks(self) -> list[tuple[float, str]]:
        """Return places and words of the ticks."""
        return [(self.x(value), word) for value, word in self.rounds]

    def foot(self) -> str:
        """Return the axis' words below the last plot."""
        texts = [Text(word, x, BOTTOM + 34, "label", "middle") for x, word in self.ticks()]
        texts.append(Text(self.word, RIGHT + 30, BOTTOM + 34, "label", "start", self.rank))
        return "".join(text.svg() for text in texts)


def time_axis(end: float) -> Axis:
    """Return an axis of time up to ``end`` (s): in seconds, or in minutes where it is long."""
    unit, word = (60.0, "time, min") if end > MINUTES_FROM else (1.0, "time, s")
    step = round_step(end / unit / 8)
    count = int(end / unit / step + 1e-9)
    rounds = tuple((n * step * unit, f"{n * step:.{decimals(step)}f}") for n in range(count + 1))
    return Axis(end, rounds, word)
