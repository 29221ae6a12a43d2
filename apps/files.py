"""Files that are there whole or not at all."""

import os
import tempfile
from pathlib import Path


def write_atomically(path: Path, content: bytes, where: str) -> None:
    """Write a file in one step: whoever opens it finds the old one or the new one.

    ``where`` is the option that named it. Raises `MechvizError` where it cannot be written.
    """
    from geometry.errors import Fault, MechvizError

    try:
        _replace(path, content)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        fault = Fault(where, f"{path} cannot be written to: {reason}", "name a file of your own", kind="number")
        raise MechvizError(fault) from error


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
