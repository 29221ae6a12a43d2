"""`mechviz demo`: the main job on a built-in worn brake."""

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from apps.terminal import say, strong, width

WORN = "worn-drive-16.5x7"
FILE_WIDTH = 80
CHECK, PAGE, PICTURE = "check.txt", "worn-brake.html", "worn-brake.png"

EPILOGUE = """Examples:
  mechviz demo
  mechviz demo --out /tmp/worn-brake"""


def demo(
    *,
    out: Annotated[Path, Parameter(metavar="DIR", help="Where to write everything.")] = Path("mechviz-demo"),
) -> int:
    """Check a worn brake that is built in; write the report, the animated page and a picture, and say what to open."""
    from geometry.setup import builtin_text, read_setup
    from mechviz.checks import run_checks
    from mechviz.drawing.picture import picture
    from mechviz.drawing.scene import found_scene
    from mechviz.export import svg_to_png
    from mechviz.page.html import page_html
    from mechviz.report.check_json import check_json
    from mechviz.report.check_text import check_text
    from mechviz.report.found import found_lines

    _make_folder(out)  # before the work: where it cannot be, nobody waits for the rest
    read = read_setup(WORN)
    rows = run_checks(read)
    found, automatic = found_lines(read, read.system), read.brake.adjuster.kind == "automatic"
    report = {
        CHECK: check_text(read.title, rows, read.system, FILE_WIDTH, found, automatic),
        "check.json": check_json(read.title, rows) + "\n",
        f"{WORN}.toml": builtin_text(WORN),
        PAGE: page_html(read),
    }
    files = {name: text.encode("utf-8") for name, text in report.items()}
    _write(out, files | {PICTURE: svg_to_png(picture(found_scene(read)).svg)})
    say(check_text(read.title, rows, read.system, width(), found, automatic, strong()))
    say(_what_to_open(out))
    return 0


def _make_folder(out: Path) -> None:
    """Make the folder, or say why it cannot be written to."""
    from geometry.errors import Fault, MechvizError

    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        fault = Fault("--out", f"{out} cannot be written to: {reason}", "name a folder of your own", kind="number")
        raise MechvizError(fault) from error


def _write(out: Path, files: dict[str, bytes]) -> None:
    from apps.files import write_atomically

    for name, content in files.items():
        write_atomically(out / name, content, "--out")


def _what_to_open(out: Path) -> str:
    setup = out / f"{WORN}.toml"
    return (
        f"\nOpen this first:\n  {out / PAGE}\n"
        "    the same brake, moving, in any browser: space presses it, S starts its story,\n"
        "    V shows it as a solid\n"
        f"Also written:\n  {out / PICTURE}\n    its picture, applied\n"
        f"  {out / CHECK}\n    this report: open it, print it, put it in the job file\n"
        f"  {out / 'check.json'}\n    the same for programs\n"
        f"  {setup}\n    the setup behind it: change a figure in it, then run\n"
        f"    mechviz check {setup}\n"
    )
