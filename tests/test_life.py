"""A brake's life: the adjuster's settings against one followed application by application, events against bisection."""

from dataclasses import replace
from math import isnan, nan, pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from geometry.adjuster import Adjuster
from geometry.applied import solve_applied
from geometry.arrays import floats
from geometry.condition import Condition
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.errors import PartError
from geometry.kinematics import free_stroke
from geometry.life import EVENTS, End, Life, Service, life_course, life_end, life_events, life_states, service, upkeep
from geometry.life.events import reached
from geometry.linkage import arm_turn
from geometry.reasons import Reason
from geometry.states import at_pressure
from tests.brakes import BRAKE, DEG, IN, PSI

HOT = (600.0 + 459.67) * 5 / 9
LIMIT, LEAST = 2.0 * IN, 0.25 * IN
ADJUSTERS = {
    "clearance": Adjuster("automatic", "clearance"),
    "stroke": Adjuster("automatic", "stroke"),
    "manual": Adjuster("manual"),
    "stuck": Adjuster("automatic", "clearance", state="stuck"),
    "backing-off": Adjuster("automatic", "clearance", state="backing-off"),
}


def of(adjuster: Adjuster, free: float = 0.625 * IN, pressure: float = 95 * PSI, hot: float = HOT) -> Service:
    return service(replace(BRAKE, adjuster=adjuster), free, pressure, hot)


def condition(one: Service, wear: float, released: float, temperature: float = REFERENCE_TEMPERATURE) -> Condition:
    return Condition(one.brake.lining.thickness - wear, one.drum_diameter, temperature, released)


def followed(one: Service, wears: list[float]) -> list[float]:
    """The setting at each wear, by looking at the brake after every little wear and stepping while it asks for it."""
    brake, adjuster = one.brake, one.brake.adjuster
    new = float(one.contact(0.0).first) - float(arm_turn(brake.linkage, one.free_stroke))

    def sensed(wear: float, setting: float) -> float:
        state = condition(one, wear, setting)
        if adjuster.senses == "clearance":
            return float(free_stroke(brake, state))
        return float(solve_applied(brake, state, one.pressure).stroke)

    wanted, setting, found = sensed(0.0, new), new, list[float]()
    for wear in wears:
        while sensed(wear, setting) >= wanted + adjuster.deadband:
            setting += adjuster.step
        found.append(setting)
    return found


@pytest.mark.parametrize("senses", ["clearance", "stroke"])
def test_an_automatic_adjuster_steps_as_one_followed_application_by_application(senses: str) -> None:
    one = of(Adjuster("automatic", senses, step=2 * DEG))
    wears = np.linspace(0.0, 9.0, 200)
    np.testing.assert_allclose(upkeep(one).at(wears), followed(one, wears.tolist()), rtol=0, atol=1e-9)


def test_one_that_senses_clearance_keeps_the_free_stroke_within_its_deadband() -> None:
    one = of(ADJUSTERS["clearance"])
    life = life_states(one, upkeep(one), np.linspace(0.1, 12.0, 2001))
    deadband, step = one.brake.adjuster.deadband, one.brake.adjuster.step
    assert life.free_stroke.max() <= one.free_stroke + deadband + 1e-6
    assert life.free_stroke.min() >= one.free_stroke + deadband - 1.1 * step * one.brake.linkage.arm_length
    assert np.ptp(life.free_stroke) > 0.5 * step * one.brake.linkage.arm_length


def test_a_manual_one_is_back_at_its_free_stroke_after_each_adjustment_and_grows_in_between() -> None:
    one = of(ADJUSTERS["manual"])
    adjusted = life_states(one, upkeep(one), 0.3 * np.arange(40))
    np.testing.assert_allclose(adjusted.free_stroke, one.free_stroke, rtol=1e-9)
    between = life_states(one, upkeep(one), 0.3 * np.arange(40) + np.linspace(0.01, 0.29, 5)[:, None])
    assert np.all(np.diff(between.free_stroke, axis=0) > 0)


def test_a_stuck_one_never_moves_and_one_that_backs_off_is_worse() -> None:
    stuck, slipping = of(ADJUSTERS["stuck"]), of(ADJUSTERS["backing-off"])
    wear = np.linspace(0.0, 0.9, 50)
    left = life_states(stuck, upkeep(stuck), wear)
    assert np.ptp(left.released_angle) == 0
    back = life_states(slipping, upkeep(slipping), wear)
    assert np.all(back.cold.stroke[1:] > left.cold.stroke[1:])
    assert back.cold.stroke[0] == left.cold.stroke[0]


def test_a_state_of_the_life_is_the_state_that_the_solver_gives() -> None:
    one = of(ADJUSTERS["clearance"])
    kept = upkeep(one)
    life = life_states(one, kept, [1.0, 7.3])
    for row, wear in enumerate((1.0, 7.3)):
        for name, temperature in (("cold", REFERENCE_TEMPERATURE), ("hot", HOT)):
            found = at_pressure(one.brake, condition(one, wear, float(kept.at(wear)), temperature), one.pressure, "")
            part = getattr(life, name)
            for key in ("stroke", "arm_angle", "chamber_force", "brake_torque"):
                assert getattr(part, key)[row] == pytest.approx(getattr(found, key), rel=1e-12), key


def test_wears_may_come_in_any_order_and_shape() -> None:
    one = of(ADJUSTERS["clearance"])
    kept, wear = upkeep(one), np.random.default_rng(5).uniform(0.0, 14.0, (40_000, 2))
    life = life_states(one, kept, wear)
    assert life.cold.stroke.shape == wear.shape
    alone = life_states(one, kept, wear[17, 1])
    assert life.hot.stroke[17, 1] == alone.hot.stroke


def brute(one: Service, name: str) -> float:
    """The same events for a setting that never moves, by a general root finder on the solver of single states."""
    brake, released = one.brake, float(upkeep(one).at(0.0))
    ways = {
        "stroke-limit": lambda w: float(solve_applied(brake, condition(one, w, released), one.pressure).stroke) - LIMIT,
        "right-angle-lost": lambda w: at_contact_angle(one, w, released) - pi / 2,
        "lining-minimum": lambda w: brake.lining.thickness - w - LEAST,
    }
    return float(brentq(ways[name], 0.0, {"lining-minimum": 15.0}.get(name, 1.2), xtol=1e-13))


def at_contact_angle(one: Service, wear: float, released: float) -> float:
    from geometry.states import at_contact

    angle = at_contact(one.brake, condition(one, wear, released)).arm_angle
    assert angle is not None
    return angle


@pytest.mark.parametrize("name", ["stroke-limit", "right-angle-lost", "lining-minimum"])
def test_an_event_is_where_a_root_finder_puts_it(name: str) -> None:
    one = of(ADJUSTERS["stuck"])
    found = {event.name: event.wear for event in life_events(one, upkeep(one), LIMIT, LEAST)}
    assert found[name] == pytest.approx(brute(one, name), abs=1e-9)


@pytest.mark.parametrize("kind", ADJUSTERS)
def test_an_event_is_the_last_wear_before_it_comes(kind: str) -> None:
    one = of(ADJUSTERS[kind], free=0.7 * IN)
    kept = upkeep(one)
    limit = 1.66 * IN
    events = {event.name: event for event in life_events(one, kept, limit, LEAST)}
    assert tuple(events) == EVENTS
    past = {
        "stroke-limit": lambda life: life.cold.stroke > limit,
        "right-angle-lost": lambda life: life.contact_angle < pi / 2,
        "lining-minimum": lambda life: life.thickness < LEAST,
        "cam-profile-used": lambda life: life.cold.reason == Reason.CAM_PAST_TIP,
    }
    for name, test in past.items():
        wear = events[name].wear
        if isnan(wear):
            assert not test(life_states(one, kept, np.linspace(0.0, 12.0, 5001))).any()
        else:
            assert not test(life_states(one, kept, np.linspace(0.0, wear, 5001))).any()
            assert test(life_states(one, kept, wear + 1e-9))


def test_hot_it_bottoms_where_no_stroke_is_left() -> None:
    one = of(ADJUSTERS["stuck"])
    events = {event.name: event for event in life_events(one, upkeep(one), LIMIT, LEAST)}
    life = life_states(one, upkeep(one), events["hot-bottoms"].wear + np.array([-0.05, 0.0, 1e-9]))
    assert life.hot.reserve[0] > life.hot.reserve[1] > 0
    assert life.hot.chamber_force[0] > 3 * life.hot.chamber_force[1]
    assert life.hot.reason[2] == Reason.BOTTOMED
    assert events["hot-bottoms"].wear > events["stroke-limit"].wear
    assert [event.name for event in reached(list(events.values()))][:3] == [
        "stroke-limit",
        "right-angle-lost",
        "hot-bottoms",
    ]


def test_nothing_hot_is_denied_where_the_hot_cam_is_past_its_tip() -> None:
    one = of(ADJUSTERS["clearance"])
    one = replace(one, drum_diameter=16.66 * IN)
    kept = upkeep(one)
    events = {event.name: event for event in life_events(one, kept, LIMIT, LEAST)}
    tip = events["hot-cam-past-tip"].wear
    reasons = life_states(one, kept, tip + np.array([-1e-6, 1e-6])).hot.reason
    assert reasons.tolist() == [Reason.EXISTS, Reason.CAM_PAST_TIP]
    assert isnan(events["hot-bottoms"].wear)
    assert events["hot-bottoms"].unknown_from == pytest.approx(tip, abs=1e-6)


def test_what_cannot_exist_when_new_is_unknown_from_new_on_and_not_denied() -> None:
    one = of(ADJUSTERS["stuck"], free=2.6 * IN)
    assert life_states(one, upkeep(one), 0.0).cold.reason == Reason.CAM_BELOW_HEEL
    events = {event.name: event for event in life_events(one, upkeep(one), LIMIT, LEAST)}
    for name in set(EVENTS) - {"lining-minimum"}:
        assert isnan(events[name].wear), name
        assert events[name].unknown_from == 0, name
    assert life_end(one, upkeep(one)) == End(0.0, Reason.CAM_BELOW_HEEL)


def test_a_stroke_that_is_used_up_is_past_every_limit() -> None:
    limit = 2.6 * IN  # beyond the rated stroke: met where no stroke is left
    one = of(ADJUSTERS["stuck"])
    events = {event.name: event for event in life_events(one, upkeep(one), limit, LEAST)}
    assert events["stroke-limit"].wear == pytest.approx(life_end(one, upkeep(one)).wear, abs=1e-6)


@pytest.mark.parametrize("kind", ["clearance", "stuck"])
def test_the_life_ends_at_the_last_cold_application(kind: str) -> None:
    one = of(ADJUSTERS[kind])
    kept = upkeep(one)
    end = life_end(one, kept)
    events, last = life_course(one, kept, LIMIT, LEAST)
    assert last == end
    assert repr(events) == repr(life_events(one, kept, LIMIT, LEAST))  # NaN where one does not happen
    assert end.reason == {"clearance": Reason.CAM_PAST_TIP, "stuck": Reason.BOTTOMED}[kind]
    reasons = life_states(one, kept, end.wear + np.array([-1e-6, 1e-6])).cold.reason
    assert reasons.tolist() == [Reason.EXISTS, end.reason]


def test_where_the_linings_do_not_press_there_is_no_torque() -> None:
    one = of(ADJUSTERS["stuck"])
    wear = life_end(one, upkeep(one)).wear
    cold = life_states(one, upkeep(one), wear).cold
    found = at_pressure(one.brake, condition(one, wear, float(upkeep(one).at(wear))), one.pressure, "")
    assert found.brake_torque is None
    assert isnan(float(cold.brake_torque))
    assert float(cold.chamber_force) == pytest.approx(found.chamber_force)


def test_a_limit_that_is_never_met_is_no_event() -> None:
    one = of(ADJUSTERS["clearance"])
    stroke = life_events(one, upkeep(one), LIMIT, LEAST)[0]
    assert not stroke.happens


@settings(max_examples=25)
@given(
    free=st.floats(0.3, 0.8),
    pressure=st.floats(40.0, 120.0),
    wear=st.floats(0.0, 1.2),
    more=st.floats(0.001, 0.5),
    hotter=st.floats(1.0, 300.0),
)
def test_more_wear_and_more_heat_never_shorten_the_stroke_of_a_stuck_adjuster(
    free: float, pressure: float, wear: float, more: float, hotter: float
) -> None:
    one = of(ADJUSTERS["stuck"], free * IN, pressure * PSI, REFERENCE_TEMPERATURE + hotter)
    life = life_states(one, upkeep(one), [wear, wear + more])
    less, longer = life.cold.stroke
    assert isnan(longer) or longer >= less
    held = np.isfinite(life.hot.stroke)
    assert np.all(life.hot.stroke[held] >= life.cold.stroke[held])


def test_service_refuses_what_cannot_be() -> None:
    for bad in ({"free_stroke": 0.0}, {"pressure": -1.0}, {"hot": nan}, {"drum_diameter": 0.0}):
        with pytest.raises(PartError, match=next(iter(bad))):
            replace(of(ADJUSTERS["manual"]), **bad)


def test_inputs_are_left_as_they_are() -> None:
    wear = floats([0.0, 5.0])
    wear.flags.writeable = False
    one = of(ADJUSTERS["clearance"])
    life = life_states(one, upkeep(one), wear)
    assert isinstance(life, Life)
