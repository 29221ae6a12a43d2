"""`mechviz diagnose` as its user reads it."""

import csv
import io
import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from geometry.diagnosis.tight import CAUSES
from geometry.setup import read_setup
from mechviz.diagnosis.study import study
from mechviz.diagnosis.text import chance, percent
from tests.commands import Run, runner

WORN = "worn-drive-16.5x7"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("diagnose", capsys, monkeypatch)


@pytest.fixture
def write(tmp_path: Path) -> Callable[[str], str]:
    def written(text: str) -> str:
        path = tmp_path / "brake.toml"
        path.write_text(f'schema = 1\nbase = "drive-16.5x7"\n{text}', encoding="utf-8")
        return str(path)

    return written


def test_a_worn_brake_is_told_to_a_mechanic(run: Run) -> None:
    code, out, _ = run(WORN)
    flat = " ".join(out.split())
    assert code == 0
    assert "Measured: applied stroke 2 1/8 in (54.0 mm), free stroke 1 5/16 in (33.3 mm)" in flat
    assert "Tape read to 1/16 in (1.6 mm), angles to 1 deg." in flat
    assert "The stroke is over its limit of 2 in (50.8 mm), whatever the cause" in flat
    assert "1. Adjuster stuck, or never adjusted: almost certainly" in flat
    assert "Look for: long free stroke, long applied stroke, arm past square." in flat
    assert "Everything that can be read was read" in " ".join(run(WORN, "--clearance", "0.060 in")[1].split())
    assert "Do not turn an automatic adjuster by hand" in flat.replace("| - ", "")
    assert max(len(line) for line in out.split("\n")) <= 80


def test_one_reading_says_what_to_measure_next_and_what_would_be_read(run: Run, write: Callable[[str], str]) -> None:
    flat = " ".join(run(write('[measured]\nstroke = "2 1/4 in"\n'))[1].split())
    assert re.search("Measure next: (free stroke|lining clearance). Brake released: (pull|feeler)", flat)
    assert re.search("Would then read: .*free stroke 0.[0-9]+ to [01].[0-9]+ in", flat)
    assert "cannot be told apart by tape, gauge or feeler, only by looking: loose chamber or bracket" in flat
    assert "Not in the file, only guessed" in flat


def test_nothing_measured_says_what_to_measure_first(run: Run, write: Callable[[str], str]) -> None:
    code, out, _ = run(write(""))
    flat = " ".join(out.split())
    assert code == 0
    assert "Nothing was measured, so this is only how often each cause is met." in flat
    assert "Measure first: " in flat


def test_readings_that_no_cause_explains_are_said_so(run: Run, write: Callable[[str], str]) -> None:
    text = (
        '[linkage]\narm_length = "5.5 in"\npin_reach = "6 in"\nface_distance = "7.5 in"\naxis_offset = "5.35 in"\n'
        '[condition]\nfree_stroke = "1 1/4 in"\n[measured]\nstroke = "1 3/8 in"\narm_length = "6 in"\n'
        'arm_angle_released = "120 deg"\n'
    )
    assert "No single cause explains these readings well" in " ".join(run(write(text))[1].split())
    assert "No single cause" not in run(WORN)[1]


SOUND = (
    '[chamber]\nstyle = "clamp"\nsize = "30"\n[linkage]\narm_length = "5.5 in"\naxis_offset = "5.35 in"\n'
    'face_distance = "7.5 in"\npin_reach = "{reach} in"\n[test]\nreservoir_pressure = "95 psi"\n'
    '[condition]\ndrum_temperature = "{heat} degF"\nlining_thickness = "{lining} in"\ndrum_diameter = "16.53 in"\n'
    'free_stroke = "{free} in"\n[measured]\n{read}'
)
USUAL = {"reach": "6", "heat": "70", "lining": "1/2", "free": "5/8", "read": ""}


@pytest.fixture
def told(run: Run, write: Callable[[str], str]) -> Callable[..., str]:
    def flat(*tokens: str, **figures: str) -> str:
        return " ".join(run(write(SOUND.format(**USUAL | figures)), *tokens)[1].split())

    return flat


def test_a_feeler_is_offered_beside_the_free_stroke_and_settles_it(told: Callable[..., str]) -> None:
    before, after = told(), told("--clearance", "0.002 in")
    alike = re.findall(r"cannot be told apart by tape, gauge or feeler, only by looking: ([^.]*)[.]", before)
    assert not any("nothing wrong" in group and "anchor pin frozen" in group for group in alike)
    assert "Measure next: lining clearance." in before
    assert "Give it beside the file, with --clearance." in before
    assert re.search(r"1[.] (Anchor pin frozen, shoe applied|Shoe return spring broken).*over 99 %", after)


def test_a_free_stroke_given_beside_a_clearance_is_judged_like_any_other(run: Run, write: Callable[[str], str]) -> None:
    path = write(SOUND.format(**USUAL).replace('free_stroke = "5/8 in"', 'lining_clearance = "0.030 in"'))
    flat = " ".join(run(path, "--free-stroke", "1 1/4 in")[1].split())
    assert "free stroke 1 1/4 in (31.8 mm), lining clearance 0.030 in" in flat
    assert "- free stroke: 1 1/4 in (31.8 mm) measured, limit 3/4 in (19.1 mm)" in flat
    options = {one["name"]: one["option"] for one in json.loads(run(path, "--json")[1])["next"]}
    assert {name: option for name, option in options.items() if option} == {"free_stroke": "--free-stroke"}


@pytest.mark.parametrize(
    ("tokens", "says"),
    [
        (("--free-stroke", "1 in"), "--free-stroke = 1.000 in: is in the file too, as condition.free_stroke"),
        (("--clearance", "-1 in"), "--clearance = -1.000 in: must not be negative"),
        (("--clearance", "0.005"), "--clearance = 0.005: has no unit"),
    ],
)
def test_a_reading_that_cannot_be_given_beside_the_file_is_refused(
    run: Run, write: Callable[[str], str], tokens: tuple[str, ...], says: str
) -> None:
    code, out, err = run(write(SOUND.format(**USUAL)), *tokens)
    assert (code, out) == (2, "")
    assert says in err


def test_a_stroke_that_cannot_be_is_said_first_and_no_cause_is_sure(
    run: Run, write: Callable[[str], str], told: Callable[..., str]
) -> None:
    flat = told(read='stroke = "2 3/4 in"\n')
    first = flat.index("Applied stroke 2 3/4 in (69.9 mm) cannot be: the rated stroke of the chamber written is 2 1/2")
    assert first < flat.index("The stroke is over its limit") < flat.index("1. ")
    assert "It was misread, or another chamber with a longer stroke is fitted" in flat
    assert not re.search("almost certainly|very probably|over 99 %", flat)
    assert "nearest of the single causes, and no answer by itself" in flat
    data = json.loads(run(write(SOUND.format(**USUAL | {"read": 'stroke = "2 3/4 in"\n'})), "--json")[1])
    assert data["fits"] is False
    assert data["out_of_limits"] is True
    assert data["impossible"] == [{"title": "applied stroke", "value_mm": 69.85, "most_mm": 63.5}]
    assert "cannot be:" not in told(read='stroke = "2 1/2 in"\n')  # bottomed, and that can be


ODD = [
    ("free-stroke-over-stroke", {"free": "1 1/2", "lining": "0.6", "read": 'stroke = "1 1/4 in"\n'}, ()),
    (
        "angles-against-stroke",
        {"read": 'stroke = "1 1/2 in"\narm_angle_released = "106 deg"\narm_angle_applied = "105 deg"\n'},
        (),
    ),
    (
        "angles-against-stroke",
        {"read": 'stroke = "3/4 in"\narm_angle_released = "106 deg"\narm_angle_applied = "85 deg"\n'},
        (),
    ),
    ("clearance-over-stroke", {"read": 'stroke = "1 1/2 in"\n'}, ("--clearance", "0.2 in")),
    ("no-stroke", {"read": 'stroke = "0 in"\n'}, ()),
    ("no-stroke", {"read": 'stroke = "1/16 in"\n'}, ()),
]


@pytest.mark.parametrize(("name", "figures", "tokens"), ODD)
def test_readings_that_cannot_all_be_true_are_said_first_and_no_cause_is_sure(
    run: Run, write: Callable[[str], str], name: str, figures: dict[str, str], tokens: tuple[str, ...]
) -> None:
    path = write(SOUND.format(**USUAL | figures))
    flat = " ".join(run(path, *tokens)[1].split())
    data = json.loads(run(path, *tokens, "--json")[1])
    assert name in [one["name"] for one in data["contradictions"]]
    assert data["fits"] is False
    assert data["causes"][0]["name"] != "cam-past-profile"
    assert flat.index("before any cause below is believed") < flat.index("1. ")
    assert "nearest of the single causes, and no answer by itself" in flat
    assert not re.search("almost certainly|very probably|over 99 %|Nothing wrong", flat)
    if name == "no-stroke":
        assert "No air reached the chamber" in flat


@pytest.mark.parametrize(
    ("figures", "tokens"),
    [
        ({"free": "1 5/16", "read": 'stroke = "1 1/4 in"\n'}, ()),  # one step of the tape
        ({"heat": "70", "free": "1 1/8", "read": 'stroke = "1 1/16 in"\nresolution = "1/16 in"\n'}, ()),
        ({"read": 'stroke = "1 1/2 in"\narm_angle_released = "106 deg"\narm_angle_applied = "90 deg"\n'}, ()),
        ({"read": 'stroke = "1 1/2 in"\n'}, ("--clearance", "0.030 in")),
        ({"read": 'stroke = "1/8 in"\n', "free": "1/8"}, ()),
    ],
)
def test_readings_that_can_all_be_true_are_not_said_to_contradict(
    run: Run, write: Callable[[str], str], figures: dict[str, str], tokens: tuple[str, ...]
) -> None:
    data = json.loads(run(write(SOUND.format(**USUAL | figures)), *tokens, "--json")[1])
    assert data["contradictions"] == []


def test_slack_read_hotter_than_the_stroke_may_be_more(run: Run, write: Callable[[str], str]) -> None:
    text = SOUND.format(**USUAL | {"free": "1 3/8", "read": 'stroke = "1 1/4 in"\n'})
    hot = text.replace("[measured]", 'slack_temperature = "500 degF"\n[measured]')
    assert json.loads(run(write(hot), "--json")[1])["contradictions"] == []
    assert json.loads(run(write(text), "--json")[1])["contradictions"] != []


def test_no_air_at_no_pressure_is_no_contradiction(run: Run, write: Callable[[str], str]) -> None:
    text = SOUND.format(**USUAL | {"read": 'stroke = "0 in"\n'}).replace('"95 psi"', '"2 psi"')
    assert json.loads(run(write(text), "--json")[1])["contradictions"] == []


def test_linings_and_drum_that_put_the_cam_past_its_tip_are_what_is_told(told: Callable[..., str]) -> None:
    flat = told(lining="0.1", free="1 1/4", read='stroke = "1 5/16 in"\n')
    assert "By lining and drum this brake probably does not work at all" in flat
    assert "See to what is named above first" in flat
    assert "over 99 %" not in flat
    assert "does not work at all" not in told()
    assert "of stroke to close" not in told("--clearance", "0.1 in", lining="0.1", read='stroke = "1/2 in"\n')


def test_a_free_stroke_read_hot_is_not_adjusted_by(told: Callable[..., str]) -> None:
    flat = told(heat="500", free="1 1/8", read='stroke = "1 15/16 in"\n')
    assert "adjust until the linings just clear" not in flat
    assert "mechviz check fails" not in flat
    assert re.search("read with the drum at 500 degF .* cold it would be about 0[.]6", flat)
    assert "Let the drum cool and measure again; do not adjust hot." in flat
    assert "1. Nothing wrong that these readings could show" in flat


def test_slack_foretold_for_a_hot_drum_says_how_hot(run: Run, write: Callable[[str], str]) -> None:
    text = SOUND.format(**USUAL | {"heat": "500", "read": 'stroke = "2 in"\n'})
    for read in ('free_stroke = "5/8 in"\n', 'lining_thickness = "1/2 in"\n', 'drum_diameter = "16.53 in"\n'):
        text = text.replace(read, "")
    path = write(text)
    flat = " ".join(run(path)[1].split())
    assert re.search("free stroke 0[.]9[0-9] to 1[.]2[0-9] in at 500 degF", flat)
    assert "What is foretold holds with the drum at 500 degF (260 degC)" in flat
    assert json.loads(run(path, "--json")[1])["slack_drum_degC"] == pytest.approx(260)
    assert "degF" not in " ".join(run(write('[measured]\nstroke = "2 in"\n'))[1].split())


def test_marks_that_the_first_cause_leaves_unexplained_are_told(run: Run, write: Callable[[str], str]) -> None:
    read = {"read": 'stroke = "2 1/4 in"\nlong_stroke_marks = true\n'}
    path = write(SOUND.format(**USUAL | read))
    flat = " ".join(run(path)[1].split())
    assert re.search("Loose chamber or bracket would leave unexplained: long-stroke marks seen[.] Which chamber", flat)
    assert "long_stroke_marks" in json.loads(run(path, "--json")[1])["unexplained"]


def test_a_second_cause_shows_in_what_the_first_leaves_unexplained(told: Callable[..., str]) -> None:
    flat = told(
        free="1 1/4",
        read='pin_reach = "6 1/2 in"\narm_angle_released = "100 deg"\narm_angle_applied = "77 deg"\n'
        'stroke = "2 1/8 in"\narm_length = "5 1/2 in"\n',
    )
    assert re.search("Pushrod too long would leave unexplained: free stroke 1 1/4 in .* is expected[.]", flat)
    assert "By itself that speaks for: adjuster stuck, or never adjusted." in flat
    assert "1. Pushrod too long: nearest of the single causes" in flat
    assert "almost certainly" not in flat
    assert "No reading that is left would tell much more" not in flat
    assert "The lengths under [linkage] put the arm there" not in flat  # the rod that was measured is another


def test_an_angle_out_of_its_band_is_said_though_the_lengths_written_give_it(told: Callable[..., str]) -> None:
    flat = told(reach="7.3", read='stroke = "1 1/2 in"\narm_angle_released = "91 deg"\narm_angle_applied = "73 deg"\n')
    assert "- arm angle applied: 73 deg measured, limit 80 deg: short by 7 deg." in flat
    assert "The lengths under [linkage] put the arm there: what is written is itself wrong." in flat
    assert "1. No part at fault that these readings could show" in flat
    assert "Nothing wrong that" not in flat


@pytest.mark.parametrize(
    ("figures", "says"),
    [
        ({"free": "3/16"}, "- free stroke: 3/16 in (4.8 mm) measured, limit 1/2 in (12.7 mm): short by"),
        ({"heat": "500"}, "The free stroke was read with the drum at 500 degF (260 degC); cold it would be 0."),
        ({"heat": "500", "free": "1/8"}, "cold the linings would press, released: adjusted too tight"),
        (
            {"lining": "0.15"},
            "condition.lining_thickness: the cam would turn past its tip before the linings touch",
        ),
        ({"read": 'stroke = "2 1/8 in"\n'}, "The stroke is over its limit of 2 in (50.8 mm), whatever the cause"),
    ],
)
def test_what_is_out_of_its_limits_is_said_and_nothing_wrong_is_not(
    told: Callable[..., str], figures: dict[str, str], says: str
) -> None:
    flat = told(**figures)
    assert says in flat
    assert flat.index(says) < flat.index("1. ")
    assert "Nothing wrong that these readings could show" not in flat
    usual = told()
    assert says not in usual
    assert "1. Nothing wrong that these readings could show" in usual
    assert "mechviz check fails" not in usual


def test_a_slack_read_hot_that_is_enough_when_cold_is_no_defect(told: Callable[..., str]) -> None:
    assert "adjusted too tight" not in told(heat="500", free="1 1/8")


def test_a_ring_two_sizes_off_is_named(told: Callable[..., str]) -> None:
    flat = told(read='stroke = "1 3/16 in"\nclamp_diameter = "6 25/32 in"\n')
    assert "The clamp ring is that of a type 20, not of the type 30 that the figures rest on." in flat
    for read in ('clamp_diameter = "8 3/32 in"\n', 'clamp_diameter = "8 3/32 in"\nlong_stroke_marks = true\n'):
        assert "The clamp ring is" not in told(read=read)
    marked = told(read='clamp_diameter = "8 3/32 in"\nlong_stroke_marks = true\n')
    assert "- chamber size: Clamp ring and marks are those of a type 30 clamp long stroke" in marked


def test_priors_stand_beside_the_probabilities(told: Callable[..., str], run: Run) -> None:
    flat = told()
    assert re.search(r"1[.] Nothing wrong [^(]*[(]\d+ %[)]; 47 % before anything was read", flat)
    data = json.loads(run(WORN, "--json")[1])
    group = data["causes"][0]["group"]
    prior = sum(one["prior"] for one in data["causes"] if one["group"] == group)
    flat = " ".join(run(WORN)[1].split())
    assert f"(97 %); {percent(prior)} before anything was read" in flat


def test_only_readings_that_tell_the_causes_shown_apart_are_foretold(told: Callable[..., str]) -> None:
    """A ring that would read the same under each of them tells nothing."""
    flat = told(read='stroke = "2 1/8 in"\narm_length = "5 1/2 in"\npin_reach = "6 in"\n')
    foretold = re.findall(r"Would then read: (.*?) in[.] ", flat)
    for one in ("arm length", "pin reach"):
        assert not any(one in words for words in foretold)
    alone = told(read='clamp_diameter = "6 25/32 in"\nstroke = "1 3/16 in"\n')
    assert "Would then read" not in alone.partition("Everything else")[0]


def test_json_and_csv_hold_every_cause(run: Run) -> None:
    data = json.loads(run(WORN, "--json")[1])
    rows = list(csv.DictReader(io.StringIO(run(WORN, "--csv")[1])))
    assert {one["name"] for one in data["causes"]} == {"nothing-wrong", *(one.name for one in CAUSES)}
    assert [row["name"] for row in rows] == [one["name"] for one in data["causes"]]
    assert sum(one["probability"] for one in data["causes"]) == pytest.approx(1, abs=1e-4)
    assert data["fits"] is True
    assert {one["name"]: one for one in data["readings"]}["stroke"]["value_mm"] == 53.975
    found = study(read_setup(WORN))
    assert data["causes"][0]["probability"] == pytest.approx(found.causes[0].probability, abs=1e-6)
    assert ["loose-bracket", "drum-cracked"] in data["alike"]


def test_metric_readings_are_written_in_millimetres(run: Run, write: Callable[[str], str]) -> None:
    flat = " ".join(run(write('[measured]\nstroke = "57 mm"\n'))[1].split())
    assert "applied stroke 57.0 mm (2.24 in)" in flat
    assert re.search("free stroke [0-9]+.[0-9] to [0-9]+.[0-9] mm", flat)


@pytest.mark.parametrize(
    ("tokens", "says"),
    [
        (("nowhere.toml",), "is neither a file nor a built-in setup"),
        ((WORN, "--json", "--csv"), "choose one"),
    ],
)
def test_what_cannot_be_used_is_said(run: Run, tokens: tuple[str, ...], says: str) -> None:
    code, out, err = run(*tokens)
    assert (code, out) == (2, "")
    assert says in err


def test_probabilities_are_never_certain() -> None:
    assert percent(0.9951) == "over 99 %"
    assert percent(0.0) == "under 1 %"
    assert [chance(p) for p in (0.026, 0.034)] == ["not likely (3 %)"] * 2
    assert chance(0.5) == "probably (50 %)"
    assert chance(0.0) == "very unlikely (under 1 %)"


def without_linings(text: str) -> str:
    return text.replace('lining_thickness = "1/2 in"\n', "").replace('drum_diameter = "16.53 in"\n', "")


def test_of_a_brake_that_does_not_work_nothing_that_moves_is_foretold(run: Run, write: Callable[[str], str]) -> None:
    text = without_linings(SOUND.format(**USUAL | {"heat": "300", "read": 'stroke = "2 1/2 in"\n'}))
    flat = " ".join(run(write(text.replace('free_stroke = "5/8 in"', 'lining_clearance = "0.09 in"')))[1].split())
    (thin,) = re.findall(r"[0-9][.] Lining too thin: .*? Would then read: (.*? in)[.] ", flat)
    (stuck,) = re.findall(r"[0-9][.] Adjuster stuck, or never adjusted: .*? Would then read: (.*? in)[.] ", flat)
    assert re.fullmatch("lining thickness 0.[0-9]+ to 0.[0-9]+ in", thin)
    assert re.match("free stroke 1.[0-9]+ to 2.[0-9]+ in at 300 degF, lining thickness", stuck)


def test_a_rod_that_hardly_moves_asks_for_the_air(run: Run, write: Callable[[str], str]) -> None:
    text = without_linings(SOUND.format(**USUAL | {"read": 'stroke = "{} in"\n'})).replace('free_stroke = "5/8 in"', "")
    said = {one: " ".join(run(write(text.replace("{}", one)))[1].split()) for one in ("1/16", "1/8", "1/4", "1 3/8")}
    assert "the rod did not move. No air reached the chamber" in said["1/16"]
    assert "the rod hardly moved. No air reached the chamber" in said["1/8"]
    assert "No air reached the chamber" not in said["1/4"]
    assert "see first that air arrives at the chamber with full pressure" in said["1/4"]
    assert not any("see first that air arrives" in said[one] for one in ("1/8", "1 3/8"))
    assert not any("speaks for: lining too thin" in one for one in said.values())


def test_a_clearance_beyond_the_chamber_is_asked_after_without_a_stroke(run: Run, write: Callable[[str], str]) -> None:
    text = without_linings(SOUND.format(**USUAL))
    wide, usual = (
        " ".join(run(write(text.replace('free_stroke = "5/8 in"', f'lining_clearance = "{gap} in"')))[1].split())
        for gap in ("0.2", "0.06")
    )
    assert "takes more stroke to close than the chamber's rated 2 1/2 in (63.5 mm): it was misread (0.020 in" in wide
    assert wide.index("before any cause below is believed") < wide.index("1. ")
    assert "speaks for" not in wide
    assert "misread" not in usual


@pytest.mark.parametrize("heat", ["70", "400"])
def test_a_stroke_that_is_all_the_chamber_has_is_said_hot_or_cold(told: Callable[..., str], heat: str) -> None:
    free = {"70": "5/8", "400": "1"}[heat]
    flat = told(heat=heat, free=free, read='stroke = "2 1/2 in"\n')
    says = "An applied stroke of 2 1/2 in (63.5 mm) is all that the chamber has: it bottoms, and hardly any force"
    assert flat.index(says) < flat.index("1. ")
    assert "Do not drive on it." in flat
    assert "Nothing wrong that" not in flat
    assert "is all that the chamber has" not in told(heat=heat, free=free, read='stroke = "2 7/16 in"\n')
    assert "is all that the chamber has" not in told(heat=heat, free=free, read='stroke = "2 9/16 in"\n')


def test_a_free_stroke_that_is_all_the_chamber_has_leaves_nothing_to_press(told: Callable[..., str]) -> None:
    flat = told(free="2 1/2")
    assert "A free stroke of 2 1/2 in (63.5 mm) is all that the chamber has: it bottoms before the linings" in flat
    assert "is all that the chamber has" not in told(free="2 1/4")


def test_a_stroke_over_its_limit_read_hot_is_to_be_read_cold(told: Callable[..., str]) -> None:
    hot = told(heat="500", free="1 1/8", read='stroke = "2 3/8 in"\n')
    assert "The stroke is over its limit of 2 in (50.8 mm), but the limit is meant for a cold drum" in hot
    assert "this one was at 500 degF (260 degC). Let it cool and measure again." in hot
    assert "over its limit" not in told(heat="500", free="1 1/8", read='stroke = "2 in"\n')
    assert "meant for a cold drum" not in told(read='stroke = "2 3/8 in"\n')


def test_a_clearance_read_hot_is_not_adjusted_by(run: Run, write: Callable[[str], str]) -> None:
    def flat(heat: str, gap: str) -> str:
        text = SOUND.format(**USUAL | {"heat": heat}).replace(
            'free_stroke = "5/8 in"', f'lining_clearance = "{gap} in"'
        )
        return " ".join(run(write(text))[1].split())

    warm, tight = flat("500", "0.055"), flat("500", "0.020")
    assert "The lining clearance was read with the drum at 500 degF (260 degC), where it is wider" in warm
    assert re.search(r"cold it would be about 0[.]03[0-9] in .* measure again; do not adjust hot[.]", warm)
    assert "cold the linings would press, released. Let the drum cool" in tight
    assert "do not adjust hot" not in flat("70", "0.055")
