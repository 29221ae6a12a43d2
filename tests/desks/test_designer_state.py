"""The designer's desk without a server: its state, its address, what is asked, and every figure that is drawn."""

import io
import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from apps.web.address import LONGEST
from apps.web.designer.acts import ACTS, do
from apps.web.designer.asked import Asked
from apps.web.designer.coding import coded, decoded
from apps.web.designer.desk import Desk
from apps.web.designer.field import field_of, levels, limit_lines, missing, nearest, not_allowed, to_shown
from apps.web.designer.frontier import frontier, listed, sample
from apps.web.designer.html_form import form
from apps.web.designer.html_point import compare_html, gauge, point_html
from apps.web.designer.html_views import follows_html, front_html, tolerance_html, views_html
from apps.web.designer.job import answers
from apps.web.designer.judged import judged
from apps.web.designer.labels import labelled
from apps.web.designer.lines import STEPS, drawn, scales, within
from apps.web.designer.opened import whole_study
from apps.web.designer.overlay import overlay_svg
from apps.web.designer.pick import Pick, pick_text
from apps.web.designer.question import middle, question, tolerance_question
from apps.web.designer.state import MOST_ASKED, MOST_PICKS, MOST_VARIED, DesignerState
from apps.web.designer.varied import Varied, choices, present, ranged, sensible, toleranced
from apps.web.designer.work import Work
from apps.web.session import Session
from geometry.found import condition_of
from geometry.setup import builtin_names, builtin_text, read_setup, read_setup_text
from geometry.states import event
from mechviz.checks import run_checks
from mechviz.study import QUANTITIES, CancelledError, Normal, Outcome, solve_at
from mechviz.study.file import read_study, read_study_text
from mechviz.study.parameter import SIZE
from mechviz.study.piece import HEATS, WEARS
from mechviz.study.worked import work

DRIVE = read_setup("drive-16.5x7")
ARM, OFFSET = "linkage.arm_length", "linkage.axis_offset"
SMALL = {"points": 512, "ran": True}


def desk(**given: Any) -> Desk:
    """A desk whose own turn is at once."""
    made = Desk(Session(builtin_text("drive-16.5x7")), lambda act: act())
    made.state = DesignerState(**SMALL | given)
    return made


@pytest.fixture(scope="module")
def run() -> Desk:
    """A desk with a study that was run; nobody changes it."""
    made = desk(asked=[Asked("arm-angle-contact"), Asked("applied-stroke", "worn-out", "hot"), Asked("brake-torque")])
    made.run()
    made.wait()
    assert made.answers is not None
    return made


# the state and its address


def test_every_step_is_undone_and_done_again_but_the_moves_of_one_slider_are_one_step() -> None:
    state = DesignerState()
    first = state.choice
    state.vary(Varied("linkage.pin_reach", "5 in", "7 in"))
    for n in range(5):
        state.change("slide arm", point=Pick.of({ARM: 130.0 + n}))
    state.view = "front"
    state.undo()
    assert (state.point, len(state.varied), state.view) == (Pick(), 3, "front"), "how it is looked at is no step"
    state.undo()
    assert state.choice == first
    assert not state.can_undo
    state.redo()
    state.redo()
    assert state.point.by_key == {ARM: 134.0}
    assert not state.can_redo


def test_bounds_hold() -> None:
    state = DesignerState()
    with pytest.raises(ValueError, match="points"):
        state.points = 1_000_001
    keys = [key for keys in choices(DRIVE).values() for key in keys]
    for key in keys:
        state.vary(sensible(DRIVE, key))
    for name in QUANTITIES:
        state.ask(Asked(name))
    for n in range(6):
        state.change(point=Pick.of({ARM: 130.0 + n}))
        state.keep_point()
        state.keep_point()
    assert (len(state.varied), len(state.asked), len(state.picks)) == (MOST_VARIED, MOST_ASKED, MOST_PICKS)
    state.vary(Varied(ARM, "1 in", "2 in"))
    state.ask(Asked("brake-torque"))
    assert state.keys.count(ARM) == 1


TYPED = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"], exclude_characters=";~"), max_size=20)
OUTCOMES = st.builds(
    Asked, st.sampled_from(list(QUANTITIES)), st.sampled_from(WEARS), st.sampled_from(HEATS), TYPED, TYPED
)
VARIED = st.builds(Varied, st.sampled_from([ARM, OFFSET, SIZE, "foundation.friction"]), TYPED, TYPED, TYPED)
FIGURES = st.floats(-1e6, 1e6, allow_subnormal=False)
PICKS = st.builds(Pick.of, st.dictionaries(st.sampled_from([ARM, OFFSET]), FIGURES, min_size=1))


@given(
    st.lists(VARIED, max_size=5, unique_by=lambda one: one.key),
    st.lists(OUTCOMES, max_size=6, unique_by=lambda one: one.key),
    st.lists(PICKS, max_size=4),
    st.dictionaries(st.sampled_from([ARM, "applied-stroke.worn-out.hot"]), st.tuples(st.just(-1.5), st.just(2.25))),
    st.sampled_from(["map", "lines"]),
)
def test_the_address_brings_everything_back(
    varied: list[Varied], asked: list[Asked], picks: list[Pick], filters: dict[str, tuple[float, float]], view: str
) -> None:
    state = DesignerState(varied=varied, asked=asked, picks=picks, filters=filters, view=view, points=70, ran=True)
    again = DesignerState(**decoded(coded(state.kept).get))
    assert again.kept == state.kept


def test_what_is_as_it_was_at_first_is_left_out_of_the_address_and_the_fullest_state_fits_into_it() -> None:
    assert set(coded(DesignerState().kept).values()) == {None}
    state = DesignerState()
    for key in [key for keys in choices(DRIVE).values() for key in keys]:
        state.vary(sensible(DRIVE, key))
    for name in QUANTITIES:
        state.ask(Asked(name, "worn-drum", "hot"))
    for n in range(MOST_PICKS):
        state.change(point=middle(state, DRIVE).moved(ARM, 130.0 + n))
        state.keep_point()
    session = Session(builtin_text("drive-16.5x7"))
    session.keep(**coded(state.kept))
    assert "setup=drive-16.5x7" in session.query, "the brake has not been pushed out of the address"
    assert len(session.query) <= LONGEST
    assert DesignerState(**decoded(session.kept)).kept == state.kept


@given(st.dictionaries(st.sampled_from(list(DesignerState().kept)), st.text(max_size=40)))
def test_anything_may_stand_in_an_address(kept: dict[str, str]) -> None:
    state = DesignerState(**decoded(kept.get))
    assert question(state, DRIVE).size >= 0
    assert views_html(state, shown=True, loaded=False)


# dimensions


@pytest.mark.parametrize("name", builtin_names())
def test_every_dimension_has_a_range_about_what_it_is_and_can_be_studied(name: str) -> None:
    setup = read_setup(name)
    for keys in choices(setup).values():
        for key in keys:
            one, faults = ranged(sensible(setup, key), setup)
            assert one is not None, faults
            if key == SIZE:
                assert setup.brake.chamber.size in one.words
            else:
                assert one.spread.ends[0] < present(setup, key) < one.spread.ends[1]
                made, wrong = toleranced(sensible(setup, key), setup, present(setup, key))
                assert made is not None, wrong
                assert isinstance(made.spread, Normal)


@pytest.mark.parametrize(
    ("varied", "field", "said"),
    [
        (Varied(ARM, "5", "6 in"), "low", "unit"),
        (Varied(ARM, "5 in", "six"), "high", "number"),
        (Varied(ARM, "6 in", "5 in"), "high", "more than the beginning"),
        (Varied(ARM, "5 in", "6 psi"), "high", "length"),
        (Varied("foundation.friction", "a", "0.4"), "low", "not a number"),
        (Varied(SIZE, "24, 31"), "low", "31"),
        (Varied(SIZE, ""), "low", "at least one size"),
        (Varied(ARM, "5 in", "6 in", "-1/8 in"), "tolerance", "negative"),
        (Varied(ARM, "5 in", "6 in", "little"), "tolerance", "number"),
    ],
)
def test_a_field_that_cannot_be_read_says_why_and_keeps_what_was_typed(varied: Varied, field: str, said: str) -> None:
    state = DesignerState(varied=[varied])
    asked = question(state, DRIVE)
    assert said in asked.wrong[(varied.key, field)]
    assert (asked.study is None) == (field != "tolerance"), "a tolerance stops no study of ranges"
    assert varied.low in form(state, DRIVE, asked, desk().running, stale=False)


def test_dimensions_that_exclude_each_other_say_so_at_their_field() -> None:
    state = DesignerState(varied=[Varied(SIZE, "24, 30"), Varied("chamber.rated_stroke", "2 in", "3 in")])
    assert "keep one of them" in question(state, DRIVE).wrong[(SIZE, "low")]
    assert "choose one" in question(DesignerState(varied=[], asked=[]), DRIVE).faults[0]


def test_a_dimension_that_another_brake_has_not_says_so_and_the_rest_can_be_shown() -> None:
    made = desk(varied=[Varied("cam.rise", "0.1 in/deg", "0.2 in/deg", "0.01 in/deg"), Varied(ARM, "5 in", "6 in")])
    assert "no figure of this brake" in made.question.wrong[("cam.rise", "low")]
    assert made.question.study is None
    assert [key for key, _ in made.pick.values] == [ARM]
    assert made.point(made.pick).outcomes[0].verdict == "pass"


def test_a_tolerance_of_a_temperature_is_a_difference() -> None:
    varied = Varied("condition.drum_temperature", "40 degF", "100 degF", "18 degF")
    one, _ = toleranced(varied, DRIVE, 300.0)
    assert one is not None
    assert one.spread.ends == pytest.approx((290.0, 310.0))


# points


def test_a_point_is_what_the_solver_says_and_its_file_reads_back_to_it() -> None:
    point = judged(DRIVE, middle(DesignerState(), DRIVE), [Outcome("applied-stroke"), Outcome("arm-angle-applied")])
    state = event(DRIVE.brake, condition_of(DRIVE), DRIVE.test.pressure, "applied")
    assert point.value("applied-stroke") == pytest.approx(state.stroke)
    assert point.value("arm-angle-applied") == pytest.approx(state.arm_angle)
    assert [one.verdict for one in point.outcomes] == ["pass", "pass"]
    pick = Pick.of({ARM: 150.0, OFFSET: 130.0, SIZE: "24"})
    again = read_setup_text(pick_text(DRIVE, pick, ()), "point")
    assert (again.brake.linkage.arm_length, again.brake.linkage.axis_offset) == (150.0, 130.0)
    assert again.brake.chamber.size == "24"
    twice = read_setup_text(pick_text(again, Pick.of({ARM: 140.0}), ()), "point")
    assert twice.title == again.title, "a point of a point is named once"


def test_a_point_outside_its_limit_fails_and_one_that_cannot_be_says_why() -> None:
    outcome = Outcome("arm-angle-contact")
    fails = judged(DRIVE, Pick.of({ARM: 165.0, OFFSET: 110.0}), [outcome]).outcomes[0]
    assert (fails.verdict, fails.margin_text("inch").endswith("outside")) == ("fail", True)
    assert 'class="block"' in gauge(fails, "inch")
    gone = judged(DRIVE, Pick.of({"linkage.pin_reach": 40.0}), [outcome]).outcomes[0]
    assert gone.verdict == "not evaluated"
    assert "do not meet" in gone.why
    assert gauge(gone, "inch") == ""


# the map


def field_at(point: Pick | None = None, **given: Any) -> Any:
    state = DesignerState(**given)
    study = question(state, DRIVE).study
    assert study is not None
    return field_of(study, state.axes, state.mapped, point or middle(state, DRIVE))


def test_limits_on_the_map_are_where_the_solver_meets_them_and_beyond_is_hatched() -> None:
    field = field_at()
    ((key, line),) = limit_lines(field)
    assert key == "arm-angle-contact"
    assert line.words.splitlines() == ["arm angle at contact", "at least 90.0 deg", "(mechviz's own rule)"]
    x, y = (np.array(column) for column in line.pieces[0])
    found = solve_at(field.result.study, {ARM: x * 25.4, OFFSET: y * 25.4})
    assert np.rad2deg(found.outcomes[key]) == pytest.approx(90.0, abs=0.02)
    (polygon,) = not_allowed(field).polygons
    assert (max(polygon[0][0]), min(polygon[0][1])) == pytest.approx((6.5, 4.75)), "the corner of long arms, low axes"
    assert missing(field) is None


def test_a_map_says_where_no_brake_can_be() -> None:
    field = field_at(varied=[Varied(ARM, "4 in", "12 in"), Varied("linkage.pin_reach", "4 in", "8 in")])
    gone = missing(field)
    assert gone is not None
    assert "do not meet" in gone.words
    assert np.isnan(field.values).any()


def test_the_place_that_is_pressed_is_the_point_and_stays_inside() -> None:
    field = field_at()
    assert nearest(field, 5.5, 5.0) == pytest.approx((139.7, 127.0))
    assert nearest(field, 99.0, -1.0) == pytest.approx((6.5 * 25.4, 4.75 * 25.4))
    sizes = field_at(varied=[Varied(SIZE, "24, 30, 36"), Varied(ARM, "5 in", "6 in")])
    assert sizes.values.shape[1] == 3
    assert nearest(sizes, 1.2, 5.5)[0] == 1.0


def test_levels_are_round_and_nothing_that_does_not_vary_has_any() -> None:
    assert levels(np.array([0.0, 10.0])) == [2.0, 4.0, 6.0, 8.0]
    assert levels(np.array([3.0, 3.0, np.nan])) == []
    assert levels(np.array([np.nan])) == []


def test_words_on_the_map_stand_inside_it_and_clear_of_each_other() -> None:
    asked = [Asked("arm-angle-contact", wear, heat) for wear in ("new", "worn-out") for heat in ("cold", "hot")]
    field = field_at(asked=asked)
    limits = [line for _, line in limit_lines(field)]
    placed, _, _ = labelled(field, limits, [], [])
    assert len(placed) == len(limits) > 1
    for line in placed:
        assert 5.0 < line.at[0] < 6.5
        assert 4.75 < line.at[1] < 6.25


# all points, best choices, tables


def test_what_is_drawn_of_many_points_is_said_and_brushing_counts_them_all(run: Desk) -> None:
    assert run.answers is not None
    result, axes = run.answers.result, scales(run.answers.result)
    every = drawn(result, axes, {})
    assert every.places.size == result.size == 512
    assert every.words == "No range brushed; all 512 drawn."
    ends = {ARM: (130.0, 140.0)}
    some = drawn(result, axes, ends, most=100)
    counted = int((within(result, ends)).sum())
    assert some.matching == counted == int(((result.values[ARM] >= 130) & (result.values[ARM] <= 140)).sum())
    assert some.places.size == 100
    assert f"{counted} of 512 points within the brushed ranges; 100 of 512 lines drawn" in some.words
    first = np.array(some.steps).reshape(100, len(axes))[:, 0] / STEPS
    assert axes[0].figure(1.0) * first + axes[0].figure(0.0) * (1 - first) == pytest.approx(
        result.values[ARM][some.places], abs=0.05
    )


def test_a_sample_is_the_same_each_time_and_takes_no_point_twice() -> None:
    places = np.arange(10_000)
    one, other = sample(places, 300), sample(places, 300)
    assert (one == other).all()
    assert np.unique(one).size == 300


def test_nothing_beats_the_best_choices_and_all_of_them_keep_every_limit(run: Desk) -> None:
    assert run.answers is not None
    result = run.answers.result
    found = frontier(result, ("arm-angle-contact", "brake-torque"))
    assert found.places.size > 1
    assert result.inside[found.places].all()
    angle, torque = result.outcomes["arm-angle-contact"], result.outcomes["brake-torque"]
    for place in found.places:
        near, strong = abs(angle - np.pi / 2), torque
        better = (near <= near[place]) & (strong >= strong[place]) & ((near < near[place]) | (strong > strong[place]))
        assert not (better & result.inside).any()
    place = listed(found)[0]
    at = [float(to_shown(angle[place], "angle", "inch")), float(to_shown(torque[place], "torque", "inch"))]
    assert found.nearest(at[0], at[1]) == place
    (edge,) = found.limits
    assert (edge.at, edge.upper, edge.across) == (pytest.approx(90.0), False, True)
    assert edge.corners(found.ends)[0][:2] == (found.ends[0][0], edge.at)


def test_tables_say_what_the_study_found(run: Desk) -> None:
    assert run.answers is not None
    found, result = run.answers, run.answers.result
    assert f"{int(result.inside.sum())} inside every limit" in run.running.said
    table = follows_html(found.follows, found.study.outcomes)
    assert table.count("<tr>") == 1 + len(found.study.outcomes)
    assert f"{100 * found.follows.first[0, 0]:.0f} %" in table
    assert "none of 20,000" in tolerance_html(found.tolerance, stale=False)
    assert "±" in tolerance_html(None, stale=False)
    assert 'data-act="stand-row"' in front_html(("arm-angle-contact", "brake-torque"), result, frontier(
        result, ("arm-angle-contact", "brake-torque")
    ))  # fmt: skip


def test_brakes_as_they_are_made_are_drawn_about_the_point() -> None:
    point = Pick.of({ARM: 165.0, OFFSET: 123.0})
    study = tolerance_question(DesignerState(), DRIVE, point)
    assert study is not None
    assert [p.spread.middle for p in study.parameters] == [165.0, 123.0]
    bare = DesignerState(varied=[Varied(ARM, "5 in", "6 in")])
    assert tolerance_question(bare, DRIVE, point) is None


def test_a_study_tells_how_far_it_is_and_stops_when_it_is_told_to() -> None:
    study = question(DesignerState(points=512), DRIVE).study
    assert study is not None
    told: list[float] = []
    answers(study, None, told.append, lambda: False)
    assert told == sorted(told)
    assert told[-1] == 1.0
    with pytest.raises(CancelledError):
        answers(study, None, told.append, lambda: True)


# the desk


def test_the_desk_runs_cancels_and_keeps_what_was_there_before() -> None:
    made = desk()
    heard: list[str] = []
    made.shown = heard.append
    made.run()
    made.wait()
    before = made.answers
    assert before is not None
    assert heard[-2:] == ["progress", "answers"]
    do(made, "retype", {"place": 0, "key": "high", "value": "6 in"})
    assert made.stale
    made.run()
    do(made, "cancel", {})
    made.wait()
    assert made.answers is before
    assert made.running.share is None
    assert "results are those of the run before" in made.running.said
    made.close()
    assert made.answers is None


def test_a_point_that_is_kept_used_and_saved() -> None:
    made = desk()
    files: dict[str, bytes] = {}

    def save(data: bytes, name: str, _: str) -> None:
        files[name] = data

    made.save = save
    made.slid(ARM, 150.0, end=False)
    assert made.session.kept("point") is None, "a slider that moves writes no address"
    made.slid(ARM, 152.0, end=True)
    assert made.session.kept("point") is not None
    do(made, "keep", {})
    made.slid(ARM, 160.0, end=True)
    do(made, "keep", {})
    assert [pick.by_key[ARM] for pick in made.state.picks] == [152.0, 160.0]
    do(made, "save-pick", {"place": 1})
    ((name, data),) = files.items()
    assert name.endswith("-b.toml")
    assert read_setup_text(data.decode(), name).brake.linkage.arm_length == 160.0
    do(made, "use-pick", {"place": 0})
    assert made.setup is not None
    assert made.setup.brake.linkage.arm_length == 152.0
    made.session.draft.undo()
    assert made.setup.brake.linkage.arm_length == pytest.approx(139.7)
    picture = overlay_svg(made, "light")
    assert picture.count("<title>A: ") == picture.count("<title>B: ") == 1
    assert "stroke-dasharray" in picture, "told apart by more than colour"


@pytest.mark.parametrize(("suffix", "read"), [("csv", "csv"), ("parquet", "parquet")])
def test_all_points_are_saved_as_a_table(run: Desk, suffix: str, read: str) -> None:
    from pyarrow import csv, parquet

    assert run.answers is not None
    files: list[bytes] = []
    run.save = lambda data, *_: files.append(data)
    do(run, suffix, {})
    run.wait()
    make: Callable[[Any], Any] = csv.read_csv if read == "csv" else parquet.read_table
    table = make(io.BytesIO(files[0]))
    assert table.num_rows == 512
    assert table["linkage_arm_length_mm"].to_numpy() == pytest.approx(run.answers.result.values[ARM])


def test_the_study_is_saved_as_a_file_that_the_command_line_reads(tmp_path: Path) -> None:
    made = desk()
    do(made, "ask-most", {"place": 1, "value": "1.7 in"})
    made.save = lambda data, name, _: (tmp_path / name).write_bytes(data) and None
    do(made, "study-file", {})
    (file,) = tmp_path.iterdir()
    again = read_study(str(file))
    assert made.question.study is not None
    assert ([replace(p, made=None) for p in again.parameters], again.outcomes, again.plan) == (
        list(made.question.study.parameters),
        made.question.study.outcomes,
        made.question.study.plan,
    )
    assert again == whole_study(made.state, DRIVE, made.pick)


def test_a_limit_of_ones_own_is_held_beside_the_published_one() -> None:
    made = desk()
    do(made, "ask-most", {"place": 1, "value": "1.5 in"})
    assert [one.verdict for one in made.point(made.pick.moved(ARM, 160.0)).outcomes] == ["close", "fail", "no limit"]
    do(made, "ask-most", {"place": 1, "value": "1.5 deg"})
    assert "length" in made.question.wrong[("applied-stroke", "most")]
    assert made.question.study is None
    do(made, "ask-most", {"place": 1, "value": "1.5 in"})
    do(made, "ask-least", {"place": 1, "value": "1.6 in"})
    assert "nothing could be inside" in made.question.wrong[("applied-stroke", "most")]
    do(made, "ask-name", {"place": 1, "value": "chamber-force"})
    assert made.state.asked[1] == Asked("chamber-force"), "a limit goes with its quantity"


def test_new_to_worn_and_cold_to_hot_are_asked_for_at_once() -> None:
    made = desk()
    do(made, "lifetime", {})
    assert len(made.state.asked) == MOST_ASKED
    assert "applied-stroke.worn-out.hot" in made.state.outcome_keys
    do(made, "undo", {})
    assert len(made.state.asked) == 3


@given(
    st.sampled_from([*ACTS, "nothing"]).filter(lambda act: act not in ("run", "csv", "parquet")),
    st.fixed_dictionaries(
        {
            "place": st.one_of(st.none(), st.integers(-2, 20), st.floats()),
            "key": st.text(max_size=8),
            "value": st.text(),
        }
    ),
)
def test_any_message_leaves_a_desk_that_can_be_shown(act: str, data: Mapping[str, Any]) -> None:
    made = desk()
    do(made, act, data)
    assert made.setup is not None
    assert form(made.state, made.setup, made.question, made.running, made.stale)


@pytest.mark.parametrize("typed", ["0", "1", "-5", "1000001", "many", "", "1e3"])
def test_a_number_of_points_that_cannot_be_says_so_and_nothing_runs(typed: str) -> None:
    made = desk()
    do(made, "points", {"value": typed})
    assert "whole number from 2 to 1,000,000" in made.question.faults[-1]
    made.run()
    assert made.running.share is None
    do(made, "points", {"value": "1,000,000"})
    assert made.question.size == 2**20


# what is read out


class Controls(HTMLParser):
    """Every control of a piece of HTML, and what it is called."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.nameless: list[str] = []
        self._open: list[tuple[str, dict[str, str | None]]] = []
        self._said = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag in ("input", "select") and not given.get("aria-label") and "label" not in [one for one, _ in self._open]:
            self.nameless.append(str(given))
        if tag in ("button", "label"):
            self._said = ""
            self._open.append((tag, given))

    def handle_data(self, data: str) -> None:
        self._said += data

    def handle_endtag(self, tag: str) -> None:
        if self._open and self._open[-1][0] == tag:
            _, given = self._open.pop()
            if not (self._said.strip(" ×") or given.get("aria-label")):
                self.nameless.append(str(given))


def test_every_control_has_a_name(run: Desk) -> None:
    setup = run.setup
    assert setup is not None
    points = [run.point(run.pick)] * 2
    study = run.question.study
    assert study is not None
    shown = [
        form(run.state, setup, run.question, run.running, stale=True),
        point_html(run.state, study.parameters, points[0], setup.system),
        compare_html(points, "", run.state.asked, setup.system),
        *(views_html(DesignerState(view=view), shown=True, loaded=True) for view in ("map", "front", "lines")),
    ]
    for html in shown:
        assert Controls(html).nameless == []
    assert Controls('<input type="text">').nameless, "the test hears one without a name"


def test_what_was_typed_cannot_become_markup() -> None:
    state = DesignerState(varied=[Varied(ARM, "<b>5", '"><script>', "&")])
    html = form(state, DRIVE, question(state, DRIVE), desk().running, stale=False)
    assert not re.search(r"<script|<b>", html)


# the study's file


def whole_desk() -> tuple[Desk, dict[str, str]]:
    """A desk with a study of its own in every part, and what it saves."""
    made = desk(
        varied=[Varied(ARM, "5 in", "6.5 in", "1/32 in"), Varied(OFFSET, "4.75 in", "6.25 in"), Varied(SIZE, "24, 30")],
        asked=[Asked("applied-stroke", most="1.7 in"), Asked("brake-torque"), Asked("push-reserve", "worn-out", "hot")],
        best=("push-reserve.worn-out.hot", "applied-stroke"),
        point=Pick.of({ARM: 150.0, OFFSET: 130.0, SIZE: "24"}),
        across=OFFSET,
        kind="latin-hypercube",
    )
    files: dict[str, str] = {}

    def save(data: bytes, name: str, _: str) -> None:
        files[name] = data.decode()

    made.save = save
    do(made, "study-file", {})
    return made, files


def test_the_saved_study_is_the_same_at_the_command_line_with_its_tolerances_and_its_best_pair() -> None:
    made, files = whole_desk()
    made.run()
    made.wait()
    (text,) = files.values()
    told = work(read_study_text(text))
    assert made.answers is not None
    assert made.answers.tolerance is not None
    assert told.tolerance is not None
    assert [(one.key, one.outside) for one in told.tolerance.held] == [
        (one.key, one.outside) for one in made.answers.tolerance.held
    ]
    assert [[part.halved for part in one.blame] for one in told.tolerance.held] == [
        [part.halved for part in one.blame] for one in made.answers.tolerance.held
    ]
    assert told.best.by == made.state.goals
    on_front = frontier(made.answers.result, made.state.goals).places
    assert set(told.best.front.points.tolist()) == set(on_front.tolist())
    assert np.array_equal(told.result.outcomes["brake-torque"], made.answers.result.outcomes["brake-torque"])


def test_a_study_file_is_opened_as_the_study_that_was_saved_and_undone_as_one() -> None:
    made, files = whole_desk()
    (text,) = files.values()
    other = Desk(Session(builtin_text("trailer-16.5x7")), lambda act: act())
    shown = Work(other)
    assert shown.open(text, "study.toml")
    assert shown.refused is None
    assert other.session.draft.text == builtin_text("drive-16.5x7")
    kept = ("varied", "asked", "kind", "points", "best", "point", "across")
    read, was = ({name: getattr(one.state, name) for name in kept} for one in (other, made))
    assert [v.key for v in read["varied"]] == [v.key for v in was["varied"]]
    again, study = other.question.study, made.question.study
    assert again is not None
    assert study is not None
    assert (again.parameters, again.outcomes, again.plan) == (study.parameters, study.outcomes, study.plan)
    produced = tolerance_question(other.state, DRIVE, other.pick)
    assert produced == tolerance_question(made.state, DRIVE, made.pick)
    assert (other.state.goals, other.state.axes, other.pick) == (made.state.goals, made.state.axes, made.pick)
    shown.undo()
    assert other.session.draft.text == builtin_text("trailer-16.5x7")
    assert other.state.varied == DesignerState().varied
    shown.redo()
    assert other.state.goals == made.state.goals


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('schema = 1\nbase = "drive-16.5x7"\n[parameters."linkage.arm_lenth"]\nfrom = "5 in"\nto = "6 in"\n'
         '[[outcomes]]\nname = "brake-torque"\n', "arm_length"),
        ('schema = 1\nbase = "/etc/passwd"\n[parameters."linkage.arm_length"]\nfrom = "5 in"\nto = "6 in"\n'
         '[[outcomes]]\nname = "brake-torque"\n', "open that setup file first"),
        ('schema = 1\nbase = "drive-16.5x7"\n[plan]\npoints = 3000000\n[parameters."linkage.arm_length"]\n'
         'from = "5 in"\nto = "6 in"\n[[outcomes]]\nname = "brake-torque"\n', "1,000,000"),
    ],
)  # fmt: skip
def test_a_study_file_that_cannot_be_used_says_why_and_changes_nothing(text: str, said: str) -> None:
    made = desk()
    shown = Work(made)
    assert not shown.open(text, "study.toml")
    assert shown.refused is not None
    assert any(said in line for line in shown.refused.lines)
    assert made.state.varied == DesignerState().varied
    shown.refused = None
    assert not shown.open("schema = 1\nbase = 5", "setup.toml")
    assert shown.refused is not None
    assert shown.open(builtin_text("trailer-16.5x7"), "setup.toml")
    assert shown.refused is None


def test_one_way_back_leads_through_the_study_and_the_setup_in_the_order_of_their_changes() -> None:
    made = desk()
    shown = Work(made)
    do(made, "points", {"value": "300"})
    shown.start_from("trailer-16.5x7")
    do(made, "points", {"value": "400"})
    do(made, "undo", {})
    assert made.state.points == 300
    shown.undo()
    assert (made.state.points, made.session.draft.text) == (300, builtin_text("drive-16.5x7"))
    shown.undo()
    assert made.state.points == 512
    assert not shown.can_undo
    shown.redo()
    shown.redo()
    assert (made.state.points, made.session.draft.text) == (300, builtin_text("trailer-16.5x7"))


SAME_FIGURE = {
    "arm-angle-released": "arm-angle-released",
    "arm-angle-contact": "arm-angle-contact",
    "arm-angle-applied": "arm-angle-applied",
    "applied-stroke": "stroke-reserve-cold",
    "push-reserve": "stroke-reserve-hot",
    "cam-turn": "cam-turn",
    "free-stroke": "free-stroke",
}


@pytest.mark.parametrize(("arm", "offset"), [(6.41, 4.87), (5.5, 5.35), (6.5, 6.2), (5.2, 6.0), (6.5, 4.4), (6.3, 4.2)])
def test_a_point_has_the_verdicts_that_the_checks_give_its_setup_file(arm: float, offset: float) -> None:
    made = desk(asked=[Asked(name, "found", "hot" if name == "push-reserve" else "found") for name in SAME_FIGURE])
    point = Pick.of({ARM: 25.4 * arm, OFFSET: 25.4 * offset})
    rows = {row.check: row.result for row in run_checks(read_setup_text(made.text_of(point), "point"))}
    found = {one.outcome.name: one.verdict for one in made.point(point).outcomes}
    assert found == {name: rows[check] for name, check in SAME_FIGURE.items()}
    if arm == 6.41:
        assert found["arm-angle-contact"] == "close", "88.0 deg, which no tape tells from 90"
        assert "can tell" in point_html(made.state, (), made.point(point), "inch")


def test_a_range_that_cannot_be_is_refused_beside_its_field_and_moves_no_point() -> None:
    made = desk(point=Pick.of({ARM: 150.0, OFFSET: 130.0}))
    do(made, "retype", {"place": 0, "key": "low", "value": "-3 in"})
    assert "less than zero" in made.question.wrong[(ARM, "low")]
    assert made.question.study is None
    assert made.pick.by_key == {ARM: 150.0, OFFSET: 130.0}
    do(made, "retype", {"place": 0, "key": "low", "value": "5 in"})
    do(made, "retype", {"place": 0, "key": "tolerance", "value": "-1 in"})
    assert not made.question.can_run
    made.run()
    assert made.running.share is None
    assert "disabled" in form(made.state, DRIVE, made.question, made.running, stale=False).partition('id="run"')[2][:60]


def test_a_slack_that_is_said_in_another_way_than_the_base_says_it_is_judged_too() -> None:
    point = Pick.of({"condition.lining_clearance": 0.5})
    assert judged(DRIVE, point, [Outcome("applied-stroke")]).outcomes[0].verdict in ("pass", "close")


def test_a_link_to_a_study_that_takes_long_says_that_it_is_not_run_again() -> None:
    made = desk(points=1_000_000)
    made.begin()
    assert "not run again" in made.running.said


def test_tolerances_are_drawn_anew_about_a_point_that_is_another() -> None:
    made = desk(view="tolerance")
    made.run()
    made.wait()
    assert made.answers is not None
    assert made.answers.tolerance is not None
    before = made.answers.tolerance.held[0].outside
    made.stand(made.pick.moved(ARM, 160.0).moved(OFFSET, 125.0))
    made.wait()
    assert not made.moved
    drawn = made.answers.tolerance
    assert drawn is not None
    assert [p.spread.middle for p in drawn.drawn.study.parameters] == [160.0, 125.0]
    assert drawn.held[0].outside != before
