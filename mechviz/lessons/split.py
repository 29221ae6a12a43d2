"""A lesson's text cut into its parts: headers between lines of ``+++``, and the Markdown that follows each."""

from dataclasses import dataclass

from geometry.errors import Fault
from mechviz.lessons.faults import Spot, fault

FENCE = "+++"
MOST_BYTES = 200_000
MOST_STEPS = 60
LONGEST_LINE = 4_000


@dataclass(frozen=True)
class Piece:
    """A header (TOML) and the Markdown below it, each with the line (from 1) on which its first line stands."""

    header: str
    header_line: int
    body: str
    body_line: int


def split(text: str) -> tuple[list[Piece], list[Fault]]:
    """Return the pieces of a lesson, the lesson's own header first, and what is wrong with how it is cut."""
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").split("\n")
    faults = _too_much(text, lines)
    fences = [n for n, line in enumerate(lines) if line.rstrip() == FENCE]
    if faults:
        return [], faults
    if not fences:
        fix = "begin with a line of +++, the lesson's title, and another line of +++; see mechviz lesson --starter"
        return [], [fault(Spot(0, 1), "", "has no header", fix)]
    before = "".join(lines[: fences[0]]).strip()
    if before:
        faults.append(fault(Spot(0, 1), "", "has text before its first header", "move it below the header", before))
    if len(fences) % 2:
        spot = Spot(len(fences) // 2, fences[-1] + 1)
        return [], [*faults, fault(spot, "", "opens a header that is not closed", "write +++ below the header's keys")]
    ends = [*fences[2::2], len(lines)]
    pieces = [
        Piece(_joined(lines, start + 1, end), start + 2, _joined(lines, end + 1, last), end + 2)
        for start, end, last in zip(fences[::2], fences[1::2], ends, strict=True)
    ]
    if len(pieces) == 1:
        faults.append(fault(Spot(0, 1), "", "has no steps", "begin each step with a header between lines of +++"))
    if len(pieces) > MOST_STEPS + 1:
        spot = Spot(MOST_STEPS + 1, pieces[MOST_STEPS + 1].header_line)
        faults.append(fault(spot, "", f"has more than {MOST_STEPS} steps", "make two lessons of it"))
    return pieces, faults


def _joined(lines: list[str], start: int, end: int) -> str:
    return "\n".join(lines[start:end])


def _too_much(text: str, lines: list[str]) -> list[Fault]:
    if len(text) > MOST_BYTES:
        return [fault(Spot(0, 1), "", f"has more than {MOST_BYTES:,} characters", "make several lessons of it")]
    long = next((n for n, line in enumerate(lines, 1) if len(line) > LONGEST_LINE), None)
    if long is not None:
        return [fault(Spot(0, long), "", f"is a line of more than {LONGEST_LINE:,} characters", "break the line")]
    return []
