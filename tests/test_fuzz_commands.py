"""Whatever brake a file describes, every study of it answers or says why not: never a fault of the program.

Behind ``--wide``: the commands are slow beside the reader that `test_fuzz_setup` tries.
"""

from itertools import count
from pathlib import Path

import pytest

from apps.cli import main
from geometry.errors import SetupError
from geometry.setup import read_setup_text
from tests.fuzz_cases import fuzz_case

COMMANDS = ("life", "heat", "air", "faults", "fit", "diagnose")
FIRST, FILES = 3000, 24


def usable(number: int) -> list[str]:
    """The first so many mutated files that describe a brake."""
    found = list[str]()
    for case in count(FIRST):
        text = fuzz_case(case)
        try:
            read_setup_text(text, "fuzz")
        except SetupError:
            continue
        found.append(text)
        if len(found) == number:
            break
    return found


@pytest.mark.wide
@pytest.mark.parametrize("command", COMMANDS)
def test_a_study_of_a_mutated_brake_answers_or_says_why_not(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "fuzz.toml"
    for text in usable(FILES):
        path.write_text(text, encoding="utf-8")
        code = main([command, str(path)])
        shown = capsys.readouterr()
        assert code in (0, 1, 2), (shown.err, text)
        assert bool(shown.out) == (code != 2), (shown.err, text)
        assert not {"nan", "inf", "-inf"} & set(shown.out.lower().split()), text
