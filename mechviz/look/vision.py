"""How well two colours can be told apart: contrast, grey, and with a colour deficiency.

Contrast is the ratio of WCAG 2.2 (success criteria 1.4.3 and 1.4.11: 4.5:1 for text, 3:1 for large text and for
lines). Colour deficiency is simulated by the matrices at full severity of G. M. Machado, M. M. Oliveira and L. A. F.
Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE Transactions on Visualization
and Computer Graphics 15 (6), 2009, applied to linear RGB; the digits are those that open-source implementations of it
agree on, not read from the paper itself. That model is known to be weaker for tritan than for protan and deutan.
Difference is the CIELAB distance of 1976 under D65: about 2.3 can just be noticed side by side.
"""

from collections.abc import Mapping
from math import dist
from typing import Literal

from mechviz.look.colours import channels

Deficiency = Literal["protan", "deutan", "tritan"]
Triple = tuple[float, float, float]
Matrix = tuple[Triple, Triple, Triple]

DEFICIENCIES: Mapping[Deficiency, Matrix] = {
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}

_TO_XYZ: Matrix = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
"""Linear sRGB to CIE XYZ, IEC 61966-2-1; its middle row is the luminance of WCAG."""

_WHITE: Triple = (0.9505, 1.0, 1.089)


def _linear(colour: str) -> Triple:
    red, green, blue = (c / 255 for c in channels(colour))
    return _undone(red), _undone(green), _undone(blue)


def _undone(channel: float) -> float:
    """Undo the transfer curve of sRGB."""
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def _times(matrix: Matrix, vector: Triple) -> Triple:
    x, y, z = (sum(m * v for m, v in zip(row, vector, strict=True)) for row in matrix)
    return x, y, z


def luminance(colour: str) -> float:
    """Return the relative luminance, 0 for black and 1 for white."""
    return _times(_TO_XYZ, _linear(colour))[1]


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21.

    >>> round(contrast("#000000", "#FFFFFF"), 1)
    21.0
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def seen(colour: str, deficiency: Deficiency | None = None) -> Triple:
    """Return a colour in CIELAB (lightness, green to red, blue to yellow) as it is seen with a deficiency."""
    linear = _linear(colour)
    if deficiency:
        red, green, blue = (min(1.0, max(0.0, c)) for c in _times(DEFICIENCIES[deficiency], linear))
        linear = red, green, blue
    x, y, z = (_response(c / w) for c, w in zip(_times(_TO_XYZ, linear), _WHITE, strict=True))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _response(share: float) -> float:
    """The cube root of CIELAB with its straight foot."""
    return share ** (1 / 3) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116


def difference(one: str, other: str, deficiency: Deficiency | None = None) -> float:
    """Return the distance of two colours in CIELAB, as seen with a deficiency or without."""
    return dist(seen(one, deficiency), seen(other, deficiency))


def grey_difference(one: str, other: str) -> float:
    """Return by how much two colours differ in lightness (0 to 100): what a copy in grey leaves of them."""
    return abs(seen(one)[0] - seen(other)[0])
