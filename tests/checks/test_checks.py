"""The checks on files as a mechanic would write them: each finding is one that the sources stand for."""

import json
import tomllib
from fractions import Fraction
from pathlib import Path

import pytest

from apps.cli import main
from geometry.errors import SetupError
from geometry.found import condition_of
from geometry.kinematics import free_stroke
from geometry.setup import builtin_names, builtin_text, read_setup, read_setup_text
from geometry.setup.starter import starter
from mechviz.checks import CheckRow, any_failed, run_checks
from mechviz.checks.train import TRAIN

CAM = ("profile", "base_radius", "heel_radius", "tip_radius")
ALL_RULES = ("us", "quebec", "army", "australia", "common")


def written(sections: dict[str, object]) -> str:
    """Write sections of plain values as TOML."""
    tables = {name: keys for name, keys in sections.items() if isinstance(keys, dict)}
    top = [f"{key} = {json.dumps(value)}" for key, value in sections.items() if key not in tables]
    lines = [[f"[{name}]", *(f"{key} = {json.dumps(v)}" for key, v in keys.items())] for name, keys in tables.items()]
    return "\n".join([*top, *(line for table in lines for line in table)])


def checked(
    body: str,
    base: str = "drive-16.5x7",
    rules: tuple[str, ...] | None = None,
    bare: bool = False,
    cam: bool = True,
) -> dict[str, list[CheckRow]]:
    """Check a file over a base; unless ``bare`` it also has the vehicle's chamber, arm, pushrod, ``cam`` and air."""
    sections = {"schema": 1, "title": "test", "base": base, **tomllib.loads(body)}
    known = tomllib.loads(builtin_text(base))
    stated = (
        ("chamber", ("style", "size")),
        ("linkage", ("arm_length", "pin_reach", "face_distance", "axis_offset")),
        ("test", ("reservoir_pressure",)),
        *((("cam", CAM), ("foundation", TRAIN)) if cam else ()),
    )
    for section, keys in stated:
        if not bare:
            own = {key: known[section][key] for key in keys if key in known.get(section, {})}
            sections[section] = own | sections.get(section, {})
    setup = read_setup_text(written(sections), "test", judging=True)
    rows: dict[str, list[CheckRow]] = {}
    for row in run_checks(setup, rules):
        rows.setdefault(row.check, []).append(row)
    return rows


def result(rows: dict[str, list[CheckRow]], check: str) -> str:
    (row,) = rows[check]
    return row.result


@pytest.mark.parametrize("name", [n for n in builtin_names() if not n.startswith("worn")])
def test_a_healthy_built_in_brake_fails_nothing(name: str) -> None:
    rows = run_checks(read_setup(name))
    assert not any_failed(rows)
    assert {row.result for row in rows} <= {"pass", "close", "not-evaluated"}
    assert sum(row.result == "pass" for row in rows) >= 10


def test_the_worn_brake_fails_what_is_wrong_with_it_and_nothing_else() -> None:
    failed = {row.check for row in run_checks(read_setup("worn-drive-16.5x7")) if row.result == "fail"}
    assert failed == {"stroke-limit", "free-stroke", "stroke-reserve-cold", "stroke-reserve-hot"}


# stroke: 49 CFR 393.47(e)


@pytest.mark.parametrize(
    ("stroke", "resolution", "expected"),
    [
        ("2 in", "0.001 in", "close"),
        ("1.999 in", "0.001 in", "pass"),
        ("2.0001 in", "1/16 in", "fail"),
        ("2 in", "1/16 in", "close"),
        ("1 15/16 in", "1/16 in", "pass"),
        ("1 31/32 in", "1/16 in", "close"),
        ("2 1/16 in", "1/16 in", "fail"),
        ("50.8 mm", "1 mm", "close"),
        ("50.9 mm", "1 mm", "fail"),
    ],
)
def test_stroke_limit_of_a_type_30(stroke: str, resolution: str, expected: str) -> None:
    rows = checked(f'[measured]\nstroke = "{stroke}"\nresolution = "{resolution}"')
    assert result(rows, "stroke-limit") == expected
    assert rows["stroke-limit"][0].limit == 50.8


@pytest.mark.parametrize(
    ("style", "size", "rated", "limit_in"),
    [
        ("clamp", "9", "1 3/4 in", 1.375),
        ("clamp", "24", "2 1/4 in", 1.75),
        ("clamp-long-stroke", "24", "2 1/2 in", 2.0),
        ("clamp-long-stroke", "24", "3 in", 2.5),
        ("clamp-long-stroke", "30", "3 in", 2.5),
        ("bolt", "G", "2 1/2 in", 2.0),
        ("rotochamber", "36", "3 1/2 in", 2.75),
    ],
)
def test_the_limit_goes_with_the_chamber(style: str, size: str, rated: str, limit_in: float) -> None:
    area = 'effective_area = "30 in**2"'
    body = f'[chamber]\nstyle = "{style}"\nsize = "{size}"\nrated_stroke = "{rated}"\n{area}\n'
    rows = checked(body + '[condition]\nfree_stroke = "0.3 in"')
    assert rows["stroke-limit"][0].limit == float(Fraction(limit_in) * Fraction("25.4"))


def test_a_chamber_that_is_in_no_table_gets_80_per_cent_of_its_rated_stroke() -> None:
    body = '[chamber]\nsize = "33"\nrated_stroke = "2.5 in"\neffective_area = "33 in**2"\n[measured]\n'
    rows = checked(body + 'stroke = "2 in"')
    (row,) = rows["stroke-limit"]
    assert (row.limit, row.result, "393.47(e)(2)" in row.source) == (50.8, "close", True)


def test_the_limit_marked_on_a_chamber_that_is_in_no_table_stands_before_its_80_per_cent() -> None:
    body = '[chamber]\nsize = "33"\nrated_stroke = "2.5 in"\nmarked_limit = "2 1/4 in"\neffective_area = "33 in**2"\n'
    (row,) = checked(body + '[measured]\nstroke = "2 1/8 in"')["stroke-limit"]
    assert (row.limit, row.result, "393.47(e)(2)" in row.source) == (57.15, "pass", True)
    assert "says otherwise" not in row.advice


def test_a_mark_does_not_overrule_the_table_and_is_not_passed_over() -> None:
    (row,) = checked('[chamber]\nmarked_limit = "2 1/4 in"\n[measured]\nstroke = "2 1/8 in"')["stroke-limit"]
    assert (row.limit, row.result) == (50.8, "fail")
    assert "The mark on the chamber (2.25 in, 57.15 mm) says otherwise" in row.advice


def test_a_stroke_over_the_limit_says_what_it_counts_and_who_must_not_be_turned() -> None:
    half = checked('[measured]\nstroke = "2 1/8 in"')["stroke-limit"][0].advice
    whole = checked('[measured]\nstroke = "2 1/4 in"')["stroke-limit"][0].advice
    manual = checked('[adjuster]\nkind = "manual"\n[measured]\nstroke = "2 1/4 in"')["stroke-limit"][0].advice
    assert "half a defective brake" in half
    assert "one defective brake" in whole
    assert "do not turn it" in whole
    assert "do not turn it" not in manual


# what was not measured is not judged


def test_with_nothing_measured_nothing_is_judged() -> None:
    for name in builtin_names():
        if not name.startswith("worn"):
            rows = checked("", name, bare=True)
            assert {row.result for several in rows.values() for row in several} == {"not-evaluated"}
            assert all(row.missing for several in rows.values() for row in several)


def test_a_stroke_inside_the_limit_of_a_chamber_that_only_the_base_has_is_no_pass() -> None:
    inside = checked('[measured]\nstroke = "1 15/16 in"', bare=True)["stroke-limit"][0]
    assert (inside.result, inside.missing) == ("not-evaluated", "chamber.style")
    assert "type 30 clamp" in inside.advice
    over = checked('[measured]\nstroke = "2 1/8 in"', bare=True)["stroke-limit"][0]
    assert (over.result, "Over the limit of a type 30 clamp, but that is the base's" in over.advice) == (
        "not-evaluated",
        True,
    )
    whatever = checked('[measured]\nstroke = "3 1/16 in"', bare=True)["stroke-limit"][0]
    assert whatever.result == "fail"
    ring = '[test]\nreservoir_pressure = "95 psi"\n[measured]\nstroke = "1 15/16 in"\n'
    ring += 'clamp_diameter = "8 3/32 in"\nlong_stroke_marks = false'
    assert result(checked(ring, bare=True), "stroke-limit") == "pass"
    other = ring.replace("8 3/32", "6 25/32")
    assert result(checked(other, bare=True), "stroke-limit") == "fail"  # a 20's, whose limit is 1 3/4 in
    assert result(checked(other.replace("1 15/16", "1 11/16"), bare=True), "stroke-limit") == "not-evaluated"


def test_the_worst_brakes_are_judged_and_not_turned_away() -> None:
    thin = checked('[condition]\nlining_thickness = "3/16 in"\ndrum_diameter = "16.6 in"\nfree_stroke = "0.6 in"\n'
                   '[measured]\nstroke = "2 3/4 in"')  # fmt: skip
    assert result(thin, "stroke-limit") == "fail"
    assert {row.result for row in thin["lining-thickness"]} == {"fail"}
    assert result(thin, "cam-turn") == "fail"
    assert {row.result for row in thin["within-reach"]} == {"fail"}
    slack = checked('[condition]\nfree_stroke = "2 5/8 in"')
    assert (result(slack, "free-stroke"), result(slack, "within-reach")) == ("fail", "fail")
    assert "measure condition.lining_thickness" in slack["within-reach"][0].advice
    worn = checked('[condition]\nlining_thickness = "0.2 in"\ndrum_diameter = "16.7 in"\nfree_stroke = "0.6 in"')
    assert result(worn, "cam-profile-used") == "fail"


def test_lengths_measured_on_the_vehicle_are_those_it_is_solved_with() -> None:
    slack = '[condition]\nfree_stroke = "0.6 in"\n'
    rows = checked(slack + '[measured]\narm_length = "6 in"\npin_reach = "6 1/4 in"', bare=True)
    assert (result(rows, "arm-length"), result(rows, "pin-reach")) == ("not-evaluated", "not-evaluated")
    solved = [row for check, several in rows.items() for row in several if check.endswith("as-solved")]
    assert not any(row.result == "fail" for row in solved)
    base = checked(slack)["right-angle-stroke"][0]
    assert rows["right-angle-stroke"][0].value != base.value


def test_a_chamber_fills_no_higher_than_its_reservoir() -> None:
    body = '[condition]\nfree_stroke = "0.6 in"\n[test]\nprocedure = "annual"\nreservoir_pressure = "82 psi"\n'
    rows = checked(body + '[measured]\nstroke = "1 3/8 in"')
    assert result(rows, "stroke-as-solved") == "pass"
    with pytest.raises(SetupError, match=r"more than test\.reservoir_pressure = 80 psi"):
        checked('[test]\npressure = "120 psi"\nreservoir_pressure = "80 psi"')


def test_no_advice_tells_anyone_to_turn_an_automatic_adjuster() -> None:
    for slack in ("1.2 in", "2.4 in"):
        for several in checked(f'[condition]\nfree_stroke = "{slack}"').values():
            assert not any("take up the clearance" in row.advice.lower() for row in several)


def test_a_stroke_read_at_too_little_pressure_says_so() -> None:
    low = checked('[test]\nreservoir_pressure = "60 psi"\n[measured]\nstroke = "1 1/2 in"')["stroke-limit"][0]
    assert "below 90 psi" in low.advice


def test_rule_sets_choose_between_sources_that_disagree() -> None:
    body = '[measured]\nstroke = "2 1/4 in"\narm_angle_applied = "83 deg"'
    by = {rule: checked(body, rules=(rule,)) for rule in ALL_RULES}
    assert result(by["us"], "stroke-limit") == result(by["australia"], "stroke-limit") == "fail"
    assert by["australia"]["stroke-limit"][0].source.startswith("Australian practice")
    assert result(by["quebec"], "stroke-limit") == "fail"
    assert (
        "None of the rule sets quebec has a stroke limit: this one stands in" in by["quebec"]["stroke-limit"][0].advice
    )
    assert result(checked("", rules=("quebec",)), "stroke-limit") == "not-applicable"
    assert result(by["common"], "arm-angle-applied") == "pass"
    assert result(by["army"], "arm-angle-applied") == "fail"


def test_slack_taken_over_from_a_cold_base_grows_when_only_the_heat_is_given() -> None:
    cold, hot = (
        read_setup_text(f'schema = 1\nbase = "drive-16.5x7"\n[condition]\ndrum_temperature = "{t} degF"', "t")
        for t in (70, 600)
    )
    strokes = [float(free_stroke(s.brake, condition_of(s))) for s in (cold, hot)]
    assert strokes[1] - strokes[0] == pytest.approx(0.592 * 25.4, abs=0.02)


# the chamber's name


def test_the_clamp_ring_names_the_chamber() -> None:
    right = '[measured]\nclamp_diameter = "8 3/32 in"\nlong_stroke_marks = {}'
    assert result(checked(right.format("false")), "chamber-size") == "pass"
    long_stroke = checked(right.format("true"))["chamber-size"][0]
    assert long_stroke.result == "fail"
    assert "type 30 clamp long stroke" in long_stroke.advice
    wrong = checked('[measured]\nclamp_diameter = "7 7/32 in"\nlong_stroke_marks = false')["chamber-size"][0]
    assert (wrong.result, "type 24 clamp" in wrong.advice) == ("fail", True)
    none = checked('[measured]\nclamp_diameter = "10 in"\nlong_stroke_marks = false')["chamber-size"][0]
    assert (none.result, none.limit) == ("fail", 8.09375 * 25.4)
    assert result(checked('[measured]\nclamp_diameter = "8 3/32 in"'), "chamber-size") == "not-evaluated"


def test_a_bolt_chamber_has_no_clamp_ring() -> None:
    body = '[chamber]\nstyle = "bolt"\nsize = "G"\nrated_stroke = "2.5 in"\neffective_area = "30 in**2"'
    assert result(checked(body), "chamber-size") == "not-applicable"


# test pressure: the two procedures disagree


@pytest.mark.parametrize(
    ("procedure", "psi", "expected"),
    [
        ("roadside", 95, "pass"),
        ("roadside", 100, "close"),
        ("roadside", 101, "fail"),
        ("roadside", 89, "fail"),
        ("annual", 85, "pass"),
        ("annual", 95, "fail"),
        ("annual", 80, "close"),
    ],
)
def test_reservoir_pressure_against_the_procedure_named(procedure: str, psi: int, expected: str) -> None:
    rows = checked(f'[test]\nprocedure = "{procedure}"\nreservoir_pressure = "{psi} psi"')
    assert result(rows, "test-pressure") == expected
    assert procedure in rows["test-pressure"][0].source


def test_the_ends_of_the_pressure_band_are_inside_it() -> None:
    for psi in (90, 100):
        rows = checked(f'[test]\nreservoir_pressure = "{psi} psi"\npressure_resolution = "0.1 psi"')
        assert result(rows, "test-pressure") == "close"


# free stroke: Saskatchewan air brake handbook


@pytest.mark.parametrize(
    ("slack", "expected"),
    [("0.45 in", "fail"), ("1/2 in", "close"), ("5/8 in", "pass"), ("11/16 in", "close"), ("3/4 in", "fail")],
)
def test_free_stroke_band(slack: str, expected: str) -> None:
    assert result(checked(f'[condition]\nfree_stroke = "{slack}"'), "free-stroke") == expected


# arm angle


@pytest.mark.parametrize(
    ("released", "applied", "expected"),
    [
        (107, 91, ("pass", "pass")),
        (90, 79, ("fail", "fail")),
        (91, 80, ("close", "close")),
        (115, 101, ("pass", "fail")),
    ],
)
def test_measured_arm_angles(released: int, applied: int, expected: tuple[str, str]) -> None:
    rows = checked(f'[measured]\narm_angle_released = "{released} deg"\narm_angle_applied = "{applied} deg"')
    assert (result(rows, "arm-angle-released"), result(rows, "arm-angle-applied")) == expected


def test_a_pushrod_cut_too_long_loses_the_right_angle_before_the_linings_touch() -> None:
    slack = '[condition]\nfree_stroke = "0.6 in"\n'
    rows = checked(slack + '[linkage]\npin_reach = "7.6 in"')
    assert result(rows, "right-angle-stroke") == "fail"
    assert result(rows, "arm-angle-contact") == "fail"
    assert "too long" in rows["arm-angle-contact"][0].advice
    short = checked(slack + '[linkage]\npin_reach = "4.5 in"')
    assert (result(short, "right-angle-stroke"), result(short, "arm-angle-applied")) == ("fail", "close")
    assert "too short" in short["arm-angle-applied"][0].advice


# linings and drum


def test_steering_linings_are_judged_by_rules_that_disagree() -> None:
    body = '[foundation]\naxle = "steering"\nlining_pads = 1\n[condition]\nlining_thickness = "7/32 in"'
    rows = checked(body, "steer-15x4")["lining-thickness"]
    assert [(row.source, row.result) for row in rows] == [
        ("49 CFR 393.47(d)(1), strip", "pass"),
        ("49 CFR Part 396 Appendix A", "fail"),
    ]


def test_quebec_wants_to_know_how_the_lining_is_held() -> None:
    body = '[condition]\nlining_thickness = "7 mm"\nlining_resolution = "0.1 mm"\n'
    unknown = checked(body, rules=("quebec",))["lining-thickness"]
    assert [row.result for row in unknown] == ["not-evaluated", "not-evaluated"]
    assert {row.missing for row in unknown} == {"foundation.lining_attachment"}
    riveted = checked(body + '[foundation]\nlining_attachment = "riveted"', rules=("quebec",))["lining-thickness"]
    assert [(row.result, row.limit) for row in riveted] == [("fail", 8.0)]
    bonded = checked(body + '[foundation]\nlining_attachment = "bonded"', rules=("quebec",))["lining-thickness"]
    assert [(row.result, row.limit) for row in bonded] == [("pass", 5.0)]


def test_the_drum_has_as_many_limits_as_sources() -> None:
    body = '[condition]\ndrum_diameter = "16.63 in"\ndrum_resolution = "0.001 in"\n'
    rows = checked(body + '[foundation]\ndrum_limit = "16.65 in"', rules=ALL_RULES)["drum-diameter"]
    found = {row.source.rsplit(": ")[-1]: row.result for row in rows}
    assert found["the limit cast on the drum"] == "pass"
    assert (found["16.620 in"], found["16.625 in"], found["16.650 in"]) == ("fail", "fail", "pass")


# cam


def test_linings_worn_far_bring_the_cam_past_120_degrees() -> None:
    worn = '[condition]\nlining_thickness = "0.29 in"\ndrum_diameter = "16.6 in"\nfree_stroke = "0.6 in"\n'
    rows = checked(worn + 'lining_resolution = "0.01 in"')
    assert result(rows, "cam-turn") == "fail"
    assert result(rows, "cam-profile-used") == "pass"


def test_a_cam_near_its_tip_fails_what_is_left_of_the_profile() -> None:
    body = '[cam]\ntip_radius = "1.5 in"\n[condition]\nlining_thickness = "0.33 in"\ndrum_diameter = "16.57 in"\n'
    rows = checked(body + 'free_stroke = "0.55 in"')
    assert result(rows, "cam-profile-used") == "fail"
    assert "do not use" in rows["cam-profile-used"][0].advice


# reserve


def test_much_slack_leaves_no_reserve_cold_and_bottoms_hot() -> None:
    rows = checked('[condition]\nfree_stroke = "2 in"')
    cold, hot = rows["stroke-reserve-cold"][0], rows["stroke-reserve-hot"][0]
    assert cold.result == "fail"
    assert (hot.result, hot.value) == ("fail", None)
    assert "bottoms" in hot.advice


def test_one_float_of_slack_decides_the_cold_reserve() -> None:
    row = checked('[condition]\nfree_stroke = "0.6 in"')["stroke-reserve-cold"][0]
    assert row.value is not None
    assert row.margin == pytest.approx(50.8 - row.value)
    assert row.basis == "solved"


# measured against solved


def test_a_stroke_that_the_slack_does_not_explain_is_a_finding_of_its_own() -> None:
    body = '[condition]\nfree_stroke = "0.6 in"\n[measured]\nstroke = "{}"'
    assert result(checked(body.format("1 1/2 in")), "stroke-as-solved") == "pass"
    longer, shorter = (checked(body.format(s))["stroke-as-solved"][0] for s in ("2 in", "1 in"))
    assert (longer.result, shorter.result) == ("fail", "fail")
    assert "loose chamber bracket" in longer.advice
    assert "frozen anchor" in shorter.advice


def test_an_angle_that_the_lengths_do_not_explain() -> None:
    rows = checked('[measured]\narm_angle_released = "98 deg"')
    assert result(rows, "arm-angle-released-as-solved") == "fail"
    assert "8 degrees" in rows["arm-angle-released-as-solved"][0].advice


@pytest.mark.parametrize(("arm", "expected"), [("5 1/2 in", "pass"), ("5 9/16 in", "pass"), ("6 in", "fail")])
def test_the_arm_as_fitted(arm: str, expected: str) -> None:
    rows = checked(f'[measured]\narm_length = "{arm}"\npin_reach = "6 1/8 in"')
    assert result(rows, "arm-length") == expected
    assert result(rows, "pin-reach") == "fail"


def test_more_wear_never_turns_a_fail_into_a_pass() -> None:
    order = ("pass", "close", "fail")
    worst: dict[str, int] = {}
    for thickness in (0.70, 0.60, 0.50, 0.40, 0.30, 0.26, 0.25, 0.24):
        rows = checked(f'[condition]\nlining_thickness = "{thickness} in"\ndrum_diameter = "16.5 in"')
        for check in ("lining-thickness", "cam-turn"):
            rank = max(order.index(row.result) for row in rows[check])
            assert rank >= worst.get(check, 0)
            worst[check] = rank
    assert worst["lining-thickness"] == 2


def test_every_row_has_a_source_and_advice() -> None:
    for name in builtin_names():
        for row in run_checks(read_setup(name), ALL_RULES):
            assert row.source
            assert row.advice.rstrip().endswith(".")
            assert row.result == "not-evaluated" or row.value is not None or row.result in ("fail", "not-applicable")


# parts that would run into each other, on the drawn proportions


@pytest.mark.parametrize(
    ("face_distance", "expected", "words"),
    [
        ("7.5 in", "pass", "swing clear"),
        ("2.2 in", "close", "would reach into"),
        ("1.6 in", "fail", "check linkage.face_distance"),
    ],
)
def test_parts_that_run_into_each_other_are_a_finding(face_distance: str, expected: str, words: str) -> None:
    lengths = f'arm_length = "5.5 in"\nface_distance = "{face_distance}"\npin_reach = "{face_distance}"\n'
    (row,) = checked(f"[linkage]\n{lengths}")["interference"]
    assert (row.result, row.limit, row.basis) == (expected, 6.35, "solved")
    assert words in row.advice


def test_a_swing_of_the_bases_own_lengths_is_not_judged() -> None:
    (row,) = checked("", bare=True)["interference"]
    assert (row.result, row.missing) == ("not-evaluated", "measured.arm_length")


@pytest.mark.parametrize("slack", ["5/8 in", "1 1/8 in"])
def test_slack_read_on_a_hot_drum_is_not_judged(slack: str) -> None:
    """Enough, or too much, it says nothing: cold it is less, and a brake adjusted by it drags."""
    body = f'[adjuster]\nkind = "manual"\n[condition]\nfree_stroke = "{slack}"\ndrum_temperature = "500 degF"\n'
    (row,) = checked(body)["free-stroke"]
    assert row.result == "not-evaluated"
    assert "let it cool, do not adjust hot" in row.advice
    (cold,) = checked(body.replace("drum_temp", 'slack_temperature = "70 degF"\ndrum_temp'))["free-stroke"]
    assert cold.result == ("pass" if slack == "5/8 in" else "fail")
    (tight,) = checked(body.replace(slack, "3/8 in"))["free-stroke"]
    assert tight.result == "fail", "what is tight hot is tighter cold"


def test_too_much_stroke_is_not_laid_to_slack_that_was_read_hot() -> None:
    body = (
        '[chamber]\nstyle = "clamp"\nsize = "30"\n[adjuster]\nkind = "manual"\n[test]\nreservoir_pressure = "95 psi"\n'
        '[condition]\nfree_stroke = "1 1/8 in"\ndrum_temperature = "500 degF"\n[measured]\nstroke = "2 1/4 in"\n'
        "long_stroke_marks = false\n"
    )
    (row,) = checked(body)["stroke-limit"]
    assert row.result == "fail"
    assert "read on a hot drum: let it cool" in row.advice
    assert "Adjust, then" not in row.advice


def test_a_stroke_read_with_a_hot_drum_says_so_and_is_judged_as_it_was_read() -> None:
    body = '[condition]\ndrum_temperature = "TEMP degF"\n[measured]\nstroke = "2 1/8 in"'
    (hot,) = checked(body.replace("TEMP", "300"))["stroke-limit"]
    (cold,) = checked(body.replace("TEMP", "80"))["stroke-limit"]
    assert (hot.result, cold.result) == ("fail", "fail")
    assert "hot drum, which lengthens the stroke" in hot.advice
    assert "hot drum" not in cold.advice


# what a fresh reader found: verdicts that the sources do not stand for


SLACK = '[condition]\nfree_stroke = "SLACK in"'


def test_hot_a_brake_passes_only_with_nearly_its_full_push_left() -> None:
    (slack,) = checked(SLACK.replace("SLACK", "1.75"))["stroke-reserve-hot"]
    assert slack.result == "fail"
    assert "lost 82 % of its force" in slack.advice
    own = '\n[foundation]\nwindup_stiffness = "180 N*m/deg"'
    (fine,) = checked(SLACK.replace("SLACK", "0.35") + own)["stroke-reserve-hot"]
    assert (fine.result, "UN R13" in fine.source) == ("pass", True)
    assert fine.limit == pytest.approx(2.12 * 25.4, abs=0.2)


@pytest.mark.parametrize(
    ("test", "expected"),
    [
        ('pressure = "40 psi"\nreservoir_pressure = "85 psi"\nprocedure = "annual"', "not-evaluated"),
        ('reservoir_pressure = "40 psi"', "not-evaluated"),
        ('reservoir_pressure = "89.9 psi"', "not-evaluated"),
        ('reservoir_pressure = "90 psi"', "pass"),
        ('pressure = "92 psi"', "pass"),
        ('pressure = "40 psi"', "not-evaluated"),
        ('reservoir_pressure = "80 psi"\nprocedure = "annual"', "pass"),
        ("", "not-evaluated"),
    ],
)
def test_a_stroke_passes_only_at_a_pressure_that_counts(test: str, expected: str) -> None:
    chamber = '[chamber]\nstyle = "clamp"\nsize = "30"\n'
    (row,) = checked(f'{chamber}[test]\n{test}\n[measured]\nstroke = "1 1/2 in"', bare=True)["stroke-limit"]
    assert row.result == expected
    unsaid = expected != "pass" and "reservoir" not in test and "pressure" not in test
    assert row.missing == ("test.reservoir_pressure" if unsaid else "")
    (over,) = checked(f'{chamber}[test]\n{test}\n[measured]\nstroke = "2 1/8 in"', bare=True)["stroke-limit"]
    assert over.result == "fail"


def test_a_clamp_ring_that_belies_the_file_lets_no_stroke_pass() -> None:
    ring = '[measured]\nclamp_diameter = "7 7/32 in"\nlong_stroke_marks = false\nstroke = "1 7/8 in"'
    rows = checked(ring)
    assert result(rows, "chamber-size") == "fail"
    assert (result(rows, "stroke-limit"), rows["stroke-limit"][0].missing) == (
        "not-evaluated",
        "",
    )


def test_angles_follow_the_length_that_was_measured_not_the_nominal_one() -> None:
    rows = checked('[condition]\nfree_stroke = "5/8 in"\n[measured]\npin_reach = "7.9 in"')
    assert (result(rows, "arm-angle-contact"), result(rows, "arm-angle-applied")) == ("fail", "fail")
    assert result(rows, "pin-reach") == "fail"


def test_a_cam_past_its_tip_is_no_matter_of_adjusting() -> None:
    worn = '[condition]\nlining_thickness = "5/32 in"\ndrum_diameter = "16.6 in"\nfree_stroke = "5/8 in"\n'
    rows = checked(worn + '[adjuster]\nkind = "manual"')
    for check in ("stroke-reserve-cold", "stroke-reserve-hot"):
        assert "Do not use this brake" in rows[check][0].advice
        assert "Adjust" not in rows[check][0].advice


def test_the_published_stroke_budget_agrees_with_the_model_within_its_allowance() -> None:
    body = (
        '[condition]\nfree_stroke = "0.66 in"\n[test]\nreservoir_pressure = "100 psi"\n[measured]\nstroke = "1.81 in"'
    )
    assert result(checked(body), "stroke-as-solved") == "pass"


@pytest.mark.parametrize(
    ("lining", "expected"), [("0.40", "pass"), ("0.33", "close"), ("0.31", "close"), ("0.26", "fail")]
)
def test_a_cam_turn_inside_by_less_than_the_readings_tell_is_close(lining: float, expected: str) -> None:
    worn = f'[condition]\nlining_thickness = "{lining} in"\ndrum_diameter = "16.57 in"'
    (row,) = checked(worn)["cam-turn"]
    assert (row.result, row.resolution > 0.05) == (expected, True)


def test_the_figure_that_stands_in_does_not_overrule_the_one_cast_on_the_drum() -> None:
    drum = '[condition]\ndrum_diameter = "16.63 in"\n'
    cast = checked(drum + '[foundation]\ndrum_limit = "16.65 in"')["drum-diameter"]
    assert [row.result for row in cast] == ["pass"]
    unread = checked(drum)["drum-diameter"]
    assert [row.result for row in unread] == ["not-evaluated", "fail"]


def test_far_more_than_slightly_more_than_square_is_not_the_armys_right_angle() -> None:
    (row,) = checked('[measured]\narm_angle_applied = "106 deg"', rules=("army",))["arm-angle-applied"]
    assert row.result == "fail"


def test_the_cold_reserve_is_held_against_the_least_limit_of_the_rules_chosen() -> None:
    trailer = "trailer-16.5x7"
    body = SLACK.replace("SLACK", "1.5")
    us = checked(body, trailer, rules=("us",))["stroke-reserve-cold"][0]
    australia = checked(body, trailer, rules=("australia",))["stroke-reserve-cold"][0]
    assert us.limit == pytest.approx(2.5 * 25.4)
    assert australia.limit == pytest.approx(2.4 * 25.4)


def test_too_much_slack_is_named_before_the_lengths() -> None:
    rows = checked(SLACK.replace("SLACK", "1.4"))
    assert "too much slack" in rows["arm-angle-contact"][0].advice
    assert "too much slack" in rows["right-angle-stroke"][0].advice


def test_a_long_stroke_chamber_that_comes_in_two_strokes_asks_for_its_own() -> None:
    body = '[chamber]\nstyle = "clamp-long-stroke"\nsize = "24"\nSTATED[measured]\nstroke = "2 1/4 in"'
    (unsaid,) = checked(body.replace("STATED", ""))["stroke-limit"]
    assert (unsaid.result, unsaid.missing) == ("not-evaluated", "chamber.rated_stroke")
    (over,) = checked(body.replace("STATED", "").replace("2 1/4", "2 9/16"))["stroke-limit"]
    assert over.result == "fail"
    (said,) = checked(body.replace("STATED", 'rated_stroke = "3 in"\n'))["stroke-limit"]
    assert said.result == "pass"


@pytest.mark.parametrize(("clearance", "expected"), [("0.001", "fail"), ("0.02", "pass"), ("0.06", "fail")])
def test_a_clearance_is_judged_by_the_free_stroke_that_follows_from_it(clearance: str, expected: str) -> None:
    (row,) = checked(f'[condition]\nlining_clearance = "{clearance} in"')["free-stroke"]
    assert (row.result, row.basis) == (expected, "solved")


def test_a_file_to_start_from_has_nothing_that_counts_as_read(tmp_path: Path) -> None:
    for name in builtin_names():
        path = tmp_path / f"{name}.toml"
        path.write_text(starter(name), encoding="utf-8")
        setup = read_setup(path)
        assert setup.stated == {"schema", "title", "base"}
        assert {row.result for row in run_checks(setup)} <= {"not-evaluated", "not-applicable"}
        assert setup.brake == read_setup(name, judging=True).brake


def test_what_is_out_of_reach_says_what_would_be_possible() -> None:
    body = '[condition]\nlining_thickness = "3/16 in"\ndrum_diameter = "16.6 in"'
    (row,) = checked(body)["within-reach"]
    assert "Possible: at least 0.2" in row.advice
    assert " mm)" in row.advice


# what a second reader found


@pytest.mark.parametrize(
    ("chamber", "stroke", "measured", "words"),
    [
        (
            'style = "clamp-long-stroke"\nsize = "30"',
            "2 1/4 in",
            "long_stroke_marks = false",
            "marks are missing",
        ),
        ('style = "clamp"\nsize = "30"', "1 3/4 in", "long_stroke_marks = true", "marks are on it"),
        (
            'style = "clamp-long-stroke"\nsize = "30"\nrated_stroke = "2.5 in"',
            "2 7/16 in",
            "",
            "rated stroke is none that",
        ),
        ('style = "clamp"\nsize = "30"\nrated_stroke = "2 in"', "1 15/16 in", "", "rated stroke is none that"),
        (
            'style = "clamp"\nsize = "30"\neffective_area = "24 in**2"',
            "1 15/16 in",
            "",
            "effective area, 24 square inches, is not that of such a chamber (30)",
        ),
        (
            'style = "rotochamber"\nsize = "30"\nrated_stroke = "2.5 in"\neffective_area = "30 in**2"',
            "2 3/16 in",
            'clamp_diameter = "8 3/32 in"',
            "outside diameter is not that of",
        ),
    ],
)
def test_nothing_passes_on_a_chamber_that_the_files_own_words_belie(
    chamber: str, stroke: str, measured: str, words: str
) -> None:
    rows = checked(
        f'[chamber]\n{chamber}\n[condition]\nfree_stroke = "0.5 in"\n[measured]\nstroke = "{stroke}"\n{measured}'
    )
    (limit,) = rows["stroke-limit"]
    assert (limit.result, limit.missing) == ("not-evaluated", "")
    assert words in limit.advice
    for check in ("stroke-reserve-cold", "stroke-reserve-hot"):
        assert result(rows, check) in ("not-evaluated", "fail")


def test_a_rotochamber_of_its_own_diameter_is_named() -> None:
    chamber = '[chamber]\nstyle = "rotochamber"\nsize = "30"\nrated_stroke = "2.75 in"\neffective_area = "30 in**2"\n'
    rows = checked(chamber + '[measured]\nclamp_diameter = "7 1/16 in"\nstroke = "2 1/8 in"')
    assert (result(rows, "chamber-size"), result(rows, "stroke-limit")) == ("pass", "pass")


def test_what_little_air_leaves_over_is_not_what_full_air_would() -> None:
    little = '[test]\nreservoir_pressure = "20 psi"\npressure = "20 psi"\n[condition]\nfree_stroke = "1 1/2 in"'
    assert result(checked(little), "stroke-reserve-hot") == "fail"
    angle = '[test]\nreservoir_pressure = "20 psi"\n[measured]\narm_angle_applied = "84 deg"'
    assert result(checked(angle), "arm-angle-applied") == "not-evaluated"
    assert result(checked(angle.replace("84", "76")), "arm-angle-applied") == "fail"
    assert result(checked(angle.replace("84", "104")), "arm-angle-applied") == "not-evaluated"
    unsaid = '[condition]\nfree_stroke = "5/8 in"\n[measured]\nstroke = "1 1/8 in"\n'
    (row,) = checked(unsaid + '[chamber]\nstyle = "clamp"\nsize = "30"', bare=True)["stroke-as-solved"]
    assert (row.result, row.missing) == ("not-evaluated", "test.reservoir_pressure")


def test_the_cold_reserve_allows_for_the_wind_up_that_the_model_may_miss() -> None:
    body = '[test]\nreservoir_pressure = "100 psi"\n[condition]\nfree_stroke = "0.90 in"'
    (row,) = checked(body)["stroke-reserve-cold"]
    assert (row.result, row.resolution > 6.35) == ("close", True)


def test_angles_are_not_worked_out_with_the_bases_bracket() -> None:
    body = '[condition]\nfree_stroke = "5/8 in"\n[measured]\narm_length = "5.5 in"\npin_reach = "6 in"'
    rows = checked(body, bare=True)
    for check in ("arm-angle-released", "arm-angle-contact", "right-angle-stroke", "interference"):
        assert (result(rows, check), rows[check][0].missing) == ("not-evaluated", "linkage.face_distance")


def test_no_rule_set_makes_a_reading_vanish() -> None:
    drum = '[foundation]\ndrum_limit = "16.60 in"\n[condition]\ndrum_diameter = "16.61 in"\nlining_thickness = "0.2 in"'
    for rules in (("common",), ("quebec",), ("army",)):
        rows = checked(drum, rules=rules)
        assert "fail" in {row.result for row in rows["drum-diameter"]}
        assert rows["lining-thickness"]
    assert result(checked("", rules=("quebec",)), "drum-diameter") == "not-applicable"
    assert result(checked("", rules=("army",)), "lining-thickness") == "not-applicable"


def test_a_reading_beside_a_state_that_cannot_be_is_close() -> None:
    (row,) = checked('[condition]\nlining_thickness = "0.34 in"\ndrum_diameter = "16.78 in"\nfree_stroke = "0.5 in"')[
        "cam-profile-used"
    ]
    assert row.result == "close"


def test_clearance_and_gauge_count_among_the_readings() -> None:
    (clear,) = checked('[condition]\nlining_clearance = "0.03 in"')["stroke-reserve-cold"]
    assert clear.resolution > 6.35 + 0.2
    gauge = (
        '[test]\nreservoir_pressure = "98 psi"\npressure_resolution = "PSI psi"\n[condition]\nfree_stroke = "0.6 in"'
    )
    (fine,) = checked(gauge.replace("PSI", "1"))["stroke-reserve-cold"]
    (coarse,) = checked(gauge.replace("PSI", "10"))["stroke-reserve-cold"]
    assert coarse.resolution > fine.resolution + 1.0


def test_too_much_air_and_the_bases_axle_are_said() -> None:
    (row,) = checked('[test]\nreservoir_pressure = "125 psi"\n[measured]\nstroke = "2 1/16 in"')["stroke-limit"]
    assert (row.result, "read above 100 psi" in row.advice) == ("not-evaluated", True)
    lining = checked('[condition]\nlining_thickness = "0.5 in"')["lining-thickness"]
    assert all("The base's axle is non-steering" in row.advice for row in lining if row.result == "pass")


def test_a_state_that_cannot_be_cold_is_told_by_its_own_reason() -> None:
    body = '[condition]\ndrum_temperature = "900 degF"\nlining_thickness = "0.6 in"\nfree_stroke = "0.6 in"\n'
    body += 'slack_temperature = "900 degF"'
    (row,) = checked(body)["stroke-reserve-hot"]
    assert row.result == "pass"
    (cold,) = checked(body)["stroke-reserve-cold"]
    assert (cold.result, "press on a colder drum" in cold.advice) == ("not-evaluated", True)
    (far,) = checked('[condition]\nlining_clearance = "0.3 in"')["stroke-reserve-cold"]
    assert (far.result, "see the row within reach" in far.advice) == ("fail", True)


# what a third reader found


NEAR_TIP = """[condition]
lining_thickness = "1/4 in"
drum_diameter = "16.60 in"
free_stroke = "5/8 in"
[measured]
stroke = "STROKE in"
"""


def test_beside_the_end_of_the_cam_no_stroke_is_what_was_expected() -> None:
    (row,) = checked(NEAR_TIP.replace("STROKE", "1 15/16"))["stroke-as-solved"]
    assert row.result == "not-evaluated"
    assert "leave open whether this brake can be applied" in row.advice
    assert row.allowance == pytest.approx(25.4 / 16)


def test_no_brake_beside_an_end_makes_a_fault_of_the_program(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """In text, where figures without bound would have to be drawn: near the tip, and near the end of the chamber."""
    path, codes = tmp_path / "near.toml", set[int]()
    head = 'schema = 1\nbase = "drive-16.5x7"\n[chamber]\nstyle = "clamp"\nsize = "30"\n'
    for lining in ("1/4", "0.26", "0.3", "0.36"):
        for drum in ("16.55", "16.62", "16.8"):
            for slack in ("5/8", "2 3/8", "2 7/16"):
                body = NEAR_TIP.replace("1/4", lining).replace("16.60", drum).replace("5/8", slack)
                path.write_text(head + body.replace("STROKE", "2 1/2"), encoding="utf-8")
                codes.add(main(["check", str(path)]))
    assert codes <= {0, 1, 2}
    assert "internal error" not in capsys.readouterr().err


def test_a_stroke_longer_than_solved_counts_in_what_is_left() -> None:
    own = '[foundation]\nwindup_stiffness = "180 N*m/deg"\n[condition]\nfree_stroke = "0.5 in"\n'
    rows = checked(own + '[measured]\nstroke = "1 3/4 in"')
    (cold,), (hot,) = rows["stroke-reserve-cold"], rows["stroke-reserve-hot"]
    assert cold.value == pytest.approx(1.75 * 25.4)
    assert (hot.result, "more than solved, which is added here" in hot.advice) == ("fail", True)
    long = '[chamber]\nstyle = "clamp-long-stroke"\nsize = "30"\n[condition]\nfree_stroke = "0.5 in"\n'
    (bottomed,) = checked(long + '[measured]\nstroke = "2 7/16 in"')["stroke-reserve-hot"]
    assert (bottomed.result, "bottomed before that" in bottomed.advice) == ("fail", True)


def test_a_lower_limit_marked_on_the_chamber_is_not_passed_over() -> None:
    chamber = '[chamber]\nstyle = "clamp-long-stroke"\nsize = "20"\nrated_stroke = "3 in"\nmarked_limit = "2 in"\n'
    (between,) = checked(chamber + '[measured]\nstroke = "2 1/4 in"')["stroke-limit"]
    assert (between.result, "make sure which chamber it is" in between.advice) == ("not-evaluated", True)
    (below,) = checked(chamber + '[measured]\nstroke = "1 3/4 in"')["stroke-limit"]
    assert below.result == "pass"


def test_the_count_of_one_rule_is_not_told_of_another() -> None:
    (row,) = checked('[measured]\nstroke = "2 1/4 in"', rules=("australia",))["stroke-limit"]
    assert (row.result, "out-of-service" in row.advice) == ("fail", False)


def test_low_chamber_pressure_under_a_full_reservoir_is_a_leak_to_look_for() -> None:
    test = '[test]\nreservoir_pressure = "95 psi"\npressure = "60 psi"\n[measured]\nstroke = "1 1/2 in"'
    (row,) = checked(test)["stroke-limit"]
    assert (row.result, row.missing, "look for leaks" in row.advice) == ("not-evaluated", "", True)


def test_a_lining_below_every_limit_fails_whichever_holds() -> None:
    thin = '[condition]\nlining_thickness = "2 mm"'
    assert {row.result for row in checked(thin, rules=("quebec",))["lining-thickness"]} == {"fail"}
    assert {row.result for row in checked(thin.replace("2 mm", "6 mm"), rules=("quebec",))["lining-thickness"]} == {
        "not-evaluated"
    }


def test_a_chamber_without_a_published_stroke_has_to_go_with_its_limit() -> None:
    bolt = '[chamber]\nstyle = "bolt"\nsize = "C"\neffective_area = "24 in**2"\nrated_stroke = "RATED in"\n'
    slack = '[condition]\nfree_stroke = "0.4 in"\n[measured]\nstroke = "1 5/8 in"'
    assert result(checked(bolt.replace("RATED", "2 1/4") + slack), "stroke-limit") == "pass"
    assert result(checked(bolt.replace("RATED", "3 1/2") + slack), "stroke-limit") == "not-evaluated"
