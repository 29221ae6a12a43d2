"""The command line as a person or a script uses it: what is printed where, the exit codes, and no traceback ever."""

import csv
import io
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from apps import cli
from tests.sweeps import sweep

DRIVE = "drive-16.5x7"


class Ran(NamedTuple):
    """One run of the command line."""

    code: int
    out: str
    err: str


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Callable[..., Ran]:
    monkeypatch.setenv("COLUMNS", "80")

    def command(*tokens: str) -> Ran:
        code = cli.main(tokens)
        streams = capsys.readouterr()
        assert "Traceback" not in streams.out + streams.err
        return Ran(code, streams.out, streams.err)

    return command


@pytest.fixture
def write(tmp_path: Path) -> Callable[..., str]:
    """Write a setup file based on the drive brake and return its path."""

    def written(text: str, name: str = "brake.toml") -> str:
        path = tmp_path / name
        path.write_text(f'schema = 1\nbase = "{DRIVE}"\n{text}', encoding="utf-8")
        return str(path)

    return written


def measured(stroke: str) -> str:
    chamber = '[chamber]\nstyle = "clamp"\nsize = "30"\n'
    return f'{chamber}[measured]\nstroke = "{stroke}"\nresolution = "1/16 in"\n'


def process(
    *tokens: str, encoding: str = "utf-8", streams: dict[str, Any] | None = None, **environment: str
) -> subprocess.CompletedProcess[bytes]:
    env = {**os.environ, "PYTHONIOENCODING": encoding, "COLUMNS": "80", **environment}
    return subprocess.run(
        [sys.executable, "-m", "apps.cli", *tokens],
        env=env,
        check=False,
        timeout=60,
        stdin=subprocess.DEVNULL,
        **(streams or {"capture_output": True}),
    )


# check: exit codes and words


@pytest.mark.parametrize(
    ("stroke", "result", "code"),
    [("1 3/4 in", "pass", 0), ("2 in", "close", 0), ("2 1/16 in", "fail", 1), ("2.25 in", "fail", 1)],
)
def test_check_exits_by_what_failed(
    run: Callable[..., Ran], write: Callable[..., str], stroke: str, result: str, code: int
) -> None:
    slack = f'[condition]\nfree_stroke = "{"0.95" if code else "0.62"} in"\n'
    text = f'{measured(stroke)}[test]\nreservoir_pressure = "95 psi"\n{slack}'
    rows = json.loads(run("check", write(text), "--json").out)["checks"]
    row = next(r for r in rows if r["check"] == "stroke-limit")
    assert row["result"] == result
    assert (run("check", write(text)).code == 1) is any(r["result"] == "fail" for r in rows)
    if code:
        assert run("check", write(text)).code == 1


def test_check_with_nothing_measured_exits_zero_and_says_what_is_missing(run: Callable[..., Ran]) -> None:
    ran = run("check", DRIVE)
    assert (ran.code, ran.err) == (0, "")
    assert "NOT EVALUATED  stroke limit" in ran.out
    assert "Missing: measured.stroke" in " ".join(ran.out.split())


def test_what_failed_stands_first_and_the_cautions_last(run: Callable[..., Ran], write: Callable[..., str]) -> None:
    out = run("check", write(measured("2 1/4 in"))).out
    words = [line.split("  ")[0] for line in out.splitlines() if line.startswith(("FAIL", "CLOSE", "NOT", "PASS"))]
    order = ["FAIL", "CLOSE", "NOT EVALUATED", "PASS", "NOT APPLICABLE"]
    assert words[0] == "FAIL"
    assert words == sorted(words, key=order.index)
    assert out.index("Caution") > out.index("\nOf ")
    assert out.count("Chock the wheels") == 1
    assert "2 1/4 in (57.2 mm) measured, limit 2 in (50.8 mm): over by 1/4 in (6.4 mm)" in out


def test_units_choose_which_stand_first(run: Callable[..., Ran], write: Callable[..., str]) -> None:
    path = write(measured("2 1/4 in"))
    assert "57.2 mm (2 1/4 in) measured" in run("check", path, "--units", "metric").out
    metric = write(measured("57 mm").replace("1/16 in", "1 mm"), "metric.toml")
    assert "57.0 mm (2.24 in) measured" in run("check", metric).out


def test_rules_that_are_asked_for_replace_those_of_the_setup(run: Callable[..., Ran]) -> None:
    def sources(*rules: str) -> str:
        rows = json.loads(run("check", DRIVE, "--json", *rules).out)["checks"]
        return " ".join(row["source"] for row in rows if row["check"] == "lining-thickness")

    assert "Quebec" in sources("--rules", "quebec")
    assert "49 CFR" not in sources("--rules", "quebec")
    assert "49 CFR" in sources("--rules", "quebec", "--rules", "us", "--rules", "us")


def test_rule_sets_are_those_that_a_setup_file_knows(run: Callable[..., Ran], write: Callable[..., str]) -> None:
    from typing import get_args

    from apps.commands.options import RuleSet

    names = ", ".join(f'"{name}"' for name in get_args(RuleSet))
    assert run("check", write(f"[test]\nrules = [{names}]\n")).code in (0, 1)
    refused = run("check", write('[test]\nrules = ["nowhere"]\n'))
    assert refused.code == 2
    assert all(name in refused.err for name in get_args(RuleSet))


@pytest.mark.parametrize("columns", [40, 60, 80, 200])
@pytest.mark.parametrize("command", [("check",), ("solve", "--stroke", "1 3/4 in", "--pressure", "60 psi")])
def test_text_fits_the_screen(
    run: Callable[..., Ran],
    write: Callable[..., str],
    monkeypatch: pytest.MonkeyPatch,
    columns: int,
    command: tuple[str, ...],
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    name, *options = command
    lines = run(name, write(measured("2 1/4 in")), *options).out.splitlines()
    too_long = [line for line in lines if len(line) > min(columns, 100)]
    assert [line for line in too_long if "brake.toml" not in line] == []  # a path is not broken
    assert len(lines) > 30


def test_output_that_is_no_screen_has_no_escape_codes(run: Callable[..., Ran]) -> None:
    assert "\x1b" not in run("check", DRIVE).out


# JSON and CSV

NUMBER = (float, int, type(None))
CHECK_ROW = {
    "check": str,
    "result": str,
    "value": NUMBER,
    "limit": NUMBER,
    "margin": NUMBER,
    "unit": str,
    "source": str,
    "advice": str,
    "resolution": NUMBER,
    "allowance": NUMBER,
    "basis": str,
    "against": str,
}
GAP = {"anchor_end": NUMBER, "middle": NUMBER, "cam_end": NUMBER, "least": NUMBER}
SHOE = {
    "turn_deg": NUMBER,
    "cam_angle_deg": NUMBER,
    "gap_mm": GAP,
    "roller_force_N": NUMBER,
    "shoe_factor": NUMBER,
    "lining_pressure_MPa": NUMBER,
}
STATE = {
    "name": str,
    "stroke_mm": NUMBER,
    "pressure_kPa": NUMBER,
    "arm_angle_deg": NUMBER,
    "arm_turn_deg": NUMBER,
    "cam_turn_deg": NUMBER,
    "pushrod_tilt_deg": NUMBER,
    "chamber_force_N": NUMBER,
    "camshaft_torque_Nm": NUMBER,
    "brake_torque_Nm": NUMBER,
    "shoes": {"left": SHOE, "right": SHOE},
    "reason": (str, type(None)),
}


def conforms(value: Any, schema: Any) -> bool:
    """Hold a value against a schema: a dict of keys, or a type or types."""
    if isinstance(schema, dict):
        return value.keys() == schema.keys() and all(conforms(value[key], schema[key]) for key in schema)
    return isinstance(value, schema) and not isinstance(value, bool)


def strict_json(text: str) -> Any:
    def refuse(constant: str) -> None:
        raise AssertionError(constant)

    return json.loads(text, parse_constant=refuse)


def test_check_json_has_its_schema_and_the_units_of_the_source(
    run: Callable[..., Ran], write: Callable[..., str]
) -> None:
    data = strict_json(run("check", write('title = "Quarry"\n' + measured("2 1/4 in")), "--json").out)
    assert list(data) == ["schema", "title", "checks"]
    assert (data["schema"], data["title"]) == (1, "Quarry")
    assert all(conforms(row, CHECK_ROW) for row in data["checks"])
    assert {row["result"] for row in data["checks"]} <= {"pass", "close", "fail", "not-applicable", "not-evaluated"}
    row = next(row for row in data["checks"] if row["check"] == "stroke-limit")
    figures = [row[key] for key in ("value", "limit", "margin", "unit", "resolution", "basis")]
    assert figures == [2.25, 2.0, -0.25, "in", 0.0625, "measured"]


def test_solve_json_has_its_schema(run: Callable[..., Ran]) -> None:
    ran = run("solve", DRIVE, "--stroke", "1 3/4 in", "--pressure", "60 psi", "--json")
    assert (ran.code, ran.err) == (0, "")
    data = strict_json(ran.out)
    assert list(data) == ["schema", "title", "states"]
    assert all(conforms(state, STATE) for state in data["states"])
    names = [state["name"] for state in data["states"]]
    assert names == ["released", "contact", "applied", "stroke 1 3/4 in", "pressure 60 psi"]
    released, contact, applied, at_stroke, at_pressure = data["states"]
    assert released["stroke_mm"] == 0.0
    assert (contact["stroke_mm"], contact["pressure_kPa"], contact["chamber_force_N"]) == (13.97, None, None)
    assert contact["shoes"]["right"]["gap_mm"]["least"] == 0.0
    assert applied["pressure_kPa"] == pytest.approx(655.0019, abs=1e-4)  # 95 psi
    assert at_stroke["stroke_mm"] == 44.45
    assert at_pressure["pressure_kPa"] == pytest.approx(413.6854, abs=1e-4)  # 60 psi


def test_units_of_the_file_do_not_change_the_json(run: Callable[..., Ran], write: Callable[..., str]) -> None:
    inch = strict_json(run("check", write(measured("2 1/4 in")), "--json").out)
    metric = strict_json(run("check", write(measured("57.15 mm").replace("1/16 in", "1.5875 mm")), "--json").out)
    assert metric == inch


def test_csv_says_what_json_says(run: Callable[..., Ran]) -> None:
    states = strict_json(run("solve", DRIVE, "--json").out)["states"]
    rows = list(csv.DictReader(io.StringIO(run("solve", DRIVE, "--csv").out)))
    assert len(rows) == 3
    assert float(rows[1]["stroke_mm"]) == states[1]["stroke_mm"]
    assert float(rows[0]["shoes.left.gap_mm.least"]) == states[0]["shoes"]["left"]["gap_mm"]["least"]
    assert rows[0]["chamber_force_N"] == ""
    checks = list(csv.DictReader(io.StringIO(run("check", DRIVE, "--csv").out)))
    assert [row["check"] for row in checks] == [
        row["check"] for row in strict_json(run("check", DRIVE, "--json").out)["checks"]
    ]


def test_a_title_cannot_become_a_formula_or_steer_the_screen(
    run: Callable[..., Ran], write: Callable[..., str]
) -> None:
    path = write('title = "=1+1"\n')
    assert next(csv.DictReader(io.StringIO(run("check", path, "--csv").out)))["title"] == "'=1+1"
    steering = run("check", write('title = "a\\u001b[2Jb"\n'))
    assert "\x1b" not in steering.out + steering.err


# solve


def test_solve_prints_a_table_that_says_where_the_arm_stands(run: Callable[..., Ran]) -> None:
    ran = run("solve", DRIVE)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines()[0] == "Drive axle, 16.5 x 7"
    assert "16 degrees before square" in ran.out
    assert "nan" not in ran.out.lower()
    assert "The arm turns farther than the cam: the rest is wind-up" in ran.out
    stroke = next(line for line in ran.out.splitlines() if line.startswith("  stroke"))
    assert stroke.split("(mm)")[1].split() == ["0.00", "(0.0)", "0.55", "(14.0)", *stroke.split()[-2:]]


def test_a_state_that_cannot_exist_is_said_and_the_others_are_printed(run: Callable[..., Ran]) -> None:
    ran = run("solve", DRIVE, "--stroke", "3 in", "--stroke", "1 in")
    assert ran.code == 1
    assert "cannot exist" in ran.out
    beyond = "stroke 3 in: cannot exist: the stroke is beyond the chamber's rated stroke; use 0.000 in to 2.362 in, or "
    assert ran.err.startswith(f"mechviz: {beyond}")
    assert run("solve", DRIVE, "--stroke", "2.362 in").code == 0
    bottomed = run("solve", DRIVE, "--stroke", "2.500 in")
    assert (bottomed.code, "no air pressure that a vehicle has" in bottomed.err) == (1, True)
    data = strict_json(run("solve", DRIVE, "--stroke", "3 in", "--stroke", "1 in", "--json").out)
    impossible, possible = data["states"][3:]
    assert (impossible["stroke_mm"], impossible["arm_angle_deg"]) == (76.2, None)
    assert impossible["reason"] == "the stroke is beyond the chamber's rated stroke"
    assert (possible["stroke_mm"], possible["reason"]) == (25.4, None)


@pytest.mark.parametrize(
    ("option", "typed", "least"), [("stroke", "-1 in", "0.000 in"), ("pressure", "-5 psi", "0 psi")]
)
def test_what_is_below_zero_is_refused(run: Callable[..., Ran], option: str, typed: str, least: str) -> None:
    ran = run("solve", DRIVE, f"--{option}", typed, "--json")
    assert (ran.code, ran.out) == (2, "")
    assert f"--{option} = {typed}: is below zero; use at least {least}" in ran.err


def test_every_fault_in_what_was_asked_is_said_at_once(run: Callable[..., Ran]) -> None:
    ran = run("solve", DRIVE, "--stroke", "44", "--pressure", "95 in")
    assert (ran.code, ran.out) == (2, "")
    assert "--stroke = 44: has no unit" in ran.err
    assert "--pressure = 95 in" in ran.err


# input that cannot be used


@pytest.mark.parametrize(
    ("tokens", "words"),
    [
        (("check", "no-such-brake"), "neither a file nor a built-in setup"),
        (("solve", "no-such-brake.toml"), "neither a file nor a built-in setup"),
        (("check", "."), "directory"),
        (("check", "drive-16.5"), DRIVE),
        (("check",), "SETUP is missing"),
        (("chek", DRIVE), 'Did you mean "check"?'),
        (("check", DRIVE, "--rules", "u"), "quebec"),
        (("check", DRIVE, "--unit", "inch"), "--units"),
        (("check", DRIVE, "--units", "furlong"), "metric"),
        (("check", DRIVE, "--json", "--csv"), "choose one"),
        (("solve", DRIVE, "--stroke", "1", "3/4", "in"), "quotation marks"),
        (("solve", DRIVE, "--pressure"), "--pressure"),
        (("setups", "no-such-brake"), "no built-in setup"),
        (("demo", "--out", "/dev/null/x"), "cannot be written to"),
        (("check", "a\0b"), "neither a file"),
        (("check", "x" * 5000), "neither a file"),
        (("check", ""), "mechviz"),
    ],
)
def test_unusable_input_exits_two_on_standard_error(
    run: Callable[..., Ran], tokens: tuple[str, ...], words: str
) -> None:
    ran = run(*tokens)
    assert (ran.code, ran.out) == (2, "")
    assert words in ran.err
    assert all(line.startswith(("mechviz", "Try:")) for line in ran.err.splitlines())


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[linkage]\narm_length = 5.5\n", "linkage.arm_length = 5.5"),
        ('[linkage]\narm_lenght = "5.5 in"\n', "arm_length"),
        ('[linkage]\npin_reach = "0.5 in"\n', "linkage.pin_reach"),
        ("not toml at all [", "line"),
    ],
)
def test_every_fault_of_a_file_is_said_in_its_units(
    run: Callable[..., Ran], write: Callable[..., str], text: str, words: str
) -> None:
    ran = run("check", write(text))
    assert (ran.code, ran.out) == (2, "")
    assert words in ran.err


def test_a_binary_file_is_refused(run: Callable[..., Ran], tmp_path: Path) -> None:
    path = tmp_path / "brake.toml"
    path.write_bytes(bytes(range(256)))
    assert run("check", str(path)).code == 2


def test_a_lining_without_room_is_no_crash(run: Callable[..., Ran], write: Callable[..., str]) -> None:
    path = write('[condition]\nlining_thickness = "1.5 in"\n')
    for command in ("check", "solve"):
        ran = run(command, path)
        assert ran.code == 2
        assert "internal error" not in ran.err


def test_a_fault_of_the_program_is_one_line(run: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("float\ndivision")

    monkeypatch.setattr("geometry.setup.read_setup", fail)
    ran = run("check", DRIVE)
    assert (ran.code, ran.out) == (3, "")
    assert ran.err == ("mechviz: internal error: ZeroDivisionError: float division; please report with the file\n")


def test_control_c_is_quiet(run: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("geometry.setup.read_setup", interrupt)
    assert run("check", DRIVE) == Ran(130, "", "")


# setups, demo, help


def test_setups_lists_and_prints_a_file_to_start_from(run: Callable[..., Ran], tmp_path: Path) -> None:
    listed = run("setups")
    assert listed.code == 0
    assert DRIVE in listed.out
    path = tmp_path / "mine.toml"
    path.write_text(run("setups", DRIVE).out, encoding="utf-8")
    assert run("check", str(path)).code == 0


@pytest.mark.usefixtures("brake_only")
def test_demo_checks_the_worn_brake_and_writes_the_report(run: Callable[..., Ran], tmp_path: Path) -> None:
    out = tmp_path / "there" / "demo"
    ran = run("demo", "--out", str(out))
    assert (ran.code, ran.err) == (0, "")
    assert "FAIL" in ran.out
    assert str(out / "check.txt") in ran.out
    assert strict_json((out / "check.json").read_text(encoding="utf-8"))["schema"] == 1
    text = (out / "check.txt").read_text(encoding="utf-8")
    assert text.splitlines()[0] == ran.out.splitlines()[0]
    page, picture = out / "worn-brake.html", out / "worn-brake.png"
    assert str(page) in ran.out
    assert str(picture) in ran.out
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert picture.read_bytes().startswith(b"\x89PNG")
    again = run("check", str(out / "worn-drive-16.5x7.toml"))
    assert again.code == 1


# animate


@pytest.mark.parametrize("modes", sweep(["left out", "made"]))
def test_animate_writes_one_page_and_says_so(
    run: Callable[..., Ran], tmp_path: Path, modes: str, request: pytest.FixtureRequest
) -> None:
    if modes == "left out":
        request.getfixturevalue("brake_only")
    out = tmp_path / "page.html"
    ran = run("animate", DRIVE, "-o", str(out), "--theme", "dark", "--units", "metric")
    assert (ran.code, ran.err) == (0, "")
    assert str(out) in ran.out
    text = out.read_text(encoding="utf-8")
    assert 'data-theme="dark"' in text
    assert '"system":"metric"' in text
    assert [path.name for path in tmp_path.iterdir()] == ["page.html"]  # nothing half written stays


@pytest.fixture
def quick_page(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page that takes no time to make, for what does not look into it."""
    monkeypatch.setattr("mechviz.page.html.page_html", lambda setup, *_: setup.title)


@pytest.mark.usefixtures("quick_page")
def test_animate_names_the_page_after_the_setup(
    run: Callable[..., Ran], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run("animate", DRIVE).code == 0
    (tmp_path / "mine.toml").write_text(run("setups", DRIVE).out, encoding="utf-8")
    assert run("animate", str(tmp_path / "mine.toml")).code == 0
    assert {path.name for path in tmp_path.iterdir()} == {"mine.toml", "mine.html", f"{DRIVE}.html"}


@pytest.mark.usefixtures("quick_page")
@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("a.avi", "use a.html, a.mp4 or .gif"),
        ("a", "use a.html"),
        ("a.pdf", "a.pdf is nothing that this can write"),
        ("no/such/a.html", "cannot be written to"),
    ],
)
def test_animate_says_what_it_can_write(run: Callable[..., Ran], tmp_path: Path, name: str, words: str) -> None:
    ran = run("animate", DRIVE, "-o", str(tmp_path / name))
    assert (ran.code, ran.out) == (2, "")
    assert words in ran.err
    assert list(tmp_path.iterdir()) == []


def test_animate_leaves_the_old_page_where_the_setup_cannot_be_used(run: Callable[..., Ran], tmp_path: Path) -> None:
    out = tmp_path / "page.html"
    out.write_text("old", encoding="utf-8")
    assert run("animate", "no-such-brake", "-o", str(out)).code == 2
    assert out.read_text(encoding="utf-8") == "old"


@pytest.mark.parametrize("command", ["", "check", "solve", "setups", "demo", "draw", "animate", "show"])
@pytest.mark.parametrize("columns", ["60", "80"])
def test_help_has_examples_and_fits(
    run: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch, command: str, columns: str
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    ran = run(*command.split(), "--help")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Usage: mechviz")
    assert f"Examples:\n  mechviz {command}" in ran.out
    assert max(len(line.rstrip()) for line in ran.out.splitlines()) <= int(columns)


def test_no_arguments_print_the_help(run: Callable[..., Ran]) -> None:
    assert run().out.startswith("Usage: mechviz")


def test_version_is_the_packages(run: Callable[..., Ran]) -> None:
    from importlib.metadata import version

    assert run("--version").out.strip() == version("mechviz")


# processes: encodings, pipes, what is imported


def test_an_ascii_terminal_gets_plain_signs(write: Callable[..., str]) -> None:
    path = write('title = "Camión 90° \u2013 1½"\n')
    for command in ("check", "solve"):
        ran = process(command, path, encoding="ascii", LC_ALL="C")
        assert ran.stderr == b""
        assert ran.stdout.splitlines()[0] == b"Cami?n 90 deg - 1 1/2"
    assert strict_json(process("check", path, "--json", encoding="ascii").stdout.decode("ascii"))["title"].startswith(
        "Camión"
    )


def test_a_closed_pipe_is_quiet() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    ran = process("check", DRIVE, streams={"stdout": writing, "stderr": subprocess.PIPE})
    os.close(writing)
    assert (ran.returncode, ran.stderr) == (141, b"")


@pytest.mark.skipif(os.name != "posix", reason="needs a shell that closes a stream")
def test_a_closed_output_is_quiet() -> None:
    line = f'"{sys.executable}" -m apps.cli check {DRIVE} >&-'
    ran = subprocess.run(["sh", "-c", line], capture_output=True, check=False, timeout=60)
    assert (ran.returncode, ran.stderr) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_full_disk_is_said_in_one_line() -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        ran = process("check", DRIVE, streams={"stdout": full, "stderr": subprocess.PIPE})
    assert ran.returncode == 2
    assert ran.stderr.startswith(b"mechviz: No space left")
    assert ran.stderr.count(b"\n") == 1


def test_installed_command_answers() -> None:
    ran = process("check", DRIVE, "--json")
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert strict_json(ran.stdout.decode("ascii"))["checks"]


HEAVY = ("panel", "pyvista", "scipy", "pint", "numpy", "pydantic", "shapely", "rich")


def test_the_command_line_imports_nothing_heavy() -> None:
    look = f"import sys, apps.cli; print([m for m in {HEAVY!r} if m in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", look], capture_output=True, check=True, text=True)
    assert ran.stdout.strip() == "[]"


@pytest.mark.parametrize(("command", "shapes"), [("check", ["shapely"]), ("solve", [])])
def test_a_command_loads_no_solver_library_and_shapes_only_to_look_for_parts_that_meet(
    command: str, shapes: list[str]
) -> None:
    look = (
        f"import sys, apps.cli; code = apps.cli.main(['{command}', '{DRIVE}']); "
        "heavy = ('panel', 'pyvista', 'scipy.optimize', 'shapely', 'rich'); "
        "print(code, [m for m in heavy if m in sys.modules], file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", look], capture_output=True, check=True, text=True)
    assert ran.stderr.strip() == f"0 {shapes}"


@pytest.mark.parametrize(("environment", "bold"), [({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)])
def test_a_screen_gets_bold_verdicts_and_never_colour(
    run: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch, environment: dict[str, str], bold: bool
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr("apps.terminal.on_screen", lambda: True)
    out = run("check", DRIVE).out
    assert ("\x1b[1mNOT EVALUATED\x1b[0m  stroke limit" in out) is bold
    assert set(re.findall("\x1b\\[[0-9;]*m", out)) == ({"\x1b[1m", "\x1b[0m"} if bold else set())
