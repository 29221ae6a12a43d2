"""Where the server keeps what is to outlive it: one folder of the user's, and nowhere else."""

import os
from pathlib import Path

from platformdirs import user_data_path

VARIABLE = "MECHVIZ_DATA"


def data_folder() -> Path:
    """Return the folder where this user's jobs, lessons and films are kept; ``MECHVIZ_DATA`` names another one."""
    own = os.environ.get(VARIABLE)
    return Path(own) if own else user_data_path("mechviz", appauthor=False)


def own_folder(name: str) -> Path:
    """Return a folder in it, made if it is not there yet, that nobody else can read. Raises `OSError`."""
    folder = data_folder() / name
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    return folder
