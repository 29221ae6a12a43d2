"""The handout as a PDF: each question and caution on it, the answers on the last page, what was typed as letters."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from mechviz.lessons import Built, build_lesson, load_lesson, read_lesson, starter_text
from mechviz.lessons.blocks import glued
from mechviz.lessons.handout import lesson_handout
from mechviz.lessons.scenes import CHOSEN
from mechviz.report.cautions import ESTIMATE
from tests.sweeps import sweep

NASTY = """+++
lesson = 1
title = "#panic() *bold* $x$"
about = "@ref <label> \\\\ end"
+++
+++
title = "#eval(1) _a_"
at = "applied"
light = ["pushrod"]
+++
#import "x.typ" and `code` and {stroke} and $1 + 1$

## Question
Is #let x = 1 run?

## Answer
Never: #x.

## Caution
Mind #the gap.
"""


def pages(built: Built) -> list[str]:
    reader = PdfReader(BytesIO(lesson_handout(built)))
    return [plain(page.extract_text()) for page in reader.pages]


def plain(text: str) -> str:
    """Without what line ends and columns do to a text."""
    return re.sub(r"\s+", "", text.replace("\N{NO-BREAK SPACE}", " ").replace("\N{ZERO WIDTH SPACE}", ""))


@pytest.mark.parametrize("name", sweep(["12-wheel-end-inspection", "11-limit-table", "08-parking-and-loss-of-air"]))
def test_each_question_and_caution_is_on_its_page_and_each_answer_on_the_last(name: str) -> None:
    built = build_lesson(load_lesson(name))
    found = pages(built)
    assert len(found) == len(built.steps) + 1
    for step, page in zip(built.steps, found, strict=False):
        texts = step.texts[built.system]
        assert plain(step.keys.title) in page
        late = "caution" if step.keys.caution != "first" else "-"
        for section in ("text", "question", "caution"):
            for block in texts.get(section, ()):  # type: ignore[call-overload]
                if block.kind == "paragraph":
                    assert (plain(glued(block.words)) in page) == (section != late), section
                    assert section != late or plain(glued(block.words)) in found[-1]
        for block in texts.get("answer", ()):
            if block.kind == "paragraph":
                assert plain(glued(block.words)) in found[-1]
                assert plain(glued(block.words)) not in page
    assert plain(ESTIMATE) in found[-1]


SHEET = """+++
lesson = 1
title = "A sheet"
lining = "new"
free_stroke = "healthy"
+++
+++
title = "By hand"
at = "contact"
by = "hand"
+++
A.
+++
title = "Outside"
at = "applied"
view = "outside"
+++
B.
+++
title = "Quiz"
at = "applied"
labels = "hidden"
+++
C.
+++
title = "At the limit"
lining = "limit"
at = "2 in"
+++
D.
"""


def test_a_sheet_s_pictures_say_what_their_steps_show() -> None:
    hand, outside, quiz, limit = pages(build_lesson(read_lesson(SHEET)))[:4]
    assert "atesttakes" not in hand
    assert "pulledbyhand" in hand
    assert not [words for words in ("gapround", "larger", "camend") if words in outside.split("B.")[0]]
    assert "larger" in quiz
    assert not [words for words in ("gapround", "camend", "leading") if words in quiz]
    assert "atthelimit,toonear" in limit
    assert "by0.00in" not in limit


def test_the_last_page_says_how_the_steps_stand_too() -> None:
    last = pages(build_lesson(read_lesson(SHEET)))[-1]
    assert "lining0.62in" in last, "as found"
    assert "Thestepsbeginwithlining0.75in" in last
    assert "Thestepsbegin" not in pages(build_lesson(read_lesson(NASTY)))[-1]


def test_what_an_instructor_types_is_never_markup() -> None:
    built = build_lesson(read_lesson(NASTY))
    first, last = pages(built)
    for words in ("#panic()*bold*$x$", "@ref<label>", "#eval(1)_a_", '#import"x.typ"', "Is#letx=1run?", "Mind#thegap."):
        assert words in first
    assert "Never:#x." in last


def test_equal_lessons_give_equal_bytes() -> None:
    built = build_lesson(read_lesson(NASTY))
    assert lesson_handout(built) == lesson_handout(built)


def test_a_fault_that_the_page_chooses_is_said_to_be_chosen_there() -> None:
    steps = starter_text().replace('title = "My first lesson"', 'title = "Mine"')
    found = pages(build_lesson(read_lesson(steps)))
    assert plain(CHOSEN) in found[2]
    assert plain(CHOSEN) not in found[0]
