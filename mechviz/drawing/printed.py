"""The printed sheet: a picture to scale with its key figures and the cautions, on A4 or Letter."""

from geometry.quantity import KindName
from geometry.setup import Setup
from mechviz.checks import run_checks
from mechviz.drawing.compare import Comparison, comparison
from mechviz.drawing.names import Labels
from mechviz.drawing.picture import picture
from mechviz.drawing.scene import Scene
from mechviz.drawing.verdict import Verdict, judged
from mechviz.drawing.words import bound, figure, length, small, state_words, to_square
from mechviz.export import KeyFigure, PageName, Sheet, print_sheet
from mechviz.look import fractions
from mechviz.look.colours import PRINT, VerbName
from mechviz.report.cautions import cautions
from mechviz.report.found import found_lines

NOTE = "Solved by mechviz from the setup file; sizes that no setup states are the project's own."


def sheet(scene: Scene, page: PageName = "a4", labels: Labels = "few") -> bytes:
    """Return one state as a PDF page, its picture at a round scale that is stated."""
    drawn = picture(scene, PRINT, labels, column=False)
    state = state_words(scene.state, scene.asked, scene.system)
    words = Sheet(
        title=scene.setup.title,
        subtitle=fractions(f"{state}; as found: {_found(scene.setup)}"),
        figures=key_figures(scene),
        cautions=_cautions(scene.setup),
        unit_mm=1 / drawn.where.scale,
        note=_source(scene.setup),
    )
    return print_sheet(drawn.svg, words, page)


def compared_sheet(setup: Setup, kind: Comparison, at: str = "applied", page: PageName = "a4") -> bytes:
    """Return three states side by side as a PDF page."""
    drawn = comparison(setup, kind, at, PRINT, named=False)
    words = Sheet(
        title=setup.title,
        subtitle=fractions(f"As found: {_found(setup)}"),
        cautions=_cautions(setup),
        unit_mm=1 / drawn.scale,
        note=_source(setup),
    )
    return print_sheet(drawn.svg, words, page)


def _cautions(setup: Setup) -> list[str]:
    return cautions(run_checks(setup), setup.brake.adjuster.kind == "automatic")


def _found(setup: Setup) -> str:
    """How the brake was found, in one short line."""
    found, system = setup.as_found, setup.system
    words = [
        f"lining {bound(found.lining_thickness, system)}",
        f"drum {length(found.drum_diameter, system)} at {figure(found.drum_temperature, 'temperature', system)}",
    ]
    if found.free_stroke is not None:
        words.append(f"free stroke {bound(found.free_stroke, system)}")
    if found.lining_clearance is not None:
        words.append(f"lining clearance {small(found.lining_clearance, system)}")
    return ", ".join(words)


def _source(setup: Setup) -> str:
    """Where the figures come from: what the file says, and what was only assumed."""
    return " ".join(f"{line.rstrip('.')}." for line in (*found_lines(setup, setup.system), NOTE))


def key_figures(scene: Scene) -> list[KeyFigure]:
    """Return what a job file wants of a state; figures that it does not have are left out."""
    return [*_stroke(scene), *_pushed(scene), *_gaps(scene)]


def _stroke(scene: Scene) -> list[KeyFigure]:
    system, limit = scene.system, scene.case.limit
    verdict = judged(scene)
    found = [
        KeyFigure("stroke", length(scene.stroke, system), _short(verdict), "push"),
        KeyFigure(
            "limit, cold drum" if scene.hot else "readjustment limit", bound(limit.limit_mm, system), limit.source
        ),
    ]
    if scene.hot and scene.left_to_bottom is not None:
        found.append(KeyFigure("left to bottom", length(scene.left_to_bottom, system), verb="push"))
    if scene.free_stroke is not None:
        found.append(KeyFigure("linings touch at", length(scene.free_stroke, system), verb="push"))
    return found


def _short(verdict: Verdict) -> str:
    """The verdict in so few words that the figures' names have room."""
    return verdict.name if verdict.name == "not evaluated" else f"{verdict.name}: {verdict.margin}"


def _pushed(scene: Scene) -> list[KeyFigure]:
    state = scene.state
    rows: list[tuple[str, float | None, KindName, VerbName]] = [
        ("chamber pressure", state.pressure, "pressure", "push"),
        ("force on the rod", state.chamber_force, "force", "push"),
        ("arm angle", state.arm_angle, "angle", "turn"),
        ("cam turned", state.cam_turn, "angle", "turn"),
        ("brake torque", state.brake_torque, "torque", "rub"),
    ]
    notes = {} if state.arm_angle is None else {"arm angle": to_square(state.arm_angle)}
    return [
        KeyFigure(name, figure(value, kind, scene.system), notes.get(name, ""), verb)
        for name, value, kind, verb in rows
        if value is not None
    ]


def _gaps(scene: Scene) -> list[KeyFigure]:
    gaps = [gap for gap in (scene.state.left.gap_least, scene.state.right.gap_least) if gap is not None]
    return [KeyFigure("least gap", small(min(gaps), scene.system), verb="rub")] if gaps else []
