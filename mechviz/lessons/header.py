"""A header's TOML read into its keys, with every fault in it: which line, which key, what was given, what would do."""

import re
import tomllib
from collections.abc import Mapping
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from geometry.errors import Fault
from geometry.units import in_words
from mechviz.lessons.faults import Spot, fault, nearest
from mechviz.lessons.keys import NESTED
from mechviz.lessons.split import Piece

_KEY = re.compile(r"^\s*(?:\[+)?\s*([A-Za-z_][\w.-]*)\s*(?:=|\]+)")
_INLINE = re.compile(r"([A-Za-z_][\w-]*)\s*=")
Model = TypeVar("Model", bound=BaseModel)

_AT = re.compile(r"\(at line (\d+), column \d+\)|\(at end of document\)")


def read_header(piece: Piece, step: int, model: type[Model]) -> tuple[Model | None, dict[str, int], list[Fault]]:
    """Return a header's keys (None where they cannot be used), the line of each key, and all its faults."""
    lines = _lines(piece)
    try:
        raw = tomllib.loads(piece.header)
    except (ValueError, RecursionError) as error:
        return None, lines, [_syntax(str(error), piece, step)]
    try:
        return model.model_validate(raw), lines, []
    except ValidationError as error:
        found = error.errors(include_url=False)
        return None, lines, [_said(one, step, lines, piece, model) for one in found]


def _lines(piece: Piece) -> dict[str, int]:
    """The line of each key by its dotted name, those of a section in braces included."""
    found: dict[str, int] = {}
    section = ""
    for number, line in enumerate(piece.header.split("\n"), piece.header_line):
        match = _KEY.match(line)
        if not match:
            continue
        if line.lstrip().startswith("["):
            section = match[1] + "."
            found.setdefault(match[1], number)
            continue
        key = section + match[1]
        parts = key.split(".")
        for n in range(1, len(parts) + 1):
            found.setdefault(".".join(parts[:n]), number)
        for inner in _INLINE.findall(line.partition("{")[2]):
            found.setdefault(f"{key}.{inner}", number)
    return found


def _syntax(message: str, piece: Piece, step: int) -> Fault:
    at = _AT.search(message)
    number = int(at[1]) if at and at[1] else piece.header.count("\n") + 1
    lines = piece.header.split("\n")
    line = lines[min(number, len(lines)) - 1].strip()
    said = _AT.sub("", message).strip().rstrip(".").lower()
    spot = Spot(step, piece.header_line + number - 1)
    if "overwrite" in said or "twice" in said:
        return fault(spot, line, "says again what an earlier line says", "keep one of the two")
    fix = 'write key = "value", with quotes round every text and every figure with a unit'
    return fault(spot, line, f"cannot be read ({said})", fix)


def _said(error: ErrorDetails, step: int, lines: Mapping[str, int], piece: Piece, model: type[BaseModel]) -> Fault:
    """One of pydantic's findings in plain words."""
    path = [str(part) for part in error["loc"]]
    key = ".".join(path)
    words = [part for part in path if not part.isdigit()]
    line = next((lines[".".join(words[:n])] for n in range(len(words), 0, -1) if ".".join(words[:n]) in lines), None)
    spot = Spot(step, line or piece.header_line)
    context = error.get("ctx", {})
    given = error["input"]
    if error["type"] == "extra_forbidden":
        return fault(spot, key, "is no key that is known here", nearest(path[-1], _known(path[:-1], model), 20))
    if error["type"] == "missing":
        return fault(Spot(step, piece.header_line), key, "is missing", f"write {path[-1]} = {_example(path)}")
    if error["type"] == "literal_error":
        known = _literals(path, model)
        shown = given if isinstance(given, str) else in_words(given)
        return fault(spot, key, "is none of the words that are known here", nearest(shown, known), shown)
    if error["type"] in ("string_type", "list_type", "bool_type", "int_type", "float_type", "dict_type", "model_type"):
        wanted = {"string": "text in quotes", "list": "a list in brackets", "bool": "true or false", "int": "a number"}
        what = wanted.get(error["type"].partition("_")[0], "a section in braces")
        return fault(
            spot, key, f"is {in_words(given)}, and {what} belongs here", f"write {path[-1]} = {_example(path)}"
        )
    fix = f"write {path[-1]} = {_example(path)}"
    bounds = {"ge": "at least", "le": "at most", "max_length": "no more characters than", "min_length": "no fewer than"}
    told = [f"{words} {context[name]}" for name, words in bounds.items() if name in context]
    return fault(spot, key, "cannot be that", f"use {', '.join(told)}" if told else fix, in_words(given))


def _known(path: list[str], model: type[BaseModel]) -> list[str]:
    at = NESTED.get(path[0], model) if path else model
    return [field.alias or name for name, field in at.model_fields.items()]


def _literals(path: list[str], model: type[BaseModel]) -> list[str]:
    at = NESTED.get(path[0], model) if len(path) > 1 else model
    field = next(field for name, field in at.model_fields.items() if (field.alias or name) == path[-1])
    return [str(word) for word in get_args(field.annotation)]


_EXAMPLES: Mapping[str, Any] = {
    "title": '"What the wheel hides"',
    "lesson": "1",
    "minutes": "20",
    "holds_for": '["drive-16.5x7", "steer-15x4"]',
    "light": '["pushrod", "S-cam"]',
    "name": '["pushrod", "S-cam"]',
    "sources": '["49 CFR 393.47(e)"]',
    "set": '{ linkage = { arm_length = "6 in" } }',
    "move": '{ what = "lining", from = "new", to = "limit" }',
    "solid": '{ from = "wheel-side", drum = "removed" }',
    "life": '{ adjuster = "stopped", wear = "1 mm" }',
    "air": '{ scenario = "story", time = "2 s" }',
    "impossible": "true",
    "wheel": "true",
    "apart": "0.5",
    "what": '"lining"',
    "to": '"applied"',
    "scenario": '"story"',
}


def _example(path: list[str]) -> str:
    return str(_EXAMPLES.get(path[-1] if not path[-1].isdigit() else path[0], '"..."'))
