"""`mechviz diagnose` as its user reads it."""

import csv
import io
import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from geometry.defects import DEFECTS
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
    assert "Everything that can be read was read" in flat
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


def test_json_and_csv_hold_every_cause(run: Run) -> None:
    data = json.loads(run(WORN, "--json")[1])
    rows = list(csv.DictReader(io.StringIO(run(WORN, "--csv")[1])))
    assert {one["name"] for one in data["causes"]} == {"nothing-wrong", *(one.name for one in DEFECTS)}
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
    assert chance(0.5) == "probably (50 %)"
    assert chance(0.0) == "very unlikely (under 1 %)"
