"""What a lesson says in figures is what geometry solves, on any brake and in either system."""

from dataclasses import replace

import pytest

from geometry.condition import Condition
from geometry.found import condition_of
from geometry.kinematics import free_stroke
from geometry.setup import Setup, read_setup, read_setup_text
from geometry.states import at_pressure, at_stroke
from mechviz.checks.case import COLD, HOT, Case
from mechviz.drawing.words import bound, figure, length, small, to_square
from mechviz.faults.study import every_row
from mechviz.lessons import build_lesson, read_lesson
from mechviz.lessons.blocks import words_of
from mechviz.lessons.stand import SHY, found_stand, stand_of, worn_to

WHERE = {name: name for name in ("pressure", "lining", "temperature", "free_stroke")}
BRAKES = ("drive-16.5x7", "trailer-16.5x7", "steer-15x4", "worn-drive-16.5x7")
HEAD = '+++\nlesson = 1\ntitle = "Try"\n+++\n'


def said(setup: Setup, body: str, header: str = "", system: str = "inch") -> str:
    text = f'{HEAD}\n+++\ntitle = "Step"\n{header}\n+++\n{body}\n'
    built = build_lesson(read_lesson(text), setup)
    return words_of(built.steps[0].texts[system]["text"])  # type: ignore[index]


@pytest.mark.parametrize("name", BRAKES)
@pytest.mark.parametrize("system", ["inch", "metric"])
def test_as_found_every_figure_is_the_solver_s(name: str, system: str) -> None:
    setup = read_setup(name)
    condition, pressure = condition_of(setup), setup.test.pressure
    applied = at_pressure(setup.brake, condition, pressure, "applied")
    released = at_stroke(setup.brake, condition, 0.0, "released")
    case = Case(setup, setup.test.rules)
    assert applied.stroke is not None
    assert applied.arm_angle is not None
    want = {
        "stroke": length(applied.stroke, system),  # type: ignore[arg-type]
        "stroke.contact": length(float(free_stroke(setup.brake, condition)), system),  # type: ignore[arg-type]
        "angle.released": figure(released.arm_angle, "angle", system),  # type: ignore[arg-type]
        "stands": to_square(applied.arm_angle),
        "force": figure(applied.chamber_force, "force", system),  # type: ignore[arg-type]
        "torque": figure(applied.brake_torque, "torque", system),  # type: ignore[arg-type]
        "gap.released": small(min(released.left.gap_least or 0, released.right.gap_least or 0), system),  # type: ignore[arg-type]
        "left": length(setup.brake.chamber.rated_stroke - applied.stroke, system),  # type: ignore[arg-type]
        "limit": bound(case.limit.limit_mm, system),  # type: ignore[arg-type]
        "chamber.stroke": bound(setup.brake.chamber.rated_stroke, system),  # type: ignore[arg-type]
        "arm": bound(setup.brake.linkage.arm_length, system),  # type: ignore[arg-type]
    }
    names = " | ".join(f"{{{key}}}" for key in want)
    assert said(setup, names, system=system).split(" | ") == list(want.values())


def test_hot_and_cold_are_the_same_adjustment_with_another_drum() -> None:
    setup = read_setup("drive-16.5x7")
    condition = condition_of(setup)
    strokes = [
        at_pressure(setup.brake, replace(condition, drum_temperature=heat), setup.test.pressure, "applied").stroke
        for heat in (HOT, COLD)
    ]
    assert said(setup, "{hot.stroke} {cold.stroke}") == " ".join(length(one or 0.0, "inch") for one in strokes)


def test_start_and_end_of_a_move_are_told_apart() -> None:
    setup = read_setup("drive-16.5x7")
    header = 'free_stroke = "healthy"\nmove = { what = "lining", from = "new", to = "limit" }'
    first, last = said(setup, "{start.stroke} {stroke}", header).split(" in")[:2]
    assert float(last) == pytest.approx(2.00, abs=0.005)
    assert float(first) < 1.5


@pytest.mark.parametrize("name", ["drive-16.5x7", "trailer-16.5x7", "steer-15x4"])
def test_worn_to_the_limit_the_cold_stroke_is_the_limit(name: str) -> None:
    setup = read_setup(name)
    stand = stand_of(setup, {"lining": "limit", "free_stroke": "healthy"}, WHERE)
    stroke = at_pressure(setup.brake, stand.condition(setup), stand.pressure, "applied").stroke
    limit = Case(setup, setup.test.rules).limit.limit_mm
    assert stroke == pytest.approx(limit - SHY, abs=1e-6)
    assert worn_to(setup, stand, True, "lining") < stand.lining


def test_a_free_stroke_that_is_typed_is_what_the_brake_has_cold() -> None:
    setup = read_setup("drive-16.5x7")
    stand = stand_of(setup, {"free_stroke": "5/8 in", "temperature": "hot"}, WHERE)
    cold = Condition(stand.lining, setup.as_found.drum_diameter, COLD, stand.setting)
    assert float(free_stroke(setup.brake, cold)) == pytest.approx(0.625 * 25.4)
    assert stand.temperature == HOT


def test_what_is_not_typed_is_as_found() -> None:
    setup = read_setup("worn-drive-16.5x7")
    assert stand_of(setup, {}, WHERE) == found_stand(setup)


def test_an_adjuster_that_follows_keeps_the_free_stroke() -> None:
    setup = read_setup("drive-16.5x7")
    header = 'move = { what = "lining", from = "found", to = "1/2 in", adjuster = "follows" }'
    first, last = (float(one) for one in said(setup, "{start.free_stroke} {free_stroke}", header).split(" in")[:2])
    assert first == last


def test_a_defect_s_figures_are_those_of_the_catalogue() -> None:
    setup = read_setup("drive-16.5x7")
    row = next(one for one in every_row(setup) if one.name == "loose-bracket")
    body = "{fault} {fault.stroke} {fault.force} {found.stroke}"
    stroke, force = float(row.outcome.stroke), float(row.outcome.chamber_force)
    found = at_pressure(setup.brake, condition_of(setup), setup.test.pressure, "applied").stroke
    want = f"{row.title} {length(stroke, 'inch')} {figure(force, 'force', 'inch')} {length(found or 0, 'inch')}"
    assert said(setup, body, 'page = "faults"\nfault = "loose-bracket"') == want


@pytest.mark.parametrize(
    ("typed", "metric"),
    [("90 psi", "621 kPa"), ("1 3/4 in", "44.5 mm"), ("600 degF", "316 °C"), ("3000 lbf", "13300 N")],
)
def test_a_published_figure_is_told_in_the_reader_s_units(typed: str, metric: str) -> None:
    setup = read_setup("drive-16.5x7")
    assert said(setup, f"{{{typed}}}").replace("°F", "degF") == typed
    assert said(setup, f"{{{typed}}}", system="metric") == metric


def test_another_brake_of_a_step_is_that_brake() -> None:
    setup = read_setup("drive-16.5x7")
    assert said(setup, "{arm} {chamber.size}", 'set.linkage.arm_length = "6 in"\nset.chamber.size = "24"') == "6 in 24"


def test_a_setup_from_no_file_is_changed_by_its_text() -> None:
    text = 'schema = 1\ntitle = "Sent"\nbase = "drive-16.5x7"\n[linkage]\narm_length = "5 3/4 in"\n'
    setup = read_setup_text(text, "sent.toml")
    body = f'{HEAD}\n+++\ntitle = "Step"\nset.linkage.pin_reach = "6 1/8 in"\n+++\n{{arm}} {{brake}}\n'
    built = build_lesson(read_lesson(body), setup, text=text)
    assert words_of(built.steps[0].texts["inch"]["text"]) == "5 3/4 in Sent"
    assert built.brakes[1].brake.linkage.pin_reach == pytest.approx(6.125 * 25.4)
