"""Files that are there whole or not at all."""

import os
import tempfile
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def replaced_atomically(path: Path, where: str) -> Generator[Path]:
    """Give a file beside ``path`` to be written, and put it in its place when all went well; else it is gone.

    ``where`` is the option that named it. Raises `MechvizError` where it cannot be written.
    """
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.stem}.", suffix=path.suffix, dir=path.parent)
    except OSError as error:
        raise _unwritable(path, where, error) from error
    os.close(handle)
    beside = Path(name)
    try:
        yield beside
        beside.chmod(path.stat().st_mode if path.exists() else 0o666 & ~_umask())
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def write_atomically(path: Path, content: bytes, where: str) -> None:
    """Write a file in one step: whoever opens it finds the old one or the new one.

    ``where`` is the option that named it. Raises `MechvizError` where it cannot be written.
    """
    try:
        _replace(path, content)
    except OSError as error:
        raise _unwritable(path, where, error) from error


def _unwritable(path: Path, where: str, error: OSError) -> Exception:
    from geometry.errors import Fault, MechvizError

    reason = (error.strerror or str(error)).lower()
    return MechvizError(
        Fault(where, f"{path} cannot be written to: {reason}", "name a file of your own", kind="number")
    )


def _replace(path: Path, content: bytes) -> None:
    """Write beside the file and put that in its place; what is no ordinary file (a pipe) is written to as it is."""
    if path.exists() and not path.is_file():
        path.write_bytes(content)
        return
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        beside.chmod(path.stat().st_mode if path.exists() else 0o666 & ~_umask())
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
