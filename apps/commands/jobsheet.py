"""`mechviz jobsheet`: the sheet of a job, or of one wheel's setup, as a page to print and sign."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from apps.commands.options import output_option, refused, renamed, stem_of
from apps.terminal import say

if TYPE_CHECKING:
    from mechviz.job.model import Job

EPILOGUE = """Examples:
  mechviz jobsheet quarry-axle-2.toml
  mechviz jobsheet worn-drive-16.5x7 -o worn.pdf --page letter

A job is a file that the mechanic's desk has saved: one axle,
both wheels, before and after. A setup is one wheel; it is
printed as the left one of a job, or with --side right."""


def jobsheet(
    job: Annotated[str, Parameter(name="JOB", help="A job's file, a setup file, or the name of a built-in setup.")],
    /,
    *,
    output: Annotated[Path | None, output_option("Where to write it; named after the job in this folder.")] = None,
    page: Annotated[Literal["a4", "letter"], Parameter(metavar="PAPER", help="Paper size.")] = "a4",
    side: Annotated[Literal["left", "right"], Parameter(metavar="WHEEL", help="Which wheel a setup is.")] = "left",
) -> int:
    """Print a job on one page: drawing, readings, results with their sources, cautions, a line to sign."""
    from apps.files import write_atomically
    from mechviz.job.sheet import job_sheet

    out = output or Path(f"{stem_of(job)}-job.pdf")
    if out.suffix.lower() != ".pdf":
        raise refused("--output", f"{out.name or out} is no PDF", f"use .pdf: {renamed(out, '.pdf')}")
    pdf = job_sheet(_read(job, side), page)
    write_atomically(out, pdf, "--output")
    say(f"Written: {out} ({len(pdf) / 1000:.0f} kB). One page to print and sign.\n")
    return 0


def _read(name: str, side: Literal["left", "right"]) -> "Job":
    """The job of a file: its own, or that of a setup, which is read as a whole first so that its faults are said."""
    from geometry.setup import builtin_names, builtin_text, read_setup
    from geometry.setup.text import read_file
    from mechviz.job.file import is_job, job_of_setup, read_job_text

    if name in builtin_names():
        return job_of_setup(builtin_text(name), side)
    text = read_file(Path(name)) if Path(name).is_file() else ""
    if text and is_job(text):
        return read_job_text(text)
    read_setup(name, judging=True)
    return job_of_setup(text, side)
