"""Thread that rod and clevis share, and how far the rod comes through: worked by hand, and at each limit."""

from dataclasses import replace
from fractions import Fraction
from math import inf, nextafter

import pytest

from geometry.clevis import Clevis, flush_reach, protrusion, thread_held, thread_left
from geometry.errors import PartError
from geometry.setup import Setup, read_setup_text
from mechviz.pushrod.limits import rod_ends
from mechviz.pushrod.study import Asked, Fitting, fitting
from mechviz.pushrod.verdicts import fit_rows

# pin 30 mm from the clevis' inside, 25 mm of thread in the clevis; 40 mm on the rod, which ends 170 mm from the face
CLEVIS = Clevis(pin_to_inside=30.0, pin_to_end=55.0, rod_thread=40.0, rod_reach=170.0)


@pytest.mark.parametrize(
    ("pin_reach", "past", "held"),
    [
        (200.0, 0.0, 25.0),  # flush: the whole thread of the clevis
        (203.0, -3.0, 22.0),  # 3 mm short of the inside
        (197.0, 3.0, 25.0),  # 3 mm into the fork: 37 mm of thread are left from the inside on
        (184.0, 16.0, 24.0),  # the rod's thread ends 1 mm before the clevis' end
        (225.0, -25.0, 0.0),  # the rod's end just meets the clevis
        (240.0, -40.0, 0.0),
    ],
)
def test_thread_and_end_by_hand(pin_reach: float, past: float, held: float) -> None:
    assert float(protrusion(CLEVIS, pin_reach, 170.0)) == past
    assert float(thread_held(CLEVIS, pin_reach, 170.0)) == held
    assert float(flush_reach(CLEVIS, pin_reach)) == pin_reach - 30.0


def test_what_is_cut_off_the_rod_is_cut_off_its_thread() -> None:
    assert thread_left(CLEVIS, [170.0, 160.0, 120.0, 180.0]).tolist() == [40.0, 30.0, 0.0, 40.0]
    assert float(thread_held(CLEVIS, 180.0, 150.0)) == 20.0
    unknown = Clevis(30.0, 55.0, 40.0)
    assert thread_left(unknown, [170.0, 10.0]).tolist() == [40.0, 40.0]


@pytest.mark.parametrize(
    "figures",
    [
        {"pin_to_inside": 55.0, "pin_to_end": 55.0},
        {"pin_to_inside": 0.0},
        {"rod_thread": -1.0},
        {"rod_reach": 0.0},
        {"pin_to_end": float("nan")},
    ],
)
def test_a_clevis_that_cannot_be_is_refused(figures: dict[str, float]) -> None:
    with pytest.raises(PartError):
        Clevis(**figures)


# the two published limits, on a fit


def setup_of(rod_reach: float) -> Setup:
    """A vehicle of its own, with an inch of thread in its clevis, and a rod of any length at all."""
    setup = read_setup_text(
        """schema = 1
base = "drive-16.5x7"
[linkage]
arm_length = "5.5 in"
axis_offset = "5.35 in"
face_distance = "7.5 in"
[chamber]
style = "clamp"
size = "30"
[clevis]
pin_to_inside = "1.25 in"
pin_to_end = "2.25 in"
rod_thread = "3 in"
""",
        "own.toml",
    )
    return replace(setup, clevis=replace(setup.clevis, rod_reach=rod_reach))


def fit_of(rod_reach: float) -> Fitting:
    return fitting(setup_of(rod_reach), Asked(clearance=0.020 * 25.4), "inch")


def result(fit: Fitting, check: str) -> str:
    return next(row.result for row in fit_rows(fit) if row.check == check)


SHORTEST, LONGEST = rod_ends(setup_of(100.0), float(Fraction("6.0625") * Fraction("25.4")))


def test_the_window_is_half_an_inch_of_thread_to_an_eighth_through() -> None:
    """US Army technical manuals: at least 1/2 in of thread, rod not more than 1/8 in through the clevis."""
    flush = (6.0625 - 1.25) * 25.4
    assert pytest.approx(0.5 * 25.4) == flush - SHORTEST  # an inch of thread in the clevis
    assert pytest.approx(25.4 / 8) == LONGEST - flush


def test_a_rod_an_eighth_through_stays_and_a_float_more_is_cut_flush() -> None:
    at, beyond = fit_of(LONGEST), fit_of(nextafter(LONGEST, inf))
    assert at.rod_end == LONGEST
    assert result(at, "rod-through-clevis") == "pass"
    assert beyond.rod_end == pytest.approx((6.0625 - 1.25) * 25.4, abs=1e-9)


@pytest.mark.parametrize(("less", "verdict"), [(0.0, "pass"), (2e-9, "fail"), (5.0, "fail")])
def test_half_an_inch_of_thread_holds_and_less_does_not(less: float, verdict: str) -> None:
    """The rounding of a sum of lengths, 1e-9 mm, is no fault of the thread."""
    fit = fit_of(SHORTEST - less)
    assert fit.rod_end == SHORTEST - less  # a rod cannot be cut longer
    assert result(fit, "clevis-thread") == verdict


def test_a_rod_that_is_cut_back_beyond_its_thread_fails() -> None:
    assert result(fit_of(LONGEST + 2.5 * 25.4), "clevis-thread") == "fail"
    assert result(fit_of(LONGEST + 1.5 * 25.4), "clevis-thread") == "pass"
