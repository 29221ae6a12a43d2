# ruff: noqa: E501 - one bad file a line reads as a table
"""The setup file: what it may say, what its base lends it, and what is said of a file that cannot be used."""

import re
import tomllib
from dataclasses import fields, replace
from fractions import Fraction
from math import degrees, pi
from pathlib import Path

import pytest

from geometry.clevis import Clevis
from geometry.errors import Fault, SetupError
from geometry.found import condition_of
from geometry.polar_cam import ConstantRiseProfile, TableProfile
from geometry.reasons import Reason
from geometry.setup import Setup, SetupFileError, builtin_names, builtin_text, read_setup, read_setup_text
from geometry.setup.keys import known_keys
from geometry.setup.missing import NEEDED
from geometry.states import events
from tests.brakes import BRAKE

DRIVE = "drive-16.5x7"
HEALTHY = (DRIVE, "steer-15x4", "trailer-16.5x7")
WORN = "worn-drive-16.5x7"
INCH, PSI = 25.4, 4.4482216152605 / 25.4**2


def mm(inches: str) -> float:
    """Inches in mm, rounded once."""
    return float(Fraction(inches) * Fraction("25.4"))


def read(body: str, base: str | None = DRIVE) -> Setup:
    return read_setup_text(head(base) + body, "test.toml")


def head(base: str | None) -> str:
    return "schema = 1\n" + (f'base = "{base}"\n' if base else "")


def faults_of(text: str) -> tuple[Fault, ...]:
    with pytest.raises(SetupError) as caught:
        read_setup_text(text, "test.toml")
    assert str(caught.value)
    return caught.value.faults


def complete(**changes: str) -> str:
    """The drive axle's file, which has no base, with the values of some keys (``linkage__pin_reach``) changed."""
    section, lines = "", list[str]()
    for line in builtin_text(DRIVE).split("\n"):
        section = line[1:].partition("]")[0] if line.startswith("[") else section
        key = f"{section}__{line.partition('=')[0].strip()}" if "=" in line else ""
        lines.append(f"{line.partition('=')[0]}= {changes[key]}" if key in changes else line)
    return "\n".join(lines)


# --- what is wrong, one thing at a time: the file, where, what, and what would do


BAD = [
    ('[linkage]\npin_reach = "3.1 in"', "linkage.pin_reach = 3.1 in", "cannot meet the arm (short by 0.444 in)", "use 3.544 in to 14.543 in, or a shorter face_distance"),
    ('[linkage]\npin_reach = "15 in"', "linkage.pin_reach = 15 in", "too long to meet the arm", "a longer face_distance"),
    ('[linkage]\nface_distance = "1 in"\npivot_depth = "0.1 in"\npin_reach = "2 in"', "linkage.face_distance = 1 in", "past the camshaft", "use at least"),
    ("[linkage]\narm_length = 5.5", "linkage.arm_length = 5.5", "has no unit", '"5.5 in"'),
    ('[linkage]\narm_length = "-5.5 in"', "linkage.arm_length = -5.5 in", "must be more than zero", "positive"),
    ('[linkage]\narm_length = "5.5 psi"', "linkage.arm_length = 5.5 psi", "is a pressure", '"5.5 in"'),
    ('[linkage]\narm_length = "5,5 in"', "linkage.arm_length = 5,5 in", "comma", '"5.5 in"'),
    ('[linkage]\narm_lenght = "5.5 in"', "linkage.arm_lenght", "not a key of [linkage]", "write arm_length"),
    ('[linkage]\nfree_stroke = "1 in"', "linkage.free_stroke", "not a key of [linkage]", "move it to [condition]"),
    ('arm_length = "5.5 in"', "arm_length", "at the top of the file", "move it to [linkage]"),
    ('[linkages]\narm_length = "5.5 in"', "linkages", "not a section", "write [linkage]"),
    ("[linkage]\nzzz = 1", "linkage.zzz", "not a key of [linkage]", "known here: arm_length"),
    ("linkage = 5", "linkage = 5", "must be a section", "write [linkage] on a line of its own"),
    ("[[linkage]]", "linkage = a list", "must be a section", "[linkage]"),
    ("[linkge]\narm_length = 5", "linkge", "not a section", "write [linkage]"),
    ('[chamber]\nstyle = "clmp"', "chamber.style = clmp", "is not one of", 'write "clamp"'),
    ("[chamber]\nstyle = 30", "chamber.style = 30", "a word belongs here", '"clamp"'),
    ('[chamber]\nsize = ""', "chamber.size", "not the size of a chamber", '"30"'),
    ('[chamber]\nsize = "31"', "chamber.rated_stroke", "31 is not in the published tables", "read it on the chamber"),
    ('[chamber]\nmarked_limit = "3 in"', "chamber.marked_limit = 3 in", "too much of this chamber's whole stroke, rated_stroke = 2.500 in", "read both marks again"),
    ('[chamber]\nrated_stroke = "0 in"', "chamber.rated_stroke = 0 in", "must be more than zero", "positive"),
    ('[cam]\nheel_radius = "0.4 in"', "cam.heel_radius = 0.4 in", "clashes with the base's cam.base_radius = 0.500 in", "use at least 0.500 in"),
    ('[cam]\nprofile = "round"', "cam.profile = round", "is not one of", '"involute"'),
    ('[cam]\nrise = "0.009 in/deg"', "cam.rise = 0.009 in/deg", "does not belong to the profile involute", 'profile = "constant-rise"'),
    ('[cam]\nprofile = "constant-rise"', "cam.rise", "is missing", 'rise = "0.009 in/deg"'),
    ('[cam]\nprofile = "table"', "cam.table", "is missing", 'table = [["0 deg", "0.60 in"]'),
    ('[cam]\nprofile = "table"\ntable = [["0 deg", "0.6 in"], ["60 deg"], ["90 deg", "1 kg"]]', "cam.table, row 2", "not an angle and a radius", '["0 deg", "0.60 in"]'),
    ('[cam]\nprofile = "table"\ntable = [["0 deg", "0.6 in"], ["60 deg", "1 kg"]]', "cam.table, row 2 = 1 kg", '"kg" is a mass', '"1 in"'),
    ('[cam]\nprofile = "table"\ntable = [["0 deg", "0.6 in"], ["60 deg", "0.5 in"], ["90 deg", "2 in"]]', "cam.table", "must have angles and radii that rise", "heel to the tip"),
    ('[foundation]\ndrum_diameter = "-16.5 in"', "foundation.drum_diameter = -16.5 in", "must be more than zero", "positive"),
    ('[foundation]\nlining_thickness = "9 in"', "foundation.lining_thickness = 9 in", "less than half the drum_diameter, which is 8.250 in", "write a smaller lining_thickness"),
    ('[foundation]\nlining_start = "3 deg"', "foundation.lining_start = 3 deg", "far side of the anchor pin", "use at least 11.8 deg"),
    ('[foundation]\nlining_end = "200 deg"', "foundation.lining_end = 200 deg", "outside what this part can have", "to 180.0 deg"),
    ('[foundation]\nroller_spread = "2 in"', "foundation.roller_spread = 2 in", "heel to tip, does not reach the rollers", "use 2.475 in to 5.258 in"),
    ('[foundation]\nroller_distance = "1 in"', "foundation.roller_distance = 1 in", "roller", "roller_distance"),
    ("[foundation]\nfriction = 0.9", "foundation.friction", "would lock on the drum by itself", "use at most 0.7"),
    ('[foundation]\nfriction = "0.35"', "foundation.friction = 0.35", "not a plain number", "without quotes"),
    ("[foundation]\nfriction = nan", "foundation.friction = nan", "not a number that can be used", "0.35"),
    ("[foundation]\nefficiency = 1.5", "foundation.efficiency = 1.50", "more than this part can have", "use at most 1.00"),
    ('[foundation]\nwindup_stiffness = "180 N*m"', "foundation.windup_stiffness = 180 N*m", "is a torque", '"180 N*m/deg"'),
    ('[foundation]\nwindup_stiffness = "180 J"', "foundation.windup_stiffness = 180 J", '"J" is not a unit', '"1.75 N*m/deg"'),
    ('[foundation]\naxle = "front"', "foundation.axle = front", "is not one of", '"steering"'),
    ('[foundation]\ndrum_limit = "16.4 in"', "foundation.drum_limit = 16.4 in", "base's foundation.drum_diameter = 16.500 in", "leave it out, or write this brake's own"),
    ('[linkage]\narm_length = "55 in"', "linkage.arm_length = 55 in", "base's linkage.pin_reach = 6.000 in: the pushrod cannot meet the arm", "use at most 17.043 in"),
    ('[measured]\narm_length = "1 in"', "measured.arm_length = 1 in", "base's linkage.pin_reach = 6.000 in", "use at least 3.044 in"),
    ('[linkage]\npin_reach = "6 in"\n[measured]\narm_length = "55 in"', "measured.arm_length = 55 in", "clashes with linkage.pin_reach = 6.000 in", "read it and linkage.pin_reach = 6.000 in again"),
    ('[measured]\npin_reach = "6 in"\narm_length = "55 in"', "measured.arm_length = 55 in", "clashes with measured.pin_reach = 6.000 in", "use at most 17.043 in"),
    ('[measured]\narm_length = "55 in"', "measured.arm_length = 55 in", "base's linkage.pin_reach = 6.000 in", "use at most 17.043 in"),
    ('[chamber]\nrated_stroke = "25 in"', "chamber.rated_stroke = 25 in", "base's linkage.face_distance = 7.500 in", "use at most 8.499 in"),
    ('[foundation]\nlining_arc_radius = "9.0 in"', "foundation.lining_arc_radius = 9.0 in", "base's foundation.roller_spread", "leave it out"),
    ('[cam]\ntip_radius = "0.6 in"', "cam.tip_radius = 0.6 in", "base's cam.heel_radius = 0.600 in", "use at least 0.713"),
    ('[condition]\nlining_clearance = "15 furlong"', "condition.lining_clearance = 15 furlong", "not a unit that is known", 'write it like "1.75 in"'),
    ('[measured]\nstroke = "1,750 mm"', "measured.stroke = 1,750 mm", "comma", '"1750 mm" or "1.750 mm"'),
    ('[chamber]\nsize = "C"', "chamber.rated_stroke", "no clamp has a letter for its size", 'write style = "bolt"'),
    ('[measured]\nstroke = "“1 11/16 in”"', "measured.stroke", "not", 'write "1 11/16 in" if that is meant'),
    ('[chamber]\nsize = "30 long stroke"', "chamber.size", "says the stroke as well", 'size = "30" and style'),
    ('[chamber]\nsize = "type 30 LS"', "chamber.size = type 30 LS", "says the stroke as well", 'size = "30" and style = "clamp-long-stroke"'),
    ('[chamber]\nsize = "33"', "chamber.effective_area", "not in the published tables", 'write effective_area = "33 in**2", which is what'),
    ('[chamber]\nstyle = "bolt"\nsize = "G"', "chamber.rated_stroke", "is missing", 'write rated_stroke = "2.5 in"'),
    ('[test]\nreservoir_pressure = "0 psi"', "test.reservoir_pressure = 0 psi", "must be more than zero", "positive figure"),
    ('[test]\nreservoir_pressure = "-5 psi"', "test.reservoir_pressure = -5 psi", "must be more than zero", "positive figure"),
    ('[condition]\nlining_thickness = "0.6 in"\ndrum_diameter = "17.5 in"', "condition.drum_diameter = 17.5 in", "clashes with condition.lining_thickness = 0.600 in", "use at most"),
    ('[chamber]\nsize = "LS30"', "chamber.size = LS30", "says the stroke as well", 'size = "30" and style = "clamp-long-stroke"'),
    ('[chamber]\nsize = "3030LS"', "chamber.size = 3030LS", "says the stroke as well", 'size = "30"'),
    ("[chamber]\nsize = 3030", "chamber.size = 3030", "names the spring section", 'size = "30"'),
    ('[chamber]\nsize = "24S"', "chamber.size = 24S", "more than the size of a chamber", 'write size = "24" if that is meant'),
    ('[chamber]\nsize = "30 std"', "chamber.size = 30 std", "more than the size of a chamber", 'write size = "30"'),
    ('[chamber]\nmarked_limit = "2.49 in"', "chamber.marked_limit = 2.49 in", "too much of this chamber's whole stroke", "use at most 2.250 in"),
    ('[foundation]\ndrum_limit = "17.65 in"', "foundation.drum_limit = 17.65 in", "more than this part can have", "use at most 16.750 in"),
    ('[measured]\npin_reach = "3.1 in"', "measured.pin_reach = 3.1 in: the pushrod cannot meet", "short by", "use 3.544 in to"),
    ('[measured]\nstroke = "-1 in"\n[condition]\nfree_stroke = "0.5 in"', "measured.stroke = -1 in", "must not be negative", "zero"),
    ('[chamber]\nsize = "30LS"', "chamber.size = 30LS", "says the stroke as well", 'style = "clamp-long-stroke"'),
    ('[chamber]\nsize = "30/30"', "chamber.size = 30/30", "names the spring section", 'size = "30"'),
    ('[chamber]\nsize = "3030"', "chamber.size = 3030", "names the spring section", 'size = "30"'),
    ('[foundation]\nanchor_spacing = "14 in"', "foundation.anchor_spacing = 14 in", "base's foundation.lining_start = 35.0 deg", "use at most 8.402 in"),
    ('[condition]\ndrum_diameter = "18 in"', "condition.drum_diameter = 18 in", "however thick it is", "use 16.082 in to 17.401 in"),
    ('[condition]\nlining_thickness = "0.8 in"', "condition.lining_thickness = 0.8 in", "thicker than a new lining, foundation.lining_thickness = 0.750 in", "use at most 0.781 in"),
    ('[condition]\ndrum_diameter = "16.4 in"', "condition.drum_diameter = 16.4 in", "smaller than a new drum, foundation.drum_diameter = 16.500 in", "use at least 16.495 in"),
    ('[measured]\narm_angle_applied = "117 deg"\narm_angle_released = "95 deg"', "measured.arm_angle_applied = 117 deg", "more than measured.arm_angle_released = 95.0 deg", "use at most 96.0 deg"),
    ('[measured]\nstroke = "5 .5 in"', "measured.stroke = 5 .5 in", "cannot be read as one number", 'write "5.5 in" if that is meant'),
    ('[measured]\nstroke = "1-3-4 in"', "measured.stroke = 1-3-4 in", "cannot be read as one number", 'write "1 3/4 in" if that is meant'),
    ('[measured]\nstroke = "2 0/0 in"', "measured.stroke = 2 0/0 in", "divides by zero", 'write "2 in" if that is meant'),
    ("[foundation]\nlining_pads = 3", "foundation.lining_pads = 3", "is not 1 or 2", "without quotes"),
    ('[adjuster]\nkind = "manual"\nsenses = "stroke"', "adjuster.senses = stroke", "a manual adjuster senses nothing", "leave it out"),
    ('[adjuster]\nworm_turns = -1', "adjuster.worm_turns", "must be more than zero", "positive"),
    ('[condition]\nlining_thickness = "1.5 in"\nlining_resolution = "1 in"', "condition.lining_thickness = 1.5 in", "thicker than the room", "use at most 0.844 in"),
    ('[condition]\nlining_thickness = "0.05 in"', "condition.lining_thickness = 0.05 in", "past its tip", "use at least"),
    ('[condition]\nlining_thickness = "0 in"', "condition.lining_thickness = 0 in", "must be more than zero", "positive"),
    ('[condition]\ndrum_diameter = "2 ft"', "condition.drum_diameter = 2 ft", "however thick it is", "use 16.082 in to 17.401 in"),
    ('[condition]\ndrum_temperature = "-500 degF"', "condition.drum_temperature = -500 degF", "below absolute zero", "use at least -459 degF"),
    ('[condition]\ndrum_temperature = "-1000 degC"', "condition.drum_temperature = -1000 degC", "below absolute zero", "use at least -273 degC"),
    ('[condition]\ndrum_temperature = "70"', "condition.drum_temperature = 70", "has no unit", '"70 degF"'),
    ('[condition]\nfree_stroke = "2.6 in"', "condition.free_stroke = 2.6 in", "chamber bottoms", "use at most 2.500 in"),
    ('[condition]\nfree_stroke = "-0.1 in"', "condition.free_stroke = -0.1 in", "must not be negative", "zero"),
    ('[condition]\nlining_clearance = "0.5 in"', "condition.lining_clearance = 0.5 in", "chamber bottoms", "use at most 0.1"),
    ('[condition]\nlining_clearance = "0.02 in"\nfree_stroke = "0.5 in"', "condition.lining_clearance = 0.02 in", "stated as well as free_stroke", "keep the one"),
    ('[condition]\nlining_thickness = "0.74 in"\nfree_stroke = "2.45 in"\n[foundation]\nroller_spread = "2.50 in"', "condition.free_stroke = 2.45 in", "below its heel", "use at most"),
    ('[test]\npressure = "0 psi"', "test.pressure = 0 psi", "must be more than zero", "positive"),
    ('[test]\nprocedure = "weekly"', "test.procedure = weekly", "is not one of", '"roadside"'),
    ('[test]\nrules = ["us", "mars"]', "test.rules, row 2 = mars", "is not one of", "write one of these"),
    ("[test]\nrules = []", "test.rules", "is empty", '["us"]'),
    ('[measured]\nstroke = "3 in"', "measured.stroke = 3 in", "beyond the chamber's rated stroke", "use at most 2.500 in"),
    ('[measured]\nstroke = "44"', "measured.stroke = 44", "has no unit", '"44 in" or "44 mm"'),
    ('[measured]\narm_angle_applied = "-5 deg"', "measured.arm_angle_applied = -5 deg", "outside what this part can have", "180.0 deg"),
    ('[measured]\nlong_stroke_marks = "yes"', "measured.long_stroke_marks = yes", "neither true nor false", "without quotes"),
    ('[measured]\nresolution = "0 in"', "measured.resolution = 0 in", "must be more than zero", "positive"),
    ('[chamber.thrust]\npressure = "100 psi"\nstroke = ["0 in", "1 in"]', "chamber.thrust.force", "is missing", 'force = ["2970 lbf"'),
    ('[chamber.thrust]\npressure = "100 psi"\nstroke = ["0 in", "1 in"]\nforce = ["3000 lbf"]', "chamber.thrust.force", "1 forces for 2 strokes", "one force for each stroke"),
    ('[chamber.thrust]\npressure = "100 psi"\nstroke = ["1 in", "2 in"]\nforce = ["3000 lbf", "2000 lbf"]', "chamber.thrust.stroke", "does not rise from 0", "first at 0 in"),
    ('[chamber.thrust]\npressure = "100 psi"\nstroke = ["0 in", "3 in"]\nforce = ["3000 lbf", "0 lbf"]', "chamber.thrust.stroke = 3.000 in", "beyond the rated stroke", "use at most 2.500 in"),
    ('[chamber.thrust]\npressure = "100 psi"\nstroke = ["0 in", "2.5 in"]\nforce = ["3000 lbf", "500 lbf"]', "chamber.thrust.force = 500 lbf", "leaves force at the rated stroke", "write 0 lbf"),
    ('[chamber.thrust]\npressure = "100 psi"\nstroke = "0 in"\nforce = ["3000 lbf"]', "chamber.thrust.stroke = 0 in", "not a list", '["0 in"'),
    ("title = 5", "title = 5", "not text", "in quotes"),
    ('[linkage]\narm_holes = "5.5 in"', "linkage.arm_holes = 5.5 in", "not a list", '["5.0 in", "5.5 in", "6.0 in"]'),
    ('[linkage]\narm_holes = ["5.5 in", "6"]', "linkage.arm_holes, row 2 = 6", "has no unit", '"6 in"'),
    ('[linkage]\narm_holes = ["-5.5 in"]', "linkage.arm_holes", "must be more than zero", "positive"),
    ('[clevis]\npin_to_inside = "3 in"', "clevis.pin_to_inside = 3 in", "must be less than pin_to_end, which is 2.250 in", "larger pin_to_end"),
    ('[clevis]\nrod_reach = "0 in"', "clevis.rod_reach = 0 in", "must be more than zero", "positive"),
    ('[clevis]\nthread = "1 in"', "clevis.thread", "not a key of [clevis]", "rod_thread"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("body", "where", "what", "would_do"), BAD, ids=[f"{n:02d} {b[1][:30]}" for n, b in enumerate(BAD)]
)
def test_a_fault_says_where_what_and_what_would_work(body: str, where: str, what: str, would_do: str) -> None:
    lines = [fault.text("inch") for fault in faults_of(head(DRIVE) + body)]
    found = [line for line in lines if line.startswith(where)]
    assert any(what in line and would_do in line for line in found), lines


@pytest.mark.parametrize(
    ("text", "where", "what", "would_do"),
    [
        ("", "schema", "is missing", "write schema = 1"),
        (f'schema = 2\nbase = "{DRIVE}"', "schema = 2", "format that this program does not know", "write schema = 1"),
        (f'schema = true\nbase = "{DRIVE}"', "schema", "format", "write schema = 1"),
        ('schema = 1\nbase = "drive-16x7"', "base = drive-16x7", "no built-in setup", f"use {DRIVE}"),
        ('schema = 1\nbase = "worn.toml"', "base = worn.toml", "no built-in setup", "use "),
        ("schema = 1\n[linkage]\narm_length = 5.5 in", "line 3, arm_length = 5.5 in", "without quotes", 'arm_length = "5.5 in"'),
        ("schema = 1\n[linkage]\narm_length = 1 3/4 in # rule", "line 3", "without quotes", 'arm_length = "1 3/4 in"'),
        ('schema = 1\n[linkage]\narm_length = "5.5 in', "line 3", "quotation mark", "second quotation mark"),
        ('schema = 1\n[linkage\narm_length = "5.5 in"', "line 2, [linkage", "without closing", "[section]"),
        ("schema = 1\nhello", "line 2, hello", "neither a section nor a key", "key = "),
        ("schema = 1\nschema = 1", "line 2, schema = 1", "an earlier line", "keep one"),
        ("schema = 1\n[cam]\n[cam]", "line 3, [cam]", "an earlier line", "keep one"),
        ("schema = 1\nx = " + "[" * 3000, "setup file", "lists within lists", "pairs"),
        ("schema = 1\n" + "a." * 5000 + "a = 1", "line 2", "longer than 4,000 characters", "several lines"),
        ("#" * 100_001, "setup file", "more than 100,000 characters", "one page"),
        ("\x00", "line 1", "neither a section nor a key", "key"),
    ],
)  # fmt: skip
def test_a_file_that_is_not_a_setup_says_its_line(text: str, where: str, what: str, would_do: str) -> None:
    lines = [fault.text() for fault in faults_of(text)]
    assert any(line.startswith(where) and what in line and would_do in line for line in lines), lines


def test_all_faults_are_reported_at_once() -> None:
    body = """
        [chamber]
        style = "clmp"
        [linkage]
        arm_lenght = "5.5 in"
        pin_reach = "3.1 in"
        [cam]
        rise = "1 in/deg"
        tip_radius = "0.5 in"
        [foundation]
        drum_diameter = "-16.5 in"
        friction = "0.35"
        cam_distance = 6.3
        [condition]
        lining_thickness = "-1 in"
        [test]
        pressure = "0 psi"
        [measured]
        arm_angle_applied = "400 deg"
        """
    found = {fault.where for fault in faults_of(head(DRIVE) + body)}
    assert found >= {
        "chamber.style", "linkage.arm_lenght", "linkage.pin_reach", "cam.rise", "cam.tip_radius",
        "foundation.drum_diameter", "foundation.friction", "foundation.cam_distance", "condition.lining_thickness",
        "test.pressure", "measured.arm_angle_applied",
    }  # fmt: skip


def test_a_broken_key_does_not_throw_suspicion_on_its_neighbours() -> None:
    """With the drum's diameter unread, nothing is said of a lining that fits the drum that was meant."""
    body = '[foundation]\ndrum_diameter = "40 inn"\nlining_thickness = "9 in"\n[cam]\ntip_radius = "x"\nheel_radius = "3 in"'
    assert [fault.where for fault in faults_of(head(DRIVE) + body)] == ["cam.tip_radius", "foundation.drum_diameter"]


def test_too_many_faults_are_counted_not_listed() -> None:
    faults = faults_of(head(DRIVE) + "\n".join(f"key{n} = {n}" for n in range(2000)))
    assert len(faults) == 61
    assert "more faults" in faults[-1].problem


@pytest.mark.parametrize(
    "body",
    [
        '[linkage]\npin_reach = "3.1 in"',
        '[linkage]\npin_reach = "400 mm"',
        '[foundation]\nroller_spread = "2 in"',
        '[foundation]\nroller_spread = "150 mm"',
        '[foundation]\nlining_start = "3 deg"',
        "[foundation]\nfriction = 0.9",
        '[condition]\nlining_thickness = "1.5 in"',
        '[condition]\nlining_thickness = "40 mm"',
        '[condition]\nlining_thickness = "0.05 in"',
        '[condition]\nlining_thickness = "1 mm"',
        '[condition]\nfree_stroke = "2.6 in"',
        '[condition]\nfree_stroke = "70 mm"',
        '[condition]\nlining_clearance = "0.5 in"',
        '[condition]\nlining_clearance = "9 mm"',
        '[measured]\nstroke = "70 mm"',
        '[linkage]\narm_length = "55 in"',
        '[measured]\narm_length = "800 mm"',
        '[chamber]\nrated_stroke = "25 in"',
        '[foundation]\nroller_diameter = "2.6 in"',
        '[foundation]\nanchor_spacing = "14 in"',
        '[condition]\ndrum_diameter = "450 mm"',
    ],
)
def test_the_figure_that_a_message_names_works_when_it_is_typed(body: str) -> None:
    with pytest.raises(SetupFileError) as caught:
        read(body)
    (fault,) = caught.value.faults
    possible = fault.possible(caught.value.system)
    assert possible
    for figure in possible.removeprefix("at least ").removeprefix("at most ").split(" to "):
        typed = figure if fault.kind == "number" else f'"{figure}"'
        try:
            read(f"{body.partition('=')[0]}= {typed}")
        except SetupFileError as other:  # what is wrong next is another matter
            assert all((f.where, f.problem) != (fault.where, fault.problem) for f in other.faults)  # noqa: PT017


# --- a file without a base


def test_a_file_without_a_base_is_complete_and_equals_the_built_in() -> None:
    assert replace(read_setup_text(builtin_text(DRIVE), DRIVE), source="") == replace(read_setup(DRIVE), source="")


@pytest.mark.parametrize(
    "key", [f"{section}.{key}" for section, keys in NEEDED.items() for key in keys if key != "effective_area"]
)
def test_without_a_base_each_missing_key_is_named(key: str) -> None:
    section, name = key.split(".")
    lines, here = list[str](), ""
    for line in builtin_text(DRIVE).split("\n"):
        here = line[1:].partition("]")[0] if line.startswith("[") else here
        if not (here == section and line.startswith((f"{name} ", "reservoir_pressure"))):
            lines.append(line)
    found = {fault.where: fault for fault in faults_of("\n".join(lines))}
    assert found[key].problem == "is missing"
    assert f"write {name} = " in found[key].fix


def test_without_a_base_all_missing_keys_are_named_at_once() -> None:
    found = {fault.where for fault in faults_of("schema = 1")}
    needed = {f"{section}.{key}" for section, keys in NEEDED.items() for key in keys} - {"chamber.effective_area"}
    assert found == needed | {"condition.free_stroke"}


def test_an_automatic_adjuster_must_say_what_it_senses() -> None:
    text = re.sub(r"senses = .*", "", builtin_text(DRIVE))
    (fault,) = faults_of(text)
    assert fault.where == "adjuster.senses"
    assert read_setup_text(text.replace('"automatic"', '"manual"'), "x").brake.adjuster.senses is None


# --- what a base lends


def test_the_base_stands_where_the_file_is_silent() -> None:
    setup, base = read('[linkage]\narm_length = "6 in"'), read_setup(DRIVE)
    assert setup.brake.linkage == replace(base.brake.linkage, arm_length=mm("6"))
    assert replace(setup.brake, linkage=base.brake.linkage) == base.brake
    assert (setup.as_found, setup.test, setup.title) == (base.as_found, base.test, base.title)
    assert setup.base == DRIVE
    assert setup.source == "test.toml"


def test_only_what_the_file_wrote_is_stated() -> None:
    setup = read('title = "x"\n[measured]\nstroke = "1 3/4 in"\n[chamber.thrust]\n' + THRUST)
    thrust = {f"chamber.thrust.{key}" for key in ("pressure", "stroke", "force")}
    assert setup.stated == {"schema", "base", "title", "measured.stroke"} | thrust
    assert read("", WORN).measured.stroke is None
    assert "measured.stroke" not in read("", WORN).stated
    assert "measured.stroke" in read_setup(WORN).stated
    assert "linkage.arm_length" not in read_setup(WORN).stated
    assert "linkage.arm_length" in read_setup(DRIVE).stated


def test_a_clearance_displaces_the_base_s_free_stroke_and_back() -> None:
    found = read('[condition]\nlining_clearance = "0.020 in"').as_found
    assert found.free_stroke is None
    assert found.lining_clearance == pytest.approx(0.508)
    assert read('[condition]\nfree_stroke = "1/2 in"').as_found.lining_clearance is None


def test_another_chamber_displaces_stroke_and_area() -> None:
    chamber = read('[chamber]\nsize = "24"').brake.chamber
    assert chamber.rated_stroke == mm("2.25")
    assert chamber.effective_area == pytest.approx(24 * INCH**2)
    assert read('[chamber]\nstyle = "clamp-long-stroke"').brake.chamber.rated_stroke == mm("3")
    own = read('[chamber]\nsize = "24"\nrated_stroke = "2.5 in"\neffective_area = "25 in**2"').brake.chamber
    assert (own.rated_stroke, own.effective_area) == (mm("2.5"), pytest.approx(25 * INCH**2))
    assert read("[chamber]\nsize = 20").brake.chamber.size == "20"
    assert read('[chamber]\nsize = "30"', "trailer-16.5x7").brake.chamber.rated_stroke == mm("3")


def test_a_size_outside_the_tables_is_taken_with_its_stroke_and_area() -> None:
    chamber = read('[chamber]\nsize = "31"\nrated_stroke = "2.5 in"\neffective_area = "31 in**2"').brake.chamber
    assert chamber.size == "31"


def test_another_profile_does_not_trip_over_the_base_s_keys() -> None:
    rise = read('[cam]\nprofile = "constant-rise"\nrise = "0.009 in/deg"').brake.profile
    assert isinstance(rise, ConstantRiseProfile)
    assert rise.rise == pytest.approx(0.009 * INCH * 180 / pi)
    assert (rise.heel_radius, rise.tip_radius) == (mm("0.60"), mm("1.85"))
    rows = '[["0 deg", "0.60 in"], ["45 deg", "1.00 in"], ["90 deg", "1.42 in"], ["140 deg", "1.85 in"]]'
    table = read(f'[cam]\nprofile = "table"\ntable = {rows}').brake.profile
    assert isinstance(table, TableProfile)
    assert table.radii == pytest.approx([0.6 * INCH, 1.0 * INCH, 1.42 * INCH, 1.85 * INCH])


def test_a_manual_adjuster_does_not_inherit_what_an_automatic_one_senses() -> None:
    assert read('[adjuster]\nkind = "manual"').brake.adjuster.senses is None


def test_a_lining_is_bedded_unless_its_arc_is_stated() -> None:
    assert read("").brake.lining.arc_radius is None
    assert read('[foundation]\nlining_arc_radius = "bedded"').brake.lining.arc_radius is None
    assert read('[foundation]\nlining_arc_radius = "8.20 in"').brake.lining.arc_radius == mm("8.20")


def test_a_broken_key_is_not_replaced_by_its_base_s_value_in_silence() -> None:
    assert [fault.where for fault in faults_of(head(DRIVE) + "[linkage]\narm_length = 5.5")] == ["linkage.arm_length"]


# --- values


def test_defaults_hold_where_neither_file_nor_base_says_anything() -> None:
    setup = read("")
    assert setup.test.rules == ("us", "common")
    assert setup.test.procedure == "roadside"
    assert setup.test.pressure_resolution == pytest.approx(PSI)
    assert setup.measured.resolution == INCH / 16
    assert setup.measured.angle_resolution == pi / 180
    assert setup.as_found.lining_resolution == INCH / 32
    assert setup.as_found.drum_resolution == pytest.approx(0.127)
    assert setup.brake.adjuster.worm_turns == 22
    assert setup.brake.drum_rotation == "counter-clockwise"
    assert setup.measured.stroke is None
    assert (setup.lining_attachment, setup.lining_pads) == (None, None)


def test_every_optional_key_arrives() -> None:
    setup = read(OPTIONAL)
    assert setup.brake.chamber.return_spring_preload == pytest.approx(40 * 4.4482216152605)
    assert setup.brake.drum_rotation == "clockwise"
    assert setup.brake.drum.limit == mm("16.62")
    assert setup.brake.drum.expansion == pytest.approx(6.0e-6 * 1.8)
    assert (setup.lining_attachment, setup.lining_pads) == ("riveted", 2)
    assert setup.brake.adjuster.worm_turns == 20
    assert setup.test.rules == ("us", "quebec", "army", "australia", "common")
    assert setup.test.procedure == "annual"
    assert setup.measured.long_stroke_marks is False
    assert setup.arm_holes == (mm("5"), mm("5.5"), mm("6"))
    assert setup.clevis == Clevis(mm("9/8"), mm("2"), mm("3"), mm("8"))
    assert setup.parking is not None
    assert setup.parking.spring_force == pytest.approx(1900 * 4.4482216152605)
    assert setup.parking.spring_rate == pytest.approx(300 * 4.4482216152605 / INCH)
    assert setup.parking.spring_area == pytest.approx(32 * INCH**2)
    assert setup.parking.vehicle == "trailer"
    assert degrees(setup.measured.angle_resolution) == pytest.approx(0.5)
    assert all(getattr(setup.measured, field.name) is not None for field in fields(setup.measured))


THRUST = """
pressure = "100 psi"
stroke = ["0 in", "1.0 in", "2.0 in"]
force = ["2970 lbf", "2955 lbf", "2740 lbf"]
"""
OPTIONAL = f"""
title = "Every key"
[chamber]
marked_limit = "2 in"
return_spring_preload = "40 lbf"
return_spring_rate = "10 lbf/in"
[linkage]
arm_holes = ["6 in", "5 in", "5 1/2 in", "5.5 in"]
[clevis]
pin_to_inside = "1 1/8 in"
pin_to_end = "2 in"
rod_thread = "3 in"
rod_reach = "8 in"
[foundation]
drum_rotation = "clockwise"
drum_limit = "16.62 in"
drum_expansion = "6.0e-6 1/degF"
return_spring_force = "200 lbf"
return_spring_rate = "50 lbf/in"
lining_attachment = "riveted"
lining_pads = 2
[adjuster]
worm_turns = 20
state = "stuck"
deadband = "1/16 in"
step = "0.5 deg"
interval = "1/64 in"
slip = 0.5
[parking]
fitted = true
spring_force = "1900 lbf"
spring_rate = "300 lbf/in"
spring_area = "32 in**2"
vehicle = "trailer"
[condition]
lining_resolution = "1/64 in"
drum_resolution = "0.002 in"
[test]
procedure = "annual"
rules = ["us", "quebec", "army", "australia", "common"]
pressure_resolution = "2 psi"
[measured]
stroke = "1 3/4 in"
arm_angle_released = "107 deg"
arm_angle_applied = "91 deg"
arm_length = "5.5 in"
pin_reach = "6.0 in"
clamp_diameter = "8 3/32 in"
long_stroke_marks = false
resolution = "1/32 in"
angle_resolution = "0.5 deg"
[chamber.thrust]
{THRUST}
"""


def test_a_measured_thrust_gives_back_its_forces() -> None:
    from geometry.chamber import chamber_force

    chamber = read(f"[chamber.thrust]\n{THRUST}").brake.chamber
    forces = chamber_force(chamber, [0.0, 1.0 * INCH, 2.0 * INCH], 100 * PSI) / 4.4482216152605
    assert forces == pytest.approx([2970, 2955, 2740])
    assert chamber.thrust is not None
    assert (chamber.thrust.strokes[-1], chamber.thrust.shares[-1]) == (1.0, 0.0)


def test_a_thrust_that_reaches_the_rated_stroke_ends_there() -> None:
    body = '[chamber.thrust]\npressure = "100 psi"\nstroke = ["0 mm", "50 mm", "63.5 mm"]\nforce = ["13 kN", "12 kN", "0 N"]'
    thrust = read(body).brake.chamber.thrust
    assert thrust is not None
    assert len(thrust.strokes) == 3
    assert thrust.shares[-1] == 0


def test_the_same_brake_typed_in_millimetres_is_the_same_brake() -> None:
    def metric(match: re.Match[str]) -> str:
        return f'"{float(match[1]) * 25.4:.6g} mm"'

    setup = read_setup_text(re.sub(r'"([0-9.]+) in"', metric, builtin_text(DRIVE)), DRIVE)
    inch = read_setup(DRIVE)
    assert (setup.brake, setup.as_found, setup.measured) == (inch.brake, inch.as_found, inch.measured)
    assert (setup.system, inch.system) == ("metric", "inch")


@pytest.mark.parametrize(
    ("body", "system"),
    [
        ("", "inch"),
        ('[measured]\nstroke = "44 mm"', "metric"),
        ('[measured]\nstroke = "44 mm"\narm_length = "5.5 in"', "inch"),
        ('[measured]\nstroke = "44 mm"\narm_length = "140 mm"\npin_reach = "6 in"', "metric"),
        ('[test]\npressure = "650 kPa"', "inch"),
    ],
)
def test_the_system_is_that_of_most_lengths_in_the_file(body: str, system: str) -> None:
    assert read(body).system == system


def test_a_refusal_speaks_the_units_of_the_file() -> None:
    with pytest.raises(SetupFileError) as caught:
        read('[linkage]\npin_reach = "80 mm"')
    assert "linkage.pin_reach = 80 mm: the pushrod cannot meet the arm (short by 10.0 mm)" in str(caught.value)
    with pytest.raises(SetupFileError, match=re.escape("short by 0.444 in")):
        read('[linkage]\npin_reach = "3.1 in"')


def test_a_file_without_title_or_base_is_called_by_its_name() -> None:
    untitled = builtin_text(DRIVE).replace('title = "Drive axle, 16.5 x 7"', "")
    assert read_setup_text(untitled, "yard/axle 2.toml").title == "axle 2"


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "axle.toml"
    path.write_bytes(b"\xef\xbb\xbf" + builtin_text(DRIVE).replace("\n", "\r\n").encode())
    assert read_setup(path).brake == read_setup(DRIVE).brake


# --- files


def refusal(path: str | Path) -> str:
    with pytest.raises(SetupError) as caught:
        read_setup(path)
    return str(caught.value)


def test_a_file_that_cannot_be_read_says_why(tmp_path: Path) -> None:
    latin, wide, large = tmp_path / "latin.toml", tmp_path / "wide.toml", tmp_path / "large.toml"
    latin.write_bytes(b'schema = 1\ntitle = "\xe9"\n')
    wide.write_bytes("schema = 1\n".encode("utf-16"))
    large.write_bytes(b"#" * 200_000)
    assert "is a directory" in refusal(tmp_path)
    assert "is not UTF-8 text (line 2); save it as UTF-8" in refusal(latin)
    assert "UTF-16; save it as UTF-8" in refusal(wide)
    assert "more than 100,000 bytes" in refusal(large)
    assert "not a file" in refusal("/dev/null")
    assert "neither a file nor a built-in setup" in refusal(tmp_path / "none.toml")
    assert "neither a file nor a built-in setup" in refusal("a" * 5000)
    assert "neither a file nor a built-in setup" in refusal("a\0b")


def test_a_misspelt_name_is_told_the_nearest() -> None:
    assert f"use {DRIVE}" in refusal("drive-16x7")
    assert all(name in refusal("zzzz") for name in builtin_names())
    with pytest.raises(SetupError, match="no built-in setup"):
        builtin_text("zzzz")


# --- the built-in setups


@pytest.mark.parametrize("name", HEALTHY)
def test_a_built_in_closes_and_stands_square_when_applied(name: str) -> None:
    setup = read_setup(name)
    released, contact, applied = events(setup.brake, condition_of(setup), setup.test.pressure)
    assert {state.reason for state in (released, contact, applied)} == {Reason.EXISTS}
    assert contact.stroke == pytest.approx(setup.as_found.free_stroke)
    assert applied.stroke is not None
    assert released.arm_angle is not None
    assert applied.arm_angle is not None
    assert 1.2 <= applied.stroke / INCH <= 1.55
    assert degrees(released.arm_angle) > 100
    assert degrees(applied.arm_angle) == pytest.approx(90, abs=2)


def test_the_drive_axle_is_the_one_the_tests_share() -> None:
    brake = read_setup(DRIVE).brake
    for part in ("linkage", "lining", "drum", "profile"):
        ours, shared = getattr(brake, part), getattr(BRAKE, part)
        figures = [f.name for f in fields(ours) if isinstance(getattr(ours, f.name), float)]
        assert [getattr(ours, f) for f in figures] == pytest.approx([getattr(shared, f) for f in figures], rel=1e-14)


def test_the_steering_brake_is_the_drive_brake_scaled_to_its_drum() -> None:
    drive, steer = read_setup(DRIVE).brake, read_setup("steer-15x4").brake
    assert steer.axle == "steering"
    for name in ("cam_distance", "anchor_distance", "anchor_spacing", "roller_diameter", "roller_spread"):
        assert getattr(steer.shoe, name) / getattr(drive.shoe, name) == pytest.approx(15 / 16.5, rel=0.01)


def test_the_trailer_has_the_drive_axle_s_foundation() -> None:
    drive, trailer = read_setup(DRIVE).brake, read_setup("trailer-16.5x7").brake
    assert (trailer.shoe, trailer.lining, trailer.profile) == (drive.shoe, drive.lining, drive.profile)
    assert trailer.chamber.rated_stroke == mm("3")


def test_the_worn_brake_was_measured_as_it_solves() -> None:
    setup = read_setup(WORN)
    released, _, applied = events(setup.brake, condition_of(setup), setup.test.pressure)
    measured = setup.measured
    assert applied.stroke is not None
    assert released.arm_angle is not None
    assert applied.arm_angle is not None
    assert measured.stroke == pytest.approx(applied.stroke, abs=measured.resolution)
    assert measured.arm_angle_released == pytest.approx(released.arm_angle, abs=measured.angle_resolution)
    assert measured.arm_angle_applied == pytest.approx(applied.arm_angle, abs=measured.angle_resolution)
    assert measured.stroke > 2.0 * INCH


@pytest.mark.parametrize("name", builtin_names())
def test_a_built_in_says_that_its_figures_are_our_own(name: str) -> None:
    top = " ".join(line for line in builtin_text(name).split("\n") if line.startswith("#"))
    assert "not any maker's" in top
    assert tomllib.loads(builtin_text(name))["schema"] == 1


def test_every_known_key_can_be_written() -> None:
    """The keys of the built-in files and of this test's own together are all that there are but the cam's others."""
    written_keys = set(read_setup(DRIVE).stated) | set(read(OPTIONAL).stated)
    known = {f"{s}.{k}" if s else k for s, keys in known_keys().items() for k in keys}
    others = {
        "cam.rise",
        "cam.table",
        "chamber.diaphragm_diameter",
        "chamber.effective_area",
        "chamber.plate_diameter",
        "condition.lining_clearance",
        "condition.slack_temperature",
        "foundation.lining_arc_radius",
    }
    assert known - set(known_keys()) - written_keys - {"chamber.thrust"} == others


@pytest.mark.parametrize("typed", ["30", "T30", "t30", "type 30", "TYPE30", "T-30", "#30", "No. 30", "030"])
def test_a_size_is_read_as_people_write_it(typed: str) -> None:
    assert read(f'[chamber]\nsize = "{typed}"').brake.chamber.size == "30"


def test_thousandths_of_an_inch_are_a_unit() -> None:
    assert read('[condition]\nlining_clearance = "20 thou"').as_found.lining_clearance == pytest.approx(0.508)
    assert read('[condition]\nlining_clearance = "20 mil"').as_found.lining_clearance == pytest.approx(0.508)


def test_measured_lengths_are_solved_with_whatever_is_nominal() -> None:
    setup = read('[linkage]\npin_reach = "6 in"\n[measured]\npin_reach = "7 in"')
    assert setup.brake.linkage.pin_reach == pytest.approx(7 * 25.4)
    assert setup.nominal == {"linkage.pin_reach": pytest.approx(6 * 25.4)}


def test_reading_changes_nothing_that_is_shared() -> None:
    before = read_setup(DRIVE)
    read('[linkage]\narm_length = "6 in"\n[condition]\nlining_clearance = "0.02 in"')
    assert read_setup(DRIVE) == before


def test_the_complete_file_helper_changes_what_it_says() -> None:
    assert read_setup_text(complete(linkage__pin_reach='"6.1 in"'), "x").brake.linkage.pin_reach == mm("6.1")


@pytest.mark.parametrize("slack", ["", 'free_stroke = "0.5 in"\n', 'lining_clearance = "0.02 in"\n'])
def test_a_drum_that_is_too_hot_is_said_once_and_of_itself(slack: str) -> None:
    body = f'schema = 1\nbase = "drive-16.5x7"\n[condition]\ndrum_temperature = "3000 degF"\n{slack}'
    with pytest.raises(SetupFileError) as caught:
        read_setup_text(body, "test")
    assert [fault.where for fault in caught.value.faults] == ["condition.drum_temperature"]
    with pytest.raises(SetupFileError) as both:
        read_setup_text(body + 'slack_temperature = "3000 degF"\n', "test")
    found = {fault.where for fault in both.value.faults}
    assert {"condition.drum_temperature", "condition.slack_temperature"} <= found


@pytest.mark.parametrize(("typed", "answer"), [("1200 degC", "1150 degC"), ("2500 degF", "2102 degF")])
@pytest.mark.parametrize("length", ["0.5 in", "12 mm"])
def test_a_temperature_is_answered_in_the_unit_that_was_typed(typed: str, answer: str, length: str) -> None:
    body = f'schema = 1\nbase = "drive-16.5x7"\n[condition]\ndrum_temperature = "{typed}"\nfree_stroke = "{length}"\n'
    with pytest.raises(SetupFileError, match=f"use at most {answer}"):
        read_setup_text(body, "test")


def test_what_is_said_to_fit_a_cam_is_not_refused_again() -> None:
    body = head(DRIVE) + '[cam]\nheel_radius = "0.6 in"\ntip_radius = "{} in"\n'
    with pytest.raises(SetupFileError) as caught:
        read_setup_text(body.format("0.5"), "test")
    found = re.search(r"use at least ([\d.]+) in", str(caught.value))
    assert found
    read_setup_text(body.format(found[1]), "test", judging=True)


@pytest.mark.parametrize(("typed", "answer"), [("419 in", "393.700 in"), ("16000 mm", "10000.0 mm")])
def test_a_length_is_answered_in_the_unit_that_was_typed(typed: str, answer: str) -> None:
    for other in ("in", "mm"):
        lengths = f'cam_distance = "{160 if other == "mm" else 6.3} {other}"\n'
        lengths += f'roller_diameter = "{40 if other == "mm" else 1.6} {other}"\n'
        body = head(DRIVE) + f'[foundation]\ndrum_diameter = "{typed}"\n{lengths}'
        with pytest.raises(SetupFileError, match=f"use at most {answer}"):
            read_setup_text(body, "test")
