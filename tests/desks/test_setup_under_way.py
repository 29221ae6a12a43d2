"""A setup while somebody works on it: its text, its history and its address, without a server."""

from urllib.parse import urlencode

import pytest
from hypothesis import given
from hypothesis import strategies as st

from apps.web.address import LONGEST, own_of, query_of, text_of
from apps.web.draft import Draft
from apps.web.history import History
from apps.web.session import Session
from apps.web.setup_text import started, values_of, with_value, without, written
from apps.web.tools import file_name
from geometry.setup import builtin_names, builtin_text, read_setup_text

COMMENTED = """# my tipper
schema = 1
base = "drive-16.5x7"

[condition]  # found on Monday
free_stroke = "0.6 in"  # by tape
"""


@given(st.lists(st.one_of(st.integers(0, 5), st.sampled_from(["undo", "redo"])), max_size=30))
def test_history_goes_where_it_was(steps: list[int | str]) -> None:
    history, past, ahead = History(0), [0], list[int]()
    for step in steps:
        if step == "undo":
            if len(past) > 1:
                ahead.append(past.pop())
            assert history.undo() == past[-1]
        elif step == "redo":
            if ahead:
                past.append(ahead.pop())
            assert history.redo() == past[-1]
        else:
            if step != past[-1]:
                past.append(int(step))
                ahead.clear()
            history.put(int(step))
        assert (history.now, history.can_undo, history.can_redo) == (past[-1], len(past) > 1, bool(ahead))


def test_history_forgets_the_oldest() -> None:
    history = History(0, most=3)
    for state in range(1, 6):
        history.put(state)
    assert [history.undo() for _ in range(4)] == [4, 3, 3, 3]


def test_a_key_is_written_over_and_everything_around_it_stays() -> None:
    text = with_value(COMMENTED, "condition.free_stroke", "0.7 in")
    assert text == COMMENTED.replace("0.6 in", "0.7 in")
    text = with_value(text, "foundation.friction", 0.4)
    assert values_of(text)["foundation.friction"] == 0.4
    assert "# by tape" in text


def test_a_key_taken_out_takes_its_empty_section_along() -> None:
    text = without(with_value(started("drive-16.5x7"), "chamber.thrust.pressure", "85 psi"), "chamber.thrust.pressure")
    assert "thrust" not in text
    assert without(COMMENTED, "condition.absent") == COMMENTED


@pytest.mark.parametrize("name", builtin_names())
def test_a_builtin_setup_survives_its_own_keys(name: str) -> None:
    first, again = builtin_text(name), written(values_of(builtin_text(name)))
    one, other = read_setup_text(first, name), read_setup_text(again, name)
    assert (one.brake, one.as_found, one.measured, one.stated) == (
        other.brake,
        other.as_found,
        other.measured,
        other.stated,
    )


@pytest.mark.parametrize("name", builtin_names())
def test_the_address_brings_a_setup_back(name: str) -> None:
    text = with_value(builtin_text(name), "condition.lining_thickness", "0.41 in")
    query = query_of(text, {"_step": "3"})
    assert len(query) < 150, "only what differs from the built-in setup stands there"
    assert values_of(text_of(query) or "") == values_of(text)
    assert own_of(query) == {"_step": "3"}


@given(
    st.dictionaries(
        st.sampled_from(["title", "linkage.arm_length", "condition.free_stroke", "measured.stroke", "chamber.size"]),
        st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), min_size=1, max_size=30),
        min_size=1,
    )
)
def test_whatever_was_typed_comes_back_from_the_address(typed: dict[str, str]) -> None:
    text = written(typed)
    assert text_of(query_of(text, {})) == text


def test_numbers_flags_and_lists_come_back_as_what_they_were() -> None:
    values = {"schema": 1, "foundation.friction": 0.4, "parking.fitted": True, "linkage.arm_holes": ["5 in", "6 in"]}
    assert values_of(text_of(query_of(written(values), {})) or "") == values


def test_a_setup_too_long_for_an_address_is_left_out_of_it() -> None:
    rows = "".join(f'"{row / 1000} in",\n' for row in range(LONGEST // 10))
    text = started("drive-16.5x7") + f"[chamber.thrust]\nstroke = [\n{rows}]\n"
    assert query_of(text, {"_step": "3"}) == "?_step=3"


def test_a_text_that_no_file_can_hold_is_refused_and_changes_nothing() -> None:
    draft = Draft(started("drive-16.5x7"))
    draft.state("title", "x" * 5000)
    assert draft.refused is not None
    assert "longer than" in draft.refused.lines[0]
    assert draft.value("title") == ""


def test_an_address_with_anything_in_it_is_read_and_its_faults_are_said() -> None:
    query = "?" + urlencode({"base": "drive-16.5x7", "linkage.arm_lenght": "5 in", "cam": "=[[["})
    session = Session(text_of(query) or "")
    assert session.draft.setup is None
    assert any("arm_length" in fault.text("inch") for fault in session.draft.faults)


def test_a_draft_tells_what_it_reads_as_and_takes_steps_back() -> None:
    draft = Draft(builtin_text("drive-16.5x7"))
    first = draft.text
    draft.state("condition.lining_thickness", "0.4 in")
    assert draft.setup is not None
    assert draft.setup.as_found.lining_thickness == pytest.approx(0.4 * 25.4)
    draft.state("condition.lining_thickness", "4 inches of it")
    assert draft.setup is None
    assert draft.value("condition.lining_thickness") == "4 inches of it", "what was typed stays"
    assert [fault.where for fault in draft.faults] == ["condition.lining_thickness"]
    draft.undo()
    draft.undo()
    assert draft.text == first
    assert (draft.can_undo, draft.can_redo) == (False, True)
    draft.redo()
    assert draft.value("condition.lining_thickness") == "0.4 in"


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"\xff\xfe\x00", "UTF-16"),
        (b"base = drive", "quotes"),
        (b'schema = 1\nbase = "drive-16.5x7"\n[linkage]\narm_length = "5.5"\n', "linkage.arm_length"),
        (b"x" * 200_000, "bytes"),
        (b"", "schema"),
    ],
)
def test_a_file_that_cannot_be_used_is_explained_and_changes_nothing(data: bytes, said: str) -> None:
    draft = Draft(builtin_text("drive-16.5x7"))
    before = draft.text
    assert not draft.open(data, "bad.toml")
    assert draft.text == before
    assert draft.refused is not None
    assert said in "\n".join(draft.refused.lines)
    assert draft.open(COMMENTED.encode(), "good.toml")
    assert draft.refused is None
    assert draft.text == COMMENTED


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Quarry tipper, rear axle, right", "quarry-tipper-rear-axle-right.toml"),
        ("../../etc/passwd", "etc-passwd.toml"),
        ("Ölwagen", "lwagen.toml"),
        ("日本", "drive-16.5x7.toml"),
    ],
)
def test_a_saved_file_has_a_name_that_every_system_takes(title: str, name: str) -> None:
    assert file_name(Draft(with_value(started("drive-16.5x7"), "title", title))) == name


def test_a_session_goes_where_the_address_says() -> None:
    first = builtin_text("drive-16.5x7")
    session = Session(first)
    assert not session.changed
    session.keep(lesson="wear")
    session.draft.start_from("steer-15x4")
    there = session.query
    session.go("")
    assert (session.own, values_of(session.draft.text)) == ({}, values_of(first))
    session.go(there)
    assert (session.kept("lesson"), session.query, session.went) == ("wear", there, 2)
    session.draft.undo()
    assert values_of(session.draft.text) == values_of(first), "a way back can be undone"
