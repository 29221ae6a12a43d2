"""Words that a study's text and its pictures share: counts, shares, spreads and limits."""

import numpy as np

from geometry.arrays import Array
from geometry.quantity import KindName, System
from mechviz.report.written import fixed, quantity
from mechviz.study.limits import Limit
from mechviz.study.outcome import Outcome
from mechviz.study.parameter import Parameter
from mechviz.study.tolerance import Share


def count(number_of: int) -> str:
    """Return a count with its thousands apart.

    >>> count(1000000)
    '1 000 000'
    """
    return f"{number_of:,}".replace(",", " ")


def percent(share: float) -> str:
    """Return a share in percent: three digits, and not 0 or 100 where it is not quite.

    >>> percent(0.12345), percent(1.0), percent(0.99999), percent(0.00002)
    ('12.3 %', '100 %', 'over 99.9 %', 'under 0.1 %')
    """
    if 0 < share < 0.001:
        return "under 0.1 %"
    if 0.999 < share < 1:
        return "over 99.9 %"
    return f"{fixed(100 * share, 1).removesuffix('.0')} %"


def spread_words(parameter: Parameter, system: System) -> str:
    """Return how a parameter is spread: ``5.00 in to 6.50 in``."""
    spread, kind = parameter.spread, parameter.kind
    if spread.words == "list":
        values = spread.grid(0).tolist()
        return ", ".join(parameter.text(value) or quantity(value, kind, system) for value in values)
    low, high = (quantity(end, kind, system) for end in spread.ends)
    return f"{low} to {high}" + ("" if spread.words == "uniform" else f", {spread.words}")


def limit_words(outcome: Outcome, limit: Limit, system: System) -> str:
    """Return a limit as it is said: what, its figure, and whose it is."""
    kind = outcome.quantity.kind
    low = "at least" if limit.least_included else "more than"
    high = "at most" if limit.most_included else "less than"
    ends = [(word, end) for word, end in ((low, limit.least), (high, limit.most)) if np.isfinite(end).all()]
    said = [f"{word} {_end(end, kind, system)}" for word, end in ends]
    return f"{outcome.words}: {' and '.join(said)} ({limit.source})"


def _end(value: Array | float, kind: KindName, system: System) -> str:
    if np.size(value) == 1 or np.ptp(value) == 0:
        return quantity(float(np.ravel(value)[0]), kind, system)
    return "its chamber's limit"


def share_words(share: Share) -> str:
    """Return a share of brakes with its interval: ``13.1 % outside (12.6 % to 13.6 %)``."""
    low, high = (percent(end) for end in share.interval)
    return f"{percent(share.share)} outside ({low} to {high})"
