"""The page's table and script against the solver, on random states of many brakes, and what they refuse."""

import json
import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.condition import angle_for_free_stroke, contact, heel_angle, tip_angle, turn_range
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import AssemblyError
from geometry.kinematics import free_stroke
from geometry.reasons import Reason
from mechviz.page import grid, sheet
from mechviz.page.table import OUTSIDE_TABLE, page_table, slider_box, table_json
from tests.brakes import BRAKE, DEG, IN, PSI, found
from tests.page.engines import in_node, node
from tests.page.reference import Points, at_pressures, at_strokes, condition_at
from tests.page.samples import SAMPLES, Sample, measured_cam, points
from tests.sweeps import only

pytestmark = pytest.mark.skipif(node() is None, reason="no node: install the test extra, whose type checker brings it")

ANGLE = 0.05 * DEG
LENGTH = 0.02
FORCE_SHARE = 0.005
"""The page's promise: rad, mm, and forces and torques as a share of the greatest."""

HAIR = 1e-7
"""Two reasons may differ only where a figure this much aside (relative, and in its unit) changes the solver's."""

ROOM = 0.25
"""The worst error stays below this share of what is promised, so that other brakes than these have room."""

MOST_BYTES = 250_000
CONDITION = ("lining", "temperature", "setting")
ANGLES = ("armTurn", "armAngle", "tilt", "camAngle", "camTurn", "contactTurn", "shoeTurn")
FORCES = ("chamberForce", "camshaftTorque", "brakeTorque", "rollerForce", "pressure")
Reference = Callable[[Brake, float, Points], dict[str, Array]]
METHODS: dict[str, tuple[str, Reference]] = {"state": ("pressure", at_pressures), "atStroke": ("stroke", at_strokes)}


def rows(columns: Points, *names: str) -> list[dict[str, float]]:
    return [dict(zip(names, map(float, row), strict=True)) for row in zip(*(columns[n] for n in names), strict=True)]


def evaluated(sample: Sample, columns: Points, method: str) -> dict[str, Array]:
    given = rows(columns, *CONDITION, METHODS[method][0])
    told = in_node("evaluate", sample.table(), given, method)
    return {name: np.array(column, float) for name, column in told.items()}


@cache
def solved(name: str, method: str) -> tuple[Points, dict[str, Array]]:
    """Random states of a sample, and what the solver says of them."""
    sample = SAMPLES[name]()
    columns = points(sample, 6000 if name == "drive" else 2000, seed=len(name))
    return columns, METHODS[method][1](sample.brake, sample.diameter, columns)


def allowed(name: str, expected: Array) -> float:
    family = name.split(".")[0]
    if family in FORCES:
        return FORCE_SHARE * float(np.nanmax(np.abs(expected), initial=0.0))
    return ANGLE if family in ANGLES else LENGTH


LIKE_ANOTHER = {"worn drive", "measured cam"} | {f"random {seed}" for seed in range(51, 56)}
"""Brakes of a kind that another sample is of too."""


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("name", only(SAMPLES, lambda name: name not in LIKE_ANOTHER))
def test_the_page_shows_what_the_solver_says(name: str, method: str) -> None:
    sample = SAMPLES[name]()
    columns, expected = solved(name, method)
    mine = evaluated(sample, columns, method)
    assert mine.keys() == expected.keys()
    same = mine["reason"] == expected["reason"]
    check_reasons(sample, columns, method, ~same, mine["reason"])
    shares = {key: share(key, mine[key][same], expected[key][same]) for key in expected if key != "reason"}
    worst = sorted(shares.items(), key=lambda item: -item[1])[:4]
    print(f"{name}, {method}: share of what is allowed: " + ", ".join(f"{key} {part:.4f}" for key, part in worst))
    assert worst[0][1] < ROOM


def share(name: str, mine: Array, expected: Array) -> float:
    """The worst error of one output as a share of what is allowed; both must exist, or not, together."""
    if name == "pressure":  # the pressure that holds a spent chamber grows without bound; sliders end here
        expected = np.where(expected > 130 * PSI, np.nan, expected)
        mine = np.where(np.isnan(expected), np.nan, mine)
    if name == "contactStroke":  # the table ends a little past the rated stroke
        expected = np.where(np.isnan(mine), np.nan, expected)
    np.testing.assert_array_equal(np.isnan(mine), np.isnan(expected), err_msg=name)
    error = np.nanmax(np.abs(mine - expected), initial=0.0)
    return float(error / allowed(name, expected)) if error > 0 else 0.0


def check_reasons(sample: Sample, columns: Points, method: str, where: Array, mine: Array) -> None:
    """Where the reasons differ, the page's must be the solver's a hair aside."""
    close = np.zeros(int(where.sum()), dtype=bool)
    asked, reference = METHODS[method]
    at = {name: column[where] for name, column in columns.items()}
    for figure in (*CONDITION, asked) if where.any() else ():
        for way in (-HAIR, HAIR):
            aside = at | {figure: at[figure] + way * (1 + np.abs(at[figure]))}
            close |= reference(sample.brake, sample.diameter, aside)["reason"] == mine[where]
    assert close.all(), rows({n: c[~close] for n, c in at.items()}, *at)[:3]


def test_the_random_states_meet_every_regime_and_every_reason() -> None:
    met: set[int] = set()
    for name in SAMPLES:
        for method in METHODS:
            met |= set(solved(name, method)[1]["reason"].astype(int))
    told_of_asked = {Reason.OUT_OF_REACH}
    told_of_figures = {Reason.INPUT_MISSING, Reason.BELOW_ABSOLUTE_ZERO, Reason.NOT_POSITIVE}
    told_of_parts = {
        Reason.CAM_CANNOT_SPREAD,
        Reason.PART_IMPOSSIBLE,
        Reason.PUSHROD_PAST_CAMSHAFT,
        Reason.LINING_PAST_ANCHOR,
        Reason.CAM_OFF_NEW_LINING,
    }
    assert met == set(Reason) - told_of_figures - told_of_asked - told_of_parts


@pytest.mark.parametrize("name", ["drive", "strong shoe springs"])
def test_the_random_states_meet_the_regimes_of_one_application(name: str) -> None:
    sample = SAMPLES[name]()
    columns = points(sample, 6000, seed=len(name))
    told = at_pressures(sample.brake, sample.diameter, columns)
    at = contact(sample.brake, *condition_at(columns, sample.diameter).arrays[:3])
    turn, start, seat = told["armTurn"], told["contactTurn"], at.seat - columns["setting"]
    spent = told["stroke"] > 0.97 * sample.brake.chamber.rated_stroke
    for regime in (turn == 0, (turn > 0) & (turn < start), (turn > start) & (turn < seat), turn > seat, spent):
        assert regime.sum() >= 3


@pytest.mark.parametrize("name", SAMPLES)
def test_the_table_is_small_and_json(name: str) -> None:
    text = table_json(SAMPLES[name]().table())
    assert len(text) <= MOST_BYTES
    assert json.loads(text)["schema"] == 1


@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"pressure": None}, Reason.INPUT_MISSING),
        ({"lining": None}, Reason.INPUT_MISSING),
        ({"temperature": -1.0}, Reason.BELOW_ABSOLUTE_ZERO),
        ({"pressure": -1e-9}, Reason.NOT_POSITIVE),
        ({"lining": 0.0}, Reason.NOT_POSITIVE),
        ({"lining": 2.5}, OUTSIDE_TABLE),
        ({"lining": 19.1}, OUTSIDE_TABLE),
    ],
)
def test_what_cannot_be_is_refused_not_clamped(changed: dict[str, float | None], reason: int) -> None:
    table = SAMPLES["drive"]().table()
    point = {key: table["found"][key] for key in (*CONDITION, "pressure")} | changed
    told = in_node("evaluate", table, [point], "state")
    assert told["reason"] == [int(reason)]
    kept = {"reason", "pressure", "contactTurn", "contactStroke", "drumRadius"}
    assert all(column == [None] for key, column in told.items() if key not in kept)
    assert all(entry["code"] != reason or entry["words"] for entry in table["reasons"].values())


def test_every_reason_of_the_solver_is_in_the_table() -> None:
    told = SAMPLES["drive"]().table()["reasons"]
    assert {name: told[name]["code"] for name in Reason.__members__} == {r.name: int(r) for r in Reason}
    assert all(entry["words"] for entry in told.values())


@pytest.mark.parametrize("name", ["drive", "steer", "machined small", "random 50"])
def test_setting_and_free_stroke_follow_from_each_other(name: str) -> None:
    sample = SAMPLES[name]()
    table, columns = sample.table(), points(sample, 500, seed=3)
    wanted = np.random.default_rng(3).uniform(0, sample.brake.chamber.rated_stroke, 500)
    columns["freeStroke"] = wanted
    settings = in_node("call", table, rows(columns, "lining", "temperature", "freeStroke"), "settingForFreeStroke")
    at = contact(sample.brake, *condition_at(columns, sample.diameter).arrays[:3])
    expected = angle_for_free_stroke(sample.brake, at, wanted)
    np.testing.assert_allclose(np.array(settings, float), expected, rtol=0, atol=0.01 * ANGLE)
    columns = {key: column[np.isfinite(expected)] for key, column in (columns | {"setting": expected}).items()}
    strokes = in_node("call", table, rows(columns, *CONDITION), "freeStroke")
    solved = free_stroke(sample.brake, condition_at(columns, sample.diameter))
    np.testing.assert_allclose(np.array(strokes, float), solved, rtol=0, atol=0.01 * LENGTH)


@pytest.mark.parametrize("name", ["drive", "worn drive", "machined large", "constant rise"])
def test_ranges_end_where_the_solver_stops(name: str) -> None:
    sample = SAMPLES[name]()
    temperature = REFERENCE_TEMPERATURE + 150
    least, most = in_node("call", sample.table(), [temperature], "liningRange")[0]
    low, high = slider_box(sample.brake, sample.condition)["lining"]
    assert low <= least < most <= high
    step = 1e-6
    thickness = np.array([least - step, least + step, most - step, most + step])
    turn = contact(sample.brake, thickness, np.array(sample.diameter), np.array(temperature)).turn
    heel, tip = turn_range(sample.brake)
    assert turn[0] > tip or least == low
    assert (turn[1:3] < tip).all()
    assert (turn[1:3] > heel).all()
    assert turn[3] < heel or most == high


def test_setting_range_is_no_slack_to_bottomed() -> None:
    sample = SAMPLES["drive"]()
    table = sample.table()
    worn = {key: table["found"][key] for key in ("lining", "temperature")}
    least, most = in_node("call", table, [worn], "settingRange")[0]
    ends = [{"setting": setting, **worn} for setting in (least, most)]
    longest, none = in_node("call", table, ends, "freeStroke")
    assert longest == pytest.approx(sample.brake.chamber.rated_stroke, abs=1e-6)
    assert none == pytest.approx(0, abs=1e-6)
    assert heel_angle(sample.brake) <= least < most < tip_angle(sample.brake)


def test_the_table_starts_where_the_brake_was_found() -> None:
    sample = SAMPLES["worn drive"]()
    start = sample.table()["found"]
    told = in_node("evaluate", sample.table(), [start], "state")
    assert told["contactStroke"][0] == pytest.approx(start["freeStroke"], abs=0.01 * LENGTH)
    assert in_node("call", sample.table(), [start], "state")[0]["stroke"] == told["stroke"][0]
    assert start["freeStroke"] == pytest.approx(1.3125 * IN)
    assert start["pressure"] == pytest.approx(95 * PSI)


def test_a_cam_too_rough_to_draw_is_refused_in_words() -> None:
    brake = replace(BRAKE, profile=measured_cam(60, 0.01))
    with pytest.raises(AssemblyError, match="cam: its motion is too rough to be drawn from a table; fewer or smoother"):
        page_table(brake, found(brake), 95 * PSI)


def test_slopes_are_exact_for_a_quartic() -> None:
    x = np.arange(9.0)
    np.testing.assert_allclose(grid.slopes(x**4 - 3 * x), 4 * x**3 - 3, rtol=1e-12, atol=1e-9)


def test_a_grid_is_refined_until_it_is_close_and_refuses_what_is_never_close() -> None:
    fine = grid.sampled(lambda x: {"y": np.sin(9 * x)}, 0.0, 1.0, "cam")
    assert grid.FEWEST < fine.count < grid.MOST
    with pytest.raises(AssemblyError, match="cam: its motion is too rough"):
        grid.sampled(lambda x: {"y": np.sign(x - 0.5)}, 0.0, 1.0, "cam")


def test_a_sheet_is_refined_until_straight_lines_are_close() -> None:
    made = sheet.sampled_sheet(lambda x, y: {"z": np.sin(3 * x) * np.cos(2 * y)}, (0.0, 1.0), (0.0, 1.0), "cam")
    assert math.prod(made.shape) > 81
    assert float(made.columns["z"][-1, 0]) == pytest.approx(math.sin(3))


@pytest.mark.parametrize("place", [0, 7, 16, 64])
def test_a_link_that_is_somewhere_no_number_is_not_tabulated(place: int) -> None:
    def holed(x: Array) -> Array:
        return np.where(np.arange(len(x)) == place % len(x), np.nan, x)

    with pytest.raises(AssemblyError, match="cam"):
        grid.sampled(lambda x: {"fine": x, "holed": holed(x)}, 0.0, 1.0, "cam")
    with pytest.raises(AssemblyError, match="cam"):
        sheet.sampled_sheet(lambda x, y: {"holed": x + holed(y)}, (0.0, 1.0), (0.0, 1.0), "cam")


def test_a_column_of_nothing_is_tabulated() -> None:
    assert grid.sampled(lambda x: {"none": 0 * x}, 0.0, 1.0, "cam").count == grid.FEWEST
