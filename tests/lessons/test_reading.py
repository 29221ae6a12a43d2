"""A lesson file: what is read, and every fault in it said at once, with step, line, key, given and what would do."""

from contextlib import suppress
from random import Random

import pytest

from mechviz.lessons import (
    LessonError,
    build_lesson,
    check_lesson,
    load_lesson,
    read_lesson,
    shipped_names,
    shipped_text,
    starter_text,
)
from mechviz.lessons.blocks import html_of, words_of

HEAD = '+++\nlesson = 1\ntitle = "Try"\nfree_stroke = "healthy"\nlining = "new"\n+++\n'


def lesson(header: str, body: str = "Text.", head: str = HEAD) -> str:
    return f'{head}\n+++\ntitle = "Step"\n{header}\n+++\n{body}\n'


def faults(text: str) -> list[str]:
    with pytest.raises(LessonError) as caught:
        build_lesson(read_lesson(text))
    return [str(one) for one in caught.value.faults]


def told(header: str, body: str, system: str = "inch") -> dict[str, str]:
    built = build_lesson(read_lesson(lesson(header, body)))
    (step,) = built.steps
    return {name: words_of(text) for name, text in step.texts[system].items()}  # type: ignore[index]


def test_the_starter_is_a_lesson_without_a_fault() -> None:
    read = read_lesson(starter_text())
    assert len(read.steps) == 3
    assert check_lesson(read) == []


def test_a_step_has_its_sections() -> None:
    body = "First.\n\n- one\n- **two**\n\n## Question\nWhy?\n\n## Answer\nSo.\n\n## Notes\nSay it.\n\n## Caution\nMind."
    assert told('at = "applied"', body) == {
        "text": "First. one two",
        "question": "Why?",
        "answer": "So.",
        "notes": "Say it.",
        "caution": "Mind.",
    }


@pytest.mark.parametrize("code", ["<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "[a](javascript:b)"])
def test_code_in_a_lesson_is_only_letters(code: str) -> None:
    built = build_lesson(read_lesson(lesson("", f"See {code} here.\n\n![p](http://x.y/z.png)")))
    html = html_of(built.steps[0].texts["inch"]["text"])
    assert "<script" not in html
    assert "<img" not in html
    assert "<a" not in html
    assert "See " in html


def test_a_table_is_read() -> None:
    built = build_lesson(read_lesson(lesson("", "| a | b |\n|---|---|\n| 1 | {limit} |")))
    html = html_of(built.steps[0].texts["inch"]["text"])
    assert html.startswith("<table>")
    assert "<td>2\N{NO-BREAK SPACE}in</td>" in html


@pytest.mark.parametrize(
    ("header", "said"),
    [
        ('light = ["pushrood"]', "step 1, line 10, light = pushrood: is no part that can be lit; write pushrod"),
        ('name = ["slack adjuter"]', "name = slack adjuter: is no name that the picture has; write slack adjuster"),
        ('name = ["clevis"]', "write it under light: a part that is lit is named beside the picture"),
        ('pge = "life"', "step 1, line 10, pge: is no key that is known here; write page"),
        ('page = "lifes"', "page = lifes: is none of the words that are known here; write life"),
        ('at = 3', 'at: is 3, and text in quotes belongs here'),
        ('at = "half way"', "at = half way: is no place in an application; write released, contact, applied"),
        ('pressure = "90"', "pressure = 90: has no unit, and a pressure needs one"),
        ('lining = "thin"', "or write found, new, limit, past limit"),
        ('brake = "drive"', "brake = drive: is no built-in setup; write drive-16.5x7"),
        ('page = "faults"\nfault = "pushrod-long"', "is no defect that is known here; write pushrod-too-long"),
        ('fault = "play"', 'step 1, line 10, fault: needs page = "faults"'),
        ('solid = { from = "wheel-side" }', 'solid: needs view = "solid"'),
        ('view = "solid"\nsolid = { from = "wheel" }', "solid.from = wheel: is none of the words that are known here"),
        ('page = "air"', "is of the air, and no scenario is named"),
        ('page = "air"\nair = { scenario = "storry" }', "scenario = storry: is no scenario of the page; write story"),
        ('page = "air"\nair = { scenario = "story", time = "99 s" }', "is not in this scenario; use 0.0 s to 18.5 s"),
        ('page = "air"\nair = { scenario = "story", time = "padal pressed" }', "write pedal pressed, or a time"),
        ('page = "life"\nlife = { wear = "9 in" }', "is not in this life"),
        ('page = "life"\nlife = { wear = "stroke-limit" }', "does not come in this life"),
        ('move = { what = "wear", to = "end" }', 'moves only with page = "life"'),
        ('move = { what = "lining" }', "move.to: is missing"),
        ('move = { what = "pressure", to = "95 psi", adjuster = "follows" }', "follows only a lining that wears"),
        ('move = { what = "brake", to = "applied" }\nat = "applied"', "at = applied: is said by the move already"),
        ('page = "air"\nair = { scenario = "story" }\nplot = "stroke"', "plot = stroke: is no plot of the page of air"),
        ('page = "life"\npressure = "90 psi"', "pressure: cannot be set on the page of life"),
        ('set.linkage.arm_lenght = "6 in"', "arm_lenght = 6 in: is not a key of [linkage]; write arm_length"),
        ('set.linkage.arm_length = "6"', "set.linkage.arm_length = 6: has no unit"),
        ('set.linkage.pin_reach = "1 in"', "step 1, line 10, set.linkage.pin_reach = 1 in"),
        ("title = ", "step 1, line 10, title =: cannot be read"),
        ('apart = "1"', "apart: is no key that is known here"),
    ],
)  # fmt: skip
def test_a_fault_says_where_what_and_what_would_do(header: str, said: str) -> None:
    found = faults(lesson(header))
    assert len(found) == 1, found
    assert said in found[0]


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("x {stroek}", "line 12, text, {stroek}: is no figure that is known here; write {stroke}"),
        ("\n\nx {90 foo}", "line 14, text, {90 foo}: is no figure with a unit"),
        ("## Questions\nx", "heading = Questions: is no part of a step"),
        ("# Notes\nx", "heading = Notes: is no part of a step; write ## Notes"),
        ("## Notes\nx\n\n## Notes\ny", "line 15, heading = Notes: stands twice in a step"),
        ("## Question\nx", "## Question: has no ## Answer"),
        ("## Notes\n", "## Notes: is empty"),
        ("> x", "has a quotation that a lesson cannot show"),
        ("- a\n  - b", "has a list within a list"),
        ("x {fault.stroke}", "is a figure that Drive axle, 16.5 x 7 does not have here: the step shows no defect"),
        ("{torque.contact}", "does not have here: nothing presses contact"),
    ],
)
def test_a_fault_of_the_text_says_its_line(body: str, said: str) -> None:
    found = faults(lesson("", body))
    assert said in found[0], found


def test_all_faults_come_at_once_in_their_order() -> None:
    assert len(faults(HEAD.replace("title", "titel") + '+++\ntitle = "a"\n+++\n{x}\n+++\nlight = 3\n+++\n{y}\n')) == 6


def test_a_state_that_cannot_be_is_a_fault_unless_the_lesson_says_so() -> None:
    header = 'move = { what = "lining", from = "new", to = "0.5 in" }'
    (found,) = faults(lesson(header))
    assert "step 1, line 10, move.to = applied: asks Drive axle, 16.5 x 7 for a state that cannot be" in found
    assert "the chamber bottoms" in found
    assert "impossible = true" in found
    assert told(f"{header}\nimpossible = true", "Seen.") == {"text": "Seen."}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "has no header"),
        ("Hello\n" + HEAD, "has text before its first header"),
        (HEAD, "has no steps"),
        (HEAD + "+++\ntitle = 'a'\n", "opens a header that is not closed"),
        (HEAD + "lost\n+++\ntitle = 'a'\n+++\n", "line 7, text: belongs to no step"),
        (HEAD + "x" * 5000, "is a line of more than 4,000 characters"),
        (HEAD + "x\n" * 150_000, "has more than 200,000 characters"),
        (HEAD + "+++\ntitle = 'a'\n+++\n" * 61, "has more than 60 steps"),
        (HEAD.replace("lesson = 1", "lesson = 2") + "+++\ntitle = 'a'\n+++\n", "lesson = 2"),
    ],
)
def test_a_file_that_is_no_lesson_says_why(text: str, said: str) -> None:
    assert any(said in one for one in faults(text))


def test_a_name_that_is_neither_file_nor_lesson_suggests_the_nearest() -> None:
    with pytest.raises(LessonError, match="write 05-wear"):
        load_lesson("05-waer")


def test_at_most_four_brakes_in_a_lesson() -> None:
    steps = "".join(f'+++\ntitle = "a"\nset.linkage.arm_length = "{5 + n / 8} in"\n+++\nx\n' for n in range(5))
    assert any("more than 4 different brakes" in one for one in faults(HEAD + steps))


def test_a_setting_of_the_lesson_s_own_header_is_blamed_there_and_once() -> None:
    head = HEAD.replace('"healthy"', '"long"')
    found = faults(lesson("", head=head) + '+++\ntitle = "b"\n+++\nx\n')
    assert len(found) == 1
    assert found[0].startswith("lesson, line 4, free_stroke = long: ")


def test_no_slip_of_the_keyboard_brings_anything_but_faults() -> None:
    chance, texts = Random(6), [shipped_text(name) for name in shipped_names()]
    slips = ("{", "}", '"', "+++\n", "\n## Question\n", "= 3", "\x00", "\N{PILE OF POO}", "|", "- ", "'", "[", "limit")
    good = 0
    for _ in range(300):
        text = chance.choice(texts)
        for _ in range(chance.randrange(1, 4)):
            at = chance.randrange(len(text))
            text = text[:at] + chance.choice(slips) + text[at + chance.randrange(3) :]
        with suppress(LessonError):
            good += bool(read_lesson(text).steps)
    assert 0 < good < 300


def test_a_part_that_the_brake_does_not_have_cannot_be_lit() -> None:
    header = 'brake = "steer-15x4"\nlight = ["power spring"]'
    (found,) = faults(lesson(header))
    assert "step 1, line 11, light = power spring: is a part that Steering axle" in found


@pytest.mark.parametrize(
    ("header", "key"),
    [
        ('by = "hand"\nat = "applied"', "by"),
        ('by = "hand"\nmove = { what = "brake", to = "contact" }', "by"),
        ('by = "hand"\npage = "life"', "by"),
        ('caution = "with the answer"', "caution"),
    ],
)
def test_a_hand_or_a_late_caution_where_there_can_be_none_is_a_fault(header: str, key: str) -> None:
    text = f'+++\nlesson = 1\ntitle = "L"\n+++\n+++\ntitle = "S"\n{header}\n+++\nWords.\n'
    with pytest.raises(LessonError) as raised:
        read_lesson(text)
    assert [fault.where.rsplit(", ", 1)[-1] for fault in raised.value.faults] == [key]
