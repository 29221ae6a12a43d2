"""While a question of a shipped lesson stands, nothing beside the brake itself tells its answer's figures."""

import copy
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from geometry.setup import read_setup
from mechviz.lessons import build_lesson, load_lesson, shipped_names
from mechviz.lessons.data import lesson_data
from mechviz.lessons.html import lesson_file
from tests.page.browser import Opened, opened
from tests.page.conftest import Pages

DRIVE = "drive-16.5x7"
FIGURE = re.compile(r"\d[\d.,/ ]*(?:in|mm|psi|lbf ft|lbf|degrees|feet|°F|°|%)(?![a-z])")
TOLD = ".lesson-words, .panel, .plots, .now, #note-chain, #note-verdict .verdict"
"""What is written for the class. What is drawn on the brake (rule, angle, gaps) is what the class reads."""

SEEN = """(where) => [...document.querySelectorAll(where)].flatMap((node) => [node, ...node.querySelectorAll("*")])
    .filter((node) => node.checkVisibility({visibilityProperty: true, opacityProperty: true}))
    .filter((node) => node.getClientRects().length)
    .filter((node) => !node.closest("title, style"))
    .map((node) => [...node.childNodes].filter((one) => one.nodeType === 3).map((one) => one.data).join(""))
    .join(" ").replaceAll("\\u00a0", " ")"""
PLAIN = """(html) => {
    const node = document.createElement("div");
    node.innerHTML = html;
    return node.textContent.replaceAll("\\u00a0", " ");
}"""


@pytest.fixture(scope="module")
def steps() -> list[dict[str, Any]]:
    """The steps of all shipped lessons that stand on the drive brake, one after the other."""
    found: list[dict[str, Any]] = []
    for name in shipped_names():
        lesson = load_lesson(name)
        data = lesson_data(build_lesson(lesson, read_setup(DRIVE)))
        found += [step | {"title": f"{name}: {step['title']}"} for step in data["steps"] if step["brake"] == 0]
    return found


@pytest.fixture(scope="module")
def every(browser: Browser, pages: Pages, steps: list[dict[str, Any]], tmp_path_factory: Any) -> Iterator[Opened]:
    """One lesson of all those steps."""
    data = lesson_data(build_lesson(load_lesson(shipped_names()[0]), read_setup(DRIVE)))
    path: Path = tmp_path_factory.mktemp("asked") / "lesson.html"
    data |= {"steps": steps, "brakes": [copy.deepcopy(pages.data(DRIVE))]}
    path.write_text(lesson_file(data), encoding="utf-8")
    with opened(browser, path.as_uri(), has_touch=False) as it:
        yield it


def figures(it: Opened, html: str) -> set[str]:
    return {hit.strip() for hit in FIGURE.findall(it.page.evaluate(PLAIN, html))}


def test_no_step_tells_its_answer_before_it(every: Opened, steps: list[dict[str, Any]]) -> None:
    told: dict[str, set[str]] = {}
    for n, step in enumerate(steps, 1):
        words = step["words"]["inch"]
        if "question" not in words:
            continue
        every.page.evaluate(f"location.hash = 'step={n}'")
        every.settle()
        assert every.text(".lesson [data-part=title]") == step["title"]
        given = figures(every, words["text"] + words["question"])
        before = {hit.strip() for hit in FIGURE.findall(every.page.evaluate(SEEN, TOLD))}
        early = before & (figures(every, words["answer"]) - given)
        if early:
            told[step["title"]] = early
    assert told == {}


def test_every_plot_and_panel_is_back_with_the_answer(every: Opened, steps: list[dict[str, Any]]) -> None:
    asking = [n for n, step in enumerate(steps, 1) if "question" in step["words"]["inch"] and step["plot"] != "none"]
    assert len(asking) > 10
    for n in asking[:: len(asking) // 6]:
        seen = []
        for answered in ("", "&answer=1"):
            every.page.evaluate(f"location.hash = 'step={n}{answered}'")
            every.settle()
            seen.append(every.page.locator(".plots > svg, .plots > div svg").filter(visible=True).count())
        assert seen[0] == 0
        assert seen[1] > 0
