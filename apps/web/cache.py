"""What was worked out once is kept on disk for the next time, for as long as the program is the same."""

from contextlib import suppress
from functools import cache
from hashlib import sha256
from importlib.resources import files
from pathlib import Path

from platformdirs import user_cache_path

from apps.files import write_atomically
from geometry.errors import MechvizError

SUFFIXES = {".py", ".js", ".css", ".html", ".csv", ".toml", ".txt"}
"""What the program consists of."""

MOST_FILES = 300
"""About 120 MB; those that were used longest ago go first."""


def cache_folder() -> Path:
    """Return the folder of this user's for what can be worked out again."""
    return user_cache_path("mechviz", appauthor=False) / "made"


@cache
def program() -> str:
    """Return a fingerprint of the program: with other code, what was kept is no longer true."""
    found = sha256()
    for package in ("geometry", "mechviz", "apps.web"):
        root = Path(str(files(package)))
        for path in sorted(path for path in root.rglob("*") if path.suffix in SUFFIXES and _counts(package, path)):
            state = path.stat()
            found.update(f"{path.relative_to(root)} {state.st_size} {state.st_mtime_ns}\n".encode())
    return found.hexdigest()[:16]


def _counts(package: str, path: Path) -> bool:
    """Of the apps only what makes the data."""
    return package != "apps.web" or path.name == "making.py"


def kept(key: str) -> bytes | None:
    """Return what was kept under a key by this program, or None."""
    path = _path(key)
    with suppress(OSError):
        data = path.read_bytes()
        path.touch()
        return data
    return None


def keep(key: str, data: bytes) -> None:
    """Keep something; a disk that is full or closed only means that it is worked out again."""
    with suppress(OSError, MechvizError):
        cache_folder().mkdir(parents=True, exist_ok=True, mode=0o700)
        write_atomically(_path(key), data, "cache")
        _forget()


def _path(key: str) -> Path:
    return cache_folder() / f"{program()}-{key}"


def _forget() -> None:
    found = sorted(cache_folder().iterdir(), key=lambda path: path.stat().st_mtime)
    for path in found[:-MOST_FILES]:
        path.unlink(missing_ok=True)
