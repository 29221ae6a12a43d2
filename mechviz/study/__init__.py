"""Studies for the designer: any parameters of a setup against any outcomes, by the million.

`Study` is a base setup with `Parameter`s, `Outcome`s and a `Plan`; `run` solves it and gives a `Result` of columns.
"""

from mechviz.study.outcome import Outcome
from mechviz.study.parameter import Parameter, size_parameter
from mechviz.study.plan import Plan
from mechviz.study.quantities import QUANTITIES, Quantity
from mechviz.study.running import CancelledError, Result, Study, run, solve_at
from mechviz.study.spread import Listed, Normal, Spread, Triangular, Uniform

__all__ = [
    "QUANTITIES",
    "CancelledError",
    "Listed",
    "Normal",
    "Outcome",
    "Parameter",
    "Plan",
    "Quantity",
    "Result",
    "Spread",
    "Study",
    "Triangular",
    "Uniform",
    "run",
    "size_parameter",
    "solve_at",
]
