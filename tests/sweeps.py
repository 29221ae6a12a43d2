"""A sweep over brakes: the first ones in the fast suite, the same check on the others with --wide."""

from collections.abc import Callable, Iterable
from typing import Any

import pytest


def sweep(values: Iterable[Any], always: int = 1) -> list[Any]:
    """Return parameters, those after the first ``always`` ones marked wide; a tuple is one value for each name."""
    return [value if n < always else wide(value) for n, value in enumerate(values)]


def only(values: Iterable[Any], fast: Callable[[Any], bool]) -> list[Any]:
    """Return parameters, those that are not ``fast`` marked wide: for a sweep in which more than the first tell."""
    return [value if fast(value) else wide(value) for value in values]


def wide(value: Any) -> Any:
    """Return a parameter that is tried with --wide only."""
    return pytest.param(*(value if isinstance(value, tuple) else (value,)), marks=pytest.mark.wide)
