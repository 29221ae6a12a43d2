"""A sweep over brakes: the first ones in the fast suite, the same check on the others with --wide."""

from collections.abc import Callable, Iterable
from typing import Any

import pytest


def sweep(values: Iterable[Any], always: int = 1, several: bool = False) -> list[Any]:
    """Return parameters, those after the first ``always`` ones marked wide.

    With ``several`` each is a tuple with a value for each of several names.
    """
    return [value if n < always else wide(value, several) for n, value in enumerate(values)]


def only(values: Iterable[Any], fast: Callable[[Any], bool], several: bool = False) -> list[Any]:
    """Return parameters, those that are not ``fast`` marked wide: for a sweep in which more than the first tell."""
    return [value if fast(value) else wide(value, several) for value in values]


def wide(value: Any, several: bool = False) -> Any:
    """Return a parameter that is tried with --wide only."""
    return pytest.param(*(value if several else (value,)), marks=pytest.mark.wide)
