"""The shipped lessons: each holds on every brake that it claims, tells no figure of its own, and names its sources."""

import re

import pytest

from geometry.setup import builtin_names
from mechviz.lessons import build_lesson, load_lesson, shipped_names, shipped_text
from mechviz.lessons.blocks import words_of
from mechviz.lessons.brake import setup_called
from mechviz.lessons.model import Step

UNITS = r"in|mm|psi|kPa|lbf|N|degF|degC|°F|°C|N\*m|lbf ft|mph"
FIGURE = re.compile(rf"(?<![\w{{/.-])\d[\d.,]*(?: \d+/\d+)?(?:/\d+)? (?:{UNITS})\b")
TYPED = re.compile(r"\{\d")


def every_text(step: Step) -> str:
    return " ".join(words_of(step.text(name)) for name in step.body)


def test_there_are_at_least_ten_from_the_wheel_to_the_signature() -> None:
    names = shipped_names()
    assert len(names) >= 10
    assert list(names) == sorted(names)
    subjects = "wheel push chamber adjuster wear heat angle parking fault measuring limit inspection"
    titles = " ".join(load_lesson(name).title.lower() for name in names)
    assert [word for word in subjects.split() if word not in titles] == []


@pytest.mark.parametrize("name", shipped_names())
def test_a_lesson_holds_on_every_brake_that_it_claims(name: str) -> None:
    lesson = load_lesson(name)
    for brake in lesson.brakes:
        for step in build_lesson(lesson, setup_called(brake)).steps:
            for texts in step.texts.values():
                assert "{" not in " ".join(words_of(text) for text in texts.values())


@pytest.mark.parametrize("name", shipped_names())
def test_a_lesson_has_six_to_twelve_steps_most_of_them_with_a_question(name: str) -> None:
    lesson = load_lesson(name)
    assert 6 <= len(lesson.steps) <= 12
    assert sum(step.asks for step in lesson.steps) >= len(lesson.steps) - 1
    assert all("notes" in step.body for step in lesson.steps)
    assert set(lesson.brakes) <= set(builtin_names())


@pytest.mark.parametrize("name", shipped_names())
def test_no_figure_with_a_unit_is_typed_into_the_text(name: str) -> None:
    """Each is in braces: worked out, or a published one that is told in the reader's units."""
    found = [
        hit for step in load_lesson(name).steps for hit in FIGURE.findall(re.sub(r"\{[^}]*\}", "", every_text(step)))
    ]
    assert found == []


@pytest.mark.parametrize("name", shipped_names())
def test_a_step_with_a_published_figure_in_its_answer_names_the_source(name: str) -> None:
    silent = [
        step.keys.title
        for step in load_lesson(name).steps
        if TYPED.search(words_of(step.text("answer"))) and not step.keys.sources
    ]
    assert silent == []


def test_dangerous_steps_have_their_caution() -> None:
    told = {
        name: [step.keys.title for step in load_lesson(name).steps if "caution" in step.body]
        for name in shipped_names()
    }
    assert "The other half of the chamber" in told["08-parking-and-loss-of-air"]
    assert "Never both at once" in told["08-parking-and-loss-of-air"]
    assert "Over the limit, and a wrench at hand" in told["04-adjuster"]
    assert {"Make it safe", "Press and hold"} <= set(told["10-measuring-stroke"])
    assert all(told[name] for name in ("01-behind-the-wheel", "12-wheel-end-inspection", "13-after-a-new-adjuster"))


@pytest.mark.parametrize("name", shipped_names())
def test_the_plot_of_stroke_over_wear_stands_beside_nothing_that_moves_along_another_axis(name: str) -> None:
    moved = [step.keys for step in load_lesson(name).steps if step.keys.plot == "stroke" and step.keys.move]
    assert [keys.title for keys in moved if keys.move and keys.move.what in ("pressure", "time", "apart")] == []


def said_in(name: str, title: str) -> str:
    """All that a step says, in one line."""
    (step,) = (step for step in load_lesson(name).steps if step.keys.title == title)
    return " ".join(every_text(step).split())


def test_what_one_lesson_says_of_turning_an_adjuster_by_hand_all_of_them_say() -> None:
    every = " ".join(every_text(step) for name in shipped_names() for step in load_lesson(name).steps)
    assert "only then" not in every
    assert "one time" not in every
    for name, title in (
        ("04-adjuster", "Over the limit, and a wrench at hand"),
        ("13-after-a-new-adjuster", "Set it once by hand"),
    ):
        assert "at installation, or to move the vehicle to a shop" in said_in(name, title)
    told = said_in("13-after-a-new-adjuster", "Press it, then measure")
    assert "automatic" in told[told.index("Above {1 3/4 in}") :]
    assert "cause" in told[told.index("Above {1 3/4 in}") :]


def test_a_chamber_whose_marks_nobody_looked_for_is_judged_by_the_lower_limit_everywhere() -> None:
    told = said_in("11-limit-table", "Standard or long stroke")
    assert "lower limit" in told
    assert "no limit" not in told + said_in("12-wheel-end-inspection", "Look at the chamber")


def test_the_rule_on_arms_is_told_as_it_is_published() -> None:
    """49 CFR 393.47(c) asks for the same length, of nothing else."""
    answers = {
        step.keys.title: words_of(step.text("answer"))
        for name in shipped_names()
        for step in load_lesson(name).steps
        if any("393.47(c)" in source for source in step.keys.sources)
    }
    assert "The same length" in answers["Arm and shaft"]
    assert [title for title, words in answers.items() if re.search(r"\b(make|kind)\b", words)] == []


def test_where_the_class_reads_stroke_and_arm_the_brake_stands_applied() -> None:
    for name, title in (("10-measuring-stroke", "Press and hold"), ("12-wheel-end-inspection", "Press")):
        (step,) = (step for step in load_lesson(name).steps if step.keys.title == title)
        assert (step.keys.at, step.keys.move) == ("applied", None)


def test_a_shipped_lesson_is_a_file_to_start_from() -> None:
    assert shipped_text("05-wear").startswith("+++\nlesson = 1\n")
