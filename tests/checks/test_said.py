"""What a check says of its own grounds: whose figure, which source, how much, and what was not fully applied."""

from pathlib import Path

import pytest

from geometry.errors import SetupError
from geometry.setup import read_setup_text
from mechviz.report.found import found_lines
from mechviz.report.reading import reading_words
from tests.checks.test_checks import checked, result

HEAD = 'schema = 1\nbase = "drive-16.5x7"\n'
NAMED = '[chamber]\nstyle = "clamp"\nsize = "30"\n'
PAST = '[condition]\nlining_thickness = "0.15 in"\ndrum_diameter = "16.70 in"\nfree_stroke = "0.6 in"\n'


def assumed(body: str) -> str:
    lines = found_lines(read_setup_text(HEAD + body, "t", judging=True), "inch")
    return next(line for line in lines if line.startswith("Assumed"))


# a brake that was not fully applied


@pytest.mark.parametrize(("stroke", "slack"), [("1/2", '[condition]\nfree_stroke = "5/8 in"\n'), ("0", "")])
@pytest.mark.parametrize(("angle", "expected"), [(90, "not-evaluated"), (102, "not-evaluated"), (78, "fail")])
def test_no_applied_angle_passes_beside_a_pushrod_that_hardly_moved(
    stroke: str, slack: str, angle: int, expected: str
) -> None:
    """An angle past square is past it all the more when fully applied; one before square may come back."""
    body = f'{slack}[measured]\nstroke = "{stroke} in"\narm_angle_applied = "{angle} deg"\n'
    rows = checked(body)
    assert (result(rows, "stroke-limit"), result(rows, "arm-angle-applied")) == ("not-evaluated", expected)
    moved = checked(body.replace(f'stroke = "{stroke} in"', 'stroke = "1 1/2 in"').replace("102", "90"))
    assert result(moved, "arm-angle-applied") == ("fail" if angle == 78 else "pass")


# assumed, or written


def test_a_chamber_that_is_written_is_not_assumed_however_its_ring_belies_it() -> None:
    ring = '[measured]\nclamp_diameter = "7 7/32 in"\nlong_stroke_marks = false\n'
    assert "type 30 clamp chamber" not in assumed(NAMED + ring)
    assert "type 30 clamp chamber" in assumed(ring)
    assert "type 30 clamp chamber" in assumed('[chamber]\nsize = "30"\n')


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("", "cam, rollers, shoes and wind-up"),
        ('[foundation]\nwindup_stiffness = "180 N*m/deg"\n', "cam, rollers and shoes"),
        (
            '[cam]\nprofile = "involute"\nbase_radius = "0.5 in"\nheel_radius = "0.60 in"\ntip_radius = "1.85 in"\n',
            "rollers, shoes and wind-up",
        ),
    ],
)
def test_only_what_is_not_written_is_assumed(body: str, said: str) -> None:
    assert f", {said}," in assumed(body)
    assert ("cam," in assumed(body)) == ("cam" in said)


# how much, and whose


def test_a_difference_that_is_over_what_is_allowed_does_not_look_like_it() -> None:
    """7.5 degrees off with 6.9 allowed: whole degrees would be 7 and 7 in the fail and in the pass."""
    body = '[condition]\nfree_stroke = "0.6 in"\n[measured]\narm_angle_applied = "{} deg"\n'
    (row,) = checked(body.format(90))["arm-angle-applied-as-solved"]
    assert row.limit is not None
    edge = (row.limit + row.allowance) * 57.29577951308232
    for angle in (edge - 0.3, edge - 0.02, edge + 0.02, edge + 0.3):
        (near,) = checked(body.format(round(angle, 3)))["arm-angle-applied-as-solved"]
        words = reading_words(near, "inch")
        more, allowed = (float(text.split()[-3]) for text in words.split(": ")[1].split(", "))
        assert (more > allowed) == (near.result == "fail"), words


@pytest.mark.parametrize(("kind", "sure"), [("", False), ('[adjuster]\nkind = "automatic"\n', True)])
def test_an_adjuster_that_nobody_wrote_is_automatic_only_if_it_is(kind: str, sure: bool) -> None:
    rows = checked(kind + '[condition]\nfree_stroke = "0.9 in"\n[measured]\nstroke = "2 1/2 in"\n')
    said = [row.advice for several in rows.values() for row in several if "utomatic adjuster" in row.advice]
    assert len(said) >= 2
    assert all(("if this is one" in advice) != sure for advice in said)
    close = checked(kind + '[condition]\nfree_stroke = "0.6 in"\n[measured]\nstroke = "2 1/2 in"\n')
    assert ("if this is one" in close["stroke-limit"][0].advice) != sure


def test_a_cam_past_its_tip_fails_by_no_published_limit() -> None:
    rows = checked(PAST)
    for check in ("stroke-reserve-cold", "stroke-reserve-hot"):
        (row,) = rows[check]
        assert (row.result, row.limit, row.source.startswith("mechviz: geometry")) == ("fail", None, True)


def test_a_table_cam_of_ones_own_is_not_the_bases() -> None:
    cam = '[cam]\nprofile = "table"\ntable = [["0 deg", "0.60 in"], ["40 deg", "0.95 in"], ["120 deg", "1.65 in"]]\n'
    rows = checked(NAMED + cam + PAST + '[linkage]\narm_length = "5.5 in"\n', bare=True)
    for check in ("within-reach", "stroke-reserve-cold"):
        (row,) = rows[check]
        assert (row.result, row.missing) == ("not-evaluated", "foundation.cam_distance")
        assert "base's cam:" not in row.advice
        assert "base's cam t" not in row.advice
    near = checked(cam.replace("0.60", "0.30"), cam=False)["interference"][0]
    assert "cam.tip_radius" not in near.advice


def test_a_hot_stroke_on_a_doubtful_chamber_is_over_no_readjustment_limit() -> None:
    rows = checked('[measured]\nlong_stroke_marks = true\n[condition]\nfree_stroke = "1.5 in"\n')
    assert "Over the effective stroke of a type 30 clamp, but" in rows["stroke-reserve-hot"][0].advice
    assert "the limit of a type 30 clamp, but" in rows["stroke-reserve-cold"][0].advice


def test_marks_that_differ_are_not_told_as_the_same_ring() -> None:
    (row,) = checked('[measured]\nclamp_diameter = "8 3/32 in"\nlong_stroke_marks = true\n')["chamber-size"]
    assert (row.result, "the same" in reading_words(row, "inch")) == ("fail", False)


# the base's wind-up


@pytest.mark.parametrize("size", ["6", "9", "12", "16"])
def test_a_small_chamber_on_the_bases_wind_up_is_accused_of_nothing(size: str) -> None:
    """The base's stiffness is that of a brake with a type 30: one made for a smaller chamber winds up as far."""
    body = f'[chamber]\nsize = "{size}"\n[condition]\nfree_stroke = "1/2 in"\n[measured]\nstroke = "1 3/8 in"\n'
    rows = checked(body)
    (row,) = rows["stroke-as-solved"]
    assert (row.result, row.missing) == ("not-evaluated", "foundation.windup_stiffness")
    words = " ".join(one.advice for several in rows.values() for one in several)
    assert "cracked drum" not in words
    own = checked(body + '[foundation]\nwindup_stiffness = "180 N*m/deg"\n')
    assert result(own, "stroke-as-solved") == "fail"
    assert result(checked(body.replace("1 3/8", "2 1/8")), "stroke-as-solved") in ("fail", "not-evaluated")


def test_a_stroke_that_no_wind_up_explains_still_fails() -> None:
    body = '[chamber]\nsize = "16"\n[condition]\nfree_stroke = "1/2 in"\n[measured]\nstroke = "{} in"\n'
    assert [result(checked(body.format(one)), "stroke-as-solved") for one in ("2 1/4", "1/4")] == ["fail", "fail"]


@pytest.mark.parametrize("size", list("ACDE"))
def test_a_bolt_chamber_of_an_assumed_stroke_is_accused_of_nothing(size: str) -> None:
    body = f'[chamber]\nstyle = "bolt"\nsize = "{size}"\n[condition]\nfree_stroke = "1/2 in"\n'
    (row,) = checked(body + '[measured]\nstroke = "1 3/8 in"\n')["stroke-as-solved"]
    assert (row.result, row.missing) == ("not-evaluated", "chamber.rated_stroke")


# what cannot be


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ('[condition]\ndrum_temperature = "3000 degF"\n', "at most 2102 degF"),
        ('[condition]\nslack_temperature = "2200 degF"\n', "at most 2102 degF"),
        ('[measured]\nresolution = "10 in"\n', "at most 1.000 in"),
    ],
)
def test_a_drum_that_melts_and_a_tape_that_tells_nothing_are_refused(body: str, words: str) -> None:
    with pytest.raises(SetupError, match=words):
        read_setup_text(HEAD + body, "t")


def test_a_hot_brake_that_is_close_is_not_sent_back_to_the_cold_tape() -> None:
    body = '[condition]\nfree_stroke = "5/8 in"\n[measured]\nstroke = "1 1/2 in"\n'
    (row,) = checked(body)["stroke-reserve-hot"]
    assert (row.result, "read with the drum hot" in row.advice) == ("close", True)
    assert "measure stroke and slack again" not in row.advice


def test_the_readme_does_not_say_that_a_stroke_read_hot_is_not_judged() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    assert "a stroke that was read is judged as it was read" in readme
    (row,) = checked('[condition]\ndrum_temperature = "400 degF"\n[measured]\nstroke = "2 1/8 in"\n')["stroke-limit"]
    assert (row.result, "judged as it was read" in row.advice) == ("fail", True)
