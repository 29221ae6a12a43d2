"""A slow, independent solver of one S-cam brake, by scans, bracketed roots, differencing and quadrature.

It shares no code with the fast solver; the fast one is tested against it. Start with ``solve(OracleBrake())``.
"""

from .brake import OracleBrake, from_sections
from .loads import Applied, applied_at
from .random_brakes import random_brake, random_brakes
from .refusal import RefusedError
from .setting import Prepared, prepare
from .solve import OracleResult, flatten, solve
from .state import State, state_at

__all__ = [
    "Applied",
    "OracleBrake",
    "OracleResult",
    "Prepared",
    "RefusedError",
    "State",
    "applied_at",
    "flatten",
    "from_sections",
    "prepare",
    "random_brake",
    "random_brakes",
    "solve",
    "state_at",
]
