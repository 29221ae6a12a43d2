# ruff: noqa: E501 - the lists of values read as lists
"""Setup files that went wrong: a seeded generator of mutations of valid ones, each case known by seed and number."""

from collections.abc import Callable, Iterator
from functools import cache
from random import Random

from geometry.setup import builtin_names, builtin_text

SEED = 20

NUMBERS = (
    "0", "-0", "1", "-1", "0.5", "-5.5", "1e308", "-1e308", "1e-308", "1e999", "nan", "inf", "-inf", "1e5", "1e-5",
    "3/16", "1 3/4", "1-3/4", "1/0", "0/0", "1,75", "٣", "1¾", "½", "9" * 50, "1 1", "--1", "+2", "1..2", "0x10",
)  # fmt: skip
UNITS = (
    "in", "mm", "ft", "cm", "m", "km", '\\"', "deg", "rad", "°", "psi", "kPa", "MPa", "bar", "degF", "degC", "K",
    "N*m/deg", "lbf*ft", "lbf", "N", "lbf/in", "N/mm", "in**2", "in/deg", "1/degF", "", "J", "parsec", "in in", "in**9",
    "in/0", "mph", "kg", "lb", "%", "min", "(in)", "in;import os", "\\u0000", "\\u202e", "µm",
)  # fmt: skip
VALUES = (
    "0", "-1", "1e308", "nan", "-inf", "true", "false", "30", "0.35", "9" * 60, "0xFFFFFFFFFFFFFFFFFFFFFFFF", '""', '"x"',
    "[]", "{}", "[[]]", "[1, 2]", '["0 in", "1 in"]', "[" * 30 + "]" * 30, '{a = {a = {a = {a = 1}}}}', "1979-05-27",
    "07:32:00", '"""a\nb"""', "'literal'", '"\\u202e5 in"', '"steering"', '"manual"', '"table"', '"constant-rise"',
    '"involute"', '"clamp-long-stroke"', '"rotochamber"', '"clockwise"', '"bedded"', '["us", "quebec"]', '["us", 3]',
    '[["0 deg", "0.6 in"], ["60 deg", "1.2 in"], ["120 deg", "1.85 in"]]', '[["0 deg", "0.6 in"], ["60 deg"]]',
)  # fmt: skip
LINES = (
    '[chamber.thrust]\npressure = "100 psi"\nstroke = ["0 in", "1 in", "2 in"]\nforce = ["3000 lbf", "2900 lbf", "2500 lbf"]',
    "[cam]", "[[cam]]", "[chamber]", "[nonsense]", "x = 1", "= 1", "[", "]", "key", "a.b.c.d = 1", "linkage.x.y = 1",
    "[parking]", "fitted = true", "fitted = 1", 'vehicle = "trailer"', 'spring_force = "1800 lbf"', 'spring_area = "0 in**2"',
    'lining_arc_radius = "8.2 in"', 'lining_clearance = "0.020 in"', 'rise = "0.009 in/deg"', 'base = "steer-15x4"',
    'base = "worn-drive-16.5x7"', 'base = "no-such-brake"', "\ufeff", "\x00", "\x1b[31m", "é = 1", '"" = 1', '"a b" = "5 in"',
    'drum_limit = "16.62 in"', 'drum_expansion = "6.5e-6 1/degF"', "lining_pads = 3", "long_stroke_marks = 1",
    "a = " + "[" * 2000, "a" * 5000 + " = 1", "a." * 1500 + "a = 1",
)  # fmt: skip
WHOLE = (
    "", "\n" * 1000, "schema = 1", "\x00" * 100, "[" * 3000, "a = [\n" * 3000, "{}", "null", "schema = 2\n", "a.b = 1\n" * 500,
    "[x]\n" * 300, "schema = 1\nbase = 5", "schema = true", "chamber = 1\nlinkage = []\ncam = 'x'\nfoundation = 1.5",
    "\n".join(f"k{n} = {n}" for n in range(3000)), "# " + "x" * 200_000, 'schema = 1\nbase = "drive-16.5x7"\n' + "\n" * 500,
)  # fmt: skip

Mutation = Callable[[Random, list[str]], list[str]]


@cache
def _originals() -> tuple[str, ...]:
    small = (
        'schema = 1\ntitle = "Axle 2"\nbase = "{}"\n[condition]\nfree_stroke = "0.6 in"\n[measured]\nstroke = "44 mm"\n'
    )
    return (*(builtin_text(name) for name in builtin_names()), *(small.format(name) for name in builtin_names()))


def _any_line(rng: Random, lines: list[str]) -> int:
    return rng.randrange(len(lines))


def _drop(rng: Random, lines: list[str]) -> list[str]:
    at = _any_line(rng, lines)
    return lines[:at] + lines[at + 1 :]


def _repeat(rng: Random, lines: list[str]) -> list[str]:
    at, to = _any_line(rng, lines), _any_line(rng, lines)
    return [*lines[:to], lines[at], *lines[to:]]


def _move(rng: Random, lines: list[str]) -> list[str]:
    at = _any_line(rng, lines)
    rest = lines[:at] + lines[at + 1 :]
    to = rng.randrange(len(lines))
    return [*rest[:to], lines[at], *rest[to:]]


def _misspell(rng: Random, lines: list[str]) -> list[str]:
    """Drop, double, swap or replace one character of a line."""
    at = _any_line(rng, lines)
    line = lines[at] or " "
    spot = rng.randrange(len(line))
    new = rng.choice(
        ["", line[spot] * 2, line[spot : spot + 2][::-1], rng.choice('=["]#\\ .xé\u2028\ud7ff'), line[spot].upper()]
    )
    return [*lines[:at], line[:spot] + new + line[spot + 1 :], *lines[at + 1 :]]


def _with_value(rng: Random, lines: list[str], value: Callable[[str], str]) -> list[str]:
    """Give one of the ``key = value`` lines another value."""
    places = [n for n, line in enumerate(lines) if "=" in line]
    if not places:
        return lines
    at = rng.choice(places)
    key, _, old = lines[at].partition("=")
    return [*lines[:at], f"{key}= {value(old.partition('#')[0].strip())}", *lines[at + 1 :]]


def _other_number(rng: Random, lines: list[str]) -> list[str]:
    return _with_value(rng, lines, lambda old: f'"{rng.choice(NUMBERS)} {old.strip(chr(34)).split(" ")[-1]}"')


def _other_unit(rng: Random, lines: list[str]) -> list[str]:
    return _with_value(rng, lines, lambda old: f'"{old.strip(chr(34)).split(" ")[0]} {rng.choice(UNITS)}"')


def _scaled(rng: Random, lines: list[str]) -> list[str]:
    """Make a figure larger or smaller, so that the parts are sound and do not go together."""

    def scale(old: str) -> str:
        number, _, unit = old.strip('"').partition(" ")
        if not unit:
            return old
        try:
            value = float(number) * rng.choice(
                (*(rng.uniform(0.9, 1.1) for _ in range(4)), rng.uniform(0, 3), 10 ** rng.uniform(-6, 6))
            )
        except ValueError:
            return old
        return f'"{value!r} {unit}"'

    for _ in range(rng.randint(1, 6)):
        lines = _with_value(rng, lines, scale)
    return lines


def _other_value(rng: Random, lines: list[str]) -> list[str]:
    return _with_value(rng, lines, lambda _: rng.choice(VALUES))


def _swap_values(rng: Random, lines: list[str]) -> list[str]:
    values = [line.partition("=")[2] for line in lines if "=" in line]
    return _with_value(rng, lines, lambda old: rng.choice(values) if values else old)


def _insert(rng: Random, lines: list[str]) -> list[str]:
    at = _any_line(rng, lines)
    return [*lines[:at], rng.choice(LINES), *lines[at:]]


def _truncate(rng: Random, lines: list[str]) -> list[str]:
    text = "\n".join(lines)
    return text[: rng.randrange(len(text) + 1)].split("\n")


def _garble(rng: Random, lines: list[str]) -> list[str]:
    """Flip bytes, and read what is left as UTF-8 where that is possible."""
    data = bytearray("\n".join(lines).encode("utf-8", "replace"))
    for _ in range(rng.randint(1, 5)):
        if data:
            data[rng.randrange(len(data))] = rng.randrange(256)
    return data.decode("utf-8", "replace").split("\n")


MUTATIONS: tuple[Mutation, ...] = (
    _drop, _repeat, _move, _misspell, _other_number, _other_unit, _other_value, _swap_values,
    _insert, _truncate, _garble, _scaled, _scaled, _scaled, _scaled, _scaled, _scaled, _scaled, _scaled,
)  # fmt: skip


def fuzz_case(number: int, seed: int = SEED) -> str:
    """Return the text of one case."""
    rng = Random(f"{seed}/{number}")
    if rng.random() < 0.02:
        return rng.choice(WHOLE)
    lines = rng.choice(_originals()).split("\n")
    for _ in range(rng.choice((1, 1, 1, 2, 2, 3, 5))):
        lines = rng.choice(MUTATIONS)(rng, lines or [""])
    return "\n".join(lines)


def fuzz_cases(count: int, seed: int = SEED) -> Iterator[tuple[int, str]]:
    """Yield number and text of ``count`` cases."""
    for number in range(count):
        yield number, fuzz_case(number, seed)
