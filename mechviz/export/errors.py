"""The error of a picture that cannot be written."""

from geometry.errors import Fault, MechvizError


class ExportError(MechvizError, ValueError):
    """A picture, a page or a size that cannot be exported."""


def refused(where: str, problem: str, fix: str, given: float | str | None = None) -> ExportError:
    """Return the error for one thing that is wrong."""
    return ExportError(Fault(where, problem, fix, given=given, kind="number"))
