"""Pictures as PDF, PNG and printed sheet: right size, right colours, text that can be read and nothing that runs."""

import hashlib
import io
import re
import struct
import subprocess
import sys
import zlib
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pypdf import PdfReader

from geometry.errors import MechvizError
from mechviz.export import ExportError, KeyFigure, Sheet, flatten_css, print_sheet, svg_to_pdf, svg_to_png
from mechviz.export.seamless import without_seams
from mechviz.look import VERBS, colours, css_variables, font_face_css, stylesheet, svg_defs
from mechviz.look.colours import ThemeName

ROOT = Path(__file__).parent.parent

SHAPES = """
<rect class="mv-paper" width="800" height="500"/>
<rect class="mv-push" x="20" y="20" width="100" height="100"/>
<rect fill="var(--mv-turn)" x="140" y="20" width="100" height="100"/>
<rect style="fill: var(--mv-spread)" x="260" y="20" width="100" height="100"/>
<rect fill="var(--mine, var(--mv-rub))" x="380" y="20" width="100" height="100"/>
<g clip-path="url(#clip)"><rect class="mv-hold" x="500" y="20" width="100" height="100"/></g>
<rect class="mv-section" x="620" y="20" width="100" height="100"/>
<path d="M20 180H200" stroke="var(--mv-push)" stroke-width="6" marker-end="url(#mv-force-push)"/>
<g transform="rotate(20 500 250)"><rect class="mv-rub-touch" x="450" y="200" width="100" height="100"/></g>
<circle class="mv-turn" cx="680" cy="250" r="60"/>
<path class="mv-centre" d="M0 150H800"/>
<rect class="mv-plate" x="20" y="270" width="200" height="40"/>
<text class="mv-figure mv-of-push" x="20" y="300">Stroke 1 3&#8260;4 in</text>
<text class="mv-label" x="20" y="350">arm angle 91.4°, gap ≥ 0.010 in → ok</text>
"""


def picture(width: int = 800, height: int = 500) -> str:
    """A picture with one of everything that a drawing uses."""
    css = font_face_css() + css_variables() + stylesheet(500)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="mv" viewBox="0 0 {width} {height}">'
        f"<title>One of everything</title><desc>Squares, a hatch and two lines of text.</desc><style>{css}</style>"
        f'<defs>{svg_defs(500)}<clipPath id="clip"><circle cx="550" cy="70" r="40"/></clipPath></defs>{SHAPES}</svg>'
    )


def pixels(png: bytes) -> np.ndarray:
    """Decode an 8-bit PNG to rows of pixels, as the format's specification says."""
    width, height, depth, kind = struct.unpack(">IIBB", png[16:26])
    assert (depth, kind) in ((8, 2), (8, 6))
    bytes_a_pixel = 3 if kind == 2 else 4
    parts, at = [], 8
    while at < len(png):
        length, name = struct.unpack(">I4s", png[at : at + 8])
        parts.append(png[at + 8 : at + 8 + length] if name == b"IDAT" else b"")
        at += 12 + length
    raw = np.frombuffer(zlib.decompress(b"".join(parts)), np.uint8).reshape(height, 1 + width * bytes_a_pixel)
    return unfiltered(raw[:, 0], raw[:, 1:].reshape(height, width, bytes_a_pixel))[..., :3]


def unfiltered(kinds: np.ndarray, given: np.ndarray) -> np.ndarray:
    """Undo the filter of each row. A pixel needs those left of it and above: those of a diagonal are ready together."""
    height, width, channels = given.shape
    made = np.zeros((height + 1, width + 1, channels), np.int16)
    for step in range(width + height - 1):
        y = np.arange(max(0, step - width + 1), min(step, height - 1) + 1)
        x = step - y
        left, up, corner = made[y + 1, x], made[y, x + 1], made[y, x]
        guess = np.stack([np.zeros_like(left), left, up, (left + up) // 2, paeth(left, up, corner)])
        made[y + 1, x + 1] = (given[y, x] + guess[kinds[y], np.arange(len(y))]) & 255
    return made[1:, 1:].astype(np.uint8)


def paeth(left: np.ndarray, up: np.ndarray, corner: np.ndarray) -> np.ndarray:
    """The neighbour nearest to left + up - corner; of equals the first."""
    away = abs(up - corner), abs(left - corner), abs(left + up - 2 * corner)
    nearer = np.where(away[1] <= away[2], up, corner)
    return np.where((away[0] <= away[1]) & (away[0] <= away[2]), left, nearer)


def test_a_png_with_every_filter_is_decoded() -> None:
    rng = np.random.default_rng(1)
    image = rng.integers(0, 256, (10, 7, 3))
    image[5:] = image[5:] // 64 * 64  # so that neighbours tie
    kinds, known = np.arange(10) % 5, np.pad(image, ((1, 0), (1, 0), (0, 0)))
    given = image.copy()
    for y, x, n in np.ndindex(image.shape):
        left, up, corner = (int(known[at]) for at in ((y + 1, x, n), (y, x + 1, n), (y, x, n)))
        nearest = min((left, up, corner), key=lambda value, guess=left + up - corner: abs(guess - value))
        given[y, x, n] = (image[y, x, n] - (0, left, up, (left + up) // 2, nearest)[kinds[y]]) % 256
    np.testing.assert_array_equal(unfiltered(kinds, given), image)


def hexed(pixel: np.ndarray) -> str:
    return "#" + "".join(f"{channel:02X}" for channel in pixel)


def pdf(data: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(data), strict=True)


def text_of(data: bytes) -> str:
    return "\n".join(page.extract_text() for page in pdf(data).pages)


FIGURES = (
    KeyFigure("Applied stroke", "1 3/4 in", "close: the limit is 2 in", "push"),
    KeyFigure("Arm angle", "91.4°", "", "turn"),
    KeyFigure("Least gap", "0.032 in", "left shoe, cam end", "rub"),
)
SHEET = Sheet("Quarry tipper", "Applied at 95 psi", FIGURES, ("Chock the wheels.",), note="From the setup file.")


@pytest.mark.parametrize("theme", ["light", "dark", "print"])
def test_the_colours_of_a_theme_are_written_in(theme: ThemeName) -> None:
    flat = flatten_css(picture(), theme)
    assert "var(" not in flat
    assert "@media" not in flat
    assert "@font-face" not in flat
    assert not re.search(r"--mv-\w+:", flat)
    assert f'fill="{colours(theme)["turn"]}"' in flat
    assert f"fill: {colours(theme)['push-fill']}" in flat


def test_classes_and_what_is_no_colour_stay() -> None:
    svg = '<svg><style>.a { stroke: var(--mv-ink) } /* x */ .b--c { fill: none }</style><path class="a b--c"/></svg>'
    assert flatten_css(svg) == (
        f"<svg><style>.a {{ stroke: {colours('light')['ink']} }}  .b--c {{ fill: none }}</style>"
        '<path class="a b--c"/></svg>'
    )


def test_a_property_without_value_is_refused_by_name() -> None:
    with pytest.raises(ExportError, match="--mv-pusch"):
        flatten_css('<path fill="var(--mv-pusch)"/>')
    assert flatten_css('<path fill="var(--own)"/>', extra={"--own": "#123456"}) == '<path fill="#123456"/>'


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_png_shows_every_way_to_write_a_colour(theme: ThemeName) -> None:
    image, c = pixels(svg_to_png(picture(), 400, theme)), colours(theme)
    assert image.shape == (250, 400, 3)
    shown = {name: hexed(image[35, x]) for name, x in (("class", 35), ("attribute", 95), ("style", 155), ("own", 215))}
    assert shown == {"class": c["push-fill"], "attribute": c["turn"], "style": c["spread"], "own": c["rub"]}


def test_a_png_shows_clips_patterns_markers_and_text() -> None:
    image, c = pixels(svg_to_png(picture(), 800)), colours("light")
    assert hexed(image[24, 506]) == c["paper"]  # cut off by the clip
    assert hexed(image[70, 550]) == c["hold-fill"]
    hatch = {hexed(p) for p in image[30:110, 630:710].reshape(-1, 3)}
    assert c["hold-fill"] in hatch
    assert min(int(colour[1:3], 16) for colour in hatch) < 0xD0  # its lines, half a pixel wide
    assert hexed(image[180, 208]) == c["push"]  # beyond the end of the line: the arrow head
    assert hexed(image[180, 225]) == c["paper"]
    assert (image[275:305, 20:220].min(axis=(1, 2)) < 60).sum() > 8  # letters


def test_the_ground_of_a_hatch_has_no_seams_at_an_odd_size() -> None:
    image = pixels(svg_to_png(picture().replace('class="mv-section"', 'fill="url(#mv-turn)"'), 1027))
    square = image[35:145, 805:915].reshape(-1, 3)
    lightest = square.min(axis=1).max()
    assert lightest == min(int(colours("light")["turn-fill"][i : i + 2], 16) for i in (1, 3, 5))


@pytest.mark.parametrize("width", [16, 333, 1920])
def test_a_png_is_as_wide_as_asked(width: int) -> None:
    assert struct.unpack(">II", svg_to_png(picture(), width)[16:24]) == (width, round(width * 500 / 800))


@pytest.mark.parametrize("width", [0, -5, 15, 20_000])
def test_a_width_without_use_is_refused(width: int) -> None:
    with pytest.raises(ExportError, match="16 to 16384"):
        svg_to_png(picture(), width)


@pytest.mark.parametrize(
    ("page", "size"),
    [("a4", (841.89, 595.28)), ("letter", (792, 612)), (None, (800, 500))],
)
def test_a_page_has_its_size_and_lies_as_the_picture_does(page: Any, size: tuple[float, float]) -> None:
    for svg, expected in ((picture(), size), (picture(500, 800), size[::-1])):
        box = pdf(svg_to_pdf(svg, page)).pages[0].mediabox
        assert (float(box.width), float(box.height)) == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_a_sheet_is_one_landscape_page(page: Any) -> None:
    found = pdf(print_sheet(picture(500, 800), SHEET, page))
    assert len(found.pages) == 1
    assert found.pages[0].mediabox.width > found.pages[0].mediabox.height


def test_a_pdf_holds_letters_and_lines_not_pixels() -> None:
    data = svg_to_pdf(picture())
    page = pdf(data).pages[0]
    assert "Stroke 1 3\N{FRACTION SLASH}4 in" in text_of(data)
    assert "arm angle 91.4°, gap ≥ 0.010 in → ok" in text_of(data)
    assert len(page.images) == 0
    assert re.findall(rb"/FontName/[A-Z]+\+([\w-]+)", data.replace(b" ", b"")) != []
    assert all("MechvizSans" in font["/BaseFont"] for font in fonts_of(page))


def fonts_of(page: Any) -> list[Any]:
    """Every font of a page and of the forms and patterns in it."""
    found, todo = [], [page["/Resources"].get_object()]
    while todo:
        resources = todo.pop()
        found += [font.get_object() for font in resources.get("/Font", {}).values()]
        for kind in ("/XObject", "/Pattern"):
            inner = (item.get_object() for item in resources.get(kind, {}).values())
            todo += [item["/Resources"].get_object() for item in inner if "/Resources" in item]
    assert found
    return found


@pytest.mark.parametrize("make", [lambda: svg_to_pdf(picture()), lambda: print_sheet(picture(), SHEET)])
def test_a_pdf_is_tagged_described_and_undated(make: Any) -> None:
    data = make()
    found = pdf(data)
    root = found.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or bool(root["/MarkInfo"]["/Marked"])
    assert root["/Lang"] == "en"
    assert b"pdfuaid:part" in root["/Metadata"].get_data()
    assert "Squares, a hatch and two lines of text." in alternatives(root["/StructTreeRoot"])
    assert found.metadata is not None
    assert found.metadata.title
    assert "/CreationDate" not in found.metadata
    assert "/ModDate" not in found.metadata


def alternatives(node: Any) -> list[str]:
    """Every text that is read out in place of something."""
    item = node.get_object()
    if isinstance(item, list):
        return [text for child in item for text in alternatives(child)]
    if not hasattr(item, "get"):
        return []
    here = [str(item["/Alt"])] if "/Alt" in item else []
    return here + (alternatives(item["/K"]) if "/K" in item else [])


MAKE_ALL = """
import hashlib, sys
sys.path.insert(0, "tests")
from test_export import SHEET, picture
from mechviz.export import print_sheet, svg_to_pdf, svg_to_png
print(*(hashlib.sha256(d).hexdigest() for d in
        (svg_to_pdf(picture()), print_sheet(picture(), SHEET), svg_to_png(picture(), 300))))
"""


def test_equal_input_gives_equal_bytes_in_another_process_too() -> None:
    here = [svg_to_pdf(picture()), print_sheet(picture(), SHEET), svg_to_png(picture(), 300)]
    again = [svg_to_pdf(picture()), print_sheet(picture(), SHEET), svg_to_png(picture(), 300)]
    assert here == again
    there = subprocess.run([sys.executable, "-c", MAKE_ALL], cwd=ROOT, capture_output=True, text=True, check=True)
    assert there.stdout.split() == [hashlib.sha256(data).hexdigest() for data in here]


def test_a_sheet_says_everything_that_it_was_given() -> None:
    text = text_of(print_sheet(picture(), SHEET))
    for words in (
        "Quarry tipper",
        "Applied at 95 psi",
        "Key figures",
        "1 3\N{FRACTION SLASH}4 in",
        "close: the limit is 2 in",
        "Least gap",
        "Caution",
        "Chock the wheels.",
        "From the setup file.",
        "Stroke 1 3\N{FRACTION SLASH}4 in",
    ):
        assert words in text, words


def test_a_bare_sheet_goes_by_the_pictures_own_title() -> None:
    assert "One of everything" in text_of(print_sheet(picture(), Sheet()))


@pytest.mark.parametrize(("unit_mm", "scale"), [(0.9, "1 : 3.5"), (1.0, "1 : 4"), (0.05, "5 : 1")])
def test_a_sheet_is_drawn_at_the_next_round_scale_and_says_so(unit_mm: float, scale: str) -> None:
    data = print_sheet(picture(), replace(SHEET, unit_mm=unit_mm))
    assert f"Scale {scale} where this bar is 50 mm long" in text_of(data)
    over, under = (float(part) for part in scale.split(" : "))
    expected = 800 * unit_mm * over / under
    assert drawn_width_mm(data) == pytest.approx(expected, rel=1e-3)


def drawn_width_mm(data: bytes) -> float:
    """How far the centre line across the whole picture reaches on paper."""
    tagged = alternative_box(pdf(data).trailer["/Root"]["/StructTreeRoot"])
    return float(tagged[2] - tagged[0]) * 25.4 / 72


def alternative_box(node: Any) -> Any:
    """The box of the figure on the page."""
    item = node.get_object()
    if isinstance(item, list):
        return next((box for child in item if (box := alternative_box(child))), None)
    if not hasattr(item, "get"):
        return None
    if "/Alt" in item:
        shown = item["/A"].get_object()
        return (shown[0].get_object() if isinstance(shown, list) else shown)["/BBox"]
    return alternative_box(item["/K"]) if "/K" in item else None


EVIL = '<script>alert(1)</script> #panic("x") #import "@preview/a:1" *b* _i_ $x$ `r` @ref <l> \\ // /* ${y} &amp; %'


def test_what_a_user_wrote_comes_out_as_text() -> None:
    sheet = Sheet(EVIL, EVIL, (KeyFigure(EVIL[:40], EVIL[26:44], "#note"),), (EVIL,), note=EVIL)
    text = " ".join(text_of(print_sheet(picture(), sheet)).split())
    plain = " ".join(EVIL.split())
    assert text.count(plain) >= 2  # title and note have a line of their own
    assert "#panic(" in text
    assert pdf(svg_to_pdf(picture(), title=EVIL)).metadata.title == plain  # type: ignore[union-attr]


def test_control_characters_and_endless_words_are_set_too() -> None:
    data = print_sheet(picture(), replace(SHEET, title="a\x1b[31m\x00b\r\nc " + "W" * 500))
    text = text_of(data)
    assert "a [31m b c" in text
    assert "\x1b" not in text
    assert "\N{HORIZONTAL ELLIPSIS}" in text


def test_a_title_in_another_script_is_printed_with_what_the_machine_has() -> None:
    assert "\u0416" in text_of(print_sheet(picture(), replace(SHEET, title="\u0416 truck")))


def test_more_text_than_a_page_holds_is_refused() -> None:
    with pytest.raises(ExportError, match="more text than one page"):
        print_sheet(picture(), replace(SHEET, cautions=("A caution that goes on and on.",) * 60))


@pytest.mark.parametrize("number", [0, 1, 4, 9])
def test_the_words_give_way_to_the_picture(number: int) -> None:
    sheet = replace(SHEET, figures=FIGURES[:1] * number, cautions=("Chock the wheels.",) * number)
    for svg in (picture(), picture(800, 300), picture(500, 800)):
        assert len(pdf(print_sheet(svg, sheet)).pages) == 1


@pytest.mark.parametrize(
    ("svg", "complaint"),
    [
        ("<svg", "not well formed"),
        ('<html xmlns="http://www.w3.org/1999/xhtml"/>', "is no SVG"),
        ('<svg xmlns="http://www.w3.org/2000/svg"/>', "does not say its size"),
        ('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 0 5"/>', "does not say its size"),
        ('<!DOCTYPE svg [<!ENTITY a "b">]><svg/>', "declares entities"),
    ],
)
def test_what_is_no_picture_is_refused(svg: str, complaint: str) -> None:
    for make in (svg_to_pdf, svg_to_png):
        with pytest.raises(ExportError, match=complaint):
            make(svg)


def test_an_unknown_page_is_refused_as_any_other_input() -> None:
    with pytest.raises(MechvizError, match="use a4 or letter"):
        svg_to_pdf(picture(), "a3")  # type: ignore[arg-type]


def test_hatches_are_one_piece_in_a_pdf() -> None:
    wide = without_seams(picture(), 500)
    sizes = dict(re.findall(r'<pattern id="mv-([\w-]+)"[^>]* width="([\d.]+)"', wide))
    assert set(sizes) == {"turn", "turn-marks", "spread", "spread-marks", "rub", "rub-touch", "section", "forbidden"}
    assert all(float(size) > 4 * 500 for name, size in sizes.items() if not name.endswith("-marks"))


def test_a_picture_without_our_hatches_is_left_alone() -> None:
    svg = '<svg><defs><pattern id="own" width="4" height="4"><path/></pattern></defs></svg>'
    assert without_seams(svg, 100) == svg


def test_loading_the_package_does_not_load_the_typesetter() -> None:
    code = "import sys, mechviz.export; print('typst' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


@pytest.mark.parametrize("verb", VERBS)
def test_a_key_figure_may_belong_to_any_verb(verb: Any) -> None:
    assert print_sheet(picture(), replace(SHEET, figures=(KeyFigure("a", "b", "", verb),)))
