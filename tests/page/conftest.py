"""One browser a worker, and each page made once a run."""

import json
import os
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from time import monotonic, sleep
from typing import Any

import pytest
from playwright.sync_api import Browser

from geometry.setup import read_setup
from mechviz.page import html
from mechviz.page.html import page_data, page_of
from tests.page.browser import Opened, chromium, opened

WORN = "worn-drive-16.5x7"
WAIT = 60.0
"""Seconds to wait for a page that another worker is making."""

Open = Callable[..., AbstractContextManager[Opened]]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@dataclass(frozen=True)
class Pages:
    """The pages of the built-in setups, in a folder that all workers share."""

    folder: Path

    def data(self, name: str) -> dict[str, Any]:
        """The data of a page, as JSON leaves them."""
        return _read(self._made(name))

    def file(self, name: str) -> Path:
        """The page as a file."""
        path = self.folder / f"{name}.html"
        if not path.exists():
            _write(path, page_of(self.data(name)))
        return path

    def _made(self, name: str) -> Path:
        path = self.folder / f"{name}.json"
        if not path.exists() and not _another_makes(path):
            _write(path, json.dumps(page_data(read_setup(name)), allow_nan=False))
        return path


def _another_makes(path: Path) -> bool:
    """Wait for a file that another worker has begun; False where it is for this one to make."""
    try:
        path.with_suffix(".begun").touch(exist_ok=False)
    except FileExistsError:
        end = monotonic() + WAIT
        while monotonic() < end and not path.exists():
            sleep(0.02)
        return path.exists()
    return False


def _write(path: Path, text: str) -> None:
    """Write a file that is there as a whole or not at all."""
    own = path.with_suffix(f".{os.getpid()}")
    own.write_text(text, encoding="utf-8")
    own.replace(path)


@cache
def _read(path: Path) -> dict[str, Any]:
    return json.loads(path.read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Pages:
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "made-pages"
    folder.mkdir(exist_ok=True)
    return Pages(folder)


@pytest.fixture
def brake_only(pages: Pages, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages that a test makes have the life, defects and air of another brake: they are not looked at."""
    made = pages.data(WORN)
    for name, key in (("life_data", "life"), ("defects_data", "defects"), ("air_data", "air")):
        monkeypatch.setattr(html, name, lambda *_, key=key: made[key])


@pytest.fixture
def show(browser: Browser, pages: Pages) -> Open:
    def page(name: str = WORN, state: str = "", **options: Any) -> AbstractContextManager[Opened]:
        return opened(browser, pages.file(name).as_uri() + state, **options)

    return page
