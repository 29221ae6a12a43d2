"""The job sheet: always one page, tagged, the same bytes for the same job, a user's text never markup."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from mechviz.export.pages import PageName
from mechviz.job.model import Job
from mechviz.job.sheet import job_sheet, sheet_of
from mechviz.look import fractions
from tests.job.jobs import OVER, adjusted, filled, job, put

WORST = {
    "foundation.axle": "steering",
    "measured.stroke": "2 3/8",
    "condition.free_stroke": "1 1/4",
    "measured.arm_angle_applied": "72 deg",
    "condition.lining_thickness": "1/8",
    "condition.drum_diameter": "16.7",
    "measured.clamp_diameter": "8 1/8",
    "measured.long_stroke_marks": "false",
    "chamber.style": "",
    "chamber.size": "",
    "chamber.rated_stroke": "",
    "cam.base_radius": "",
}


def pdf(job: Job, page: PageName = "a4") -> PdfReader:
    return PdfReader(BytesIO(job_sheet(job, page, why=False)))


def text_of(job: Job) -> str:
    return pdf(job).pages[0].extract_text()


@pytest.mark.parametrize("page", ["a4", "letter"])
@pytest.mark.parametrize("full", ["", "W" * 60, "i" * 60], ids=["examples", "wide", "narrow"])
def test_everything_typed_fits_on_one_page(page: PageName, full: str) -> None:
    for typed in (filled({}, full), put(filled(WORST, full), "right", {"measured.arm_length": "6"}, "after")):
        read = pdf(typed, page)
        assert len(read.pages) == 1
    width, height = read.pages[0].mediabox[2:]
    assert (round(float(width)), round(float(height))) == {"a4": (595, 842), "letter": (612, 792)}[page]


def test_a_job_without_anything_is_a_sheet_to_fill_in() -> None:
    assert "Nothing read yet" in text_of(Job())


def test_equal_jobs_make_equal_bytes() -> None:
    assert job_sheet(adjusted(), why=False) == job_sheet(adjusted(), why=False)
    assert job_sheet(adjusted(), why=False) != job_sheet(job(), why=False)


def test_it_is_tagged_and_titled_for_assistive_technology() -> None:
    read = pdf(adjusted())
    assert read.trailer["/Root"]["/MarkInfo"]["/Marked"]  # pyright: ignore
    assert read.metadata is not None
    assert read.metadata.title == "Quarry tipper, axle 2: brake job sheet"
    assert "/CreationDate" not in read.metadata


def test_it_says_what_was_read_what_came_of_it_and_whose_rule_that_is() -> None:
    words = " ".join(text_of(adjusted()).split())
    for said in ("Out of adjustment", "Before: out of adjustment", "49 CFR 393.47(e)", "left after", "Signed", "Date"):
        assert said.lower() in words.lower(), said
    for said in (
        fractions("2 1/8 in"),
        fractions("1 1/2 in"),
        "95 psi",
        "J. Doe",
        "Chock the wheels",
        "To scale, at the stroke read",
    ):
        assert said in words, said


def test_a_users_text_is_never_markup() -> None:
    evil = '#panic("x") *bold* $1/0$ \\ " <a> @cite #include "/etc/passwd"'
    typed = put(job().about("note", evil).about("vehicle", evil[:60]), "left", {"measured.pin_reach": '#read("x")'})
    words = "".join(text_of(typed).split())
    assert "".join(evil.split()) in words
    assert '#read("' in words.replace("…", "")


def test_other_alphabets_and_line_ends_make_a_sheet() -> None:
    assert len(pdf(job().about("note", "車\n\t\x00 Тест")).pages) == 1


def test_a_reading_that_cannot_be_used_says_so() -> None:
    rows = {row[0]: row[1:] for row in sheet_of(put(job(), "left", {"measured.pin_reach": "abc"}), why=False).readings}
    assert rows["Pin reach"] == ["abc (not used)", ""]
    assert rows["Applied stroke"] == ["1 5/8 in", "1 5/8 in"]


def test_likely_causes_stand_on_it_where_they_are_asked_for() -> None:
    told = [line for group in sheet_of(job(OVER)).results for line in group.rows if line.name == "May be"]
    assert "Adjuster stuck" in told[0].words
