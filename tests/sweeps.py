"""A sweep over brakes: the first ones in the fast suite, the same check on the others with --wide."""

from collections.abc import Iterable
from typing import Any

import pytest


def sweep(values: Iterable[Any], always: int = 1) -> list[Any]:
    """Return parameters, those after the first ``always`` ones marked wide."""
    return [value if n < always else pytest.param(value, marks=pytest.mark.wide) for n, value in enumerate(values)]
