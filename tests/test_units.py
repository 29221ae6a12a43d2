"""Text to number: what a mechanic types is read exactly, and what cannot be meant is refused with what would do."""

import subprocess
import sys
from math import pi

import pytest

from geometry.errors import PartError
from geometry.quantity import KINDS
from geometry.unit_text import USUAL, from_pint, unit
from geometry.units import EXAMPLES, LONGEST_TEXT, UnitKind, parse, shorten, typed_system


def refusal(text: object, kind: UnitKind) -> str:
    with pytest.raises(PartError) as caught:
        parse(text, kind, "part.name")
    (fault,) = caught.value.faults
    assert fault.where == "part.name"
    return fault.text("inch")


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("1 3/4 in", 44.45),
        ("1-3/4 in", 44.45),
        ("1 - 3/4 in", 44.45),
        ('1 3/4"', 44.45),
        ("1\u00be in", 44.45),
        ("1 \u00be in", 44.45),
        ("\u00be\u2033", 19.05),
        ("1 3\u20444 in", 44.45),
        ("1.75in", 44.45),
        ("  1.75   inches ", 44.45),
        ("1.75 IN", 44.45),
        ("1.75 in.", 44.45),
        ("3/16 in", 4.7625),
        ("1 3/8 in", 34.925),
        ("44.5 mm", 44.5),
        ("4.45 cm", 44.5),
        ("0.1 ft", 30.48),
        ("1e1 mm", 10.0),
        (".5 in", 12.7),
        ("+2. in", 50.8),
        ("-1 3/4 in", -44.45),
        ("\u22122 mm", -2.0),
        ("0 in", 0.0),
    ],
)
def test_a_length_is_read_to_the_last_bit(text: str, millimetres: float) -> None:
    assert parse(text, "length", "x") == millimetres


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("180 deg", "angle", pi),
        ("107\u00b0", "angle", 107 * pi / 180),
        ("35 degrees", "angle", 35 * pi / 180),
        ("0.5 rad", "angle", 0.5),
        ("100 psi", "pressure", 0.6894757293168361),
        ("100 PSI", "pressure", 0.6894757293168361),
        ("690 kPa", "pressure", 0.690),
        ("6.9 bar", "pressure", 0.69),
        ("0.69 MPa", "pressure", 0.69),
        ("250 lbf", "force", 250 * 4.4482216152605),
        ("250 lb", "force", 250 * 4.4482216152605),
        ("1 kN", "force", 1000.0),
        ("10 lbf*ft", "torque", 10 * 4.4482216152605 * 304.8),
        ("10 lb-ft", "torque", 10 * 4.4482216152605 * 304.8),
        ("10 ft-lb", "torque", 10 * 4.4482216152605 * 304.8),
        ("120 lbf*in", "torque", 10 * 4.4482216152605 * 304.8),
        ("10 Nm", "torque", 1e4),
        ("10 N\u00b7m", "torque", 1e4),
        ("180 N*m/deg", "stiffness", 180e3 * 180 / pi),
        ("180 Nm/deg", "stiffness", 180e3 * 180 / pi),
        ("60 lbf/in", "rate", 60 * 4.4482216152605 / 25.4),
        ("60 lbf per in", "rate", 60 * 4.4482216152605 / 25.4),
        ("30 in**2", "area", 30 * 25.4**2),
        ("30 in^2", "area", 30 * 25.4**2),
        ("30 in\u00b2", "area", 30 * 25.4**2),
        ("30 sq in", "area", 30 * 25.4**2),
        ("0.009 in/deg", "rise", 0.009 * 25.4 * 180 / pi),
        ("6.5e-6 1/degF", "expansion", 1.17e-5),
        ("6.5e-6 per degF", "expansion", 1.17e-5),
        ("70 degF", "temperature", 529.67 * 5 / 9),
        ("70 \u00b0F", "temperature", 529.67 * 5 / 9),
        ("70 deg F", "temperature", 529.67 * 5 / 9),
        ("-40 degC", "temperature", 233.15),
        ("20 C", "temperature", 293.15),
        ("0 K", "temperature", 0.0),
        ("60 mph", "speed", 26822.4),
        ("90 km/h", "speed", 25000.0),
        ("25 m/s", "speed", 25000.0),
        ("88 ft/s", "speed", 26822.4),
        ("8500 lb", "mass", 8500 * 0.45359237e-3),
        ("8500 lbm", "mass", 8500 * 0.45359237e-3),
        ("3.9 t", "mass", 3.9),
        ("3900 kg", "mass", 3.9),
        ("38.245935 kN", "mass", 3.9),
        ("2 min", "time", 120.0),
        ("90 s", "time", 90.0),
        ("1/2 h", "time", 1800.0),
        ("6 %", "share", 0.06),
        ("6%", "share", 0.06),
        ("6 percent", "share", 0.06),
    ],
)
def test_every_kind_is_read(text: str, kind: UnitKind, value: float) -> None:
    assert parse(text, kind, "x") == pytest.approx(value, rel=1e-15, abs=1e-13)


@pytest.mark.parametrize(
    ("text", "kind", "says"),
    [
        (5.5, "length", ["= 5.5", "has no unit", '"5.5 in" or "5.5 mm"']),
        (5, "pressure", ["= 5", "has no unit", '"5 psi" or "5 kPa"']),
        ("5.5", "length", ["= 5.5", "has no unit", '"5.5 in"']),
        ("1 3/4", "length", ["has no unit", '"1 3/4 in"']),
        ("35", "angle", ["an angle needs one", '"35 deg"']),
        ("5.5 psi", "length", ['"psi" is a pressure', "a length belongs here", '"5.5 in"']),
        ("180 N*m", "stiffness", ["is a torque", "for each degree", '"180 N*m/deg"']),
        ("180 N*m/deg", "torque", ["for each degree", "a torque belongs here", '"180 lbf*ft"']),
        ("180 J", "torque", ['"J" is not a unit', 'write it like "1.75 lbf*ft"']),
        ("5.5 inn", "length", ['"inn" is not a unit', '"5.5 in"']),
        ("5 kin", "length", ['"kin" is not a unit']),
        ("5 mPa", "pressure", ['"mPa" is not a unit', 'write "5 MPa"']),
        ("1,75 in", "length", ["has a comma", 'write a point instead: "1.75 in"']),
        ("1,500 lbf", "force", ["has a comma", '"1.500 lbf"']),
        ("nan in", "length", ["not a number that can be used", '"1.75 in"']),
        ("-inf in", "length", ["not a number that can be used"]),
        ("1e999 in", "length", ["not a number that can be used"]),
        (float("nan"), "length", ["not a number that can be used"]),
        (10**400, "length", ["= a very large number", "not a number that can be used"]),
        ("1e-999 in", "length", ["too small to be measured"]),
        ("95 bar", "pressure", ["more than any vehicle brake has", "use at most 290 psi"]),
        ("1e300 in", "length", ["more than any vehicle brake has", "use at most 393.700 in", "unit"]),
        ("1e-12 in", "length", ["too small to be measured"]),
        ("1/0 in", "length", ["divides by zero"]),
        ("1 5/4 in", "length", ["fraction that is not less than one"]),
        ("2 in + 3 in", "length", ["cannot be read as one number and a unit", '"1.75 in"']),
        ("10**9**9 in", "length", ["cannot be read as one number and a unit"]),
        ("7' 2\"", "length", ["cannot be read as one number and a unit"]),
        ("5.5.5 in", "length", ["cannot be read as one number and a unit"]),
        ("in", "length", ["cannot be read as one number and a unit"]),
        ("", "length", ['= ""', "cannot be read"]),
        ("\u0663 in", "length", ["cannot be read as one number and a unit"]),
        ("__import__('os') in", "length", ["cannot be read as one number and a unit"]),
        ("9" * LONGEST_TEXT + " in", "length", ["too long", "99999..."]),
        ("-460 degF", "temperature", ["below absolute zero", "use at least -459 degF"]),
        ("-1 K", "temperature", ["below absolute zero", "sign"]),
        ("70 degF*degF", "temperature", ["something else"]),
        (True, "length", ["true or false", "a length belongs here"]),
        ("60", "speed", ["has no unit", '"60 mph" or "60 km/h"']),
        (6, "share", ["has no unit", '"6 %"']),
        ("60 mph", "length", ['"mph" is a speed']),
        ("8500 lb", "length", ['"lb" is a force']),
        ("5 lbf/in", "mass", ["a spring rate", "a mass belongs here", '"5 lb" or "5 kg"']),
        ("2 tons", "mass", ['"tons" is not a unit']),
        ("250 %", "share", ["more than", "use at most 100.0 percent"]),
        ("6 % * in", "share", ["something else"]),
        ([], "length", ["a list", "a length belongs here"]),
        ({}, "angle", ["a section", '"35 deg"']),
        (None, "length", ["a length belongs here"]),
    ],
)
def test_a_refusal_says_what_was_typed_and_what_would_do(text: object, kind: UnitKind, says: list[str]) -> None:
    message = refusal(text, kind)
    assert all(part in message for part in says), message


def test_unprintable_text_does_not_reach_the_screen() -> None:
    assert refusal("5 \x1b[31min\u202e", "length").isprintable()
    assert shorten("a\nb") == "a\ufffdb"


@pytest.mark.parametrize("kind", list(KINDS.values()), ids=lambda kind: kind.name)
def test_the_display_units_are_those_of_the_unit_file(kind: object) -> None:
    from geometry.quantity import Kind

    assert isinstance(kind, Kind)
    if kind.name == "number":
        return
    for name, factor in ((kind.inch, kind.inch_factor), (kind.metric, kind.metric_factor)):
        found = unit(name)
        assert found is not None
        assert float(found.factor) == pytest.approx(factor, rel=1e-15)
        assert found.kind == kind.name
    zeros = [float(found.offset) for name in (kind.inch, kind.metric) if (found := unit(name))]
    assert zeros == pytest.approx([kind.inch_zero, kind.metric_zero], rel=1e-15, abs=1e-13)


@pytest.mark.parametrize("text", USUAL)
def test_the_usual_units_are_what_pint_says(text: str) -> None:
    assert USUAL[text] == from_pint({'"': "in", "%": "percent"}.get(text, text))


def test_the_units_offered_are_units_that_are_taken() -> None:
    for kind, names in EXAMPLES.items():
        figure = "1e-5" if kind == "expansion" else "5"
        assert all(parse(f"{figure} {name}", kind, "x") > 0 for name in names)


@pytest.mark.parametrize(
    ("text", "system"),
    [
        ("1 in", "inch"),
        ("1 ft", "inch"),
        ('3/4"', "inch"),
        ("1 mm", "metric"),
        ("1 m", "metric"),
        ("1 psi", None),
        ("1", None),
        (1.0, None),
    ],
)
def test_the_unit_system_of_a_length_is_known(text: object, system: str | None) -> None:
    assert typed_system(text) == system


@pytest.mark.parametrize(("text", "system"), [("-1000 degC", "metric"), ("3000 deg F", "inch"), ("90 K", "metric")])
def test_the_unit_system_of_a_temperature_is_known(text: str, system: str) -> None:
    assert typed_system(text, "temperature") == system
    assert typed_system(text) is None


def test_importing_geometry_does_not_load_pint() -> None:
    code = "import sys, geometry, geometry.units; print('pint' in sys.modules, 'pydantic' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False"]
