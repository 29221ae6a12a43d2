"""The study file: read with every fault at once, and written so that it reads back the same."""

from pathlib import Path

import pytest

from geometry.errors import SetupError
from geometry.setup import builtin_text
from mechviz.study import Listed, Normal, Spread, Triangular, Uniform
from mechviz.study.file import read_study, read_study_text, study_names, study_text
from mechviz.study.write import study_file_text

IN = 25.4
HEAD = 'schema = 1\nbase = "drive-16.5x7"\n'
ARM = '[parameters."linkage.arm_length"]\nfrom = "5 in"\nto = "6 in"\n'
ASKED = '[[outcomes]]\nname = "applied-stroke"\n'


def parameter(*lines: str, key: str = "linkage.arm_length") -> str:
    return "\n".join([HEAD, f'[parameters."{key}"]', *lines, ASKED])


def spread(*lines: str, key: str = "linkage.arm_length") -> object:
    return read_study_text(parameter(*lines, key=key)).parameters[0].spread


def faults(text: str) -> list[str]:
    with pytest.raises(SetupError) as caught:
        read_study_text(text)
    return str(caught.value).splitlines()


@pytest.mark.parametrize("name", study_names())
@pytest.mark.parametrize("system", ["inch", "metric"])
def test_a_study_is_written_back_the_same(name: str, system: str) -> None:
    study = read_study(name)
    again = read_study_text(study_file_text(study, system=system))  # pyright: ignore[reportArgumentType]
    for part in ("title", "parameters", "outcomes", "plan", "best_by", "map_of", "brakes"):
        assert getattr(again, part) == getattr(study, part)
    assert again.base.source == study.base.source


FIVE_SIX = ('from = "5 in"', 'to = "6 in"')
WAYS: list[tuple[tuple[str, ...], Spread]] = [
    (FIVE_SIX, Uniform(5 * IN, 6 * IN)),
    ((*FIVE_SIX, 'distribution = "normal"'), Normal.within(5.5 * IN, 0.5 * IN)),
    ((*FIVE_SIX, 'distribution = "triangular"'), Triangular(5 * IN, 5.5 * IN, 6 * IN)),
    ((*FIVE_SIX, 'mode = "5.25 in"'), Triangular(5 * IN, 5.25 * IN, 6 * IN)),
    (('nominal = "5.5 in"', 'tolerance = "1/8 in"'), Normal.within(5.5 * IN, IN / 8)),
    (('nominal = "5.5 in"', 'deviation = "0.02 in"'), Normal(5.5 * IN, 0.02 * IN)),
    (('nominal = "5 in"', 'tolerance = "1 in"', 'distribution = "uniform"'), Uniform(4 * IN, 6 * IN)),
    (('nominal = "5 in"', 'tolerance = "1 in"', 'distribution = "triangular"'), Triangular(4 * IN, 5 * IN, 6 * IN)),
    (('values = ["5 in", "140 mm"]',), Listed((5 * IN, 140.0))),
]


@pytest.mark.parametrize(("lines", "expected"), WAYS)
def test_every_way_to_state_a_spread(lines: tuple[str, ...], expected: Spread) -> None:
    found = spread(*lines)
    assert type(found) is type(expected)
    assert vars(found) == {name: pytest.approx(value, rel=1e-14) for name, value in vars(expected).items()}


def test_a_plain_number_has_no_unit() -> None:
    assert spread("nominal = 0.35", "deviation = 0.02", key="foundation.friction") == Normal(0.35, 0.02)


def test_an_empty_file_is_told_what_it_lacks() -> None:
    assert [line.split(":")[0] for line in faults("")] == ["schema", "base", "parameters", "outcomes"]


def test_a_tolerance_of_temperature_is_a_difference() -> None:
    found = spread('nominal = "70 degF"', 'tolerance = "27 degF"', key="condition.drum_temperature")
    assert isinstance(found, Normal)
    assert found.mean == pytest.approx(294.2611, abs=1e-4)
    assert found.deviation == pytest.approx(5.0, abs=1e-9)


def test_sizes_are_words_and_a_section_may_be_written_without_quotes() -> None:
    study = read_study_text(f'{HEAD}[parameters.chamber.size]\nvalues = ["24", 30]\n{ASKED}')
    assert study.parameters[0].words == ("24", "30")
    assert study.parameters[0].key == "chamber.size"


def test_the_first_parameters_and_outcomes_are_mapped_and_the_best_unless_said() -> None:
    other = '[parameters."linkage.pin_reach"]\nfrom = "5 in"\nto = "6 in"\n'
    study = read_study_text(HEAD + ARM + other + ASKED)
    assert study.map_of == ("linkage.arm_length", "linkage.pin_reach", "applied-stroke")
    assert read_study_text(HEAD + ARM + other + ASKED + '[map]\nx = "linkage.pin_reach"\n').map_of == (
        "linkage.pin_reach",
        "linkage.arm_length",
        "applied-stroke",
    )
    assert read_study_text(HEAD + ARM + ASKED).map_of is None


def test_inches_and_millimetres_make_the_same_study() -> None:
    metric = ARM.replace("5 in", "127 mm").replace("6 in", "152.4 mm")
    assert read_study_text(HEAD + ARM + ASKED).parameters == read_study_text(HEAD + metric + ASKED).parameters


BROKEN = """schema = 1
base = "drive-16.5x7"
[parameters."linkage.arm_lenght"]
from = "5 in"
to = "6 in"
[parameters.linkage.pin_reach]
from = "5"
to = "4 inn"
[parameters."foundation.friction"]
nominal = "0.3"
deviation = 0.1
[parameters."linkage.axis_offset"]
from = "6 in"
to = "5 in"
[parameters."linkage.pivot_depth"]
from = "1 in"
[parameters."chamber.size"]
values = []
[[outcomes]]
name = "aplied-stroke"
[[outcomes]]
name = "brake-torque"
wear = "worn"
least = "3 in"
[plan]
kind = "sobel"
"""


def test_everything_that_is_wrong_is_said_at_once_with_its_place_and_what_would_do() -> None:
    found = faults(BROKEN)
    expected = [
        ("parameters.linkage.arm_lenght:", 'write [parameters."linkage.arm_length"]'),
        ("parameters.linkage.pin_reach.from = 5:", 'write "5 in"'),
        ("parameters.linkage.pin_reach.to = 4 inn:", 'write "4 in"'),
        ("parameters.foundation.friction.nominal = 0.3:", "without quotes"),
        ("parameters.linkage.axis_offset.to:", "smaller figure first"),
        ("parameters.linkage.pivot_depth:", "write from and to"),
        ("parameters.chamber.size.values:", 'write values = ["24", "30"]'),
        ("outcomes[1].name = aplied-stroke:", 'write "applied-stroke"'),
        ("outcomes[2].wear = worn:", 'write "worn-out"'),
        ("outcomes[2].least = 3 in:", "a torque belongs here"),
        ("plan.kind = sobel:", 'write "sobol"'),
    ]
    assert len(found) == len(expected)
    for line, (where, fix) in zip(found, expected, strict=True):
        assert line.startswith(where), line
        assert fix in line


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (f"{HEAD}{ASKED}", "parameters: is missing"),
        (HEAD + ARM, "outcomes: is missing"),
        (HEAD.replace("1", "2", 1) + ARM + ASKED, "write schema = 1"),
        (HEAD + ARM + ASKED + "[plan]\npoints = 0\n", "plan.points = 0: is no such count; use at least 1"),
        (HEAD + ARM + ASKED + "[plan]\npoints = 9999999\n", "plan.points = 9999999: is no such count; use at most"),
        (HEAD + ARM + ASKED + "[plan]\npoints = true\n", "plan.points: is true or false"),
        (HEAD + ARM + ASKED + "[plam]\npoints = 9\n", "plam: is not a key of a study; write plan"),
        (
            HEAD + ARM + ASKED + '[map]\nx = "linkage.arm"\n',
            "map.x = linkage.arm: is not one of this study's; write \"linkage.arm",
        ),
        (HEAD + ARM + ASKED + '[best]\nby = ["brake-torque"]\n', "best.by = brake-torque: is not one of this study's"),
        (HEAD + ARM + ASKED + 'least = "3 in"\nmost = "2 in"\n', "outcomes[1].least: is more than most"),
        (HEAD + ARM + ASKED + ASKED, "same outcome twice"),
        (
            HEAD + ARM.replace("linkage.arm_length", "cam.rise").replace("in", "mm/deg") + ASKED,
            "is no figure of this base",
        ),
        (
            HEAD.replace("drive", "dirve") + ARM + ASKED,
            "base = dirve-16.5x7: is neither a file nor a built-in setup; use drive",
        ),
        (HEAD + "outcomes = 3\n" + ARM, "outcomes: is not written as it must be"),
        (HEAD + '[parameters."linkage.arm_length"]\nform = "5 in"\n' + ASKED, "write from"),
        (HEAD + ARM + ASKED + "[plan", "line"),
    ],
)
def test_what_cannot_be_used_is_said_in_one_line(text: str, words: str) -> None:
    found = faults(text)
    assert len(found) == 1
    assert words in found[0]


def test_a_base_beside_the_study_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    (folder / "mine.toml").write_text(
        builtin_text("drive-16.5x7").replace('arm_length = "5.5 in"', 'arm_length = "5.75 in"')
    )
    (folder / "study.toml").write_text((HEAD + ARM + ASKED).replace("drive-16.5x7", "mine.toml"))
    monkeypatch.chdir(tmp_path)
    assert read_study("job/study.toml").base.brake.linkage.arm_length == pytest.approx(5.75 * IN)


def test_the_starter_names_every_wear_heat_plan_and_distribution() -> None:
    from mechviz.study.keys import CHOICES

    text = study_text("arm-and-rod")
    for words in CHOICES.values():
        assert all(word in text for word in words)
