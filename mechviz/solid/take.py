"""A take of a film: one caption, one stretch of motion, one way to look at it."""

from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array, floats
from geometry.condition import Condition
from mechviz.drawing.names import Name
from mechviz.solid.names import FEW
from mechviz.solid.shot import Shot
from mechviz.solid.views import View


@dataclass(frozen=True)
class Take:
    """One take, frame by frame.

    Parameters
    ----------
    title, words : str
        Its caption.
    shot : Shot
        What is shown; its view is where the take begins.
    condition : Condition
        The brake's condition in every frame: arrays of ``frames`` elements or single figures.
    strokes : array
        The pushrod's stroke in every frame, mm.
    pressure : float, optional
        The pressure (MPa) that holds those strokes, where they are applied states; None on the way there.
    end : View, optional
        Where the eye has gone by its end.
    apart : array, optional
        How far the brake is taken apart in every frame, 0 to 1.
    leaves : frozenset of str
        Which parts go when it is taken apart, if not all: by the end the eye looks at the others alone.
    widest : float
        How far apart the brake is in the picture that the eye has to take in, where it is not to move meanwhile.
    names : tuple of Name
        Which parts are named, while the eye stands still.

    """

    title: str
    words: str
    shot: Shot
    condition: Condition
    strokes: Array
    pressure: float | None = None
    end: View | None = None
    apart: Array | None = None
    leaves: frozenset[str] = frozenset()
    widest: float = 0.0
    names: tuple[Name, ...] = FEW

    @property
    def frames(self) -> int:
        """How many there are."""
        return len(self.strokes)

    @property
    def still(self) -> bool:
        """Whether the eye and every part that does not work stay where they are."""
        return self.end is None and (self.apart is None or bool((self.apart == self.apart[0]).all()))

    @property
    def wears(self) -> bool:
        """Whether the linings change their shape."""
        return self.condition.arrays[0].size > 1

    def rests(self, frame: int) -> bool:
        """Say whether nothing has changed since the frame before."""
        same = self.end is None and not self.leaves and self.strokes[frame] == self.strokes[frame - 1]
        return same and self.apart_at(frame) == self.apart_at(frame - 1) and not self._changes(frame)

    def _changes(self, frame: int) -> bool:
        columns = (np.broadcast_to(column, (self.frames,)) for column in self.condition.arrays)
        return any(column[frame] != column[frame - 1] for column in columns)

    def way(self, frame: int) -> float:
        """Return how much of its way the eye has gone in a frame: it sets out and comes to rest gently."""
        return float(eased(np.array(frame / max(self.frames - 1, 1))))

    def view(self, frame: int) -> View:
        """Return where the eye is in a frame."""
        return self.shot.view if self.end is None else self.shot.view.towards(self.end, self.way(frame))

    def apart_at(self, frame: int) -> float:
        """Return how far apart the brake is in a frame."""
        return self.shot.apart if self.apart is None else float(self.apart[frame])

    def condition_at(self, frame: int) -> Condition:
        """Return the condition of one frame."""
        one = (np.broadcast_to(column, (self.frames,))[frame] for column in self.condition.arrays)
        return Condition(*(float(value) for value in one))


def eased(share: Array) -> Array:
    """Return a share of the way that starts and stops gently.

    >>> eased(np.array([0.0, 0.5, 1.0])).tolist()
    [0.0, 0.5, 1.0]
    """
    u = np.clip(share, 0.0, 1.0)
    return floats(u * u * (3 - 2 * u))


def ramp(start: float, end: float, frames: int) -> Array:
    """Return ``frames`` figures from a start to an end, gently."""
    return floats(start + (end - start) * eased(np.linspace(0.0, 1.0, frames)))


def held(value: float, frames: int) -> Array:
    """Return one figure for every frame."""
    return np.full(frames, value)
