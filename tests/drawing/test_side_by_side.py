"""States side by side and the printed sheet: one scale, every state's own figures, and why a state is not there."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from geometry.quantity import System
from geometry.reasons import Reason
from geometry.setup import read_setup_text
from mechviz.checks.case import HOT
from mechviz.checks.slack import usual_free_stroke
from mechviz.drawing.compare import Comparison, comparison, panels
from mechviz.drawing.layout import MARGIN, Layout, layout
from mechviz.drawing.life import as_new
from mechviz.drawing.panel import MECHANISM, TOP, Column, Panel
from mechviz.drawing.printed import compared_sheet, key_figures, sheet
from mechviz.drawing.words import figure, length
from tests.drawing.measure import NUMBER, Drawn, on_edges, outside, overlaps
from tests.drawing.scenes import NAMES, WORN, compared, scene, setup, unlike
from tests.sweeps import only

PREFIXES = ("first-", "second-", "third-")


@pytest.mark.parametrize("name", only(NAMES, unlike))
@pytest.mark.parametrize("kind", ["events", "life"])
@pytest.mark.parametrize("system", ["inch", pytest.param("metric", marks=pytest.mark.wide)])
def test_nothing_is_in_the_way_side_by_side(name: str, kind: Comparison, system: System) -> None:
    found = Drawn(compared(name, kind, system).svg)
    assert overlaps(found.texts()) == []
    assert outside(found) == []
    assert len(found.ids) == len(set(found.ids))
    for prefix in (one for one in PREFIXES if f"{one}plane-arm" in found.by_id):
        assert on_edges(found, found.texts(), prefix) == []


@pytest.mark.parametrize("kind", ["events", "life"])
def test_each_panel_has_its_own_states_figures(kind: Comparison) -> None:
    found = Drawn(compared(WORN, kind).svg)
    for prefix, panel in zip(PREFIXES, panels(setup(WORN), kind), strict=True):
        state = panel.scene.state
        assert state.stroke is not None
        assert found.words(f"{prefix}value-stroke") == length(state.stroke, "inch")
        if kind == "events":
            assert found.words(f"{prefix}value-pressure") == figure(state.pressure, "pressure", "inch")
        else:
            left = panel.scene.brake.chamber.rated_stroke - state.stroke
            assert found.words(f"{prefix}value-left") == length(left, "inch")
        assert found.words(f"{prefix}value-arm-angle") == figure(state.arm_angle, "angle", "inch")
        assert f"{prefix}plane-wheel" in found.by_id


def test_stroke_grows_and_force_falls_from_new_to_worn_to_hot() -> None:
    states = [panel.scene.state for panel in panels(setup(WORN), "life")]
    strokes = [state.stroke for state in states]
    forces = [state.chamber_force for state in states]
    assert strokes == sorted(strokes, key=lambda s: s or 0.0)
    assert forces == sorted(forces, key=lambda f: -(f or 0.0))


def test_a_hot_brake_is_not_judged_by_the_limit_of_a_cold_one() -> None:
    found = Drawn(compared(WORN, "life").svg)
    words = [found.words(f"{prefix}value-verdict") for prefix in PREFIXES]
    assert words == ["pass", "fail", "not evaluated"]
    assert found.words("third-value-why") == "limit is for cold drums"
    assert found.words("third-value-margin") == "over by 0.40 in"
    hot = "".join(found.by_id["third-panel"].itertext())
    assert "cold limit" in hot
    assert "fail" not in hot
    kinds = [e.get("class", "") for e in found.by_id["third-panel"].iter()]
    assert "mv-ring mv-dots" in kinds
    assert "mv-block" not in kinds


def test_the_new_brake_is_new_and_adjusted_to_the_trades_free_stroke() -> None:
    thickness, diameter, temperature, _ = as_new(setup(WORN)).arrays
    assert (float(thickness), float(diameter)) == pytest.approx((0.75 * 25.4, 16.5 * 25.4))
    assert float(temperature) < HOT
    assert usual_free_stroke() == pytest.approx(0.625 * 25.4)
    assert panels(setup(WORN), "life")[0].scene.free_stroke == pytest.approx(0.625 * 25.4)


def test_the_magnifiers_of_a_life_look_at_the_brake_released() -> None:
    assert [panel.window.state.name for panel in panels(setup(WORN), "life")] == ["released"] * 3
    assert "when released" in compared(WORN, "life").svg


def test_a_state_that_cannot_exist_says_why_and_its_mechanism_is_faded() -> None:
    text = f'schema = 1\nbase = "{WORN}"\n[condition]\nfree_stroke = "2.3 in"\n'
    spent = read_setup_text(text, "spent")
    last = panels(spent, "life")[2].scene
    assert last.state.reason == Reason.BOTTOMED
    found = Drawn(comparison(spent, "life").svg)
    words = " ".join(found.by_id["third-panel"].itertext())
    assert "no such state" in words
    assert "the chamber bottoms before" in words
    assert "third-value-stroke" not in found.by_id
    assert [e.get("opacity") for e in found.by_id["third-panel"] if e.get("transform")] == ["0.38"]
    assert overlaps(found.texts()) == []


def test_all_panels_have_one_scale() -> None:
    drawn = compared(WORN, "life")
    found = Drawn(drawn.svg)
    for prefix in PREFIXES:
        plane = found.matrix(f"{prefix}plane-wheel")[0]
        smaller = next(e.get("transform", "") for e in found.by_id[f"{prefix}panel"] if e.get("transform"))
        assert plane * float(NUMBER.findall(smaller)[2]) == pytest.approx(drawn.scale, rel=1e-5)


# on paper


def text_of(pdf: bytes) -> str:
    (page,) = PdfReader(BytesIO(pdf)).pages
    return " ".join(page.extract_text().split())


@pytest.mark.parametrize(("page", "points"), [("a4", (842, 595)), ("letter", (792, 612))])
def test_a_sheet_has_title_figures_scale_and_cautions_on_one_page(page: str, points: tuple[float, float]) -> None:
    pdf = sheet(scene(WORN), page)  # pyright: ignore[reportArgumentType]
    (only,) = PdfReader(BytesIO(pdf)).pages
    assert (round(only.mediabox.width), round(only.mediabox.height)) == points
    words = text_of(pdf)
    assert "Quarry tipper, rear axle, right" in words
    assert "Applied at 95 psi" in words
    assert re.search(r"Scale 1 : [45]", words)
    assert "fail: over by 0.12 in" in words
    assert "Caution" in words
    assert "Chock the wheels" in words


def test_a_sheet_of_three_states_says_its_scale() -> None:
    words = text_of(compared_sheet(setup(WORN), "events"))
    assert "Released" in words
    assert "At first contact" in words
    assert "Scale 1 : 1" in words  # and two more figures


def test_key_figures_leave_out_what_a_state_does_not_have() -> None:
    assert "brake torque" in {row.name for row in key_figures(scene(WORN))}
    released = {row.name for row in key_figures(scene(WORN, "released"))}
    assert not released & {"brake torque", "chamber pressure", "force on the rod"}
    assert {"stroke", "readjustment limit", "arm angle", "least gap"} <= released


def test_equal_input_gives_equal_sheets() -> None:
    assert sheet(scene(WORN)) == sheet(scene(WORN))


def test_why_nothing_is_judged_stands_clear_of_the_drum() -> None:
    hot = read_setup_text('schema = 1\nbase = "drive-16.5x7"\n[condition]\ndrum_temperature = "600 degF"\n', "hot")
    found = comparison(hot, "events")
    (first, *_) = panels(hot, "events")
    where = layout(first.scene.brake, first.scene.outlines)
    told = Column(MARGIN, told=True)
    drum = (
        TOP + MECHANISM + told.lower + told.share(where) * (where.wheel[1] - MARGIN) - _over_the_camshaft(first, where)
    )
    lowest = max(text.box[3] for note in found.notes if note.name == "verdict" for text in note.texts)
    assert lowest + 4 < drum


def _over_the_camshaft(panel: Panel, where: Layout) -> float:
    """How far the drum reaches over the camshaft's height, in a picture of three."""
    outer = max(outline.geometry.bounds[3] for outline in panel.scene.outlines if outline.name == "drum")
    return Column(MARGIN).share(where) * where.scale * (outer - where.cam_distance)
