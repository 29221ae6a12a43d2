"""The slow numerical tools: roots in a bracket, a refined minimum, a five-point derivative, quadrature."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable

import numpy as np
from scipy.optimize import brentq

from .refusal import RefusedError

GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
Function = Callable[[float], float]


def bisect(function: Function, low: float, high: float) -> float:
    """Root of a function that changes sign between low and high, by halving until the floats run out."""
    at_low = function(low)
    while True:
        middle = 0.5 * (low + high)
        if middle in (low, high):
            return middle
        value = function(middle)
        if value == 0.0:
            return middle
        if (value > 0.0) == (at_low > 0.0):
            low = middle
        else:
            high = middle


def root(function: Function, low: float, high: float, part: str, reason: str, slack: float = 0.0) -> float:
    """Root in a bracket to the last digits (Brent's bracketed method), refused when the sign does not change.

    An end whose value is within ``slack`` of zero counts as the root.
    """
    at_low, at_high = function(low), function(high)
    for end, value in ((low, at_low), (high, at_high)):
        if abs(value) <= slack:
            return end
    if not (at_low < 0.0 < at_high or at_high < 0.0 < at_low):
        raise RefusedError(part, reason)
    return float(brentq(function, low, high, xtol=1e-16, rtol=4.0 * sys.float_info.epsilon, maxiter=300))


def golden_minimum(function: Function, low: float, high: float) -> tuple[float, float]:
    """Place and value of the minimum of a function with one valley, by golden section.

    The place is good to about 1e-8, the value to rounding (it is flat there).
    """
    width = 1e-9 * max(1.0, abs(low), abs(high))
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = function(left), function(right)
    while high - low > width:
        if at_left <= at_right:
            high, right, at_right = right, left, at_left
            left = high - GOLDEN * (high - low)
            at_left = function(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + GOLDEN * (high - low)
            at_right = function(right)
    return (left, at_left) if at_left <= at_right else (right, at_right)


def derivative(function: Function, at: float, step: float) -> float:
    """First derivative by the five-point central stencil: error step^4 / 30 times the fifth derivative."""
    near = function(at + step) - function(at - step)
    far = function(at + 2.0 * step) - function(at - 2.0 * step)
    return (8.0 * near - far) / (12.0 * step)


def gauss_nodes(low: float, high: float, count: int = 48) -> tuple[np.ndarray, np.ndarray]:
    """Nodes and weights of Gauss-Legendre quadrature between low and high."""
    nodes, weights = np.polynomial.legendre.leggauss(count)
    half = 0.5 * (high - low)
    return half * nodes + 0.5 * (high + low), half * weights
