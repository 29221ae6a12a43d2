"""The clevis on the pushrod's end: how much thread holds it, and how far the rod comes through into its fork."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.guards import Guard

INCH = 25.4


@dataclass(frozen=True)
class Clevis:
    """A clevis and the thread that it is screwed on. Lengths in mm; the defaults are the project's own figures.

    Parameters
    ----------
    pin_to_inside : float
        Clevis-pin centre to the inside of the fork, where the threaded hole opens.
    pin_to_end : float
        Clevis-pin centre to the clevis' threaded end, where the jam nut sits.
    rod_thread : float
        Length of the thread on the rod, from the rod's end as it is now, before anything is cut off.
    rod_reach : float, optional
        Mounting face to the rod's end, released and square, as the rod is now; None where it is not known.

    """

    pin_to_inside: float = 1.25 * INCH
    pin_to_end: float = 2.25 * INCH
    rod_thread: float = 2.5 * INCH
    rod_reach: float | None = None

    def __post_init__(self) -> None:
        guard = Guard("clevis").positive("length", pin_to_inside=self.pin_to_inside, rod_thread=self.rod_thread)
        guard.positive("length", pin_to_end=self.pin_to_end)
        guard.less("length", ("pin_to_inside", self.pin_to_inside), ("pin_to_end", self.pin_to_end))
        if self.rod_reach is not None:
            guard.positive("length", rod_reach=self.rod_reach)
        guard.done()

    @property
    def thread(self) -> float:
        """Length of the thread in the clevis, mm."""
        return self.pin_to_end - self.pin_to_inside


def protrusion(clevis: Clevis, pin_reach: ArrayLike, rod_reach: ArrayLike) -> Array:
    """Return how far (mm) the rod's end stands past the clevis' inside, negative where it ends within the thread.

    ``pin_reach`` and ``rod_reach`` are from the chamber's mounting face to the pin's centre and to the rod's end, mm.
    """
    return floats(rod_reach) + clevis.pin_to_inside - floats(pin_reach)


def thread_held(clevis: Clevis, pin_reach: ArrayLike, rod_reach: ArrayLike) -> Array:
    """Return the length (mm) over which rod and clevis share a thread; 0 where they do not meet.

    A rod that was cut to a shorter ``rod_reach`` (mm) than the one it came with lost as much of its thread.
    """
    past = protrusion(clevis, pin_reach, rod_reach)
    deepest = np.minimum(clevis.thread, thread_left(clevis, rod_reach) - past)
    return np.maximum(deepest - np.maximum(-past, 0.0), 0.0)


def thread_left(clevis: Clevis, rod_reach: ArrayLike) -> Array:
    """Return how much thread (mm) is left on the rod when its end stands at ``rod_reach`` (mm)."""
    end = floats(rod_reach)
    cut_off = np.zeros_like(end) if clevis.rod_reach is None else np.maximum(clevis.rod_reach - end, 0.0)
    return np.maximum(clevis.rod_thread - cut_off, 0.0)


def flush_reach(clevis: Clevis, pin_reach: ArrayLike) -> Array:
    """Return where (mm from the face) the rod ends when it is flush with the clevis' inside: the cut."""
    return floats(pin_reach) - clevis.pin_to_inside
