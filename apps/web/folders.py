"""Where the server keeps what is to outlive it: one folder of the user's, and nowhere else."""

from pathlib import Path

from platformdirs import user_data_path


def own_folder(name: str) -> Path:
    """Return a folder of the user's for jobs or lessons, made if it is not there yet. Raises `OSError`."""
    folder = user_data_path("mechviz", appauthor=False) / name
    folder.mkdir(parents=True, exist_ok=True)
    return folder
