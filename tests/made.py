"""What is slow to make and the same for every test: made once a run, whichever worker comes first, kept in a file."""

import json
import os
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from time import monotonic, sleep
from types import SimpleNamespace
from typing import Any

import pytest

WORN = "worn-drive-16.5x7"
WAIT = 60.0
"""Seconds to wait for what another worker is making."""


@dataclass(frozen=True)
class Made:
    """A folder that all workers share."""

    folder: Path

    def file(self, name: str, make: Callable[[], str]) -> Path:
        """Return a file of that name, with the text that ``make`` gives."""
        path = self.folder / name
        if not path.exists() and not _another_makes(path):
            _write(path, make())
        return path

    def json(self, name: str, make: Callable[[], Any]) -> Any:
        """Return what ``make`` gives, as JSON leaves it. It is the same object for every test: change nothing in it."""
        return _read(self.file(f"{name}.json", lambda: json.dumps(make(), allow_nan=False)))


@dataclass(frozen=True)
class Pages:
    """The pages of the built-in setups."""

    made: Made

    def data(self, name: str) -> dict[str, Any]:
        """The data of a page, as JSON leaves them."""
        from geometry.setup import read_setup
        from mechviz.page.html import page_data

        return self.made.json(name, lambda: page_data(read_setup(name)))

    def file(self, name: str) -> Path:
        """The page as a file."""
        from mechviz.page.html import page_of

        return self.made.file(f"{name}.html", lambda: page_of(self.data(name)))


def made_in(factory: pytest.TempPathFactory) -> Made:
    """Return the folder of this run."""
    base = factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "made"
    folder.mkdir(exist_ok=True)
    return Made(folder)


def leave_out_the_modes(pages: Pages, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let pages that a test makes have the worn brake's modes, solids and names of parts: they are not looked at."""
    from mechviz.page import html

    made = pages.data(WORN)
    for name, key in (("life_data", "life"), ("defects_data", "defects"), ("air_data", "air")):
        monkeypatch.setattr(html, name, lambda *_, key=key: made[key])
    monkeypatch.setattr(html, "page_names", lambda *_: _names())
    monkeypatch.setattr(html, "solid_view", lambda *_: SimpleNamespace(data=lambda: made["solid"]))


@cache
def _names() -> Any:
    from geometry.found import condition_of
    from geometry.setup import read_setup
    from mechviz.drawing.layout import layout
    from mechviz.drawing.scene import scene_at
    from mechviz.page.labels import page_names

    setup = read_setup(WORN)
    scene = scene_at(setup, condition_of(setup), "released")
    return page_names(scene, layout(setup.brake, scene.outlines))


def _another_makes(path: Path) -> bool:
    """Wait for a file that another worker has begun; False where it is for this one to make."""
    try:
        path.with_name(f"{path.name}.begun").touch(exist_ok=False)
    except FileExistsError:
        end = monotonic() + WAIT
        while monotonic() < end and not path.exists():
            sleep(0.02)
        return path.exists()
    return False


def _write(path: Path, text: str) -> None:
    """Write a file that is there as a whole or not at all."""
    own = path.with_name(f"{path.name}.{os.getpid()}")
    own.write_text(text, encoding="utf-8")
    own.replace(path)


@cache
def _read(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))
