"""A stroke against its readjustment limit: pass, close, fail, or not evaluated and why."""

from dataclasses import dataclass
from typing import Literal

from geometry.tables import procedures, test_pressure_band
from mechviz.drawing.scene import Scene
from mechviz.drawing.words import apart, figure

VerdictName = Literal["pass", "close", "fail", "not evaluated"]
ROUNDING = 1e-9
"""MPa and mm: figures nearer than this are the same figure."""


@dataclass(frozen=True)
class Verdict:
    """What a stroke is, as one of the four words and a sentence's part with the margin in it."""

    name: VerdictName
    margin: str

    @property
    def words(self) -> str:
        """The whole of it."""
        return f"{self.name}: {self.margin}"


def judged(scene: Scene) -> Verdict:
    """Return the verdict on a scene's stroke.

    Over the limit fails at any pressure. Inside it passes only where a test would judge it: held by a pressure that a
    procedure asks for. Inside by less than the tape can tell is close.
    """
    stroke, limit = scene.state.stroke, scene.case.limit.limit_mm
    if stroke is None:
        return Verdict("not evaluated", "there is no such state")
    left = apart(limit, stroke, scene.system)
    if stroke > limit + ROUNDING:
        return Verdict("fail", f"over the limit by {left}")
    if not scene.case.knows_chamber:
        return Verdict("not evaluated", "which chamber it is, the file does not say")
    if (why := _untested(scene)) is not None:
        return Verdict("not evaluated", why)
    if stroke + scene.setup.measured.resolution > limit + ROUNDING:
        return Verdict("close", f"inside the limit by {left}, less than the tape tells")
    return Verdict("pass", f"inside the limit by {left}")


def tested_pressures() -> tuple[float, float]:
    """Return the least and the greatest reservoir pressure (MPa) at which any procedure judges a stroke."""
    bands = [test_pressure_band(name) for name in procedures()]
    return min(band.low_mpa for band in bands), max(band.high_mpa for band in bands)


def _untested(scene: Scene) -> str | None:
    """Why a stroke inside the limit says nothing, or None where it does."""
    low, high = tested_pressures()
    held = scene.state.pressure if scene.pressing else None
    if held is not None and low - ROUNDING <= held <= high + ROUNDING:
        return None
    least, most = (figure(value, "pressure", scene.system) for value in (low, high))
    return f"a test takes {least.split()[0]} to {most}"
