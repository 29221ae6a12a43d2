"""The map: its lines run where the solver has the value, its hatching where a limit is broken, its words in clear."""

from dataclasses import replace

import numpy as np
import pytest

from geometry.setup import read_setup
from mechviz.look.colours import THEMES
from mechviz.study import Listed, Outcome, Parameter, Plan, Study, Uniform, size_parameter, solve_at
from mechviz.study.file import read_study, study_names
from mechviz.study.map import Map, areas_of, lines_of, map_of, with_ends
from mechviz.study.map_chart import map_chart, met
from tests.drawing.measure import Drawn, outside, overlaps

IN = 25.4
ARM, REACH, SLACK = "linkage.arm_length", "linkage.pin_reach", "condition.free_stroke"
STUDY = Study(
    read_setup("drive-16.5x7"),
    (
        Parameter(ARM, Uniform(4.5 * IN, 7.0 * IN)),
        Parameter(REACH, Uniform(4.0 * IN, 8.0 * IN)),
        Parameter(SLACK, Uniform(0.3 * IN, 0.9 * IN)),
        size_parameter(("24", "30")),
    ),
    (
        Outcome("applied-stroke"),
        Outcome("brake-torque"),
        Outcome("arm-angle-applied"),
        Outcome("push-reserve", "worn-out", "hot"),
    ),
    Plan("sobol", 64),
)


@pytest.fixture(scope="module")
def made() -> Map:
    return map_of(STUDY, ARM, REACH, "applied-stroke")


def at(of: Map, points: np.ndarray) -> dict[str, np.ndarray]:
    """The study solved at points (x, y) of a map."""
    values = {of.x.key: points[:, 0], of.y.key: points[:, 1]}
    values |= {key: np.full(len(points), value) for key, value in of.held.items()}
    return solve_at(STUDY, values).outcomes


@pytest.mark.parametrize("level", [1.2 * IN, 1.5 * IN, 1.8 * IN])
def test_a_line_runs_where_the_solver_has_its_value(made: Map, level: float) -> None:
    lines = made.lines(level)
    assert lines
    for line in lines:
        np.testing.assert_allclose(at(made, line)["applied-stroke"], level, atol=0.02)


@pytest.mark.parametrize(
    ("key", "limits"), [("applied-stroke", [2 * IN]), ("arm-angle-applied", np.radians([80, 100]))]
)
def test_a_limit_line_runs_where_the_solver_meets_the_limit(made: Map, key: str, limits: list[float]) -> None:
    lines = made.limit_lines(key)
    assert lines
    for line in lines:
        off = np.abs(at(made, line)[key][:, np.newaxis] - limits).min(axis=1)
        assert off.max() < 0.02


def test_what_is_held_is_the_bases_own_unless_said(made: Map) -> None:
    assert made.held == {SLACK: 0.55 * IN, "chamber.size": 1.0}
    other = map_of(STUDY, ARM, REACH, "applied-stroke", {SLACK: 0.4 * IN}, (9, 7))
    assert other.held[SLACK] == 0.4 * IN
    assert other.values.shape == (7, 9)
    away = replace(STUDY, parameters=(*STUDY.parameters[:2], Parameter(SLACK, Uniform(20.0, 30.0))))
    assert map_of(away, ARM, REACH, "applied-stroke", size=(3, 3)).held == {SLACK: 25.0}


def test_areas_add_up_to_the_map() -> None:
    across, up = np.linspace(0, 4, 41), np.linspace(0, 2, 21)
    grid = np.add.outer(up**2, across)

    def size(low: float, high: float) -> float:
        total = 0.0
        for rings in areas_of(across, up, grid, low, high):
            for x, y in (ring.T for ring in rings):
                total += 0.5 * abs(float(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1])))
        return total

    assert sum(size(n, n + 1) for n in range(-1, 9)) == pytest.approx(8.0, rel=1e-9)
    assert lines_of(across, up, grid, 99.0) == []


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("system", ["inch", "metric"])
def test_no_text_stands_on_another_or_runs_off(made: Map, theme: str, system: str) -> None:
    chart = Drawn(map_chart(made, system, theme, chosen=[{ARM: 150.0, REACH: 160.0}]))  # pyright: ignore[reportArgumentType]
    assert outside(chart) == []
    assert overlaps(chart.texts()) == []


@pytest.mark.parametrize("name", study_names())
def test_the_built_in_studies_have_a_map_with_room_for_all(name: str) -> None:
    study = read_study(name)
    assert study.map_of is not None
    chart = Drawn(map_chart(map_of(study, *study.map_of), "inch"))
    assert outside(chart) == []
    assert overlaps(chart.texts()) == []


def test_the_words_name_the_axes_the_scale_the_limits_and_what_is_held(made: Map) -> None:
    chart = Drawn(map_chart(made, "inch"))
    assert "Arm length, in" in chart.words("map-axes")
    assert "Pin reach, in" in chart.words("map-axes")
    words = chart.words("map-words")
    for outcome, _ in met(made):
        assert outcome.words.split(",")[0].split(" ")[0] in words
    assert "49 CFR" in words
    assert "outside a limit" in words
    assert "chamber size 30" in words
    assert "base" in chart.words("map-points")
    assert "the pushrod" in chart.words("map-missing")
    numbers = {n for n in chart.words("map-limits") if n.isdigit()}
    assert numbers == {str(n + 1) for n in range(len(met(made)))}


def test_a_map_without_limits_or_gaps_has_no_hatching_and_no_missing() -> None:
    plain = Study(STUDY.base, STUDY.parameters[1:3], (Outcome("brake-torque"),), Plan("grid", 4))
    study = with_ends(plain, REACH, 5.5 * IN, 6.5 * IN)
    chart = Drawn(map_chart(map_of(study, REACH, SLACK, "brake-torque", size=(9, 9)), "inch"))
    assert "outside a limit" not in chart.words("map-words")
    assert "map-missing" not in chart.ids


def test_a_map_of_nothing_but_impossible_brakes_says_why() -> None:
    study = with_ends(STUDY, REACH, 1.0 * IN, 1.5 * IN)
    chart = Drawn(map_chart(map_of(study, ARM, REACH, "applied-stroke", size=(9, 9)), "inch"))
    assert "the pushrod and the arm" in chart.words("map-missing").replace("meet", "")
    assert outside(chart) == []


def test_an_outcome_that_is_the_same_all_over_is_drawn() -> None:
    width = Parameter("foundation.lining_width", Uniform(100.0, 200.0))
    study = Study(STUDY.base, (width, STUDY.parameters[3]), (Outcome("applied-stroke"),), Plan("grid", 4))
    chart = Drawn(map_chart(map_of(study, "foundation.lining_width", "chamber.size", "applied-stroke"), "inch"))
    assert outside(chart) == []


def test_a_list_gives_its_own_figures_to_an_axis() -> None:
    arms = Parameter(ARM, Listed((5.0 * IN, 5.5 * IN, 6.0 * IN)))
    study = Study(STUDY.base, (arms, STUDY.parameters[1]), (Outcome("applied-stroke"),), Plan("grid", 9))
    made = map_of(study, ARM, REACH, "applied-stroke")
    assert made.across.tolist() == [5.0 * IN, 5.5 * IN, 6.0 * IN]
    assert "5.50" in Drawn(map_chart(made, "inch")).words("map-axes")
