"""One verdict: what was checked, what came out, against which limit of which source, and what to do about it."""

from dataclasses import dataclass
from typing import Any, Literal

from geometry.quantity import KindName

Result = Literal["pass", "close", "fail", "not-applicable", "not-evaluated"]
Basis = Literal["measured", "solved", "stated"]
RESULTS: tuple[Result, ...] = ("pass", "close", "fail", "not-applicable", "not-evaluated")


@dataclass(frozen=True)
class CheckRow:
    """A row of the check report.

    Parameters
    ----------
    check : str
        Its name, for example ``stroke-limit``.
    result : Result
        ``close`` is inside the limit, but by less than the reading's resolution: measure again.
    source : str
        Where the limit is published, with its status where it is common practice or from memory.
    advice : str
        What it means and what to do, in plain words; for ``not-evaluated``, which reading is missing.
    value, limit, margin : float, optional
        In the unit used inside geometry (``kind`` says of what); None where there is none. A positive margin is what
        is left, a negative one what is over.
    kind, unit : str
        Kind of quantity, and the unit in which the source states it (``in``, ``mm``, ``deg``, ``psi``, ``kPa``, ````).
    resolution : float
        How finely the value was read; 0 for a solved one.
    basis : str
        ``measured``, ``solved`` or ``stated``: where the value comes from.
    against : str
        ``limit``, or ``expected`` where ``limit`` is a figure to agree with, within ``allowance``.
    missing : str
        The setup file's key that would have to be written for the check to be made.
    allowance : float
        How far from an expected figure the value may be, its resolution included; 0 where nothing is allowed for.
    """

    check: str
    result: Result
    source: str
    advice: str
    value: float | None = None
    limit: float | None = None
    margin: float | None = None
    kind: KindName = "length"
    unit: str = "in"
    resolution: float = 0.0
    basis: Basis = "measured"
    against: Literal["limit", "expected"] = "limit"
    missing: str = ""
    allowance: float = 0.0


def missing_row(check: str, source: str, key: str, how: str, **rest: Any) -> CheckRow:
    """Return the ``not-evaluated`` row of a check whose reading ``key`` is missing; ``how`` says how to take it."""
    return CheckRow(check, "not-evaluated", source, f"{key} is missing: {how}", missing=key, **rest)
