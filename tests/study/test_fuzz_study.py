"""Whatever a study file says, it is read and solved, or refused in plain words: never a fault of the program."""

import random
from dataclasses import replace

import pytest

from geometry.errors import MechvizError
from mechviz.study import Plan, run
from mechviz.study.file import read_study_text, study_names, study_text
from mechviz.study.quantities import QUANTITIES
from mechviz.study.worked import work

WORDS = [
    '"5 in"',
    '"-3 in"',
    '"0 in"',
    "0",
    "-1",
    "1e400",
    "nan",
    '""',
    "true",
    "[]",
    "{}",
    '[["a"]]',
    '"99 psi"',
    "1979-05-27",
    '"normal"',
    '"hot"',
    "3",
    "[1, 2]\n",
    '["30", "24"]',
    '"200 degC"',
]
KEYS = ("from", "to", "mode", "nominal", "tolerance", "values", "distribution", "wear", "heat", "least", "most")
SECTIONS = ('[parameters."condition.free_stroke"]', '[parameters."cam.rise"]', "[plan]", "[map]", "[[outcomes]]")


def mutated(seed: int) -> str:
    """A built-in study with a few lines lost, doubled, changed or added."""
    draw = random.Random(seed)
    lines = study_text(draw.choice(study_names())).splitlines()
    for _ in range(draw.randint(1, 4)):
        at = draw.randrange(len(lines))
        match draw.randrange(6):
            case 0:
                del lines[at]
            case 1 if "=" in lines[at]:
                lines[at] = f"{lines[at].partition('=')[0]}= {draw.choice(WORDS)}"
            case 2:
                lines.insert(at, f"{draw.choice(KEYS)} = {draw.choice(WORDS)}")
            case 3:
                lines.insert(at, draw.choice(SECTIONS))
            case 4:
                lines[at] = lines[at].replace(draw.choice('aeiostn_. "5'), draw.choice(["", "x", "7"]), 1)
            case _:
                name = draw.choice(list(QUANTITIES))
                lines += ["[[outcomes]]", f'name = "{name}"', f'heat = "{draw.choice(["hot", "cold"])}"']
    return "\n".join(lines)


def test_a_mutated_study_is_solved_or_refused(request: pytest.FixtureRequest) -> None:
    solved, refusals = 0, list[MechvizError]()
    for seed in range(3000 if request.config.getoption("--wide") else 100):
        text = mutated(seed)
        try:
            study = read_study_text(text)
        except MechvizError as error:
            refusals.append(error)
            continue
        solved += 1
        result = run(replace(study, plan=Plan("monte-carlo", 16)))
        assert result.size == 16
        if seed % 20 == 0:
            work(replace(study, plan=Plan("monte-carlo", 16), brakes=min(study.brakes, 50)), 2)
    assert min(solved, len(refusals)) > 10
    assert all(error.faults for error in refusals)
    assert all(fault.problem and fault.fix for error in refusals for fault in error.faults)
