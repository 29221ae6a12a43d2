"""Options of the whole test suite: the fast suite is what runs without any."""

import os
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser

from tests.made import Made, Pages, leave_out_the_modes, made_in

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # each core has a worker already; read when numpy is first imported
LONGEST = "test_the_type_checker_finds_nothing"
"""Begun last, it would keep one worker busy while the others have nothing left."""


@pytest.fixture(scope="session")
def browser() -> Iterator["Browser"]:
    """One browser a worker: Playwright runs once in a thread."""
    from tests.page.browser import chromium

    with chromium() as found:
        yield found


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--fuzz", type=int, default=2000, metavar="N", help="how many mutated setup files to read")
    parser.addoption("--wide", action="store_true", help="also draw every brake in every state in both unit systems")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the wide sweeps out of the fast suite (the same checks, on more brakes and states), the longest first."""
    items.sort(key=lambda item: item.name != LONGEST)
    if config.getoption("--wide"):
        return
    wide = [item for item in items if item.get_closest_marker("wide")]
    config.hook.pytest_deselected(items=wide)
    items[:] = [item for item in items if not item.get_closest_marker("wide")]


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    return made_in(tmp_path_factory)


@pytest.fixture(scope="session")
def pages(made: Made) -> Pages:
    return Pages(made)


@pytest.fixture
def brake_only(pages: Pages, monkeypatch: pytest.MonkeyPatch) -> None:
    leave_out_the_modes(pages, monkeypatch)
