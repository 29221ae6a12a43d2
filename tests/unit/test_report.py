"""How figures are written: fractions, decimals, the scale of a verdict, the table's columns, JSON and CSV values."""

import doctest
import importlib
import math
import pkgutil

import pytest
from hypothesis import given
from hypothesis import strategies as st

import mechviz.report
from mechviz.checks.row import RESULTS, CheckRow
from mechviz.report.cautions import AUTOMATIC, CHOCKS, cautions
from mechviz.report.check_json import row_data
from mechviz.report.check_text import check_text, row_lines
from mechviz.report.columns import Line, tabled
from mechviz.report.figures import figure, in_unit
from mechviz.report.layout import boxed, hang
from mechviz.report.reading import reading_words
from mechviz.report.scale import scale_of
from mechviz.report.summary import missing_readings, summary
from mechviz.report.table_csv import csv_text, flattened
from mechviz.report.verdicts import WORDS
from mechviz.report.written import fixed, significant, tape_inches

INCH = 25.4


def row(value: float | None, limit: float | None, result: str = "pass", **more: object) -> CheckRow:
    """Build a stroke row; lengths in inches, as a tape reads them."""
    margin = None if value is None or limit is None else (limit - value) * INCH
    figures = {"value": value, "limit": limit}
    lengths = {key: None if inches is None else inches * INCH for key, inches in figures.items()}
    default = {"check": "stroke-limit", "source": "49 CFR 393.47(e)", "advice": "Advice.", "resolution": INCH / 16}
    return CheckRow(**{**default, **lengths, "margin": margin, "result": result, **more})  # pyright: ignore[reportArgumentType]


@pytest.mark.parametrize("name", [m.name for m in pkgutil.iter_modules(mechviz.report.__path__)])
def test_examples_in_the_docstrings_hold(name: str) -> None:
    assert doctest.testmod(importlib.import_module(f"mechviz.report.{name}")).failed == 0


# figures


def test_a_figure_that_does_not_exist_is_none() -> None:
    assert [figure(x) for x in (None, math.nan, math.inf)] == [None, None, None]


def test_a_negative_zero_is_a_zero() -> None:
    assert math.copysign(1, figure(-1e-12) or 0.0) == 1
    assert fixed(-0.0004, 3) == "0.000"


@pytest.mark.parametrize(
    ("value", "kind", "unit", "expected"),
    [
        (50.8, "length", "in", 2.0),
        (34.925, "length", "in", 1.375),
        (8.0, "length", "mm", 8.0),
        (math.pi / 2, "angle", "deg", 90.0),
        (95 * 4.4482216152605 / 25.4**2, "pressure", "psi", 95.0),
        (0.655, "pressure", "kPa", 655.0),
        (294.261111111, "temperature", "degF", 70.0),
        (0.35, "number", "", 0.35),
    ],
)
def test_values_come_out_in_the_units_of_the_source(value: float, kind: str, unit: str, expected: float) -> None:
    assert in_unit(value, kind, unit) == expected  # pyright: ignore[reportArgumentType]


def test_a_difference_of_temperatures_has_no_zero_point() -> None:
    assert in_unit(5.0, "temperature", "degF", difference=True) == 9.0


def test_a_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="psi"):
        in_unit(1.0, "length", "psi")


def test_row_data_is_in_the_units_of_the_row() -> None:
    data = row_data(row(2.25, 2.0, "fail"))
    assert (data["value"], data["limit"], data["margin"], data["resolution"]) == (2.25, 2.0, -0.25, 0.0625)
    assert row_data(row(None, None, "not-evaluated"))["value"] is None


# words


@pytest.mark.parametrize(
    ("one", "words"),
    [
        (row(2.25, 2.0, "fail"), "2 1/4 in (57.2 mm) measured, limit 2 in (50.8 mm): over by 1/4 in (6.4 mm)"),
        (row(1.75, 2.0), "1 3/4 in (44.5 mm) measured, limit 2 in (50.8 mm): inside by 1/4 in (6.4 mm)"),
        (row(2.0, 2.0, "close"), "2 in (50.8 mm) measured, limit 2 in (50.8 mm): at the limit"),
        (row(None, 2.0, "not-evaluated"), "limit 2 in (50.8 mm)"),
        (row(None, None, "not-evaluated"), ""),
        (row(1.62, None, basis="solved"), "1.62 in (41.1 mm) worked out"),
        (
            row(2.001, 2.0, "fail", basis="solved", resolution=0.0),
            "2.001 in (50.83 mm) worked out, limit 2.000 in (50.80 mm): over by 0.001 in (0.03 mm)",
        ),
        (
            row(16.53, 16.625, check="drum-diameter", resolution=0.254),
            "16.53 in (419.9 mm) measured, limit 16.625 in (422.3 mm): inside by 0.095 in (2.4 mm)",
        ),
        (
            row(2.25, 1.5, "fail", check="stroke-as-solved", against="expected", allowance=3 * INCH / 16),
            "2 1/4 in (57.2 mm) measured, expected 1 1/2 in (38.1 mm): 3/4 in (19.1 mm) more, 3/16 in (4.8 mm) allowed",
        ),
    ],
)
def test_a_reading_is_said_as_a_mechanic_says_it(one: CheckRow, words: str) -> None:
    assert reading_words(one, "inch") == words


def test_a_lining_that_is_too_thin_is_short_not_over() -> None:
    thin = CheckRow("lining-thickness", "fail", "s", "a", 5.0, 8.0, -3.0, unit="mm", resolution=0.1)
    assert (
        reading_words(thin, "metric") == "5.0 mm (0.20 in) measured, limit 8.0 mm (0.31 in): short by 3.0 mm (0.12 in)"
    )


@pytest.mark.parametrize(("sixteenths", "text"), [(28, "1 3/4 in"), (4, "1/4 in"), (32, "2 in"), (0, "0 in")])
def test_tape_readings_are_fractions(sixteenths: int, text: str) -> None:
    assert tape_inches(sixteenths * INCH / 16) == text


def test_what_is_no_fraction_stays_a_decimal() -> None:
    assert tape_inches(0.62 * INCH) is None
    assert tape_inches(31 * INCH / 32) == "31/32 in"


@given(st.floats(1e-6, 1e6))
def test_three_digits_are_within_half_a_unit_of_the_third(value: float) -> None:
    assert float(significant(value)) == pytest.approx(value, rel=5.1e-3)


# the scale


@given(
    value=st.floats(0.0, 100.0),
    limit=st.floats(0.01, 100.0),
    resolution=st.floats(0.0, 5.0),
    cells=st.integers(12, 44),
    upper=st.booleans(),
)
def test_a_mark_never_stands_on_the_wrong_side_of_its_limit(
    value: float, limit: float, resolution: float, cells: int, upper: bool
) -> None:
    inside = value <= limit if upper else value >= limit
    margin = limit - value if upper else value - limit
    one = CheckRow("any", "pass" if inside else "fail", "", "", value, limit, margin, resolution=resolution)
    scale = scale_of(one, cells)
    assert scale is not None
    assert len(scale.bar) == cells
    line, marks = scale.bar.index("|"), [n for n, c in enumerate(scale.bar) if c in "o#"]
    if value < limit:
        assert marks[0] < line
    if value > limit:
        assert marks[-1] > line


def test_a_scale_is_told_apart_in_black_and_white() -> None:
    bars = {scale_of(row(*figures), 30).bar for figures in ((2.25, 2.0, "fail"), (1.5, 2.0, "pass"))}  # pyright: ignore[reportOptionalMemberAccess]
    assert any("#" in bar for bar in bars)
    assert any("o" in bar for bar in bars)
    missing = scale_of(row(None, 2.0, "not-evaluated"), 30)
    assert missing is not None
    assert "(?)" in missing.bar


def test_there_is_no_scale_without_a_limit_or_a_number() -> None:
    assert scale_of(row(1.0, None), 30) is None
    assert scale_of(row(0.0, 0.0, "close", resolution=0.0), 30) is not None
    nothing = scale_of(CheckRow("any", "not-evaluated", "", "", math.nan, 2.0), 30)
    assert nothing is not None
    assert "(?)" in nothing.bar


# the report


def test_every_verdict_is_written_out() -> None:
    for result in RESULTS:
        assert row_lines(row(1.0, 2.0, result), "inch", 80)[0].startswith(WORDS[result])


def test_only_the_verdict_stands_out() -> None:
    assert row_lines(row(2.25, 2.0, "fail"), "inch", 80, lambda word: f"*{word}*")[0] == "*FAIL*  stroke limit"


def test_the_sentence_counts_and_names() -> None:
    rows = [
        row(2.25, 2.0, "fail"),
        row(2.0, 2.0, "close", check="free-stroke"),
        row(None, 2.0, "not-evaluated", missing="measured.stroke"),
        row(None, None, "not-evaluated", missing="condition.free_stroke"),
        row(None, None, "not-evaluated", advice="There is no such state."),
        row(None, None, "not-applicable"),
    ]
    assert missing_readings(rows) == ["measured.stroke", "condition.free_stroke"]
    assert summary(rows) == (
        "Of 5 checks 1 failed (stroke limit), 1 is close to the limit (free stroke), 0 passed and 3 could not be "
        "evaluated. Missing: measured.stroke, condition.free_stroke."
    )


def test_cautions_stand_once_and_the_adjusters_first_where_the_stroke_is_wrong() -> None:
    failed, passed = [row(2.25, 2.0, "fail")], [row(1.5, 2.0)]
    assert cautions(failed, automatic=True)[0] == AUTOMATIC
    assert cautions(passed, automatic=True)[0] == CHOCKS
    assert AUTOMATIC not in cautions(failed, automatic=False)
    text = " ".join(check_text("t", failed, "inch", 80, automatic=True).replace("|", "").split())
    assert text.count(CHOCKS) == 1


def test_a_check_of_no_rows_is_still_a_report() -> None:
    assert "Of 0 checks" in check_text("t", [], "inch", 80)


# layout


def test_a_figure_keeps_its_unit_on_its_line() -> None:
    assert hang("the limit is 1 3/4 in here", 21) == ["the limit is 1 3/4 in", "here"]
    assert hang("the limit is 1 3/4 in here", 20) == ["the limit is", "1 3/4 in here"]


def test_a_box_is_as_wide_as_asked() -> None:
    assert {len(line) for line in boxed("Caution", ["one two three four five six seven"], 20)} == {20}


@pytest.mark.parametrize("width", [40, 60, 80, 100])
def test_columns_that_do_not_fit_stand_below(width: int) -> None:
    heads = [f"state {n}" for n in range(7)]
    text = tabled(heads, [Line("a row", "in (mm)", tuple(f"{n}.00 (0.0)" for n in range(7)))], width)
    assert max(len(line) for line in text) <= width
    assert all(f"{n}.00 (0.0)" in "\n".join(text) for n in range(7))


# CSV


@pytest.mark.parametrize("title", ["=1+1", "+1", "-1", "@x", "  =1", "\t=1"])
def test_free_text_cannot_start_a_formula(title: str) -> None:
    cell = csv_text([{"a": 1}], title).splitlines()[1]
    assert not cell.lstrip('"').startswith(("=", "+", "-", "@", " ", "\t"))


def test_numbers_keep_their_sign_and_none_is_empty() -> None:
    assert csv_text([{"a": -0.25, "b": None}], "t") == "title,a,b\nt,-0.25,\n"


def test_nested_names_are_joined_by_dots() -> None:
    assert flattened({"shoes": {"left": {"turn_deg": 1.0}}}) == {"shoes.left.turn_deg": 1.0}
