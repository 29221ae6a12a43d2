"""How good a diagnosis is: how often the truth is first, and whether stated probabilities come true."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from geometry.arrays import Array, floats
from geometry.diagnosis import Predictions, believed
from tests.diagnosis.draws import Drawn

BINS = (0.0, 0.02, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 0.95, 1.0)


@dataclass(frozen=True)
class Scored:
    """Probability of every cause for every brake (B, H), and the place of its true cause (B,)."""

    probability: Array
    truth: Array

    @property
    def rank(self) -> Array:
        """0 where the true cause is first; of equal causes each counts as being among them by an even draw."""
        own = self.probability[np.arange(len(self.truth)), self.truth][:, None]
        above = (self.probability > own * (1 + 1e-9)).sum(axis=1)
        ties = (np.abs(self.probability - own) <= 1e-9 * own).sum(axis=1)
        return floats([above, ties])

    def among_first(self, count: int, of: Array) -> float:
        """Share of some brakes whose true cause is among the first few; ties share their places evenly."""
        above, ties = self.rank[:, of]
        return float(np.mean(np.clip((count - above) / ties, 0.0, 1.0)))

    def grouped(self, groups: Sequence[Sequence[int]]) -> "Scored":
        """The same with causes that cannot be told apart as one."""
        place = np.empty(self.probability.shape[1], dtype=np.intp)
        for n, group in enumerate(groups):
            place[list(group)] = n
        summed = np.stack([self.probability[:, list(group)].sum(axis=1) for group in groups], axis=1)
        return Scored(floats(summed), place[self.truth])

    @property
    def brier(self) -> float:
        """Mean over brakes of the squared misses, summed over causes: 0 certain and right, 2 certain and wrong."""
        hit = np.eye(self.probability.shape[1])[self.truth]
        return float(np.mean(((self.probability - hit) ** 2).sum(axis=1)))

    def calibration(self, bins: Sequence[float] = BINS) -> list[tuple[float, float, int, float, float]]:
        """Per bin of stated probability: its ends, how many statements, their mean, and how often they came true."""
        hit = np.eye(self.probability.shape[1])[self.truth].ravel()
        stated = self.probability.ravel()
        found = list[tuple[float, float, int, float, float]]()
        for low, high in pairwise(bins):
            of = (stated >= low) & ((stated < high) | (high == 1.0))
            if of.any():
                found.append((low, high, int(of.sum()), float(stated[of].mean()), float(hit[of].mean())))
        return found


def scored(predictions: Predictions, drawn: Sequence[Drawn]) -> Scored:
    """Diagnose every brake."""
    probability = floats([believed(predictions, one.readings).probability for one in drawn])
    return Scored(probability, np.array([predictions.names.index(one.cause) for one in drawn]))
