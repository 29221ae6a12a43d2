"""What a job asks for: every field known to the setup file, told how, and drawn."""

import pytest

from geometry.errors import PartError
from geometry.quantity import System
from geometry.setup.keys import kind_of, known_keys
from mechviz.job import fields as f
from mechviz.job.pictures import SHOTS
from mechviz.job.typed import for_the_file

FIELDS = f.fields()


@pytest.mark.parametrize("one", FIELDS, ids=lambda one: one.key)
def test_a_field_is_a_key_of_the_setup_file_of_the_same_kind(one: f.Field) -> None:
    section, _, name = one.key.rpartition(".")
    assert name in known_keys()[section]
    if one.kind not in ("choice", "text"):
        assert kind_of(one.key) == one.kind


@pytest.mark.parametrize("one", FIELDS, ids=lambda one: one.key)
def test_a_field_says_with_what_and_where_in_one_sentence_and_shows_it(one: f.Field) -> None:
    assert one.instrument
    assert one.how.endswith(".")
    assert one.picture in SHOTS or one.key == "measured.resolution"
    assert one.caution in ("", *f.CAUTIONS)
    assert one.step in f.STEPS


@pytest.mark.parametrize("system", ["inch", "metric"])
@pytest.mark.parametrize("one", FIELDS, ids=lambda one: one.key)
def test_what_is_given_as_an_example_can_be_read(one: f.Field, system: str) -> None:
    shown = one.shown("inch" if system == "inch" else "metric")
    for text in [shown] if shown else [value for value, _ in one.choices]:
        for_the_file(one, text, "inch" if system == "inch" else "metric")


def test_fields_stand_in_the_order_of_the_walk() -> None:
    steps = [one.step for one in FIELDS]
    assert steps == sorted(steps, key=list(f.STEPS).index)


def test_no_key_is_asked_for_twice() -> None:
    assert len({one.key for one in FIELDS}) == len(FIELDS)


def test_every_dangerous_step_has_its_caution() -> None:
    cautions = {one.key: one.caution for one in FIELDS}
    assert cautions["test.reservoir_pressure"] == "release"
    assert cautions["measured.clamp_diameter"] == "clamp"
    assert cautions["condition.lining_thickness"] == "dust"
    assert cautions["parking.fitted"] == "spring"
    assert {cautions[key] for key in ("measured.stroke", "condition.free_stroke")} == {"hands"}
    assert FIELDS[0].caution == "release"
    assert "Chock the wheels" in f.CAUTIONS["release"]


@pytest.mark.parametrize(
    ("key", "typed", "system", "written"),
    [
        ("measured.stroke", "44,5", "metric", "44.5 mm"),
        ("measured.stroke", "1,75", "inch", "1.75 in"),
        ("condition.drum_diameter", "419,92 mm", "inch", "419.92 mm"),
        ("measured.stroke", "1,7500", "inch", "1.7500 in"),
    ],
)
def test_a_decimal_comma_is_read_where_it_can_mean_one_thing(
    key: str, typed: str, system: System, written: str
) -> None:
    assert for_the_file(f.field(key), typed, system) == written


@pytest.mark.parametrize("typed", ["1,750", "16,530", "1,2,3", "1,5/8"])
def test_a_comma_that_can_mean_two_things_is_asked_about(typed: str) -> None:
    with pytest.raises(PartError):
        for_the_file(f.field("measured.stroke"), typed, "inch")


@pytest.mark.parametrize(
    "one", [one for one in FIELDS if not one.choices and one.kind != "text"], ids=lambda one: one.key
)
@pytest.mark.parametrize("system", ["inch", "metric"])
def test_what_cannot_be_read_is_answered_with_an_example_of_its_own_field(one: f.Field, system: System) -> None:
    with pytest.raises(PartError) as told:
        for_the_file(one, "good", system)
    fix = told.value.faults[0].fix
    assert ("write cold, hot" in fix) if one.kind == "temperature" else one.shown(system) in fix
