"""The look: every pair of colours that meets can be told apart, and the type has every sign that we write."""

import ast
import re
from itertools import combinations, product
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from mechviz.look import (
    FAMILY,
    TEXT,
    THEMES,
    VERBS,
    colours,
    css_variables,
    font_face_css,
    fractions,
    line_weight,
    missing_characters,
    stylesheet,
    svg_defs,
    text_size,
    text_width,
)
from mechviz.look.colours import ThemeName, VerbName
from mechviz.look.font import SLASH, STYLES, font_folder
from mechviz.look.measures import LINES, LineName
from mechviz.look.textures import TEXTURES
from mechviz.look.vision import DEFICIENCIES, Deficiency, contrast, difference, grey_difference, luminance, seen

ROOT = Path(__file__).parent.parent
PAIRS = list(combinations(VERBS, 2))


@pytest.mark.parametrize("theme", THEMES)
def test_every_text_stands_out_from_its_ground(theme: ThemeName) -> None:
    c = colours(theme)
    on_paper = [(c[name], c["paper"]) for name in ("ink", "soft", *VERBS)]
    on_fills = [(c["ink"], c[f"{verb}-fill"]) for verb in VERBS] + [(c["ink"], c["shade"])]
    on_solid = [(c["paper"], c[verb]) for verb in VERBS]
    weak = [(pair, round(contrast(*pair), 2)) for pair in on_paper + on_fills + on_solid if contrast(*pair) < 4.5]
    assert weak == []


@pytest.mark.parametrize("theme", THEMES)
def test_every_line_stands_out_from_every_ground_it_may_cross(theme: ThemeName) -> None:
    c = colours(theme)
    grounds = ["paper", *(f"{verb}-fill" for verb in VERBS)]
    pairs = [*product(["ink", "soft", *VERBS], grounds), ("rule", "paper")]
    weak = [(pair, round(contrast(c[pair[0]], c[pair[1]]), 2)) for pair in pairs]
    assert [found for found in weak if found[1] < 3.0] == []


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("deficiency", [None, *DEFICIENCIES])
def test_the_verbs_colours_stay_apart_for_every_eye(theme: ThemeName, deficiency: Deficiency | None) -> None:
    c = colours(theme)
    near = [(a, b, round(difference(c[a], c[b], deficiency), 1)) for a, b in PAIRS]
    assert [found for found in near if found[2] < 10.0] == []


@pytest.mark.parametrize("theme", THEMES)
def test_the_verbs_parts_stay_apart_in_grey(theme: ThemeName) -> None:
    c = colours(theme)
    alike = [
        (a, b)
        for a, b in PAIRS
        if TEXTURES[a].shape == TEXTURES[b].shape and grey_difference(c[f"{a}-fill"], c[f"{b}-fill"]) < 8.0
    ]
    assert alike == []


def test_the_grey_guard_finds_a_planted_fault() -> None:
    assert grey_difference("#0B66A8", "#7A3E8E") < 8.0 < grey_difference("#0B66A8", "#FFFFFF")


def test_a_lining_that_touches_is_hatched_more_densely() -> None:
    free, touching = TEXTURES["rub"], TEXTURES["rub-touch"]
    assert touching.shape == free.shape == "cross"
    assert touching.step <= free.step / 2
    assert touching.weight > free.weight


def test_contrast_is_that_of_the_published_formula() -> None:
    assert contrast("#FFFFFF", "#000000") == pytest.approx(21.0)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)  # the well-known grey that just fails
    assert luminance("#FF0000") == pytest.approx(0.2126)


def test_lightness_is_that_of_cielab() -> None:
    assert seen("#FFFFFF") == pytest.approx((100.0, 0.0, 0.0), abs=0.02)
    assert seen("#808080")[0] == pytest.approx(53.585, abs=0.01)


def test_grey_stays_grey_for_every_eye() -> None:
    for deficiency in DEFICIENCIES:
        assert difference("#808080", "#808080", deficiency) == 0
        assert seen("#808080", deficiency) == pytest.approx(seen("#808080"), abs=0.01)


def test_text_that_matters_is_a_fortieth_of_the_height_at_least() -> None:
    assert {name for name, size in TEXT.items() if size < 1000 / 40} == {"note"}
    assert text_size("label", 500) == 12.5


@pytest.mark.parametrize(("name", "weight"), [("outline", 2.2), ("edge", 1.4), ("dimension", 0.9), ("centre", 0.7)])
def test_line_weights(name: LineName, weight: float) -> None:
    assert line_weight(name) == weight
    assert line_weight(name, 250) == weight / 4


def used(css: str) -> set[str]:
    return set(re.findall(r"var\((--[\w-]+)", css))


@pytest.mark.parametrize("theme", THEMES)
def test_every_property_that_is_used_is_defined(theme: ThemeName) -> None:
    defined = set(re.findall(r"(--[\w-]+):", css_variables(theme)))
    assert used(svg_defs()) | used(stylesheet()) <= defined


def test_a_page_follows_the_system_the_attribute_and_the_printer() -> None:
    css = css_variables()
    assert "prefers-color-scheme: dark" in css
    assert '[data-theme="dark"]' in css
    assert "@media print" in css
    assert css.count(f"--mv-paper: {colours('dark')['paper']}") == 2


def test_every_pattern_and_marker_that_is_used_is_defined_once() -> None:
    ids = re.findall(r'id="([\w-]+)"', svg_defs(prefix="a-"))
    assert len(ids) == len(set(ids))
    assert set(re.findall(r"url\(#([\w-]+)\)", stylesheet(prefix="a-"))) <= set(ids)
    assert {"a-dim-ink", "a-force-push", "a-section", "a-rub", "a-rub-touch"} <= set(ids)


@pytest.mark.parametrize("height", [1000.0, 250.0])
def test_the_defs_scale_with_the_picture(height: float) -> None:
    width = re.search(r'id="mv-section"[^>]* width="([\d.]+)"', svg_defs(height))
    assert width is not None
    assert float(width[1]) == pytest.approx(4 * TEXTURES["section"].step * height / 1000)


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_has_its_class_and_its_text_class(verb: VerbName) -> None:
    css = stylesheet()
    assert f".mv-{verb} {{" in css
    assert f"text.mv-of-{verb}" in css


def test_every_line_has_its_class() -> None:
    assert all(f".mv-{name} {{" in stylesheet() for name in LINES)


def font(style: str, ending: str) -> TTFont:
    return TTFont(font_folder() / f"mechviz-sans-{style}.{ending}")


@pytest.mark.parametrize("style", STYLES)
def test_the_font_files_are_small_and_hold_the_same_signs(style: str) -> None:
    files = [font_folder() / f"mechviz-sans-{style}.{ending}" for ending in ("ttf", "woff2")]
    assert all(file.stat().st_size < 40_000 for file in files)
    assert font(style, "ttf").getBestCmap() == font(style, "woff2").getBestCmap()
    assert font(style, "ttf")["name"].getDebugName(1) == FAMILY


@pytest.mark.parametrize(("style", "bold"), [("regular", False), ("bold", True)])
def test_the_table_of_widths_is_the_fonts(style: str, bold: bool) -> None:
    ttf = font(style, "ttf")
    for code, glyph in (ttf.getBestCmap() or {}).items():
        assert text_width(chr(code), 1000, bold) == ttf["hmtx"][glyph][0]


def test_figures_are_equally_wide_and_fractions_narrower() -> None:
    assert len({text_width(str(n), 10) for n in range(10)}) == 1
    assert text_width(f"3{SLASH}4", 10) < text_width("3/4", 10)


@pytest.mark.parametrize("style", STYLES)
def test_figures_round_a_fraction_slash_are_substituted(style: str) -> None:
    features = {record.FeatureTag for record in font(style, "ttf")["GSUB"].table.FeatureList.FeatureRecord}
    assert features == {"dnom", "numr", "pnum", "tnum"}


def test_the_licence_comes_with_the_font() -> None:
    assert "SIL OPEN FONT LICENSE Version 1.1" in (font_folder() / "OFL.txt").read_text(encoding="utf-8")


def test_the_embedded_font_is_whole_and_small_enough_for_a_page() -> None:
    css = font_face_css()
    assert css.count("@font-face") == 2
    assert 'url("data:font/woff2;base64,d09GMg' in css
    assert len(css) < 45_000
    assert 'url("../fonts/mechviz-sans-bold.woff2")' in font_face_css(embed=False, folder="../fonts")


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("1 3/4 in", f"1 3{SLASH}4 in"),
        ("15/16 in", f"15{SLASH}16 in"),
        ("1-7/32", f"1-7{SLASH}32"),
        ("km/h, 393/47, 3/5, 1/2/3, a1/2", "km/h, 393/47, 3/5, 1/2/3, a1/2"),
    ],
)
def test_tape_fractions_and_nothing_else_are_set_as_fractions(typed: str, expected: str) -> None:
    assert fractions(typed) == expected


NEEDED = "°¼½¾²³·±≤≥≈←→↑↓↔↕″Ø⌀⋅“”…éèçñöüßłőž\u2013\u2014\u2212\u00d7\u2032\u2044\u2018\u2019"


def test_the_signs_that_a_brake_needs_are_there() -> None:
    assert missing_characters(NEEDED) == ""
    assert missing_characters("a\nb\u0416") == "\u0416"


def texts_of(path: Path) -> str:
    """What a file may show: the strings of a program but not its docstrings, and the whole of anything else."""
    source = path.read_text(encoding="utf-8")
    if path.suffix != ".py":
        return source
    tree = ast.parse(source)
    told = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    return "".join(
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told
    )


def shown_files() -> list[Path]:
    endings = {".py", ".toml", ".csv", ".js", ".mjs", ".css", ".html", ".typ", ".svg"}
    return [
        path
        for package in ("geometry", "mechviz", "apps")
        for path in sorted((ROOT / package).rglob("*"))
        if path.suffix in endings and path.name != "build.py" and "__pycache__" not in path.parts
    ]


def test_the_font_has_every_character_of_our_texts() -> None:
    lacking = {path.name: missing_characters(texts_of(path)) for path in shown_files()}
    allowed = set("\x00\x1b\x7f\ufeff\ufffd")  # named in programs only to be taken out of a text
    assert {name: signs for name, signs in lacking.items() if set(signs) - allowed} == {}


def test_the_character_guard_finds_a_planted_fault(tmp_path: Path) -> None:
    planted = tmp_path / "planted.py"
    planted.write_text('"""A docstring with \u03b1."""\nNAME = "\u0416"\n', encoding="utf-8")
    assert missing_characters(texts_of(planted)) == "\u0416"
