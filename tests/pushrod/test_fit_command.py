"""`mechviz fit`: what it says is what the solver says, and it lets nobody cut by figures that are not the vehicle's."""

import csv
import io
import json
import re
from dataclasses import replace
from functools import cache
from math import degrees, pi
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from geometry.applied import solve_applied
from geometry.kinematics import released_poses
from geometry.linkage import arm_state
from geometry.pushrod_fit import with_pushrod
from geometry.setup import Setup, builtin_names, read_setup, read_setup_text
from geometry.setup.builtin import builtin_text
from mechviz.checks import run_checks
from mechviz.checks.judge import Band
from mechviz.pushrod.limits import in_the_chamber, least_thread
from mechviz.pushrod.study import PRESENT, WORN, Asked, Fitting, fitting
from mechviz.pushrod.tables import hole_reasons
from mechviz.pushrod.text import fit_text
from mechviz.pushrod.verdicts import fit_rows
from mechviz.pushrod.worst import worst
from tests.commands import Run, runner

DRIVE = "drive-16.5x7"

# invented for the tests: the project's own figures
ARM = 'arm_length = "5.5 in"'
OFFSET = 'axis_offset = "5 3/8 in"'
FACE = 'face_distance = "7 9/16 in"'
CHAMBER = '[chamber]\nstyle = "clamp"\nsize = "30"'
CLEVIS = '[clevis]\npin_to_inside = "1 3/16 in"\npin_to_end = "2 1/8 in"\nrod_thread = "3 in"\nrod_reach = "7 in"'
OWN = f'{CHAMBER}\n[linkage]\n{ARM}\n{OFFSET}\n{FACE}\n{CLEVIS}\n[condition]\nlining_thickness = "7/16 in"\n'


def text_of(body: str, base: str = DRIVE) -> str:
    return f'schema = 1\nbase = "{base}"\n{body}'


def setup_of(body: str, base: str = DRIVE) -> Setup:
    return read_setup_text(text_of(body, base), "own.toml")


def fit_of(body: str, **asked: float) -> Fitting:
    setup = setup_of(body)
    return fitting(setup, Asked(**asked), setup.system)


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("fit", capsys, monkeypatch)


@pytest.fixture
def own(tmp_path: Path) -> str:
    path = tmp_path / "own.toml"
    path.write_text(text_of(OWN), encoding="utf-8")
    return str(path)


# the answer


def test_the_length_to_cut_stands_first_as_a_fraction(run: Run, own: str) -> None:
    code, out, err = run(own)
    assert (code, err) == (0, "")
    lines = [line.strip() for line in out.split("\n")]
    at = lines.index("CUT THE PUSHROD")
    assert lines[at + 2] == "5 15/16 in  from the chamber's face to the clevis-pin centre"
    assert lines[at + 3] == "4 3/4 in    from the face to the rod's end: cut off 2 1/4 in"
    assert lines[at + 4] == "6 15/16 in  whole rod, pivot to clevis-pin centre"
    assert at < lines.index("1/16 in EITHER WAY") < lines.index("SET THE ADJUSTER") < lines.index("CHECKED")


def test_cut_as_told_and_solved_again_the_arm_stands_as_the_table_says() -> None:
    fit = fit_of(OWN)
    for rod in fit.best.rods:
        brake = with_pushrod(fit.setup.brake, rod.pin_reach, rod.arm_length)
        stroke = solve_applied(brake, fit.condition, fit.setup.test.pressure).stroke
        assert rod.stroke == pytest.approx(stroke)
        assert rod.arm_angle == pytest.approx(arm_state(brake.linkage, stroke).arm_angle)


@pytest.mark.parametrize("name", builtin_names())
@pytest.mark.parametrize("system", ["inch", "metric"])
def test_the_tape_costs_no_more_than_half_a_step(name: str, system: Any) -> None:
    """Rounded to the nearest step, the arm is off by no more than half of what a whole step either way does."""
    fit = fitting(read_setup(name, judging=True), Asked(), system)
    shorter, cut, longer = fit.best.rods
    exact = float(fit.best.exact.pin_reach[PRESENT])
    assert abs(cut.pin_reach - exact) <= fit.tick / 2
    assert [r.pin_reach - cut.pin_reach for r in (shorter, longer)] == pytest.approx([-fit.tick, fit.tick])
    step = float(shorter.arm_angle[PRESENT] - longer.arm_angle[PRESENT]) / 2
    assert 0 < step < 0.02
    assert abs(float(cut.arm_angle[PRESENT]) - pi / 2) <= 0.505 * step


def test_worn_is_the_least_lining_of_the_rules_for_the_axle() -> None:
    us, quebec, thin = fit_of(OWN), fit_of(f'{OWN}[test]\nrules = ["quebec"]'), OWN.replace("7/16", "3/16")
    assert float(us.condition.arrays[0][WORN]) == 0.25 * 25.4
    assert float(quebec.condition.arrays[0][WORN]) == 8.0  # riveted, which the file does not say: the strictest
    assert float(fit_of(thin).condition.arrays[0][WORN]) == pytest.approx(25.4 * 3 / 16)  # thinner than allowed already
    gaps = [np.ravel(fit.condition.arrays[3]) for fit in (us, quebec)]
    assert gaps[0][PRESENT] == gaps[1][PRESENT]


def test_it_is_worked_out_cold_and_newly_adjusted_however_the_brake_was_found() -> None:
    found = fit_of(OWN + 'drum_temperature = "400 degF"\nfree_stroke = "1 1/4 in"\n')
    assert found.best.exact.pin_reach == pytest.approx(fit_of(OWN).best.exact.pin_reach, abs=1e-12)


def test_the_wanted_angle_and_clearance_are_taken(run: Run, own: str) -> None:
    set_to = ("--clearance", "0.020 in")
    usual, more = (json.loads(run(own, "--json", *set_to, *t)[1]) for t in ((), ("--angle", "92 deg")))
    assert more["wanted_angle_deg"] == 92
    assert more["answer"]["exact_pin_reach_present_mm"] < usual["answer"]["exact_pin_reach_present_mm"] - 3
    tight = json.loads(run(own, "--json", "--clearance", "0.010 in")[1])
    assert tight["worm"]["turns_back"] == pytest.approx(usual["worm"]["turns_back"] / 2, rel=0.02)
    assert usual["worm"]["turns_back"] == pytest.approx(22 * usual["worm"]["cam_turn_deg"] / 360, abs=1e-6)


# from new linings to worn ones, and the free stroke that is set


def results(fit: Fitting) -> dict[str, str]:
    return {row.check: row.result for row in fit_rows(fit)}


@pytest.mark.parametrize("name", builtin_names())
@pytest.mark.parametrize("system", ["inch", "metric"])
def test_the_usual_clearance_leaves_the_middle_of_the_free_strokes(name: str, system: Any) -> None:
    """The rod to cut is off by half a tick at most: that moves the free stroke by a hundredth of itself."""
    fit = fitting(read_setup(name, judging=True), Asked(), system)
    assert float(fit.best.cut.free_stroke[PRESENT]) == pytest.approx(0.625 * 25.4, rel=0.01)
    gap = solved_gap(fit)
    assert gap == pytest.approx(fit.best.clearance, abs=1e-6)
    assert results(fit)["free-stroke"] == "pass"


def solved_gap(fit: Fitting) -> float:
    poses = released_poses(fit.brake(fit.best), fit.condition)
    return min(float(poses.left.gap_middle[PRESENT]), float(poses.right.gap_middle[PRESENT]))


def test_every_hole_is_set_to_the_same_free_stroke() -> None:
    fit = holes("5.0", "5.5", "6.0", "6.5")
    strokes = [float(hole.cut.free_stroke[PRESENT]) for hole in fit.holes if hole.cut]
    assert strokes == pytest.approx([0.625 * 25.4] * 4, rel=0.01)
    assert [hole.clearance for hole in fit.holes] == sorted((hole.clearance for hole in fit.holes), reverse=True)


def test_done_as_fit_says_nothing_of_it_fails_in_a_check(run: Run, own: str) -> None:
    answer = json.loads(run(own, "--json")[1])
    (rod,) = [rod for rod in answer["rods"] if rod["use"]]
    now = rod["present"]
    done = OWN.replace("[condition]", f'[condition]\nfree_stroke = "{now["free_stroke_mm"]} mm"').replace(
        ARM, f'{ARM}\npin_reach = "{rod["pin_reach_mm"]} mm"'
    )
    readings = (
        f'[measured]\nstroke = "{now["stroke_mm"]} mm"\narm_angle_applied = "{now["arm_angle_deg"]:.0f} deg"\n'
        f'arm_angle_released = "{rod["released_angle_deg"]:.0f} deg"\n[test]\nreservoir_pressure = "95 psi"\n'
    )
    rows = run_checks(setup_of(done + readings))
    assert {row.check for row in rows if row.result == "pass"} >= {"free-stroke", "stroke-limit", "arm-angle-applied"}
    assert [row.check for row in rows if row.result == "fail"] == []


@pytest.mark.parametrize(
    ("clearance", "says"), [("0 in", "Tight: linings that rub"), ("0.015 in", "Tight:"), ("0.05 in", "Too much slack:")]
)
def test_a_clearance_whose_free_stroke_a_check_fails_fails_here(run: Run, own: str, clearance: str, says: str) -> None:
    code, out, _ = run(own, "--clearance", clearance)
    flat = " ".join(out.split())
    assert code == 1
    assert "DO NOT CUT YET: SOMETHING FAILED" in out
    assert f"lining clearance {float(clearance[:-3]):.3f} in" in flat
    assert re.search(f"FAIL free stroke: [^\\[]*{says}", flat)


def test_where_the_trades_two_figures_disagree_both_are_told(run: Run, own: str) -> None:
    flat = " ".join(run(own)[1].split())
    assert "The trade press gives 0.015 in (0.38 mm) to 0.020 in (0.51 mm) of running clearance" in flat
    assert re.search(r"PASS free stroke: 0.6\d in .* clearance; on this brake that is 0.3\d in", flat)


def test_one_state_that_does_not_exist_hides_no_other_that_fails(run: Run, own: str) -> None:
    """New linings leave no room for a tenth of an inch; as found the stroke is over its limit all the same."""
    fit = fit_of(OWN, clearance=0.1 * 25.4)
    assert not np.isfinite(fit.best.cut.stroke[0])
    assert fit.best.cut.stroke[PRESENT] > fit.stroke_limit
    assert results(fit)["stroke-limit"] == results(fit)["free-stroke"] == results(fit)["new-to-worn"] == "fail"
    code, out, _ = run(own, "--clearance", "0.1 in")
    flat = " ".join(out.split())
    assert code == 1
    assert "CUT THE PUSHROD" not in out
    assert "Linings new: the cam has no room for so much clearance. Change: a smaller --clearance." in flat


def test_a_figure_that_holds_where_it_exists_is_no_pass_for_where_it_does_not() -> None:
    band = Band(1.0, 3.0)
    assert worst(np.array([np.nan, 2.0, 2.5]), band).result == "not-evaluated"
    assert worst(np.array([np.nan, 4.0, 2.5]), band).result == "fail"
    assert worst(np.array([1.5, 2.0, 2.5]), band).figures == (1.5, 1.0, 0.5)
    assert worst(np.array([np.nan] * 3), band).figures == (None, None, None)


def test_linings_under_their_least_are_to_be_replaced_first(run: Run, own: str) -> None:
    Path(own).write_text(text_of(OWN.replace("7/16", "3/16")), encoding="utf-8")
    code, out, _ = run(own)
    flat = " ".join(out.split())
    assert code == 1
    assert "DO NOT CUT YET: SOMETHING FAILED" in out
    assert "Linings now 3/16 in (4.8 mm): under the least, 1/4 in (6.4 mm), 49 CFR 393.47(d)(2)." in flat
    assert "FAIL lining thickness: 3/16 in (4.8 mm) measured, limit 1/4 in (6.4 mm)" in flat
    assert "worn is 3/16" not in flat


def test_past_the_cams_tip_neither_slack_nor_angle_is_said_to_help(run: Run, own: str) -> None:
    thin = OWN.replace("7/16 in", "0.15 in") + 'drum_diameter = "16.53 in"\n'
    Path(own).write_text(text_of(thin), encoding="utf-8")
    flat = " ".join(run(own)[1].split())
    assert "the cam would turn past its tip" in flat
    assert "Change: thicker linings, or a drum that is less worn. Computed" in flat


# not to be cut by


@pytest.mark.parametrize("name", builtin_names())
def test_a_built_in_setup_is_an_example_only(run: Run, name: str) -> None:
    code, out, err = run(name)
    assert (code, err) == (1, "")
    assert "EXAMPLE ONLY: DO NOT CUT BY THIS" in out
    assert "CUT THE PUSHROD" not in out
    assert "- linkage.face_distance:" in out


@pytest.mark.parametrize(
    ("left_out", "key"),
    [(ARM, "linkage.arm_length"), (OFFSET, "linkage.axis_offset"), (FACE, "linkage.face_distance"),
     (CHAMBER, "chamber.size")],
)  # fmt: skip
def test_a_figure_of_the_base_is_named_and_not_cut_by(run: Run, tmp_path: Path, left_out: str, key: str) -> None:
    path = tmp_path / "lacks.toml"
    path.write_text(text_of(OWN.replace(left_out, "")), encoding="utf-8")
    code, out, _ = run(str(path))
    assert code == 1
    assert "EXAMPLE ONLY" in out
    assert re.findall(r"^- ((?:linkage|chamber)\.\w+):", out, re.M) == [key]
    data = json.loads(run(str(path), "--json")[1])
    assert (data["example_only"], data["missing"]) == (True, [key])


def test_readings_stand_for_arm_and_chamber() -> None:
    body = OWN.replace(CHAMBER, "").replace(ARM, "")
    readings = '[measured]\narm_length = "5.5 in"\nclamp_diameter = "8 3/32 in"\nlong_stroke_marks = false\n'
    assert fit_of(body).missing == ["linkage.arm_length", "chamber.size"]
    assert fit_of(body + readings).missing == []


def test_a_rod_that_is_too_short_fails_and_says_by_how_much(run: Run, own: str) -> None:
    Path(own).write_text(text_of(OWN.replace('rod_reach = "7 in"', 'rod_reach = "4 in"')), encoding="utf-8")
    code, out, _ = run(own)
    assert code == 1
    assert "DO NOT CUT YET: SOMETHING FAILED" in out
    assert "TOO SHORT" in out
    # 4 3/4 in would be flush; 7/16 in of the clevis' 15/16 in of thread may stay empty
    assert "The rod is too short by 5/16 in (7.9 mm)" in " ".join(out.split())


def test_a_rod_that_will_do_as_it_is_is_not_cut(run: Run, own: str) -> None:
    for reach in ("4 3/4 in", "4 5/8 in"):
        Path(own).write_text(text_of(OWN.replace('rod_reach = "7 in"', f'rod_reach = "{reach}"')), encoding="utf-8")
        code, out, _ = run(own)
        assert code == 0
        assert "DO NOT CUT: THE PUSHROD WILL DO AS IT IS" in out
        assert "\nCUT THE PUSHROD" not in out
        assert json.loads(run(own, "--json")[1])["answer"]["cut_off_mm"] == 0
    unmeasured = OWN.replace(CLEVIS, '[clevis]\nrod_reach = "4 5/8 in"')
    Path(own).write_text(text_of(unmeasured), encoding="utf-8")
    assert "DO NOT CUT YET: MEASURE THE CLEVIS FIRST" in run(own)[1]


@pytest.mark.parametrize("clevis", [CLEVIS, ""])
def test_a_rod_that_would_end_in_the_chamber_is_no_rod_to_cut(run: Run, own: str, clevis: str) -> None:
    near = OWN.replace(FACE, 'face_distance = "3 in"').replace(CLEVIS, clevis)
    Path(own).write_text(text_of(near), encoding="utf-8")
    code, out, _ = run(own)
    flat = " ".join(out.split())
    assert code == 1
    assert "DO NOT CUT YET: SOMETHING FAILED" in flat
    assert "FAIL clevis clear of chamber: " in flat
    assert "longer face_distance" in flat
    assert not re.search(r"-\d[^ ]* in", out)
    data = json.loads(run(own, "--json")[1])
    assert (data["answer"]["rod_reach_mm"], data["answer"]["cut_off_mm"]) == (None, None)
    assert "released, the clevis would stand in the chamber" in data["holes"][0]["faults"]
    assert {row["check"]: row["result"] for row in data["checks"]}["clevis-clear-of-chamber"] == "fail"


def test_the_clevis_touches_the_chamber_at_its_own_length_and_not_a_hair_before() -> None:
    setup = setup_of(OWN)
    back = setup.clevis.pin_to_end
    assert in_the_chamber(setup, back)
    assert not in_the_chamber(setup, np.nextafter(back, np.inf))
    unmeasured = setup_of(OWN.replace(CLEVIS, ""))
    assert in_the_chamber(unmeasured, unmeasured.clevis.pin_to_inside)
    assert not in_the_chamber(unmeasured, unmeasured.clevis.pin_to_end)
    least = unmeasured.clevis.pin_to_inside + least_thread()  # fork and thread: no clevis is shorter
    assert in_the_chamber(unmeasured, least)
    assert not in_the_chamber(unmeasured, np.nextafter(least, np.inf))


@pytest.mark.parametrize(("face", "result"), [("3.15", "fail"), ("3.3", "fail"), ("3.45", "fail"), ("3.65", None)])
@pytest.mark.parametrize("clevis", ["", '[clevis]\npin_to_inside = "1 1/4 in"'])
def test_a_clevis_that_was_not_measured_needs_room_for_its_thread_too(
    run: Run, own: str, face: str, result: str | None, clevis: str
) -> None:
    near = OWN.replace(FACE, f'face_distance = "{face} in"').replace(OFFSET, 'axis_offset = "5.35 in"')
    Path(own).write_text(text_of(near.replace(CLEVIS, clevis)), encoding="utf-8")
    code, out, _ = run(own)
    flat, row = " ".join(out.split()), clear_row(json.loads(run(own, "--json")[1]))
    assert row.get("result") == result
    assert (code, "CUT THE PUSHROD" in out.split("\n")) == ((1, False) if result else (0, True))
    assert ("limit 1 3/4 in" in flat) == bool(result)
    whose = "its own" if clevis else "the project's own"
    assert (f"(by {whose} size from pin to inside and 1/2 in (12.7 mm) of thread)" in flat) == bool(result)


def clear_row(data: dict[str, Any]) -> dict[str, Any]:
    return next((row for row in data["checks"] if row["check"] == "clevis-clear-of-chamber"), {})


@pytest.mark.parametrize("face", ["10.5 in", "7 9/16 in"])
def test_a_fit_asks_for_no_rod_of_the_base(run: Run, own: str, face: str) -> None:
    """Chamber, arm and mounting give the rod: whether the base's would reach is nothing to it."""
    bare = OWN.replace(FACE, f'face_distance = "{face}"').replace('rod_reach = "7 in"', "")
    answers = list[float]()
    for rod in ("", '\npin_reach = "9 in"' if face == "10.5 in" else '\npin_reach = "6 in"'):
        Path(own).write_text(text_of(bare.replace(ARM, ARM + rod)), encoding="utf-8")
        code, out, err = run(own, "--json")
        assert (code, err) == (0, "")
        answers.append(json.loads(out)["answer"]["pin_reach_mm"])
    assert answers[0] == answers[1]


def test_a_rod_that_is_written_and_cannot_reach_is_still_refused(run: Run, own: str) -> None:
    far = OWN.replace(FACE, 'face_distance = "10.5 in"').replace(ARM, ARM + '\npin_reach = "5 in"')
    Path(own).write_text(text_of(far), encoding="utf-8")
    code, _, err = run(own)
    assert code == 2
    assert "linkage.pin_reach" in err


def test_a_clevis_with_too_little_thread_is_named_and_not_the_rod(run: Run, own: str) -> None:
    short = OWN.replace('pin_to_end = "2 1/8 in"', 'pin_to_end = "1 1/2 in"')
    Path(own).write_text(text_of(short), encoding="utf-8")
    flat = " ".join(run(own)[1].split())
    assert "The clevis itself has only" in flat
    assert "TOO SHORT" not in flat
    assert "a longer one is needed" not in flat


@pytest.mark.parametrize(
    ("reach", "thread", "says"),
    [
        ("8 in", "2.5 in", "Cutting off 3 1/4 in takes all of the rod's 2 1/2 in (63.5 mm) of thread"),
        ("7 in", "2.5 in", "Cutting off 2 1/4 in leaves 1/4 in (6.4 mm) of the rod's 2 1/2 in (63.5 mm) of thread"),
        ("4 3/4 in", "1/4 in", "The rod has only 1/4 in (6.4 mm) of thread: cut more thread on it"),
    ],
)
def test_a_thread_that_the_cut_takes_is_told_with_what_to_do(
    run: Run, own: str, reach: str, thread: str, says: str
) -> None:
    text = OWN.replace('rod_reach = "7 in"', f'rod_reach = "{reach}"').replace('"3 in"', f'"{thread}"')
    Path(own).write_text(text_of(text), encoding="utf-8")
    code, out, _ = run(own)
    assert code == 1
    assert says in " ".join(out.split())


@pytest.mark.parametrize("name", [name for name in builtin_names() if not name.startswith("worn")])
def test_the_rod_that_a_sample_file_offers_keeps_its_thread(name: str) -> None:
    text = builtin_text(name).replace("# rod_reach", "rod_reach")
    fit = fitting(read_setup_text(text, "sample.toml"), Asked(), "inch")
    assert fit.cut_off is not None
    assert {row.check: row.result for row in fit_rows(fit)}["clevis-thread"] == "pass"


@pytest.mark.parametrize(
    ("heat", "hot"), [('"500 degF"', True), ('"120 degC"', True), ('"70 degF"', False), ("", False)]
)
@pytest.mark.parametrize("kind", ["automatic", "manual"])
def test_nobody_is_told_to_set_an_adjuster_on_a_hot_drum(run: Run, own: str, heat: str, hot: bool, kind: str) -> None:
    body = OWN + (f"drum_temperature = {heat}\n" if heat else "") + f'[adjuster]\nkind = "{kind}"\n'
    Path(own).write_text(text_of(body), encoding="utf-8")
    code, out, _ = run(own)
    head, rest = " ".join(out.split()).split("CUT THE PUSHROD")
    steps = rest.split("SET THE ADJUSTER")[1]
    assert code == 0
    assert ("let it cool before the adjuster is set, do not adjust hot" in head) == hot
    assert steps.startswith(" - Let the drum cool first; do not adjust hot. - Turn the worm") == hot
    assert json.loads(run(own, "--json")[1])["let_drum_cool"] is hot
    if hot and "degF" in heat:
        assert "The drum is hot, 500 degF (260 degC): let it cool" in head


def test_a_clevis_that_was_not_measured_is_not_judged(run: Run, own: str) -> None:
    Path(own).write_text(text_of(OWN.replace(CLEVIS, "")), encoding="utf-8")
    code, out, _ = run(own)
    assert code == 0
    assert "if the clevis measures 1 1/4 in (31.8 mm) from pin to inside: measure it" in " ".join(out.split())
    assert "NOT EVALUATED  clevis thread: clevis.pin_to_inside is missing" in out
    assert "thread held" not in out


def test_an_arm_measured_at_another_length_than_is_written_is_not_cut_for(run: Run, own: str) -> None:
    body = OWN.replace(OFFSET, f'{OFFSET}\narm_holes = ["5 in", "5.5 in", "6 in"]')
    Path(own).write_text(text_of(f'{body}[measured]\narm_length = "6 in"\n'), encoding="utf-8")
    code, out, _ = run(own)
    flat = " ".join(out.split())
    assert code == 1
    assert "EXAMPLE ONLY" in out
    assert "5 1/2 in (139.7 mm) is written as linkage.arm_length, and 6 in (152.4 mm) was measured." in flat
    assert re.search("FAIL same arm length: 5 1/2 in", flat)
    assert "it is the arm length of before" not in flat
    data = json.loads(run(own, "--json")[1])
    assert (data["missing"], data["answer"]["arm_length_mm"]) == (["linkage.arm_length"], 139.7)
    near = setup_of(f'{body}[measured]\narm_length = "5 9/16 in"\n')  # as finely as the tape is read
    fit = fitting(near, Asked(), "inch")
    assert fit.missing == []
    assert results(fit)["same-arm-length"] == "not-evaluated"


@pytest.mark.parametrize(("reach", "words"), [(0.0, "do not cut"), (1e-10, "do not cut"), (1.0, "TOO SHORT")])
def test_a_rod_with_just_enough_thread_is_not_too_short(reach: float, words: str) -> None:
    """Half an inch of thread is enough: neither heading nor advice may ask for a longer rod."""
    flush = 6.0625 * 25.4 - 1.1875 * 25.4
    setup = setup_of(OWN)
    shortest = flush - (2.125 - 1.1875 - 0.5) * 25.4
    setup = replace(setup, clevis=replace(setup.clevis, rod_reach=shortest - reach))
    fit = fitting(setup, Asked(clearance=0.0238 * 25.4), "inch")
    assert fit.best.cut.pin_reach == pytest.approx(6.0625 * 25.4)
    text = " ".join(fit_text(fit, 80).split())
    assert f"from the face to the rod's end as it is: {words}" in text
    assert ("a longer one is needed" in text) == (words == "TOO SHORT")


def test_no_spring_brake_is_caged_where_none_is_fitted(run: Run, own: str) -> None:
    assert "Spring brake released, apply" in run(own)[1]
    Path(own).write_text(text_of(OWN + "[parking]\nfitted = false\n"), encoding="utf-8")
    out = run(own)[1]
    assert "spring brake" not in out.lower()
    assert "Chock the wheels: with the clevis pin drawn" in " ".join(re.sub(r"[|]", " ", out).split())


def test_an_automatic_adjusters_worm_is_not_forced_back(run: Run, own: str) -> None:
    said = "turns back against its pawl or clutch"
    assert said in " ".join(run(own)[1].split())
    Path(own).write_text(text_of(f'{OWN}[adjuster]\nkind = "manual"\n'), encoding="utf-8")
    assert said not in " ".join(run(own)[1].split())


# which hole


def holes(*inches: str, body: str = OWN) -> Fitting:
    named = ", ".join(f'"{one} in"' for one in inches)
    return fit_of(body.replace(OFFSET, f"{OFFSET}\narm_holes = [{named}]"))


def test_the_hole_of_the_arm_of_before_is_used_where_it_holds() -> None:
    fit = holes("6.0", "5.0", "5.5")
    assert [hole.arm_length / 25.4 for hole in fit.holes] == pytest.approx([5.0, 5.5, 6.0])
    assert fit.best.arm_length == 5.5 * 25.4
    assert "the axle's other end must have the same" in hole_reasons(fit)[0]
    torque = [float(hole.cut.brake_torque[PRESENT]) for hole in fit.holes if hole.cut]
    assert torque == sorted(torque)


def test_a_hole_with_too_much_stroke_is_not_used_and_the_other_end_is_not_forgotten() -> None:
    """The arm of before has a stroke over the limit: the nearest that holds is named, and fails as another length."""
    fit = holes("5.5", "6.5", "7.5", body=OWN.replace(ARM, 'arm_length = "7.5 in"'))
    faults = {round(hole.arm_length / 25.4, 1): fit.faults(hole) for hole in fit.holes}
    assert faults == {5.5: [], 6.5: [], 7.5: ["stroke over the readjustment limit"]}
    assert fit.best.arm_length == pytest.approx(6.5 * 25.4)
    assert {row.check: row.result for row in fit_rows(fit)}["same-arm-length"] == "fail"
    said = " ".join(hole_reasons(fit))
    assert "nearest to the 7 1/2 in of before" in said
    assert "Not 7 1/2 in: stroke over the readjustment limit." in said


def test_no_hole_holds_where_the_angle_asked_for_is_out_of_the_band() -> None:
    setup = setup_of(OWN.replace(OFFSET, f'{OFFSET}\narm_holes = ["5 in", "5.5 in"]'))
    fit = fitting(setup, Asked(angle=110 * pi / 180), "inch")
    assert all(fit.faults(hole) == ["angle outside 80 to 100 deg"] for hole in fit.holes)
    assert hole_reasons(fit)[0].startswith("No hole holds every limit")
    assert {row.check: row.result for row in fit_rows(fit)}["arm-angle-applied"] == "fail"


def test_a_swing_into_the_bracket_is_a_fault() -> None:
    """A chamber that stands close to a long arm: the outlines overlap by more than a quarter of an inch."""
    lengths = 'arm_length = "6.5 in"\npin_reach = "4.5 in"', 'axis_offset = "6.5 in"', 'face_distance = "3 in"'
    near = OWN
    for before, now in zip((ARM, OFFSET, FACE), lengths, strict=True):
        near = near.replace(before, now)
    fit = fit_of(near)
    row = next(row for row in fit_rows(fit) if row.check == "interference")
    assert row.result == "fail"
    assert fit.faults(fit.best) == ["it would not swing clear", "released, the clevis would stand in the chamber"]


# formats


def test_json_and_csv_hold_the_same_rods(run: Run, own: str) -> None:
    Path(own).write_text(text_of(OWN.replace(OFFSET, f'{OFFSET}\narm_holes = ["5 in", "5.5 in"]')), encoding="utf-8")
    data = json.loads(run(own, "--json")[1])
    rows = list(csv.DictReader(io.StringIO(run(own, "--csv")[1])))
    assert len(rows) == len(data["rods"]) == 6
    for row, rod in zip(rows, data["rods"], strict=True):
        assert float(row["pin_reach_mm"]) == rod["pin_reach_mm"]
        assert float(row["worn.arm_angle_deg"]) == rod["worn"]["arm_angle_deg"]
        assert (row["use"] == "True") is rod["use"]
    (used,) = [rod for rod in data["rods"] if rod["use"]]
    assert used["pin_reach_mm"] == data["answer"]["pin_reach_mm"] == 150.8125
    assert data["answer"]["pushrod_length_mm"] == 176.2125
    fit = fit_of(OWN)
    assert used["present"]["arm_angle_deg"] == pytest.approx(degrees(fit.best.rods[1].arm_angle[PRESENT]), abs=1e-6)
    assert {row["check"] for row in data["checks"]} >= {"stroke-limit", "clevis-thread", "interference"}


def test_metric_files_are_cut_to_the_millimetre(run: Run, own: str) -> None:
    def metric(found: re.Match[str]) -> str:
        return f'"{read_length(found[1]):.6g} mm"'

    def read_length(words: str) -> float:
        from geometry.units import parse

        return parse(f"{words} in", "length", "")

    Path(own).write_text(re.sub(r'"([\d /.]+) in"', metric, text_of(OWN)), encoding="utf-8")
    code, out, _ = run(own)
    assert code == 0
    assert "   151 mm    from the chamber's face" in out
    assert "1 mm EITHER WAY" in out
    inch = run(own, "--units", "inch")[1]
    assert "   5 15/16 in  from the chamber's face" in inch


@cache
def long_fits(system: Any) -> tuple[Fitting, ...]:
    """Fits with much to say: an arm with many holes, and a setup in which nothing is the vehicle's own."""
    setup = setup_of(OWN.replace(OFFSET, f'{OFFSET}\narm_holes = ["5 in", "5.5 in", "6 in", "6.5 in"]'))
    return tuple(fitting(s, Asked(), system) for s in (setup, read_setup(DRIVE)))


@pytest.mark.parametrize("columns", [40, 60, 80, 100])
@pytest.mark.parametrize("system", ["inch", "metric"])
def test_no_line_runs_off_the_screen(columns: int, system: Any) -> None:
    for text in (fit_text(fit, columns) for fit in long_fits(system)):
        assert max(len(line) for line in text.split("\n")) <= columns


def test_cautions_are_on_the_screen(run: Run, own: str) -> None:
    out = " ".join(re.sub(r"[|]", " ", run(own)[1]).split())
    assert "Chock the wheels. Cage the spring brake with its own tool" in out
    assert "Turn an automatic adjuster by hand only now, at installation" in out
    assert "hides the fault and has killed people" in out
    assert "Local codes, the maker's instructions and licensed practice decide" in out
    Path(own).write_text(text_of(f'{OWN}[adjuster]\nkind = "manual"\n'), encoding="utf-8")
    assert "automatic adjuster" not in run(own)[1]


def test_where_no_rod_does_it_that_is_said(run: Run, own: str) -> None:
    code, out, _ = run(own, "--clearance", "3 in")
    assert code == 1
    assert "NO PUSHROD DOES IT" in out
    assert "ask for a smaller --clearance" in " ".join(out.split())
    data = json.loads(run(own, "--json", "--clearance", "3 in")[1])
    assert (data["answer"], data["checks"]) == (None, [])
    far = run(own, "--angle", "175 deg")[1]
    assert "No rod meets the arm both released and at 175.0 deg applied" in " ".join(far.split())
    weak = text_of(OWN + '[test]\npressure = "1 psi"\nreservoir_pressure = "1 psi"\n')
    Path(own).write_text(weak, encoding="utf-8")
    code, out, _ = run(own)
    assert code == 1
    assert "does not bring the linings to the drum" in out
    assert csv.DictReader(io.StringIO(run(own, "--csv")[1])).fieldnames is not None


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--angle", "92"), "--angle = 92: has no unit"),
        (("--angle", "0 deg"), "--angle = 0.0 deg: is no angle of an arm"),
        (("--angle", "180 deg"), "--angle = 180.0 deg: is no angle of an arm"),
        (("--clearance", "-0.1 mm"), "--clearance = -0.004 in: must not be negative"),
        (("--clearance", "2 deg"), "--clearance = 2 deg"),
        (("--json", "--csv"), "choose one"),
    ],
)
def test_what_cannot_be_used_is_said(run: Run, more: tuple[str, ...], says: str) -> None:
    code, out, err = run(DRIVE, *more)
    assert (code, out) == (2, "")
    assert says in err


@pytest.mark.parametrize("columns", ["60", "80"])
def test_help_has_examples_exit_codes_and_fits(run: Run, monkeypatch: pytest.MonkeyPatch, columns: str) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    code, out, _ = run("--help")
    assert code == 0
    assert "Examples:\n  mechviz fit" in out
    assert "Exit code: 0 there is a length to cut, 1 there is none" in out
    assert max(len(line) for line in out.split("\n")) <= int(columns)
