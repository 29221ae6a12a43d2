"""`mechviz faults`: figures of the solver, words of the catalogue, and a brake with a defect beside the sound one."""

import csv
import io
import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from geometry.condition import tip_angle
from geometry.defects import DEFECTS, compare_sides
from geometry.setup import read_setup
from mechviz.drawing.scene import touches
from mechviz.faults.changes import changes
from mechviz.faults.picture import faults_picture
from mechviz.faults.scene import held_scene
from mechviz.faults.study import NOT_FELT, combined_row, every_row, read_amounts, sound_row
from mechviz.faults.text import sides_lines
from tests.brakes import part
from tests.commands import Run, runner
from tests.drawing.measure import Drawn, on_edges
from tests.sweeps import sweep

DRIVE = "drive-16.5x7"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("faults", capsys, monkeypatch)


def test_every_defect_is_listed_with_what_shows_of_it(run: Run) -> None:
    code, out, _ = run(DRIVE)
    assert code == 0
    flat = " ".join(out.split())
    for one in DEFECTS:
        assert f"{one.title} ({one.name})" in flat
        assert f"Outside: {one.outside}" in flat
    assert "The cam would turn past its tip" in flat
    assert max(len(line) for line in out.split("\n")) <= 80


def test_json_and_csv_hold_the_solvers_figures(run: Run) -> None:
    data = json.loads(run(DRIVE, "--json")[1])
    rows = list(csv.DictReader(io.StringIO(run(DRIVE, "--csv")[1])))
    solved = every_row(read_setup(DRIVE))
    assert [row["name"] for row in data["faults"]] == [row.name for row in solved]
    assert [row["name"] for row in rows] == ["as-found", *(row.name for row in solved)]
    stuck = next(row for row in solved if row.name == "adjuster-stuck")
    told = next(row for row in data["faults"] if row["name"] == "adjuster-stuck")
    assert told["stroke_mm"] == pytest.approx(float(stuck.outcome.stroke), abs=1e-6)
    gone = next(row for row in data["faults"] if row["name"] == "cam-past-profile")
    assert gone["stroke_mm"] is None
    assert "past its tip" in gone["reason"]


def test_words_of_a_long_pushrod_are_those_of_its_angles() -> None:
    long = combined_row(read_setup(DRIVE), {"pushrod-too-long": None})
    assert np.degrees(long.outcome.released_angle) > 95
    assert "nearly square" not in long.outside


def test_amounts_are_read_with_their_units() -> None:
    found = read_amounts(["play=1/8 in", "diaphragm-leak=40 %", "loose-bracket"])
    assert found == {"play": 3.175, "diaphragm-leak": 0.4, "loose-bracket": None}


def test_a_combination_is_shown_beside_the_brake_as_found(run: Run) -> None:
    _, out, _ = run(DRIVE, "--fault", "play=1/8 in", "--fault", "drum-out-of-round")
    assert "As found" in out
    assert "Worn clevis pin or camshaft bushings and drum out of round" in " ".join(out.split())
    assert "The stroke swings by" in out


def test_an_oval_drums_swings_are_told_wherever_defects_are(run: Run) -> None:
    setup = read_setup(DRIVE)
    outcome = combined_row(setup, {"drum-out-of-round": None}).outcome
    swing = f"{float(outcome.torque_swing) / 1355.8179483:.1f}"
    for tokens in ((), ("--fault", "drum-out-of-round")):
        flat = " ".join(run(DRIVE, *tokens)[1].split())
        told = flat.partition("The stroke swings by ")[2]
        assert told.partition(" lbf ft")[0].endswith(f"in, the brake torque by {swing}")
    data = json.loads(run(DRIVE, "--fault", "drum-out-of-round", "--json")[1])
    assert data["faults"][0]["torque_swing_Nm"] == pytest.approx(float(outcome.torque_swing) / 1000, abs=1e-6)
    assert data["as_found"]["torque_swing_Nm"] == 0
    sick = combined_row(setup, {"drum-out-of-round": None})
    told = {one.figure.name for one in changes(sound_row(setup), sick, "inch")[0]}
    assert {"stroke swings by", "torque swings by"} <= told


def test_an_oval_drum_does_not_show_where_no_shoe_moves(run: Run) -> None:
    both = ("--fault", "drum-out-of-round", "--fault", "anchor-frozen-released")
    flat = " ".join(run(DRIVE, *both)[1].split())
    assert "changes with the place of the wheel" not in flat
    assert "torque swing as the wheel turns" not in flat
    assert NOT_FELT in flat
    data = json.loads(run(DRIVE, *both, "--json")[1])
    assert (data["faults"][0]["swing_mm"], data["faults"][0]["torque_swing_Nm"]) == (0, 0)
    assert "as the wheel turns" not in data["faults"][0]["inside"]
    setup = read_setup(DRIVE)
    sick = combined_row(setup, dict.fromkeys(["drum-out-of-round", "anchor-frozen-released"]))
    words = " ".join(text.words for text in Drawn(faults_picture(setup, sound_row(setup), sick).svg).texts())
    assert "swings" not in words
    assert "changes with the place of the wheel" not in words
    assert "as the wheel turns" not in words
    assert f"Inside: {NOT_FELT}" in words
    assert combined_row(setup, {"drum-out-of-round": None}).inside == "Gap, stroke and torque swing as the wheel turns."


def test_no_drag_is_told_where_there_is_no_state(run: Run) -> None:
    data = json.loads(run(DRIVE, "--fault", "cam-past-profile", "--json")[1])
    assert data["faults"][0]["drag_Nm"] is None
    rows = {row["name"]: row for row in csv.DictReader(io.StringIO(run(DRIVE, "--csv")[1]))}
    assert rows["cam-past-profile"]["drag_Nm"] == ""
    assert float(rows["adjuster-stuck"]["drag_Nm"]) == 0


def test_a_worn_brakes_cam_comes_past_its_profile_too(run: Run) -> None:
    out = " ".join(run("worn-drive-16.5x7", "--fault", "cam-past-profile")[1].split())
    assert "The cam would turn past its tip" in out
    assert "must be positive" not in " ".join(run("worn-drive-16.5x7")[1].split())
    code, _, err = run("worn-drive-16.5x7", "--fault", "cam-past-profile=12 mm")
    assert code == 2
    assert "is more than there is left" in err


@pytest.mark.parametrize(
    ("tokens", "says"),
    [
        (("--fault", "adjuster-stick"), "write adjuster-stuck"),
        (("--fault", "play=1/8"), "has no unit"),
        (("--fault", "play=9 in"), "use 0.000 in to 0.500 in"),
        (("--fault", "diaphragm-leak=much"), "write a share such as 0.3 or 30 %"),
        (("--fault", "play", "--fault", "play=1/8 in"), "--fault play: is asked for twice; write it once"),
        (
            ("--fault", "pushrod-too-short", "--fault", "pushrod-too-long"),
            "--fault pushrod-too-long: contradicts --fault pushrod-too-short: one wheel cannot have both; leave one",
        ),
        (("--fault", "arm-too-long", "--fault", "arm-too-short=1/4 in"), "one wheel cannot have both"),
        (("-o", "x.png"), "add --fault NAME"),
        (("--fault", "play", "-o", "x.doc"), "use .svg, .png or .pdf"),
    ],
)
def test_what_cannot_be_used_is_said(run: Run, tokens: tuple[str, ...], says: str) -> None:
    code, out, err = run(DRIVE, *tokens)
    assert (code, out) == (2, "")
    assert says in err


@pytest.mark.parametrize("suffix", ["svg", "png", "pdf"])
def test_the_picture_is_written(run: Run, tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"stuck.{suffix}"
    assert run(DRIVE, "--fault", "adjuster-stuck", "-o", str(path))[0] == 0
    assert path.read_bytes().startswith({"svg": b"<svg", "png": b"\x89PNG", "pdf": b"%PDF"}[suffix])


@pytest.mark.parametrize("name", sweep((d.name for d in DEFECTS[::-1]), always=12))
def test_each_defects_picture_says_what_shows_and_runs_off_nowhere(name: str) -> None:
    setup = read_setup(DRIVE)
    picture = Drawn(faults_picture(setup, sound_row(setup), combined_row(setup, {name: None})).svg)
    words = " ".join(text.words for text in picture.texts())
    defect = next(d for d in DEFECTS if d.name == name)
    assert [on_edges(picture, picture.texts(), prefix) for prefix in ("first-", "second-")] == [[], []]
    assert f"Outside: {defect.outside}" in words
    for text in picture.texts():
        assert text.box[0] >= 0, text
        assert text.box[2] <= picture.width, text
        assert text.box[3] <= picture.height, text


def test_the_wheels_of_an_axle_are_held_against_each_other(run: Run) -> None:
    out = " ".join(run(DRIVE, "--other", "steer-15x4")[1].split())
    assert "The other wheel: Steering axle, 15 x 4" in out
    assert "% more, and the vehicle pulls to this side" in out
    assert "49 CFR 393.47(b)" in out
    assert "49 CFR 393.47(c)" in out
    alike = " ".join(run(DRIVE, "--other", DRIVE)[1].split())
    assert "both brake alike. Their strokes are alike." in alike
    assert "0.00 in" not in alike
    assert "393.47" not in alike


def test_sides_are_compared_by_their_torques() -> None:
    setup = read_setup(DRIVE)
    sound, glazed = sound_row(setup), combined_row(setup, {"lining-glazed": 0.5})
    sides = compare_sides(glazed.wheel, sound.wheel, glazed.outcome, sound.outcome)
    expected = 1 - float(glazed.outcome.brake_torque / sound.outcome.brake_torque)
    assert sides.imbalance == pytest.approx(-expected)
    back = compare_sides(sound.wheel, glazed.wheel, sound.outcome, glazed.outcome)
    assert back.imbalance == pytest.approx(expected)
    assert (sides.same_chamber, sides.same_arm, float(sides.longer)) == (True, True, 0.0)


@pytest.mark.parametrize("fault", ["chamber-too-large", "lining-cracked=60deg", "chamber-too-small", "lining-glazed"])
def test_how_much_more_or_less_a_wheel_brakes_is_a_share_of_the_other_wheels_torque(run: Run, fault: str) -> None:
    setup = read_setup(DRIVE)
    sick, sound = (
        float(row.outcome.brake_torque) for row in (combined_row(setup, read_amounts([fault])), sound_row(setup))
    )
    share, out = sick / sound - 1, " ".join(run(DRIVE, "--fault", fault)[1].split())
    assert abs(share) > 0.02
    assert f"it brakes {100 * abs(share):.0f} % {'more' if share > 0 else 'less'}, and" in out


def test_beside_a_wheel_that_does_not_brake_the_other_alone_brakes() -> None:
    setup = read_setup(DRIVE)
    sound, frozen = sound_row(setup), combined_row(setup, {"anchor-frozen-released": None})
    words = " ".join(
        sides_lines(compare_sides(sound.wheel, frozen.wheel, sound.outcome, frozen.outcome), "it", "inch", 80)
    )
    assert "only this one brakes, and the vehicle pulls to this side." in words
    words = " ".join(
        sides_lines(compare_sides(frozen.wheel, sound.wheel, frozen.outcome, sound.outcome), "it", "inch", 80)
    )
    assert "it brakes 100 % less, and the vehicle pulls to the other side." in words


def test_a_wheel_that_does_not_brake_is_not_compared(run: Run) -> None:
    out = " ".join(run(DRIVE, "--fault", "cam-past-profile")[1].split())
    assert "cannot be compared" in out


# the picture stands as the defect holds it


def test_a_shoe_that_stays_on_the_drum_is_drawn_there_with_the_brake_let_go() -> None:
    setup = read_setup(DRIVE)
    sick = combined_row(setup, {"anchor-frozen-applied": None})
    scene = held_scene(setup, sick.wheel, "released")
    assert scene.stroke == 0.0
    assert (touches(scene.state.left), touches(scene.state.right)) == (False, True)
    assert scene.state.brake_torque == float(sick.outcome.drag)
    picture = Drawn(faults_picture(setup, sound_row(setup), sick).svg)
    assert "each let go" in picture.texts()[0].words
    assert "transform" in picture.by_id["second-part-lining-right"].attrib
    same, moved = (picture.by_id[f"second-part-{name}"].get("transform") for name in ("lining-left", "lining-right"))
    was = [picture.by_id[f"first-part-{name}"].get("transform") for name in ("lining-left", "lining-right")]
    assert (same == was[0], moved == was[1]) == (True, False)


def test_behind_a_frozen_anchor_the_arm_is_drawn_turned_and_the_cam_is_not() -> None:
    setup = read_setup(DRIVE)
    sick = combined_row(setup, {"anchor-frozen-released": None})
    scene, still = held_scene(setup, sick.wheel, "applied"), held_scene(setup, sick.wheel, "released")
    assert scene.stroke == pytest.approx(float(sick.outcome.stroke))
    assert float(scene.poses.cam_angle[0]) == float(still.poses.cam_angle[0])
    assert float(scene.poses.arm_angle[0]) < float(still.poses.arm_angle[0])
    picture = Drawn(faults_picture(setup, sound_row(setup), sick).svg)
    assert picture.words("second-value-verdict") == "not evaluated"
    assert picture.words("second-value-why") == "no lining presses"


def test_a_cam_past_its_profile_is_drawn_where_the_profile_ends() -> None:
    setup = read_setup(DRIVE)
    scene = held_scene(setup, combined_row(setup, {"cam-past-profile": None}).wheel, "applied")
    assert (scene.exists, scene.stands) == (False, True)
    assert float(scene.poses.cam_angle[0]) == pytest.approx(tip_angle(scene.brake))
    assert float(scene.poses.right.gap_least[0]) > 0.1


def test_the_part_that_is_spoken_of_is_ringed_and_no_other() -> None:
    setup = read_setup(DRIVE)
    svg = faults_picture(setup, sound_row(setup), combined_row(setup, {"adjuster-stuck": None})).svg
    assert svg.count('class="mv-named"') == 1
    before, after = svg.split('class="mv-named"')
    assert 'id="second-panel"' in before
    assert 'id="second-panel"' not in after
    shared = replace(setup, brake=part(setup.brake, "shoe", anchor_spacing=0.0))
    frozen = combined_row(shared, {"anchor-frozen-applied": None})
    assert 'class="mv-named"' in faults_picture(shared, sound_row(shared), frozen).svg


def test_what_changes_is_told_in_figures_and_what_does_not_by_name() -> None:
    setup = read_setup(DRIVE)
    sound, loose = sound_row(setup), combined_row(setup, {"loose-bracket": None})
    found, same = changes(sound, loose, "inch")
    told = {one.figure.name: one.words for one in found}
    strokes = [float(row.outcome.stroke) / 25.4 for row in (sound, loose)]
    assert told["applied stroke"] == f"{strokes[0]:.2f} to {strokes[1]:.2f} in"
    assert "free stroke" in same
    assert not {"free stroke", "least gap"} & told.keys()


def test_the_other_wheel_is_told_by_what_differs() -> None:
    setup, other = read_setup(DRIVE), sound_row(read_setup("trailer-16.5x7"), "The other wheel")
    words = [text.words for text in Drawn(faults_picture(setup, other, sound_row(setup)).svg).texts()]
    assert "Differs" in words
    assert any(text.startswith("The same: ") for text in words)
    alike = [text.words for text in Drawn(faults_picture(setup, sound_row(setup), sound_row(setup)).svg).texts()]
    assert "Every figure is the same" in " ".join(alike)


def test_many_defects_leave_room_for_what_they_change() -> None:
    setup = read_setup(DRIVE)
    names = [one.name for one in DEFECTS if one.name != "cam-past-profile"]
    picture = Drawn(faults_picture(setup, sound_row(setup), combined_row(setup, dict.fromkeys(names[::2]))).svg)
    texts = picture.texts()
    assert any(text.words == "Changes" for text in texts)
    assert max(text.box[3] for text in texts) <= picture.height
