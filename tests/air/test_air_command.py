"""`mechviz air`: the story in order, the same in JSON and CSV as the solver has it, and a chart with room for all."""

import csv
import io
import json
import re
from pathlib import Path
from typing import get_args

import pytest

from apps.commands.air import ScenarioName
from geometry.air import SCENARIOS
from geometry.found import condition_of
from geometry.parked import solve_parked
from geometry.quantity import KINDS
from geometry.setup import builtin_names, read_setup
from mechviz.air.chart import air_chart
from mechviz.air.study import listed_times, study
from mechviz.report.written import significant
from tests.commands import Run, runner
from tests.drawing.measure import Drawn, outside, overlaps
from tests.sweeps import sweep

DRIVE, STEER, TRAILER = "drive-16.5x7", "steer-15x4", "trailer-16.5x7"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("air", capsys, monkeypatch)


def in_order(text: str, *words: str) -> None:
    places = [text.index(word) for word in words]
    assert places == sorted(places)


def test_the_command_knows_every_scenario() -> None:
    assert get_args(ScenarioName) == tuple(SCENARIOS)


def test_the_story_is_told_in_order_with_its_cautions(run: Run) -> None:
    code, out, _ = run(DRIVE)
    assert code == 0
    in_order(
        out,
        "pedal is pressed",
        "filled to 60 %",
        "pedal is released",
        "parking brake is applied",
        "begins to push",
        "held all the way back.",
        "a line bursts",
        "low-pressure warning",
        "parking valve pops out",
        "the spring alone leaves",
        "Never compound",
        "Never open or strike",
    )
    assert max(len(line) for line in out.split("\n")) <= 80


def test_compounding_is_told_with_how_much_more_than_full_air_it_is(run: Run) -> None:
    _, out, _ = run(DRIVE, "--scenario", "compound")
    in_order(
        out, "while parked", "compounding: spring and air", "Pushed hardest after 6.00 s: 4230 lbf", "1.41 of what"
    )


def test_a_trailer_is_braked_by_tractor_protection_and_a_steering_axle_by_nothing(run: Run) -> None:
    in_order(run(TRAILER, "--scenario", "slow-leak")[1], "warning comes on", "tractor protection closes", "20 psi")
    out = run(STEER, "--scenario", "sudden-loss")[1]
    assert "No parking section is fitted" in out
    assert "nothing holds this brake" in out
    assert "Never compound" not in out


def test_json_and_csv_hold_the_same_figures_as_the_solver(run: Run) -> None:
    asked = (DRIVE, "--scenario", "compound", "--points", "12")
    data = json.loads(run(*asked, "--json")[1])
    rows = list(csv.DictReader(io.StringIO(run(*asked, "--csv")[1])))
    told = study(read_setup(DRIVE), "compound")
    states = told.at(listed_times(told, 12))
    for key, values in (("stroke_mm", states.brake.stroke), ("pushrod_force_N", states.brake.pushrod_force)):
        assert [row[key] for row in data["states"]] == pytest.approx(list(values), abs=1e-5)
        assert [float(row[key]) for row in rows] == pytest.approx(list(values), abs=1e-5)
    assert [h["words"] for h in data["happenings"]] == [h.words for h in told.happenings]
    assert data["parking"]["vehicle"] == "truck"
    assert json.loads(run(STEER, "--json")[1])["parking"] is None


def test_a_brake_that_cannot_be_applied_says_why(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "slack.toml"
    path.write_text(f'schema = 1\nbase = "{DRIVE}"\n[condition]\nfree_stroke = "2.6 in"\n', encoding="utf-8")
    code, out, _ = run(str(path), "--scenario", "sudden-loss", "-o", str(tmp_path / "slack.svg"))
    assert code == 0
    assert "A dash: the chamber bottoms before the linings press" in " ".join(out.split())
    assert "nothing holds this brake" in out


def test_a_slack_brake_is_parked_by_what_its_spring_reaches(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "slack.toml"
    path.write_text(f'schema = 1\nbase = "{DRIVE}"\n[condition]\nfree_stroke = "2.2 in"\n', encoding="utf-8")
    assert "the pushrod is at the end of its stroke" in run(str(path), "--scenario", "park")[1]


def test_too_little_air_to_begin_with_is_told_as_such(run: Run) -> None:
    out = " ".join(run(DRIVE, "--reservoir", "30 psi")[1].split())
    in_order(
        out,
        "0.00 s 30 0 0 1.06 1610",
        "too little air: the spring-brake line is vented already",
        "the low-pressure warning is on",
        "the power spring pushes the pushrod",
        "the pedal is pressed",
        "compounding: spring and air together",
        "the valve does not stay in",
        "of what the 30 psi (207 kPa) in the reservoir gives by itself",
    )
    assert "the air is up" not in out
    assert out.index("the pedal is pressed") < out.index("compounding") < out.index("the pedal is released")


@pytest.mark.parametrize(
    ("reservoir", "first"),
    [
        ("55 psi", "so little air does not hold the springs all the way back. 0.00 s 55 55 0 0.30 55 the low-pressure"),
        ("62 psi", "the air is up and the parking brake is off. 0.50 s"),
    ],
)
def test_the_beginning_is_what_so_much_air_makes_of_it(run: Run, reservoir: str, first: str) -> None:
    assert first in " ".join(run(DRIVE, "--scenario", "press", "--reservoir", reservoir)[1].split())


def test_low_air_without_a_parking_section_is_not_said_to_be_up(run: Run) -> None:
    out = run(STEER, "--scenario", "press", "--reservoir", "50 psi")[1]
    in_order(out, "the air is low", "the low-pressure warning is on", "the pedal is pressed")
    assert "the air is up" not in out


def test_a_trailer_with_too_little_air_gets_nothing_of_the_pedal(run: Run) -> None:
    out = " ".join(run(TRAILER, "--scenario", "press", "--reservoir", "35 psi")[1].split())
    assert "tractor protection is shut and this brake gets nothing of it. 3.00 s 35 0 0" in out


def test_the_chart_says_what_is_so_from_the_beginning_and_parts_no_figure_from_its_unit() -> None:
    def lines(scenario: str, psi: float) -> list[str]:
        told = study(read_setup(DRIVE), scenario, psi * KINDS["pressure"].inch_factor)
        return [text.words for text in Drawn(air_chart(told, "inch")).texts()]

    low = " ".join(lines("press", 40.0))
    assert "From the beginning: the parking brake is off, but so little air" in low
    assert "the low-pressure warning is on" in low
    leak = lines("slow-leak", 100.0)
    assert "From the beginning" not in " ".join(leak)
    assert "10 min 15 s." in leak


def test_a_lower_reservoir_fills_to_less(run: Run) -> None:
    def most(*more: str) -> float:
        states = json.loads(run(DRIVE, "--scenario", "press", "--json", *more)[1])["states"]
        return max(state["pushrod_force_N"] for state in states)

    assert most("--reservoir", "80 psi") < 0.85 * most()


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--scenario", "fly"), "fly"),
        (("--reservoir", "100"), "has no unit"),
        (("--reservoir", "0 psi"), "--reservoir = 0 psi: must be more than zero"),
        (("--reservoir", "-5 psi"), "--reservoir = -5 psi: must be more than zero"),
        (("--points", "1"), "use 2 to"),
        (("--json", "--csv"), "choose one"),
        (("-o", "air.txt"), "use .svg, .png or .pdf"),
    ],
)
def test_what_cannot_be_used_is_said(run: Run, more: tuple[str, ...], says: str) -> None:
    code, out, err = run(DRIVE, *more)
    assert (code, out) == (2, "")
    assert says in err


@pytest.mark.parametrize("suffix", ["svg", "png", "pdf"])
def test_the_chart_is_written(run: Run, tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"air.{suffix}"
    assert run(DRIVE, "-o", str(path))[0] == 0
    start = {"svg": b"<svg", "png": b"\x89PNG", "pdf": b"%PDF"}[suffix]
    assert path.read_bytes().startswith(start)


@pytest.mark.parametrize("psi", [25.0, 40.0, 55.0])
def test_the_chart_of_little_air_has_room_for_all(psi: float) -> None:
    told = study(read_setup(DRIVE), "story", psi * KINDS["pressure"].inch_factor)
    chart = Drawn(air_chart(told, "inch"))
    assert outside(chart) == []
    assert overlaps(chart.texts()) == []


DRAWN = [(DRIVE, s) for s in SCENARIOS] + [(name, s) for name in builtin_names()[1:] for s in ("story", "slow-leak")]


@pytest.mark.parametrize("drawn", sweep(DRAWN, always=4))
def test_no_text_of_the_chart_stands_on_another_or_runs_off(drawn: tuple[str, str]) -> None:
    name, scenario = drawn
    told = study(read_setup(name, judging=True), scenario)
    chart = Drawn(air_chart(told, "metric" if name == TRAILER else "inch"))
    assert outside(chart) == []
    assert overlaps(chart.texts()) == []
    numbers = [text.words for text in chart.texts() if text.words.isdigit() and text.box[3] < 104]
    assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
    assert len(numbers) >= 3 or name == STEER


def test_what_the_spring_alone_leaves_is_told_with_no_air_at_all(run: Run) -> None:
    """At the end of either loss a little air is still in the chamber; the last word is the same for both."""
    words = [run(DRIVE, "--scenario", name)[1] for name in ("sudden-loss", "loss-while-braking")]
    told = [re.search("spring alone leaves a brake torque of ([^.]*)[.]", " ".join(text.split())) for text in words]
    assert told[0] is not None
    assert told[1] is not None
    assert told[0][1] == told[1][1]
    setup = read_setup(DRIVE)
    alone = solve_parked(setup.brake, setup.parking, condition_of(setup), 0.0, 0.0)
    assert f"({significant(float(alone.brake_torque) / 1000)} N m)" in told[0][1]


def test_without_a_power_spring_nothing_holds_a_brake_without_air(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "bare.toml"
    path.write_text(f'schema = 1\nbase = "{DRIVE}"\n[parking]\nfitted = false\n', encoding="utf-8")
    for name in ("sudden-loss", "loss-while-braking"):
        flat = " ".join(run(str(path), "--scenario", name)[1].split())
        assert "With the air gone nothing holds this brake." in flat
