"""Jobs kept by the server in the user's own folder: one file each, there whole or not at all."""

import re
import secrets
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from apps.files import write_atomically
from apps.web.folders import VARIABLE, data_folder
from geometry.errors import Fault, MechvizError
from geometry.setup.text import read_file
from mechviz.job.file import job_text, read_job_text
from mechviz.job.model import Job

NAME = re.compile(r"[0-9a-f]{12}")
"""What a job is kept under; nothing else ever becomes a path."""
MOST_LISTED = 12


@dataclass(frozen=True)
class Kept:
    """A job that is kept: its name, what it is called, and when it was last written (local time)."""

    name: str
    title: str
    changed: str


class JobStore:
    """The jobs in a folder. Nothing is written before something was typed, and nothing outside of the folder."""

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = (folder or data_folder()) / "jobs"

    def new_name(self) -> str:
        """Return a name that no job has: nobody guesses it, so that an address is not met with by chance."""
        return secrets.token_hex(6)

    def save(self, name: str, job: Job) -> str:
        """Write a job and return its text. Raises `MechvizError` where that cannot be done."""
        text, path = job_text(job), self._path(name)
        try:
            self._folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            fix = f"let {VARIABLE} name a folder of your own"
            raise MechvizError(Fault("job", f"{self._folder} cannot be made: {reason}", fix, kind="number")) from error
        write_atomically(path, text.encode("utf-8"), "job")
        return text

    def text(self, name: str) -> str | None:
        """Return the text of a job as it is kept; None where there is none of that name."""
        if not NAME.fullmatch(name) or not self._path(name).is_file():
            return None
        return read_file(self._path(name))

    def load(self, name: str) -> Job | None:
        """Return a job; None where there is none. Raises `SetupError` for a file that somebody else has changed."""
        text = self.text(name)
        return None if text is None else read_job_text(text)

    def recent(self, most: int = MOST_LISTED) -> list[Kept]:
        """Return the jobs that were changed last, the newest first; files that cannot be read are left out."""
        found = sorted(self._files(), key=lambda one: -one[0])
        listed = (self._kept(when, path) for when, path in found[: 2 * most])
        return [one for one in listed if one][:most]

    def _files(self) -> list[tuple[float, Path]]:
        try:
            paths = [path for path in self._folder.iterdir() if NAME.fullmatch(path.stem) and path.suffix == ".toml"]
            return [(path.stat().st_mtime, path) for path in paths]
        except OSError:
            return []

    def _kept(self, when: float, path: Path) -> Kept | None:
        try:
            title = read_job_text(read_file(path)).title
        except MechvizError:
            return None
        return Kept(path.stem, title, f"{datetime.fromtimestamp(when):%Y-%m-%d %H:%M}")

    def _path(self, name: str) -> Path:
        if not NAME.fullmatch(name):
            raise MechvizError(Fault("job", "is no name of a job", "follow a link of the desk", name[:20], "number"))
        return self._folder / f"{name}.toml"
