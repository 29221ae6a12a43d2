"""The limits that outcomes are held against: the same figures, from the same tables, as those of the checks."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import inf, radians

import numpy as np

from geometry.arrays import Array, Mask, floats
from geometry.setup import Setup
from geometry.tables import band, drum_limits, exact_inches, fallback_limit, lining_limits, stroke_limit
from geometry.tables.reader import millimetres
from geometry.tables.strokes import limits_for, plain_size
from mechviz.checks.cam import PROFILE
from mechviz.checks.case import Case, marked
from mechviz.checks.reserve import HOT_SOURCE
from mechviz.study.parameter import RATED, Parameter


@dataclass(frozen=True)
class Limit:
    """From ``least`` to ``most``, in the unit used inside; each may be an array, one for each point of a study.

    Whether the ends themselves are allowed, and the published ``source``.
    """

    source: str
    least: Array | float = -inf
    most: Array | float = inf
    least_included: bool = True
    most_included: bool = True

    def holds(self, values: Array) -> Mask:
        """Tell which values are allowed; what is NaN is not."""
        with np.errstate(invalid="ignore"):
            low = values >= self.least if self.least_included else values > self.least
            high = values <= self.most if self.most_included else values < self.most
        return low & high

    def margin(self, values: Array) -> Array:
        """Return how far inside the limit each value is; negative is how far outside."""
        return np.minimum(values - self.least, self.most - values)

    def at(self, index: int) -> "Limit":
        """Return the limit of one point."""
        least, most = (float(np.ravel(end)[min(index, np.size(end) - 1)]) for end in (self.least, self.most))
        return Limit(self.source, least, most, self.least_included, self.most_included)


OWN = "the study's own"


def with_own(limit: Limit | None, least: float | None, most: float | None) -> Limit | None:
    """Return a limit, or none, with ends of the study's own where these are narrower."""
    if least is None and most is None:
        return limit
    own = Limit(OWN, -inf if least is None else least, inf if most is None else most)
    if limit is None:
        return own
    low, high = np.maximum(limit.least, own.least), np.minimum(limit.most, own.most)
    ends = [
        limit.least_included or bool(np.all(low > limit.least)),
        limit.most_included or bool(np.all(high < limit.most)),
    ]
    return Limit(f"{limit.source}; {OWN}", low, high, *ends)


def stroke_limit_of(setup: Setup, figures: Mapping[str, Array], sized: Parameter | None, size: Array | None) -> Limit:
    """Return the readjustment limit (mm) of each point's chamber, as the setup's rule sets have it.

    ``figures`` may vary the rated stroke, ``sized`` the chamber's size with the place in its list at each point.
    """
    case = Case(setup, setup.test.rules)
    if sized is None and RATED not in figures:
        return Limit(marked(case.limit.source, case.limit.status), most=case.limit.limit_mm)
    rated = floats(figures[RATED])
    style, of_size = setup.brake.chamber.style, (sized.words if sized else (setup.brake.chamber.size,))
    by_size = [_limits_mm(setup, style, one, rated) for one in of_size]
    place = np.zeros(rated.shape, dtype=np.intp) if size is None else size.astype(np.intp)
    most = np.choose(place, by_size) if len(by_size) > 1 else by_size[0]
    source = "49 CFR 393.47(e)"
    if "australia" in setup.test.rules:
        share = band("share-of-full-stroke-australia")
        assert share.high is not None  # the table's test holds the row
        theirs = rated * float(share.high) / 100
        most = theirs if "us" not in setup.test.rules else np.minimum(most, theirs)
        source = share.source if "us" not in setup.test.rules else f"{source}; {share.source}"
    return Limit(source, most=most)


def _limits_mm(setup: Setup, style: str, size: str, rated: Array) -> Array:
    """`stroke_limit`, else `fallback_limit`, at many rated strokes (mm): only two sizes depend on these."""
    listed = stroke_limit(style, size)
    if listed is None:
        if setup.marked_limit is not None:
            of_one = fallback_limit(1, style, size, exact_inches(setup.marked_limit / 25.4))
            return np.full_like(rated, of_one.limit_mm)
        rule = band("share-of-rated-stroke")
        assert rule.high is not None  # the table's test holds the row
        return rated * float(rule.high) / 100
    limits = np.full_like(rated, listed.limit_mm)
    for row in limits_for(style):
        if row.size == plain_size(size) and row.rated_stroke_in is not None:
            near = np.abs(rated - millimetres(row.rated_stroke_in)) <= millimetres(Fraction(1, 16))
            limits = np.where(near, row.limit_mm, limits)
    return limits


def least_lining(setup: Setup) -> Limit:
    """Return the strictest US rule on the lining's thickness (mm) of this axle, as in the working life."""
    rules = lining_limits(setup.brake.axle, setup.lining_pads, setup.lining_attachment)
    strictest = max((rule for rule in rules if rule.rule_set == "us"), key=lambda rule: rule.limit_mm)
    return Limit(marked(strictest.source, strictest.status), least=strictest.limit_mm)


def drum_growth() -> tuple[float, str]:
    """Return by how much a drum may wear (mm) where its own limit is not known, and the source."""
    usual = next(limit for limit in drum_limits(16.5) if limit.rule_set == "common")
    return millimetres(usual.limit_in - usual.new_diameter_in), marked(usual.source, usual.status)


def no_less_than_nothing(source: str) -> Limit:
    """Return the limit of what must be left over."""
    return Limit(source, least=0.0)


def of_band(name: str) -> Limit:
    """Return a published band as a limit; lengths in mm, angles in rad."""
    rule = band(name)
    low, high = (None if end is None else _inside(end, rule.unit) for end in (rule.low, rule.high))
    least, most = -inf if low is None else low, inf if high is None else high
    return Limit(marked(rule.source, rule.status), least, most, rule.low_included, rule.high_included)


def first_band(setup: Setup, names: Mapping[str, tuple[str, ...]]) -> Limit | None:
    """Return the first band one of whose rule sets the setup asks for, None where it asks for none of them."""
    return next((of_band(name) for name, rules in names.items() if set(rules) & set(setup.test.rules)), None)


def _inside(value: Fraction, unit: str) -> float:
    return millimetres(value) if unit == "in" else radians(float(value))


PROFILE_SOURCE, PUSH_SOURCE = PROFILE, HOT_SOURCE
