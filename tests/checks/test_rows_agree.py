"""Two rows of one check never contradict each other: what one says cannot be, no other one passes."""

import random

import pytest

from mechviz.checks import CheckRow
from tests.checks.test_checks import checked, result

SOLVED = (
    "stroke-reserve-cold",
    "stroke-reserve-hot",
    "arm-angle-contact",
    "arm-angle-applied",
    "right-angle-stroke",
    "stroke-as-solved",
    "arm-angle-applied-as-solved",
)
"""What rests on the cam's turn, or on a state that the cam has to reach."""
NEAR = '[condition]\nlining_thickness = "{} in"\ndrum_diameter = "16.60 in"\nfree_stroke = "0.5 in"\n'
FINE = 'lining_resolution = "0.001 in"\ndrum_resolution = "0.001 in"\n'
PAST_TIP = "the cam would turn past its tip"


@pytest.mark.parametrize("lining", ["0.223", "0.231", "0.239", "0.243"])
def test_a_hot_drum_that_takes_the_cam_only_just_past_its_tip_is_close(lining: str) -> None:
    """Read as finely as it is, nobody can tell; read finely enough, it fails."""
    rows = checked(NEAR.format(lining))
    (hot,) = rows["stroke-reserve-hot"]
    assert (result(rows, "cam-profile-used"), hot.result, PAST_TIP in hot.advice) == ("close", "close", True)
    assert "measure lining, drum and slack again" in hot.advice
    assert "Do not use" not in hot.advice
    (sure,) = checked(NEAR.format("0.223") + FINE)["stroke-reserve-hot"]
    assert (sure.result, "Do not use this brake" in sure.advice) == ("fail", True)


def test_what_is_past_its_tip_as_found_fails_in_every_row_that_says_so() -> None:
    rows = checked(NEAR.format("0.219"))
    checks = ("within-reach", "cam-profile-used", "cam-turn", "stroke-reserve-cold", "stroke-reserve-hot")
    assert {result(rows, check) for check in checks} == {"fail"}


OTHER_CAM = """
[foundation]
windup_stiffness = "180 N*m/deg"
[cam]
profile = "involute"
base_radius = "0.5 in"
heel_radius = "0.60 in"
tip_radius = "{} in"
"""
SHORT_CAM = f"""{OTHER_CAM}[condition]
lining_thickness = "0.45 in"
drum_diameter = "16.58 in"
free_stroke = "0.5 in"
lining_resolution = "0.005 in"
"""


@pytest.mark.parametrize("tip", ["1.402", "1.398"])
@pytest.mark.parametrize("read", ["", '[measured]\nstroke = "1 1/2 in"\narm_angle_applied = "92 deg"\n'])
def test_nothing_solved_passes_beside_a_cam_past_its_profile(tip: str, read: str) -> None:
    sound, short = checked(SHORT_CAM.format("1.85") + read), checked(SHORT_CAM.format(tip) + read)
    assert (result(sound, "cam-profile-used"), result(short, "cam-profile-used")) == ("pass", "fail")
    assert any(result(sound, check) == "pass" for check in SOLVED)
    passed = [row for check in SOLVED for row in short[check] if row.result == "pass"]
    assert [row.check for row in passed] == (["arm-angle-applied"] if read else [])  # that is a reading
    doubted = [row for check in SOLVED for row in short[check] if "see the row cam profile used" in row.advice]
    assert {row.result for row in doubted} == {"not-evaluated"}


def contradictions(rows: dict[str, list[CheckRow]]) -> list[tuple[str, str]]:
    """Pairs of checks of which one passes what the other says cannot be."""
    everything = [row for several in rows.values() for row in several]
    solved = [row for row in everything if row.check in (*SOLVED, "cam-profile-used") and row.result == "pass"]
    solved = [row for row in solved if not (row.check == "arm-angle-applied" and row.basis == "measured")]
    out = [row for row in everything if row.check in ("within-reach", "cam-profile-used") and row.result == "fail"]
    found = [(bad.check, good.check) for bad in out for good in solved]
    if "stroke-reserve-cold" in rows:
        cold, hot, profile = (
            rows[name][0] for name in ("stroke-reserve-cold", "stroke-reserve-hot", "cam-profile-used")
        )
        found += [("cold fails", "hot passes")] if (cold.result, hot.result) == ("fail", "pass") else []
        past = cold.result == "fail" and PAST_TIP in cold.advice
        found += [("cold past tip", profile.result)] if past and profile.result in ("pass", "close") else []
    square, touch = rows["right-angle-stroke"][0], rows["arm-angle-contact"][0]
    early = square.result == "fail" and "before" in square.advice
    found += [("square early", "arm before square")] if early and touch.result == "pass" else []
    return found


@pytest.mark.parametrize("seed", range(60))
def test_no_row_passes_what_another_says_cannot_be(seed: int) -> None:
    """Random wear, slack, cam and readings of one brake, most of them far gone."""
    any_of = random.Random(seed)
    slack = f'free_stroke = "{any_of.uniform(0.3, 2.7):.3f} in"'
    slack = any_of.choice([slack, f'lining_clearance = "{any_of.uniform(0.02, 0.2):.3f} in"'])
    body = OTHER_CAM.format(f"{any_of.uniform(1.35, 1.75):.3f}")
    body += f'[condition]\nlining_thickness = "{any_of.uniform(0.16, 0.7):.3f} in"\n{slack}\n'
    body += f'drum_diameter = "{any_of.uniform(16.5, 16.75):.3f} in"\n'
    body += f'[measured]\nresolution = "{any_of.choice(["1/32", "1/16", "1/4"])} in"\n'
    body += f'stroke = "{any_of.uniform(1, 2.5):.3f} in"\n' if any_of.random() < 0.5 else ""
    assert contradictions(checked(body)) == []
