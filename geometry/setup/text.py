"""From a file to TOML's values: what cannot be read is said with its line."""

import re
import tomllib
from pathlib import Path
from typing import Any

from geometry.errors import Fault, SetupError
from geometry.setup.words import file_fault
from geometry.units import shorten

MOST_BYTES = 100_000
LONGEST_LINE = 4_000
"""Characters; a setup file is a page of short lines, and a parser may take very long over a line without end."""

_AT = re.compile(r"\(at line (\d+), column \d+\)")
_UNQUOTED = re.compile(r"\s*([\w.-]+)\s*=\s*([^\s\"'\[{#][^#\"]*?)\s*(?:#.*)?")


def read_file(path: Path) -> str:
    """Return the text of a setup file. Raises `SetupError`."""
    where = str(path)
    try:
        if path.is_dir():
            raise SetupError(file_fault(where, "is a directory", "name the setup file in it"))
        if not path.is_file():
            raise SetupError(file_fault(where, "is not a file that can be read", "name a setup file"))
        with path.open("rb") as file:
            return decode(file.read(MOST_BYTES + 1), where)
    except OSError as error:
        reason = (error.strerror or "cannot be read").lower()
        raise SetupError(file_fault(where, f"cannot be read: {reason}", "check its name and who may read it")) from None


def decode(data: bytes, where: str) -> str:
    """Return the text of a file's bytes. Raises `SetupError` for what is too long or no UTF-8."""
    if len(data) > MOST_BYTES:
        problem = f"has more than {MOST_BYTES:,} bytes"
        raise SetupError(file_fault(where, problem, "name a setup file: one page of short lines"))
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise SetupError(file_fault(where, "is saved as UTF-16", "save it as UTF-8 text"))
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        problem = f"is not UTF-8 text (line {line})"
        raise SetupError(file_fault(where, problem, "save it as UTF-8 text")) from None


def read_toml(text: str) -> dict[str, Any]:
    """Return the values of a TOML text, a byte-order mark at its start left out. Raises `SetupError`."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    lines = text.split("\n")
    if len(text) > MOST_BYTES:
        problem = f"has more than {MOST_BYTES:,} characters"
        raise SetupError(file_fault("setup file", problem, "name a setup file: one page of short lines"))
    for number, line in enumerate(lines, start=1):
        if len(line) > LONGEST_LINE:
            problem = f"is longer than {LONGEST_LINE:,} characters"
            raise SetupError(file_fault(f"line {number}", problem, "write lists over several lines", line))
    try:
        return tomllib.loads(text)
    except RecursionError:
        problem = "has lists within lists without end"
        raise SetupError(file_fault("setup file", problem, "write a table as one list of pairs")) from None
    except ValueError as error:  # TOMLDecodeError, and an integer with too many digits
        raise SetupError(_syntax(str(error), lines)) from None


def _syntax(message: str, lines: list[str]) -> Fault:
    """Say what TOML stumbled over, where, and what is most likely meant."""
    found = _AT.search(message)
    number = int(found[1]) if found else len(lines)
    line = lines[min(number, len(lines)) - 1]
    problem, fix = _explained(message, line)
    return file_fault(f"line {number}, {shorten(line.strip())}" if line.strip() else f"line {number}", problem, fix)


def _explained(message: str, line: str) -> tuple[str, str]:
    said = _AT.sub("", message).split("(at end")[0].strip().rstrip(".").lower()
    if "overwrite" in said or "twice" in said or "mutate" in said:
        return "says again what an earlier line says", "keep one of the two"
    unquoted = _UNQUOTED.fullmatch(line)
    if unquoted and not unquoted[2].startswith(("true", "false")):
        return "has a value without quotes", f'write {unquoted[1]} = "{unquoted[2][:40]}"'
    if line.count('"') % 2:
        return "has a quotation mark without its partner", "close the text with a second quotation mark"
    if line.lstrip().startswith("[") and "]" not in line:
        return "opens a section without closing its name", "write it as [section]"
    if "=" not in line and line.strip() and not line.lstrip().startswith("["):
        return "is neither a section nor a key with its value", 'write key = "value"'
    return f"cannot be read ({said})", 'write key = "value", with quotes around every value that has a unit'
