"""`mechviz jobsheet`: a job's file or a setup in, one page out."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from mechviz.job.file import job_text
from tests.commands import Run, runner
from tests.job.jobs import adjusted


@pytest.fixture
def jobsheet(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("jobsheet", capsys, monkeypatch)


def test_a_job_is_printed(jobsheet: Run, tmp_path: Path) -> None:
    source, out = tmp_path / "job.toml", tmp_path / "job.pdf"
    source.write_text(job_text(adjusted()), encoding="utf-8")
    code, said, _ = jobsheet(str(source), "-o", str(out), "--page", "letter")
    assert code == 0
    assert "One page to print and sign." in said
    assert len(PdfReader(BytesIO(out.read_bytes())).pages) == 1


def test_a_setup_is_printed_as_one_wheel(jobsheet: Run, tmp_path: Path) -> None:
    out = tmp_path / "worn.pdf"
    assert jobsheet("worn-drive-16.5x7", "-o", str(out), "--side", "right")[0] == 0
    words = PdfReader(BytesIO(out.read_bytes())).pages[0].extract_text()
    assert words.index("Nothing read yet") < words.index("Out of adjustment")


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("nothing.toml", None, "is neither a file nor a built-in setup"),
        ("bad.toml", 'kind = "job"\nschema = 1\nbase = "x"\n', "is no built-in setup"),
        ("broken.toml", 'kind = "job\n', "quotation mark"),
        ("setup.toml", 'schema = 1\n[measured]\nstroke = "2"\n', "has no unit"),
    ],
)
def test_what_cannot_be_used_says_why(jobsheet: Run, tmp_path: Path, name: str, text: str | None, said: str) -> None:
    source, out = tmp_path / name, tmp_path / "out.pdf"
    if text is not None:
        source.write_text(text, encoding="utf-8")
    code, _, complaint = jobsheet(str(source), "-o", str(out))
    assert code == 2
    assert said in " ".join(complaint.split())
    assert not out.exists()


def test_only_a_pdf_is_written(jobsheet: Run, tmp_path: Path) -> None:
    code, _, complaint = jobsheet("drive-16.5x7", "-o", str(tmp_path / "job.png"))
    assert code == 2
    assert "is no PDF" in complaint
