"""Many brakes at once: parts whose figures are arrays, taken through the same solver piece by piece.

A part's figure may be an array in place of a float; all arrays of a brake, of its condition and of what is asked of it
broadcast together. Functions of one part that give a float for one brake give an array for many.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from functools import lru_cache, partial, wraps
from typing import Any, TypeVar, cast

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.arrays import Array, Mask, in_chunks

Part = TypeVar("Part")
Made = TypeVar("Made")


def is_many(part: object) -> bool:
    """Tell whether a part, or one in it, has a figure that is an array."""
    return is_dataclass(part) and any(
        isinstance(value, np.ndarray) or is_many(value) for value in vars(part).values() if not isinstance(value, float)
    )


def plain(value: ArrayLike) -> float:
    """Return a single figure as a float; of many brakes the array as it is, which stands wherever a float does."""
    return float(value) if np.ndim(value) == 0 else value  # pyright: ignore[reportReturnType, reportArgumentType]


def remembered(function: Callable[..., Made]) -> Callable[..., Made]:
    """Keep what a function of parts has returned: by the parts' figures, or, of many brakes, with the part itself.

    Parts of arrays have no hash; what was made of them goes when they go.
    """
    by_figures = lru_cache(maxsize=256)(function)

    @wraps(function)
    def kept(*parts: Any) -> Made:
        home = next((part for part in parts if is_many(part)), None)
        if home is None:
            return by_figures(*parts)
        known = cast(dict[Any, tuple[Made, Any]], vars(home).setdefault("_remembered", {}))
        rest = tuple(part for part in parts if part is not home)
        key = (function.__qualname__, *(id(part) for part in rest))
        if key not in known:
            known[key] = function(*parts), rest  # the rest is kept too, so that its id stays its own
        return known[key][0]

    return kept


def arrays_of(part: object, above: str = "") -> dict[str, Array]:
    """Return the figures of a part, and of those in it, that are arrays, by dotted name."""
    found: dict[str, Array] = {}
    for name, value in _figures(part):
        if isinstance(value, np.ndarray):
            found[above + name] = value
        elif is_dataclass(value):
            found |= arrays_of(value, f"{above}{name}.")
    return found


def with_arrays(part: Part, figures: Mapping[str, Array], above: str = "") -> Part:
    """Return a part with other arrays in place of its own; those have been checked already, and are not again."""
    values: dict[str, Any] = {}
    for name, value in _figures(part):
        values[name] = figures.get(above + name, value)
        if is_dataclass(value):
            values[name] = with_arrays(value, figures, f"{above}{name}.")
    new = object.__new__(type(part))
    vars(new).update(values)
    return new


def taken(part: Part, which: Mask) -> Part:
    """Return a part of many brakes with those alone at which ``which`` is true; a part of one brake as it is."""
    if not is_many(part):
        return part
    arrays = arrays_of(part)
    return with_arrays(part, {name: np.broadcast_to(array, which.shape)[which] for name, array in arrays.items()})


def filled(part: object, array: Array) -> Array:
    """Return an array in the shape that it has with all of a part's arrays, to be written to; for one part as it is."""
    shapes = [figure.shape for figure in arrays_of(part).values()] if is_many(part) else []
    return np.array(np.broadcast_to(array, np.broadcast_shapes(array.shape, *shapes))) if shapes else array


def _figures(part: object) -> Iterator[tuple[str, Any]]:
    return ((field.name, getattr(part, field.name)) for field in fields(part))  # pyright: ignore[reportArgumentType]


def in_pieces(
    part: object,
    function: Callable[..., Sequence[NDArray[Any]]],
    inputs: Sequence[ArrayLike],
    outputs: Sequence[type],
) -> list[NDArray[Any]]:
    """Call ``function(part, *pieces)`` as `geometry.arrays.in_chunks` does; a part of many brakes is cut alike."""
    if not is_many(part):
        return in_chunks(partial(function, part), inputs, outputs)
    arrays, count = arrays_of(part), len(inputs)

    def solve(*pieces: Array) -> Sequence[NDArray[Any]]:
        figures = dict(zip(arrays, pieces[count:], strict=True))
        with np.errstate(all="ignore"):  # of many brakes some cannot be put together
            return function(with_arrays(part, figures), *pieces[:count])

    return in_chunks(solve, [*inputs, *arrays.values()], outputs)
