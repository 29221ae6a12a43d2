"""`mechviz study`: what it says is what the study found; files as asked; mistakes explained; stopped by Ctrl-C."""

import json
import os
import pty
import signal
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from pyarrow import parquet

from apps.commands.study import KINDS
from geometry.setup import read_setup
from mechviz.checks.case import Case
from mechviz.study import run as run_study
from mechviz.study.file import read_study, study_names, study_text
from mechviz.study.table import column_name
from mechviz.study.text import percent
from tests.commands import Run, runner

FEW = ("--points", "512")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("study", capsys, monkeypatch)


@pytest.fixture
def toleranced(tmp_path: Path) -> str:
    path = tmp_path / "few.toml"
    path.write_text(study_text("tolerances").replace("50000", "400"), encoding="utf-8")
    return str(path)


def test_the_text_says_what_can_be_what_is_best_and_what_follows_what(run: Run) -> None:
    code, out, err = run("arm-and-rod", *FEW)
    assert (code, err) == (0, "")
    words = ["512 points by Sobol' sequence", "arm length: 5.00 in to 6.50 in", "chamber size: 24, 30", "Possible: 512"]
    words += ["Inside every limit", "median", "LIMITS", "49 CFR", "BEST: most brake torque"]
    flat = " ".join(out.split())
    places = [flat.index(word) for word in [*words, "WHAT EACH OUTCOME FOLLOWS", "Saltelli", "Caution"]]
    assert places == sorted(places)
    assert max(len(line) for line in out.split("\n")) <= 80
    assert "TOLERANCES" not in out
    assert "nan" not in out.lower().split()


def test_a_study_of_tolerances_says_who_is_to_blame(run: Run, toleranced: str) -> None:
    out = " ".join(run(toleranced)[1].split())
    assert "TOLERANCES: 400 brakes drawn" in out
    assert "Half the tolerance of free stroke leaves" in out
    assert "any of these" in out
    assert "Wilson" in out
    assert "BEST" not in out


def test_json_has_the_studys_own_figures(run: Run, toleranced: str) -> None:
    code, out, _ = run(toleranced, "--json", "--best", "3")
    data = json.loads(out)
    assert (code, data["schema"], data["plan"]["points"]) == (0, 1, 400)
    result = run_study(read_study(toleranced))
    assert data["possible"] == int(result.valid.sum())
    assert data["inside_limits"] == int(result.inside.sum())
    stroke = data["outcomes"][0]
    assert stroke["median_mm"] == pytest.approx(float(np.median(result.outcomes[stroke["outcome"]])), abs=1e-6)
    assert stroke["limit"]["at_least_mm"] == 0.0
    assert 1 <= len(data["best"]["points"]) <= 3
    assert data["tolerances"]["held"][-1]["outcome"] is None
    share = data["tolerances"]["held"][-1]["outside"]
    assert share["share"] == pytest.approx(share["count"] / 400, abs=1e-6)
    assert share["from"] <= share["share"] <= share["to"]
    follows = data["sensitivity"][0]["parameters"]
    assert set(follows) == {p["key"] for p in data["parameters"]}
    assert out.isascii()


def test_files_are_written_by_their_ending(run: Run, tmp_path: Path) -> None:
    starts = {".csv": b'"linkage_arm', ".parquet": b"PAR1", ".png": b"\x89PNG", ".pdf": b"%PDF", ".svg": b"<svg"}
    starts[".toml"] = b"# One point"
    assert set(starts) == set(KINDS)
    options = [token for suffix in starts for token in ("-o", str(tmp_path / f"out{suffix}"))]
    assert run("arm-and-rod", *FEW, *options)[0] == 0
    for suffix, start in starts.items():
        assert (tmp_path / f"out{suffix}").read_bytes().startswith(start), suffix
    assert parquet.read_table(tmp_path / "out.parquet").num_rows == 512
    assert len((tmp_path / "out.csv").read_text().splitlines()) == 513


def test_the_best_point_is_a_setup_that_checks_to_the_same_figures(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "best.toml"
    data = json.loads(run("arm-and-rod", *FEW, "-o", str(path), "--json")[1])
    first, setup = data["best"]["points"][0], read_setup(path)
    arm = column_name("linkage.arm_length", "length")
    assert setup.brake.linkage.arm_length == pytest.approx(first[arm], abs=1e-6)
    assert setup.brake.chamber.size == first["chamber_size"]
    assert Case(setup, setup.test.rules).found["applied"].stroke is not None


@pytest.mark.parametrize("name", study_names())
def test_a_starter_is_a_study_that_can_be_read(run: Run, tmp_path: Path, name: str) -> None:
    code, out, _ = run(name, "--starter")
    path = tmp_path / "mine.toml"
    path.write_text(out, encoding="utf-8")
    assert code == 0
    assert read_study(str(path)).parameters == read_study(name).parameters
    assert run("--starter")[1] == study_text("arm-and-rod")


@pytest.mark.parametrize(
    ("tokens", "words"),
    [
        ((), "FILE"),
        (("nothing.toml",), "neither a file nor a built-in study"),
        (("arm-and-rod", "--points", "0"), "--points = 0"),
        (("arm-and-rod", "--points", "99999999"), "use 1 to 4000000"),
        (("arm-and-rod", "--best", "0"), "--best = 0"),
        (("arm-and-rod", "-o", "out.txt"), "for example out.csv"),
        (("arm-and-rod", *FEW, "-o", "no/such/folder/out.csv"), "cannot be written to"),
    ],
)
def test_what_cannot_be_used_is_said_with_exit_code_2(run: Run, tokens: tuple[str, ...], words: str) -> None:
    code, out, err = run(*tokens)
    assert (code, out) == (2, "")
    assert words in err
    assert "internal error" not in err


def test_every_fault_of_a_file_is_a_line(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(study_text("arm-and-rod").replace('"5 in"', '"5"').replace('"sobol"', '"sobel"'), encoding="utf-8")
    code, _, err = run(str(path))
    assert code == 2
    assert len(err.splitlines()) == 3
    assert all(line.startswith("mechviz: ") for line in err.splitlines())


def test_a_study_in_which_nothing_is_inside_says_so_and_has_no_best_setup(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "hopeless.toml"
    text = study_text("arm-and-rod").replace('name = "arm-angle-applied"', 'name = "applied-stroke"\nmost = "0.1 in"')
    path.write_text(text, encoding="utf-8")
    code, out, _ = run(str(path), *FEW)
    assert code == 0
    assert "No point is inside every limit" in out
    code, _, err = run(str(path), *FEW, "-o", str(tmp_path / "best.toml"))
    assert code == 2
    assert "no point is inside every limit" in err


def test_a_study_in_which_nothing_is_possible_says_why(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "impossible.toml"
    path.write_text(study_text("arm-and-rod").replace('from = "5 in"\nto = "7 in"', 'from = "1 in"\nto = "1.5 in"'))
    code, out, _ = run(str(path), *FEW)
    assert code == 0
    assert "Possible: 0 of 512" in out
    assert "the pushrod and the arm do not meet" in out
    assert "nan" not in out.lower().split()


def test_control_c_during_a_long_run_stops_it_cleanly(tmp_path: Path) -> None:
    out, screen, theirs = tmp_path / "out.csv", *pty.openpty()
    file = tmp_path / "long.toml"
    file.write_text(study_text("arm-and-rod").replace('"sobol"', '"monte-carlo"').replace("65536", "4000000"))
    command = [sys.executable, "-m", "apps.cli", "study", str(file), "-o", str(out)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=theirs, cwd=Path(__file__).parents[2])
    os.close(theirs)
    shown = b""
    while b"%" not in shown:
        shown += os.read(screen, 1024)
    process.send_signal(signal.SIGINT)
    said, _ = process.communicate(timeout=30)
    os.close(screen)
    assert (process.returncode, said) == (130, b"")
    assert list(tmp_path.iterdir()) == [file]


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.0, "0 %"), (0.0004, "under 0.1 %"), (0.001, "0.1 %"), (0.5, "50 %"), (0.9995, "over 99.9 %"), (1.0, "100 %")],
)
def test_a_share_is_not_said_to_be_none_or_all_where_it_is_not(share: float, words: str) -> None:
    assert percent(share) == words


def test_the_readmes_study_is_what_the_command_says(run: Run) -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    shown = readme.split("$ mechviz study arm-and-rod")[1].split("```")[0].partition("\n")[2]
    out = run("arm-and-rod")[1]
    paragraphs = [text for text in shown.strip().split("\n\n") if text != "[...]"]
    assert len(paragraphs) >= 4
    at = 0
    for text in paragraphs:
        at = out.index(text, at) + len(text)
