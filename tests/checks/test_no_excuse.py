"""That one step worse there is no such state is the bad direction: it excuses no figure that is already over."""

import pytest

from tests.checks.test_checks import checked, result

OWN = '[foundation]\nwindup_stiffness = "180 N*m/deg"\n'
THIN = OWN + '[condition]\nlining_thickness = "{} in"\ndrum_diameter = "16.62 in"\nlining_clearance = "{} in"\n'
RESERVES = ("stroke-reserve-cold", "stroke-reserve-hot")


@pytest.mark.parametrize("clearance", [0.07, 0.08])
def test_a_thinner_lining_is_not_let_off_because_a_thinner_one_still_could_not_be_applied(clearance: float) -> None:
    for check in RESERVES:
        (healthier,), (worse,) = (checked(THIN.format(lining, clearance))[check] for lining in ("0.30", "0.26"))
        assert (healthier.result, worse.result) == ("fail", "fail"), worse
        assert worse.margin is not None
        assert worse.resolution <= -worse.margin


@pytest.mark.parametrize(
    "body",
    [
        '[condition]\nlining_thickness = "0.26 in"\ndrum_diameter = "16.62 in"\nfree_stroke = "1 1/4 in"\n'
        '[measured]\nstroke = "2 1/2 in"\n',
        '[condition]\nlining_thickness = "0.40 in"\ndrum_diameter = "16.60 in"\nfree_stroke = "2 1/2 in"\n',
    ],
)
def test_a_chamber_that_stands_at_its_end_has_no_reserve(body: str) -> None:
    rows = checked(body)
    assert [result(rows, check) for check in RESERVES] == ["fail", "fail"]


def test_nothing_has_bottomed_that_is_only_close() -> None:
    for slack in ("1.0", "1.1", "1.2", "1.3", "1.4", "1.5"):
        (hot,) = checked(f'[condition]\nfree_stroke = "{slack} in"')["stroke-reserve-hot"]
        assert (hot.result == "fail") >= ("has bottomed before that" in hot.advice)


def test_an_arm_past_square_is_not_let_off_because_the_chamber_would_bottom() -> None:
    body = '[linkage]\npin_reach = "7.4 in"\n' + OWN + '[condition]\nfree_stroke = "{} in"\n'
    results = [result(checked(body.format(slack)), "arm-angle-applied") for slack in ("1.5", "2.2", "2.45")]
    assert results == ["fail", "fail", "fail"]
