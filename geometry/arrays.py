"""Arrays of floats: the type that functions here take and return, and solving in chunks that stay in cache."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
CHUNK = 32_768
Columns = TypeVar("Columns")


def floats(value: ArrayLike | None) -> Array:
    """Return ``value`` as float64 without changing it; None becomes NaN."""
    return np.asarray(value, dtype=np.float64)


def finite(value: ArrayLike) -> Array:
    """Return ``value`` as float64 with NaN for what is infinite, so that arithmetic on it is silent."""
    array = floats(value)
    return array if np.all(np.isfinite(array)) else np.where(np.isfinite(array), array, np.nan)


def one_of(columns: Columns, index: int) -> Columns:
    """Return a dataclass of arrays, or of such dataclasses, with the one element of each that stands at ``index``."""
    names = [field.name for field in fields(columns)]  # pyright: ignore[reportArgumentType]
    values = {name: getattr(columns, name) for name in names}
    return type(columns)(**{name: one_of(v, index) if is_dataclass(v) else v[index] for name, v in values.items()})


def shared_rows(rows: Array) -> tuple[Array, NDArray[np.intp]]:
    """Return the different rows of (n, m), and for each row the place of its like among them: (n,)."""
    unique, which = np.unique(rows, axis=0, return_inverse=True)
    return floats(unique), which.reshape(-1)


def in_chunks(
    function: Callable[..., Sequence[NDArray[Any]]],
    inputs: Sequence[ArrayLike],
    outputs: Sequence[type],
    workers: int = 1,
) -> list[NDArray[Any]]:
    """Call ``function`` on pieces of the broadcast inputs and put its results together in the common shape.

    Inputs of one element are handed on as they are, so that what depends on them alone is computed once.
    ``outputs`` are the dtypes of what ``function`` returns; ``workers`` threads share the pieces.
    """
    arrays = [finite(a) for a in inputs]
    shape = np.broadcast_shapes(*(a.shape for a in arrays))
    flat = [a.reshape(-1) if a.size == 1 else np.broadcast_to(a, shape).reshape(-1) for a in arrays]
    size = int(np.prod(shape))
    results: list[NDArray[Any]] = [np.empty(size, dtype=t) for t in outputs]

    def solve(start: int) -> None:
        piece = slice(start, min(start + CHUNK, size))
        parts = function(*(a if a.size == 1 else a[piece] for a in flat))
        for result, part in zip(results, parts, strict=True):
            result[piece] = part

    if workers == 1 or size <= CHUNK:
        for start in range(0, size, CHUNK):
            solve(start)
    else:
        with ThreadPoolExecutor(workers) as pool:
            list(pool.map(solve, range(0, size, CHUNK)))
    return [r.reshape(shape) for r in results]
