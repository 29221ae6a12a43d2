"""What a job asks for: every field known to the setup file, told how, and drawn."""

import pytest

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
