"""`mechviz heat`: what it says is what the solver says, always as an estimate, in text, JSON, CSV and the chart."""

import csv
import io
import json
from pathlib import Path

import numpy as np
import pytest

from geometry.reasons import Reason
from geometry.setup import builtin_names, read_setup
from mechviz.heating.chart import heat_chart
from mechviz.heating.study import Asked, listed_times, study
from tests.commands import Run, runner
from tests.drawing.measure import Drawn, outside, overlaps
from tests.sweeps import sweep

DRIVE = "drive-16.5x7"
DESCENT = ("--descent", "6 %")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("heat", capsys, monkeypatch)


def in_order(text: str, *words: str) -> None:
    places = [text.index(word) for word in words]
    assert places == sorted(places)


def test_the_text_says_what_is_driven_what_happens_and_what_it_rests_on(run: Run) -> None:
    code, out, _ = run(DRIVE)
    assert code == 0
    in_order(
        out,
        "10 stops from 60 mph, one every 2 min",
        "An estimate",
        "8500 lb (3860 kg)",
        "What happens, in order",
        "one for a cold drum",
        "Not on this drive: the application bottoms",
        "drum cold",
        "rough estimate",
        "fade is not modelled",
        "from memory",
        "Do not touch a drum",
    )
    assert max(len(line) for line in out.split("\n")) <= 80


def test_a_descent_and_a_stated_temperature_are_shown(run: Run) -> None:
    _, out, _ = run(DRIVE, *DESCENT, "--speed", "25 mph", "--for", "8 min", "--engine", "40 %", "--hot", "400 degF")
    assert "6 % down at 25 mph for 8 min, 40 % held by engine and" in " ".join(out.split())
    assert "at 400 degF" in out


def test_json_and_csv_hold_the_same_figures_as_the_solver(run: Run) -> None:
    data = json.loads(run(DRIVE, *DESCENT, "--json", "--points", "9", "--hot", "400 degF")[1])
    rows = list(csv.DictReader(io.StringIO(run(DRIVE, *DESCENT, "--csv", "--points", "9")[1])))
    heated = study(read_setup(DRIVE), Asked(kind="descent"))
    states = heated.at(listed_times(heated, 9))
    assert [row["stroke_mm"] for row in data["states"]] == pytest.approx(list(states.stroke), abs=1e-5)
    assert [float(row["drum_degC"]) for row in rows] == pytest.approx(list(states.temperature - 273.15), abs=1e-5)
    assert (data["estimate"], data["fade_modelled"]) == (True, False)
    assert data["asked"]["drum_degC"] == pytest.approx(204.444, abs=1e-3)
    assert data["cold"]["stroke_mm"] < data["asked"]["stroke_mm"] < data["hottest"]["stroke_mm"]
    assert data["events"][0]["name"] == "stroke-limit"
    assert data["energy_MJ"] == pytest.approx(heated.drive.energy / 1e9, abs=1e-6)


def test_a_brake_that_cannot_be_applied_says_why(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "slack.toml"
    path.write_text(f'schema = 1\nbase = "{DRIVE}"\n[condition]\nfree_stroke = "2.2 in"\n', encoding="utf-8")
    _, out, _ = run(str(path), *DESCENT, "-o", str(tmp_path / "slack.svg"))
    in_order(" ".join(out.split()), "the application bottoms the chamber", "A dash: the chamber bottoms before")


def hottest(run: Run, *more: str) -> float:
    return float(json.loads(run(DRIVE, "--json", "--points", "2", *more)[1])["hottest"]["drum_degC"])


@pytest.mark.parametrize(
    ("more", "less"),
    [
        (("--stops", "12"), ("--stops", "6")),
        (("--from", "65 mph"), ("--from", "100 km/h")),
        (("--every", "90 s"), ("--every", "3 min")),
        (("--to", "0 mph"), ("--to", "30 mph")),
        (("--mass", "10000 lb"), ("--mass", "3900 kg")),
        (("--drum-mass", "90 lb"), ("--drum-mass", "120 lb")),
        (("--ambient", "100 degF"), ("--ambient", "0 degC")),
        (("--start", "300 degF"), ("--start", "70 degF")),
        ((*DESCENT, "--for", "12 min"), (*DESCENT, "--for", "5 min")),
        (("--descent", "7 %"), ("--descent", "4 %")),
        ((*DESCENT, "--speed", "40 mph"), (*DESCENT, "--speed", "20 mph")),
        ((*DESCENT, "--engine", "0 %"), (*DESCENT, "--engine", "50 %")),
    ],
)
def test_what_is_asked_heats_the_drum_more_or_less(run: Run, more: tuple[str, ...], less: tuple[str, ...]) -> None:
    assert hottest(run, *more) > hottest(run, *less) + 1


def test_a_harder_application_has_a_longer_stroke(run: Run) -> None:
    def stroke(pressure: str) -> float:
        return float(json.loads(run(DRIVE, "--json", "--pressure", pressure)[1])["hottest"]["stroke_mm"])

    assert stroke("100 psi") > stroke("60 psi")


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--stops", "0"), "use 1 to 500"),
        (("--points", "1"), "use 2 to"),
        (("--from", "60"), "has no unit"),
        (("--mass", "5 in"), "a mass belongs here"),
        (("--descent", "0 %"), "must be more than zero"),
        (("--descent", "6 %", "--every", "2 min"), "a descent is asked for"),
        (("--speed", "30 mph"), 'add --descent "6 %"'),
        (("--every", "5 s"), "--every = 5.0 s: is less than one stop takes; use at least 9.0 s, or a lower --from"),
        (("--to", "90 mph"), "--to = 90 mph: must be less than --from, which is 60 mph; write a smaller --to"),
        (("--drum-mass", "0 lb"), "--drum-mass = 0 lbm: must be more than zero"),
        (("--mass", "0 lb"), "--mass = 0 lbm: must be more than zero"),
        (("--descent", "6 %", "--speed", "0 mph"), "--speed = 0 mph: must be more than zero"),
        (("--descent", "6 %", "--engine", "150 %"), "--engine = 150"),
        (("--descent", "6 %", "--for", "0 s"), "--for = 0.0 s: must be more than zero"),
        (("--descent", "-6 %"), "--descent = -6"),
        (("--pressure", "-5 psi"), "--pressure = -5 psi: must be more than zero"),
        (("--hot", "-500 degF"), "--hot = -500 degF: is below absolute zero"),
        (("--json", "--csv"), "choose one"),
        (("-o", "heat.txt"), "use .svg, .png or .pdf"),
    ],
)
def test_what_cannot_be_used_is_said(run: Run, more: tuple[str, ...], says: str) -> None:
    code, out, err = run(DRIVE, *more)
    assert (code, out) == (2, "")
    assert says in err


def test_one_slip_is_one_error(run: Run) -> None:
    assert run(DRIVE, "--from", "0 mph")[2].count("\n") == 1


def test_air_below_freezing_may_be_typed(run: Run) -> None:
    assert hottest(run, "--ambient", "-10 degF") < hottest(run)


@pytest.fixture
def near_the_tip(tmp_path: Path) -> str:
    path = tmp_path / "near.toml"
    found = 'lining_thickness = "0.265 in"\ndrum_diameter = "16.66 in"\nfree_stroke = "5/8 in"\n'
    path.write_text(f'schema = 1\nbase = "{DRIVE}"\n[condition]\n{found}', encoding="utf-8")
    return str(path)


def test_a_cam_that_passes_its_tip_is_told_and_what_that_hides_is_not_denied(run: Run, near_the_tip: str) -> None:
    out = " ".join(run(near_the_tip)[1].split())
    in_order(
        out,
        "6 min 5 s, drum at 370 degF (188 degC): the cam passes its tip and can wedge or turn over",
        "Not known from 6 min 5 s on, as the cam would turn past its tip",
        "the stroke meets the readjustment limit",
        "the application bottoms the chamber",
        "From 6 min 5 s on this brake is no longer good for its share",
        "A dash: the cam would turn past its tip",
    )
    assert "Not on this drive" not in out
    events = {event["name"]: event for event in json.loads(run(near_the_tip, "--json")[1])["events"]}
    assert events["bottoms"]["time_s"] is None
    assert events["bottoms"]["unknown_from_s"] == pytest.approx(events["cam-past-tip"]["time_s"], abs=1e-3)


def test_a_cam_that_has_passed_its_tip_does_not_come_back_as_the_drum_cools(near_the_tip: str) -> None:
    heated = study(read_setup(near_the_tip, judging=True), Asked())
    lost = next(event for event in heated.events if event.name == "cam-past-tip")
    states = heated.at(heated.fine)
    after = states.time > lost.time
    assert np.min(states.temperature[after]) < lost.temperature - 5, "it cools between the stops"
    assert np.all(np.isnan(states.stroke[after]) & np.isnan(states.brake_torque[after]))
    assert np.all(states.reason[after] == Reason.CAM_PAST_TIP)
    assert np.all(np.isfinite(states.stroke[states.time < lost.time]))
    assert float(heated.at(lost.time - 1.0).stroke) > 0


def test_the_chart_says_why_its_lines_break_off_and_what_is_no_longer_so(near_the_tip: str) -> None:
    words = [t.words for t in Drawn(heat_chart(study(read_setup(near_the_tip, judging=True), Asked()), "inch")).texts()]
    assert words.count("cam past its tip") == 2
    assert "this brake holding" in words
    assert "no stroke left" not in " ".join(words)
    sound = Drawn(heat_chart(study(read_setup(DRIVE), Asked()), "inch"))
    assert "this brake holding" not in [text.words for text in sound.texts()]


@pytest.mark.parametrize("name", sweep(builtin_names()))
@pytest.mark.parametrize("asked", [Asked(drum_mass=0.0005), Asked(kind="descent", grade=0.08, duration=1500.0)])
def test_the_chart_of_a_drive_that_no_brake_stands_has_room_for_all(name: str, asked: Asked) -> None:
    chart = Drawn(heat_chart(study(read_setup(name, judging=True), asked), "inch"))
    assert outside(chart) == []
    assert overlaps(chart.texts()) == []


def test_square_at_full_application_does_not_read_as_a_defect(run: Run) -> None:
    out = " ".join(run(DRIVE)[1].split())
    assert "the arm passes square when fully applied, no defect by itself down to 80 deg" in out


def test_temperatures_that_no_drum_has_say_so(run: Run) -> None:
    melting = "iron begins to melt at about 2100 degF"
    assert melting in " ".join(run(DRIVE, "--drum-mass", "1 lb")[1].split())
    assert melting not in " ".join(run(DRIVE)[1].split())


@pytest.mark.parametrize("suffix", ["svg", "png", "pdf"])
def test_the_chart_is_written(run: Run, tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"heat.{suffix}"
    assert run(DRIVE, "-o", str(path))[0] == 0
    start = {"svg": b"<svg", "png": b"\x89PNG", "pdf": b"%PDF"}[suffix]
    assert path.read_bytes().startswith(start)


@pytest.mark.parametrize("name", sweep(builtin_names()))
@pytest.mark.parametrize("asked", [Asked(), Asked(kind="descent"), Asked(count=1)], ids=["stops", "descent", "stop"])
def test_no_text_of_the_chart_stands_on_another_or_runs_off(name: str, asked: Asked) -> None:
    heated = study(read_setup(name, judging=True), asked)
    chart = Drawn(heat_chart(heated, "metric" if asked.kind == "descent" else "inch"))
    assert outside(chart) == []
    assert overlaps(chart.texts()) == []
    words = " ".join(text.words for text in chart.texts())
    assert "estimate" in words
    numbers = [text.words for text in chart.texts() if text.words.isdigit() and text.box[3] < 104]
    assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
