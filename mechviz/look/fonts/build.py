# pyright: basic
# Basic: fontTools hands out tables typed as Any; strict mode would only ask for a cast on every line.
"""Make the font files beside this script. For development only: nothing imports it.

    python mechviz/look/fonts/build.py

It needs node's package client (`npm`) and what `pip install '.[test]'` brings. The same package versions give
the same bytes. What it does to the original is told in README.md beside it.
"""

import csv
import subprocess
import tarfile
import tempfile
from pathlib import Path

from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.misc.transform import Transform
from fontTools.otlLib.optimize import compact
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._g_l_y_f import Glyph
from fontTools.varLib.instancer import instantiateVariableFont

HERE = Path(__file__).parent
FAMILY = "Mechviz Sans"
VERSION = "5.3.0"
PACKAGE = "@fontsource-variable/atkinson-hyperlegible-next"
STYLES = {"regular": (400, 600), "bold": (700, 800)}
"""Style: its weight, and the weight of the digits that are scaled down into fractions, so that stems stay alike."""

DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
SMALL, SHIFT = 0.66, 60
"""Size of a fraction's figures against full ones, and how far they stand above and below the line of full ones."""

LATIN = [*range(0x20, 0x7F), *range(0xA0, 0x180), 0x218, 0x219, 0x21A, 0x21B, 0x2BC, 0x1E9E]
MARKS = [0x2009, 0x2013, 0x2014, *range(0x2018, 0x201F), 0x2020, 0x2022, 0x2026, 0x2039, 0x203A, 0x2044, 0x20AC]
MARKS += [0x2122, 0x2212]
"""Spaces, dashes, quotation marks, dagger, bullet, ellipsis, fraction slash, euro, trade mark, minus."""

Polygon = list[tuple[float, float]]


def fetch(folder: Path) -> None:
    """Fetch the original and unpack it in ``folder``."""
    done = subprocess.run(
        ["npm", "pack", "--silent", f"{PACKAGE}@{VERSION}"], cwd=folder, check=True, capture_output=True, text=True
    )
    with tarfile.open(folder / done.stdout.strip()) as archive:
        archive.extractall(folder, filter="data")


def instance(folder: Path, subset: str, weight: int) -> TTFont:
    """Return the original's ``latin`` or ``latin-ext`` half at one weight."""
    name = f"atkinson-hyperlegible-next-{subset}-wght-normal.woff2"
    font = TTFont(folder / "package" / "files" / name, recalcTimestamp=False)
    return instantiateVariableFont(font, {"wght": weight}, inplace=True)


def reduce(font: TTFont) -> None:
    """Keep the signs we use, kerning and both kinds of figures."""
    options = Options(layout_features=["kern", "tnum", "pnum"], hinting=False, notdef_outline=True, name_IDs=[0, 14])
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[*LATIN, *MARKS])
    subsetter.subset(font)


def traced(font: TTFont, name: str, by: Transform) -> Glyph:
    """Return a glyph's outline, moved or scaled, with its components drawn out."""
    recording = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()[name].draw(recording)
    pen = TTGlyphPen(None)
    recording.replay(TransformPen(pen, by))
    return pen.glyph()


def drawn(*polygons: Polygon) -> Glyph:
    """Return a glyph of straight-sided shapes."""
    pen = TTGlyphPen(None)
    for polygon in polygons:
        pen.moveTo(polygon[0])
        for point in polygon[1:]:
            pen.lineTo(point)
        pen.closePath()
    return pen.glyph()


def joined(font: TTFont, *glyphs: Glyph) -> Glyph:
    """Return several outlines as one."""
    pen = TTGlyphPen(None)
    for glyph in glyphs:
        glyph.draw(pen, font["glyf"])
    return pen.glyph()


def add(font: TTFont, name: str, glyph: Glyph, width: float, sign: str = "") -> None:
    """Add (or replace) a glyph, reached by ``sign``."""
    if name not in font.getGlyphOrder():
        font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"][name] = glyph
    glyph.recalcBounds(font["glyf"])
    font["hmtx"][name] = (round(width), getattr(glyph, "xMin", 0))
    if sign:
        point(font, sign, name)


def point(font: TTFont, sign: str, name: str) -> None:
    """Let a character show the glyph ``name``."""
    for table in font["cmap"].tables:
        table.cmap[ord(sign)] = name


def add_extended_latin(font: TTFont, other: TTFont) -> None:
    """Take over the letters of the second half that the first half lacks."""
    cmap, known = letters(other), letters(font)
    for code in sorted(set(cmap) & {*LATIN, *MARKS} - set(known)):
        name = cmap[code]
        glyph = traced(other, name, Transform())
        add(font, f"ext.{code:04X}", glyph, other["hmtx"][name][0], chr(code))


def make_figures_tabular(font: TTFont) -> None:
    """Show the figures of equal width without being asked: not every renderer knows how to ask."""
    for n, name in enumerate(DIGITS):
        point(font, str(n), f"{name}.tf")


def add_fraction_figures(font: TTFont, heavier: TTFont) -> None:
    """Add numerators and denominators, from a heavier weight scaled down, and a slash that goes between them."""
    top = cap_height(font) + SHIFT
    rise = top - SMALL * cap_height(font)
    for name in DIGITS:
        width = heavier["hmtx"][name][0] * SMALL
        add(font, f"{name}.numr", traced(heavier, name, Transform(SMALL, 0, 0, SMALL, 0, rise)), width)
        add(font, f"{name}.dnom", traced(heavier, name, Transform(SMALL, 0, 0, SMALL, 0, -SHIFT)), width)
    t, reach = stem(font) * 0.85, 175
    slash: Polygon = [(65 - reach, -SHIFT), (65 + reach - t, top), (65 + reach, top), (65 - reach + t, -SHIFT)]
    add(font, "fraction", drawn(slash), 130, "\N{FRACTION SLASH}")


def letters(font: TTFont) -> dict[int, str]:
    """Return the glyph of each character."""
    return font.getBestCmap() or {}


def cap_height(font: TTFont) -> float:
    """Return the height of capitals and figures."""
    return vars(font["OS/2"])["sCapHeight"]


def stem(font: TTFont) -> float:
    """Return the thickness of the minus sign."""
    _, low, _, high = bounds(font, "minus")
    return high - low


def bounds(font: TTFont, sign: str) -> tuple[float, float, float, float]:
    """Return a glyph's box."""
    pen = BoundsPen(font.getGlyphSet())
    font.getGlyphSet()[sign].draw(pen)
    assert pen.bounds is not None
    return pen.bounds


def add_signs(font: TTFont) -> None:
    """Add what the original lacks: comparison signs, arrows, primes, the signs of a diameter and of a product."""
    add_comparisons(font)
    add_arrows(font)
    add_primes(font)
    point(font, "⌀", "Oslash")
    point(font, "⋅", letters(font)[ord("·")])


def add_comparisons(font: TTFont) -> None:
    """Add less or equal, greater or equal, and nearly equal, from the original's own signs."""
    t = stem(font)
    for sign, name in (("≤", "less"), ("≥", "greater")):
        left, _, right, _ = bounds(font, name)
        bar = drawn([(left, 0), (left, t), (right, t), (right, 0)])
        above = traced(font, name, Transform(1, 0, 0, 0.84, 0, 130))
        add(font, f"{name}equal", joined(font, above, bar), font["hmtx"][name][0], sign)
    waves = (traced(font, "asciitilde", Transform(1, 0, 0, 1, 0, rise)) for rise in (-95, 95))
    add(font, "approxequal", joined(font, *waves), font["hmtx"]["asciitilde"][0], "≈")


def add_arrows(font: TTFont) -> None:
    """Add arrows along a line at half the figures' height, in the weight of the minus sign."""
    h, length, reach = stem(font) / 2, 700.0, 190.0
    slant = h * 2**0.5
    head: Polygon = [
        (length - 2 * slant, h),
        (length - 2 * slant - reach + h, reach - slant + h),
        (length - slant - reach + h, reach + h),
        (length, 0),
        (length - slant - reach + h, -reach - h),
        (length - 2 * slant - reach + h, -reach + slant - h),
        (length - 2 * slant, -h),
    ]
    one = [(0.0, -h), (0.0, h), *head]
    both = [(length - x, -y) for x, y in head] + head
    middle = cap_height(font) / 2
    across = {
        "→": [(x + 50, middle + y) for x, y in one],
        "←": [(length - x + 50, middle - y) for x, y in one],
        "↔": [(x + 50, middle + y) for x, y in both],
    }
    along = {
        "↑": [(reach + 80 - y, x - 16) for x, y in one],
        "↓": [(reach + 80 + y, length - x - 16) for x, y in one],
        "↕": [(reach + 80 - y, x - 16) for x, y in both],
    }
    for sign, shape in across.items():
        add(font, f"arrow.{ord(sign):04X}", drawn(shape), length + 100, sign)
    for sign, shape in along.items():
        add(font, f"arrow.{ord(sign):04X}", drawn(shape), 2 * reach + 160, sign)


def add_primes(font: TTFont) -> None:
    """Add the signs of foot and inch, as slanted wedges."""
    _, low, _, high = bounds(font, "quotesingle")
    t = stem(font)
    wedge = [(40.0, low), (100.0, high), (100 + t * 1.1, high), (40 + t * 0.6, low)]
    second = [(x + t + 70, y) for x, y in wedge]
    add(font, "prime", drawn(wedge), 140 + t, "\N{PRIME}")
    add(font, "doubleprime", drawn(wedge, second), 210 + 2 * t, "\N{DOUBLE PRIME}")


def add_features(font: TTFont) -> None:
    """Write the substitutions: figures on request, and fractions wherever U+2044 stands between figures."""

    def row(suffix: str) -> str:
        return "[" + " ".join(name + suffix for name in DIGITS) + "]"

    source = f"""
        languagesystem DFLT dflt; languagesystem latn dflt;
        feature tnum {{ sub {row("")} by {row(".tf")}; }} tnum;
        feature pnum {{ sub {row(".tf")} by {row("")}; }} pnum;
        feature numr {{ sub {row(".tf")} by {row(".numr")}; }} numr;
        feature dnom {{ sub {row(".tf")} by {row(".dnom")}; }} dnom;
    """
    addOpenTypeFeaturesFromString(font, source, tables={"GSUB"})


def rename(font: TTFont, style: str) -> None:
    """Give the changed font a name of its own, so that nobody takes it for the original; its copyright stays."""
    names = font["name"]
    plain = FAMILY.replace(" ", "")
    label = style.capitalize()
    made = f"{VERSION};{plain}-{label}"
    changed = "Subset of Atkinson Hyperlegible Next with added signs and fractions; see README.md."
    for key, text in {
        1: FAMILY,
        2: label,
        3: made,
        4: f"{FAMILY} {label}",
        5: f"Version 2.001; subset {VERSION}",
        6: f"{plain}-{label}",
        10: changed,
        13: "SIL Open Font License, Version 1.1",
    }.items():
        names.setName(text, key, 3, 1, 0x409)


def made(folder: Path, style: str) -> TTFont:
    """Return the finished font of one style."""
    weight, small = STYLES[style]
    font = instance(folder, "latin", weight)
    heavier = instance(folder, "latin", small)
    reduce(font)
    add_extended_latin(font, instance(folder, "latin-ext", weight))
    make_figures_tabular(font)
    add_fraction_figures(font, heavier)
    add_signs(font)
    add_features(font)
    rename(font, style)
    vars(font["post"])["formatType"] = 3.0
    compact(font, 9)
    for table in ("STAT", "prep", "gasp", "GDEF"):
        if table in font:
            del font[table]
    return font


def write_widths(fonts: dict[str, TTFont]) -> None:
    """Write the advance of every character in thousandths of the type size, for layout without a font reader.

    A row ``f0`` to ``f9`` is a figure inside a fraction.
    """
    with (HERE / "widths.csv").open("w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow(["code", *fonts])
        cmaps = {style: letters(font) for style, font in fonts.items()}
        for code in sorted(cmaps["regular"]):
            rows.writerow([f"{code:04X}", *(font["hmtx"][cmaps[s][code]][0] for s, font in fonts.items())])
        for n, name in enumerate(DIGITS):
            rows.writerow([f"f{n}", *(font["hmtx"][f"{name}.numr"][0] for font in fonts.values())])


def main() -> None:
    """Fetch, change, and write the files."""
    fonts: dict[str, TTFont] = {}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        fetch(folder)
        (HERE / "OFL.txt").write_bytes((folder / "package" / "LICENSE").read_bytes())
        for style in STYLES:
            fonts[style] = made(folder, style)
            for flavor, ending in ((None, "ttf"), ("woff2", "woff2")):
                fonts[style].flavor = flavor
                fonts[style].save(HERE / f"mechviz-sans-{style}.{ending}")
    write_widths(fonts)


if __name__ == "__main__":
    main()
