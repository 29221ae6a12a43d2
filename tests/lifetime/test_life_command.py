"""`mechviz life`: what it says is what the solver says, in text, JSON, CSV and the chart."""

import csv
import io
import json
from pathlib import Path

import pytest

from geometry.setup import builtin_names, read_setup
from mechviz.lifetime.chart import life_chart
from mechviz.lifetime.study import Asked, study, tabled_wears
from tests.commands import Run, runner
from tests.drawing.measure import Drawn, outside, overlaps
from tests.sweeps import only, sweep

DRIVE = "drive-16.5x7"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("life", capsys, monkeypatch)


def test_the_text_says_what_happens_in_order_and_what_does_not(run: Run) -> None:
    code, out, _ = run(DRIVE)
    assert code == 0
    assert "0.25 in (6.4 mm) of lining left, 0.500 in (12.70 mm) worn: the lining is at" in out
    assert "Not in this life: the cold stroke reaches the readjustment limit" in out
    assert "Were the adjuster to stop when new" in out
    assert "Do not turn an automatic adjuster by hand" in out
    assert max(len(line) for line in out.split("\n")) <= 80


def test_a_stuck_adjuster_loses_limit_then_right_angle_then_the_chamber(run: Run) -> None:
    _, out, _ = run(DRIVE, "--adjuster", "stuck")
    in_order(
        out,
        "stroke reaches the readjustment limit",
        "passes square",
        "a hot application bottoms the chamber",
        "a cold application bottoms the chamber",
        "The life ends at 0.66 in (16.8 mm) of lining left, where the chamber bottoms",
        "Not in this life: the lining is at its least thickness; the cam runs out of profile",
        "A dash, hot: the chamber bottoms before the linings press",
    )
    assert "Were the adjuster to stop" not in out


def test_a_manual_adjuster_is_adjusted_and_not_blamed(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "manual.toml"
    path.write_text(f'schema = 1\nbase = "{DRIVE}"\n[adjuster]\nkind = "manual"\n', encoding="utf-8")
    flat = " ".join(run(str(path), "--adjuster", "stuck")[1].split())
    assert "less slack: adjust a manual adjuster" in flat
    assert "find out why the adjuster has not taken it up" not in flat


def in_order(out: str, *words: str) -> None:
    text = " ".join(out.split())
    places = [text.index(word) for word in words]
    assert places == sorted(places)


@pytest.fixture
def large_drum(tmp_path: Path) -> str:
    path = tmp_path / "large.toml"
    path.write_text(f'schema = 1\nbase = "{DRIVE}"\n[condition]\ndrum_diameter = "16.66 in"\n', encoding="utf-8")
    return str(path)


def test_a_cam_that_hot_passes_its_tip_is_told_and_what_that_hides_is_not_denied(run: Run, large_drum: str) -> None:
    _, out, _ = run(large_drum)
    in_order(
        out,
        "0.28 in (7.0 mm) of lining left, 0.473 in (12.01 mm) worn: hot, the cam passes its tip",
        "The life ends at",
        "Not in this life: the cold stroke",
        "Not known from 0.28 in (7.0 mm) of lining left on, where hot the cam would turn past its tip",
        "a hot application bottoms the chamber",
        "A dash, hot: the cam would turn past its tip",
    )
    events = {event["name"]: event for event in json.loads(run(large_drum, "--json")[1])["events"]}
    assert events["hot-cam-past-tip"]["wear_mm"] == pytest.approx(12.01, abs=0.005)
    assert events["hot-bottoms"]["wear_mm"] is None
    assert events["hot-bottoms"]["unknown_from_mm"] == pytest.approx(12.01, abs=0.005)
    assert events["stroke-limit"]["unknown_from_mm"] is None


def test_where_a_line_of_the_chart_ends_its_reason_stands(large_drum: str) -> None:
    texts = Drawn(life_chart(study(read_setup(large_drum, judging=True), Asked()), "inch")).texts()
    said = [text for text in texts if text.words == "hot: cam past its tip"]
    number = next(text for text in texts if text.words == "1" and text.box[3] < 104)
    assert len(said) == 2
    at = 0.5 * (number.box[0] + number.box[2])
    assert all(abs(min(text.box[0] - at, at - text.box[2], key=abs)) < 40 for text in said)


@pytest.mark.parametrize(("slack", "code"), [("1.948 in", 0), ("1.95 in", 2), ("3 in", 2)])
def test_a_slack_that_new_linings_cannot_have_is_refused_as_solve_refuses_it(run: Run, slack: str, code: int) -> None:
    got, out, err = run(DRIVE, "--free-stroke", slack)
    assert got == code
    assert bool(out) == (code == 0)
    refusal = "the cam would stand below its heel when released; use at most 1.948 in"
    assert (refusal in err and err.startswith("mechviz: --free-stroke")) == (code == 2)


BROKEN_OFF = [(name, state) for name in builtin_names() for state in ("stuck", "backing-off")]
FAST = ((DRIVE, "stuck"), ("steer-15x4", "stuck"), ("trailer-16.5x7", "backing-off"))


@pytest.mark.parametrize(("name", "state"), only(BROKEN_OFF, lambda one: one in FAST, several=True))
def test_every_hot_line_that_breaks_off_says_why(name: str, state: str) -> None:
    lived = study(read_setup(name, judging=True), Asked(state))
    words = [text.words for text in Drawn(life_chart(lived, "metric")).texts()]
    assert words.count("hot: bottomed") == 2


@pytest.mark.parametrize("asked", [Asked("stuck", hot=1366.0), Asked(free_stroke=49.0), Asked(pressure=0.02)])
def test_the_chart_of_an_odd_life_has_room_for_all(asked: Asked, large_drum: str) -> None:
    chart = Drawn(life_chart(study(read_setup(large_drum, judging=True), asked), "metric"))
    assert outside(chart) == []
    assert overlaps(chart.texts()) == []


def test_what_is_so_from_new_on_is_told_so(run: Run) -> None:
    _, out, _ = run(DRIVE, "--free-stroke", "1.94 in")
    assert "From new linings on: the cold stroke reaches the readjustment limit" in " ".join(out.split())
    chart = Drawn(life_chart(study(read_setup(DRIVE), Asked(free_stroke=49.0)), "inch"))
    words = " ".join(text.words for text in chart.texts())
    assert "From new linings on: the cold stroke" in words


def test_a_drum_hotter_than_its_growth_is_known_for_says_so(run: Run) -> None:
    assert "its growth is known to 600 degF" in " ".join(run(DRIVE, "--hot", "601 degF")[1].split())
    assert "its growth is known" not in run(DRIVE, "--hot", "600 degF")[1]


def test_json_and_csv_hold_the_same_figures_as_the_solver(run: Run) -> None:
    data = json.loads(run(DRIVE, "--json", "--points", "7")[1])
    rows = list(csv.DictReader(io.StringIO(run(DRIVE, "--csv", "--points", "7")[1])))
    lived = study(read_setup(DRIVE), Asked())
    life = lived.at(tabled_wears(lived, 7))
    assert [state["cold"]["stroke_mm"] for state in data["states"]] == pytest.approx(list(life.cold.stroke), abs=1e-6)
    assert [float(row["hot.stroke_mm"]) for row in rows] == pytest.approx(list(life.hot.stroke), abs=1e-6)
    assert data["events"][0]["name"] == "stroke-limit"
    assert data["events"][0]["wear_mm"] is None
    assert (data["least_lining_mm"], data["stroke_limit_mm"]) == (6.35, 50.8)


def test_what_is_asked_changes_the_life(run: Run) -> None:
    def hot_stroke(*more: str) -> float:
        return float(json.loads(run(DRIVE, "--json", *more)[1])["states"][0]["hot"]["stroke_mm"])

    usual = hot_stroke()
    assert hot_stroke("--hot", "300 degF") < usual
    assert hot_stroke("--pressure", "60 psi") < usual
    assert hot_stroke("--free-stroke", "3/4 in") > usual


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--points", "1"), "use 2 to 10000"),
        (("--hot", "600"), "has no unit"),
        (("--free-stroke", "0 in"), "--free-stroke = 0.000 in: must be more than zero"),
        (("--pressure", "0 psi"), "--pressure = 0 psi: must be more than zero"),
        (
            ("--hot", "20 degF"),
            "--hot = 20 degF: is colder than the drum of the cold application; use at least 70 degF",
        ),
        (("--hot", "-500 degF"), "is below absolute zero"),
        (("--json", "--csv"), "choose one"),
        (("-o", "life.txt"), "use .svg, .png or .pdf"),
        (("--adjuster", "broken"), "working"),
    ],
)
def test_what_cannot_be_used_is_said(run: Run, more: tuple[str, ...], says: str) -> None:
    code, out, err = run(DRIVE, *more)
    assert (code, out) == (2, "")
    assert says in err


@pytest.mark.parametrize("suffix", ["svg", "png", "pdf"])
def test_the_chart_is_written(run: Run, tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"life.{suffix}"
    assert run(DRIVE, "--adjuster", "stuck", "-o", str(path))[0] == 0
    start = {"svg": b"<svg", "png": b"\x89PNG", "pdf": b"%PDF"}[suffix]
    assert path.read_bytes().startswith(start)


@pytest.mark.parametrize("name", sweep(builtin_names()))
@pytest.mark.parametrize("state", ["working", "stuck", "backing-off"])
def test_no_text_of_the_chart_stands_on_another_or_runs_off(name: str, state: str) -> None:
    setup = read_setup(name, judging=True)
    lived = study(setup, Asked(state))
    chart = Drawn(life_chart(lived, setup.system))
    texts = chart.texts()
    for text in texts:
        assert text.box[0] >= 0, text
        assert text.box[2] <= chart.width, text
        assert text.box[3] <= chart.height, text
    for n, one in enumerate(texts):
        for other in texts[n + 1 :]:
            apart = one.box[2] <= other.box[0] or other.box[2] <= one.box[0]
            assert apart or one.box[3] <= other.box[1] or other.box[3] <= one.box[1], (one, other)
    numbers = [text.words for text in texts if text.words.isdigit() and text.box[3] < 104]
    assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
