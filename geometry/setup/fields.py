"""The types of the setup file's keys: each turns what TOML gives into what is used inside, or says what would do."""

import re
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from functools import partial
from typing import Annotated, TypeVar, cast

from pydantic import PlainValidator

from geometry.adjuster import ADJUSTER_STATES
from geometry.errors import Fault, FaultList, PartError
from geometry.parking import VEHICLES
from geometry.units import UnitKind, in_words, is_finite, parse, shorten

MOST_ROWS = 500
"""Of a list in the file; a measured table has a few dozen."""

LONGEST_SIZE = 20
LONGEST_TITLE = 120

T = TypeVar("T")


def _refuse(value: object, problem: str, fix: str) -> PartError:
    """Make the error of one key. Where it stands is added when the whole file has been read."""
    given = None if isinstance(value, bool | list | dict) else in_words(value)
    return PartError(Fault("", problem, fix, given))


def read_quantity(kind: UnitKind, value: object) -> float:
    """Return a figure with its unit in the unit used inside."""
    return parse(value, kind, "")


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _refuse(value, "is not a plain number", "write a number without quotes, for example 0.35")
    if not is_finite(value) or abs(value) > 1e6:
        raise _refuse(value, "is not a number that can be used", "write what was measured, for example 0.35")
    return float(value)


def _choose(choices: Sequence[str], value: object) -> str:
    listed = ", ".join(f'"{c}"' for c in choices)
    if not isinstance(value, str):
        raise _refuse(value, f"is {in_words(value)}, and a word belongs here", f"write one of {listed}")
    if value not in choices:
        near = get_close_matches(value[:60].lower(), choices, 1)
        fix = f'write "{near[0]}"' if near else "write one of these"
        raise _refuse(value, f"is not one of {listed}", fix)
    return value


def _choose_number(choices: Sequence[int], value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value not in choices:
        listed = " or ".join(str(c) for c in choices)
        raise _refuse(value, f"is not {listed}", f"write {listed}, without quotes")
    return value


def _size(value: object) -> str:
    text = str(value) if isinstance(value, int) and not isinstance(value, bool) and 0 < value < 10_000 else value
    if not isinstance(text, str) or not text.strip() or len(text) > LONGEST_SIZE or not text.isprintable():
        raise _refuse(value, "is not the size of a chamber", 'write it as it is marked, for example "30"')
    plain = text.strip().upper()
    if named := _PLAIN_SIZE.fullmatch(plain):
        return named[1]
    if long := _LONG_SIZE.fullmatch(plain):
        fix = f'write size = "{long[1] or long[2] or long[3]}" and style = "clamp-long-stroke"'
        raise _refuse(value, "says the stroke as well, which is the style's", fix)
    if pair := _PAIR_OF_SIZES.fullmatch(plain):
        fix = f'write the service chamber\'s size alone, size = "{pair[1] or pair[2]}"'
        raise _refuse(value, "names the spring section as well", fix)
    digits = re.search(r"[0-9]+", plain)
    fix = f'write size = "{int(digits[0])}" if that is meant' if digits else 'write it as marked, for example "30"'
    raise _refuse(value, "is more than the size of a chamber, which is a number or one letter", fix)


_PLAIN_SIZE = re.compile(r"(?:TYPE|T|NO\.?|#)?[\s-]*0*([1-9][0-9]{0,2}|[A-Z])")
_LONG_SIZE = re.compile(
    r"(?:TYPE|T|NO\.?|#)?[\s-]*(?:([0-9]{1,2})\s*-?\s*L.*|L[A-Z]*\s*-?\s*([0-9]{1,2})|([0-9]{2})[0-9]{2}\s*-?\s*L.*)"
)
_PAIR_OF_SIZES = re.compile(r"T?([0-9]{1,2})\s*[/-]\s*[0-9]{1,2}.*|T?([0-9]{2})[0-9]{2}.*")


def _line(value: object) -> str:
    if not isinstance(value, str):
        raise _refuse(value, "is not text", 'write it in quotes, for example "Axle 2, right"')
    if len(value) > LONGEST_TITLE or not value.isprintable():
        problem = f"is not one line of at most {LONGEST_TITLE} characters"
        raise _refuse(value, problem, "shorten it to one line")
    return value


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        raise _refuse(value, "is neither true nor false", "write true or false, without quotes")
    return value


def _schema(value: object) -> int:
    if isinstance(value, bool) or value != 1 or not isinstance(value, int):
        raise _refuse(value, "is a format that this program does not know", "write schema = 1")
    return value


def _list(value: object, fix: str) -> list[object]:
    items = cast(list[object], value) if isinstance(value, list) else []
    if not items:
        is_list = isinstance(value, list)
        raise _refuse([] if is_list else value, f"is {'empty' if is_list else 'not a list'}", fix)
    if len(items) > MOST_ROWS:
        raise _refuse(items, f"has more than {MOST_ROWS} rows", "fewer rows: straight lines or a curve join them")
    return items


def _each(items: Sequence[object], read: Callable[[object], T]) -> tuple[T, ...]:
    """Read every row, and report the faults of all of them."""
    found, done = FaultList(), list[T]()
    for row, item in enumerate(items, start=1):
        try:
            done.append(read(item))
        except PartError as error:
            found.faults.extend(Fault(f", row {row}{f.where}", f.problem, f.fix, f.given) for f in error.faults)
    if found.faults:
        raise PartError(found.faults)
    return tuple(done)


def _words(choices: Sequence[str], value: object) -> tuple[str, ...]:
    items = _list(value, f'write a list, for example ["{choices[0]}"]')
    return tuple(dict.fromkeys(_each(items, partial(_choose, choices))))


def _quantities(kind: UnitKind, example: str, value: object) -> tuple[float, ...]:
    return _each(_list(value, f"write a list, for example {example}"), partial(read_quantity, kind))


def _cam_row(row: object) -> tuple[float, float]:
    pair = cast(list[object], row) if isinstance(row, list) else []
    if len(pair) != 2:
        raise _refuse(pair, "is not an angle and a radius", 'write ["0 deg", "0.60 in"]')
    return parse(pair[0], "angle", ""), parse(pair[1], "length", "")


def _cam_table(value: object) -> tuple[tuple[float, float], ...]:
    return _each(_list(value, 'write [["0 deg", "0.60 in"], ["90 deg", "1.40 in"], ...]'), _cam_row)


def _arc_radius(value: object) -> float | None:
    if isinstance(value, str) and shorten(value).strip().lower() == "bedded":
        return None
    return parse(value, "length", "")


Length = Annotated[float, PlainValidator(partial(read_quantity, "length"))]
Angle = Annotated[float, PlainValidator(partial(read_quantity, "angle"))]
Area = Annotated[float, PlainValidator(partial(read_quantity, "area"))]
Force = Annotated[float, PlainValidator(partial(read_quantity, "force"))]
Rate = Annotated[float, PlainValidator(partial(read_quantity, "rate"))]
Rise = Annotated[float, PlainValidator(partial(read_quantity, "rise"))]
Pressure = Annotated[float, PlainValidator(partial(read_quantity, "pressure"))]
Stiffness = Annotated[float, PlainValidator(partial(read_quantity, "stiffness"))]
Temperature = Annotated[float, PlainValidator(partial(read_quantity, "temperature"))]
Expansion = Annotated[float, PlainValidator(partial(read_quantity, "expansion"))]
Lengths = Annotated[tuple[float, ...], PlainValidator(partial(_quantities, "length", '["0 in", "1 in", "2.5 in"]'))]
Holes = Annotated[tuple[float, ...], PlainValidator(partial(_quantities, "length", '["5.0 in", "5.5 in", "6.0 in"]'))]
Forces = Annotated[tuple[float, ...], PlainValidator(partial(_quantities, "force", '["2800 lbf", "0 lbf"]'))]
CamTable = Annotated[tuple[tuple[float, float], ...], PlainValidator(_cam_table)]
ArcRadius = Annotated[float | None, PlainValidator(_arc_radius)]
Number = Annotated[float, PlainValidator(_number)]
Size = Annotated[str, PlainValidator(_size)]
Line = Annotated[str, PlainValidator(_line)]
Flag = Annotated[bool, PlainValidator(_flag)]
Schema = Annotated[int, PlainValidator(_schema)]
Pads = Annotated[int, PlainValidator(partial(_choose_number, (1, 2)))]
Style = Annotated[str, PlainValidator(partial(_choose, ("clamp", "clamp-long-stroke", "bolt", "rotochamber")))]
Profile = Annotated[str, PlainValidator(partial(_choose, ("involute", "constant-rise", "table")))]
Axle = Annotated[str, PlainValidator(partial(_choose, ("non-steering", "steering")))]
Rotation = Annotated[str, PlainValidator(partial(_choose, ("counter-clockwise", "clockwise")))]
Attachment = Annotated[str, PlainValidator(partial(_choose, ("bonded", "riveted")))]
AdjusterKind = Annotated[str, PlainValidator(partial(_choose, ("manual", "automatic")))]
AdjusterState = Annotated[str, PlainValidator(partial(_choose, ADJUSTER_STATES))]
Vehicle = Annotated[str, PlainValidator(partial(_choose, VEHICLES))]
Senses = Annotated[str, PlainValidator(partial(_choose, ("clearance", "stroke")))]
Procedure = Annotated[str, PlainValidator(partial(_choose, ("roadside", "annual")))]
Rules = Annotated[tuple[str, ...], PlainValidator(partial(_words, ("us", "quebec", "army", "australia", "common")))]
