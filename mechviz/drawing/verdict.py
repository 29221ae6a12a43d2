"""A stroke against its readjustment limit: pass, close, fail, or not evaluated and why.

The readjustment limit of 49 CFR 393.47(e) is for a cold brake. A hot drum has grown away from the linings, so its
stroke is told against the limit, but nothing is passed or failed by it.
"""

from dataclasses import dataclass
from typing import Literal

from geometry.tables import procedures, test_pressure_band
from mechviz.drawing.scene import Scene
from mechviz.drawing.words import SAME, apart, figure
from mechviz.report.written import INCH

VerdictName = Literal["pass", "close", "fail", "not evaluated"]
ROUNDING = 1e-9
"""MPa and mm: figures nearer than this are the same figure."""


@dataclass(frozen=True)
class Verdict:
    """What a stroke is, as one of the four words.

    Parameters
    ----------
    name : str
        The word.
    said : str
        What follows it in a sentence: the margin, or why there is no verdict.
    margin : str
        The margin by itself, ``over by 0.12 in``; empty where none is told.
    why : str
        Why there is no verdict, as short as it can be; empty where there is one.
    beyond : bool
        Whether the stroke is past the limit, whatever that is worth.

    """

    name: VerdictName
    said: str
    margin: str = ""
    why: str = ""
    beyond: bool = False

    @property
    def words(self) -> str:
        """The whole of it."""
        return f"{self.name}: {self.said}"


def judged(scene: Scene) -> Verdict:
    """Return the verdict on a scene's stroke.

    On a drum that is not hot, over the limit fails at any pressure up to a test's. Inside it passes only where a test
    would judge it: held by a pressure that a procedure asks for. By less than readings and model can tell is close.
    """
    stroke, limit = scene.state.stroke, scene.case.limit.limit_mm
    if stroke is None:
        return _open("there is no such state")
    over = stroke > limit + ROUNDING
    side, by = "over" if over else "inside", apart(limit, stroke, scene.system)
    told, far, margin = f"{side} the limit", f" by {by}", f"{side} by {by}"
    if abs(stroke - limit) < SAME * INCH:
        told, far, margin = "at the limit", "", "at the limit"
    if not scene.case.knows_chamber:
        return _open("which chamber it is, the file does not say", "chamber not named")
    if scene.hot:
        why = "limit is for cold drums"
        return Verdict("not evaluated", f"{told} of a cold drum{far}", margin, why, over)
    if over and not _too_much_air(scene):
        if stroke - scene.open_stroke > limit + ROUNDING:
            return Verdict("fail", told + far, margin, beyond=True)
        return Verdict("close", f"{margin}, too near to tell", margin)
    if (why := _untested(scene)) is not None:
        return _open(why, why.replace("a test takes", "tests:"))
    if stroke + scene.open_stroke > limit + ROUNDING:
        return Verdict("close", f"{margin}, too near to tell", margin)
    return Verdict("pass", told + far, margin)


def _open(why: str, short: str = "") -> Verdict:
    return Verdict("not evaluated", why, why=short or why)


def tested_pressures() -> tuple[float, float]:
    """Return the least and the greatest reservoir pressure (MPa) at which any procedure judges a stroke."""
    bands = [test_pressure_band(name) for name in procedures()]
    return min(band.low_mpa for band in bands), max(band.high_mpa for band in bands)


def _too_much_air(scene: Scene) -> bool:
    """Whether a stroke over the limit may be so by more air alone than a test has."""
    return scene.state.pressure is not None and scene.state.pressure > tested_pressures()[1] + ROUNDING


def _untested(scene: Scene) -> str | None:
    """Why a stroke inside the limit says nothing, or None where it does."""
    if scene.hand:
        return "pulled by hand"
    low, high = tested_pressures()
    held = scene.state.pressure
    if held is not None and low - ROUNDING <= held <= high + ROUNDING:
        return None if scene.pressing else "no lining presses"
    least, most = (figure(value, "pressure", scene.system) for value in (low, high))
    return f"a test takes {least.split()[0]} to {most}"
