"""The files beside this package's code: scripts, style sheets, the document around a desk."""

from functools import cache
from importlib.resources import files
from pathlib import Path


def script(name: str) -> Path:
    """Return where a component's script lies."""
    return Path(str(files("apps.web") / "script" / name))


@cache
def asset(name: str) -> str:
    """Return the text of a file under ``style/``."""
    return (files("apps.web") / "style" / name).read_text(encoding="utf-8")


def sheets(*names: str) -> list[str]:
    """Return style sheets, for a component that stands in a shadow of its own."""
    return [asset(name) for name in names]
