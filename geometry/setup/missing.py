"""Which keys a setup needs, its base included, and how each is written."""

from functools import cache

from geometry.errors import Fault
from geometry.setup.builtin import builtin_names, builtin_text
from geometry.setup.merge import OF_THE_CHAMBER, PLAY, PROFILE_KEYS
from geometry.setup.sheet import Sheet, Values, read_sheet
from geometry.setup.text import read_toml
from geometry.setup.words import file_fault
from geometry.tables import sizes, stroke_limit
from geometry.tables.chambers import USUAL_SHARE

EXAMPLE_SETUP = "drive-16.5x7"

NEEDED: dict[str, tuple[str, ...]] = {
    "chamber": ("style", "size", "rated_stroke", "effective_area"),
    "linkage": ("arm_length", "axis_offset", "face_distance", "pivot_depth", "pin_reach"),
    "cam": ("profile",),
    "foundation": (
        "drum_diameter",
        "cam_distance",
        "anchor_distance",
        "anchor_spacing",
        "roller_diameter",
        "roller_spread",
        "roller_distance",
        "lining_thickness",
        "lining_start",
        "lining_end",
        "lining_width",
        "friction",
        "efficiency",
        "windup_stiffness",
        "axle",
    ),
    "adjuster": ("kind",),
    "condition": ("lining_thickness", "drum_diameter", "drum_temperature"),
    "test": ("pressure",),
}
AREA = "chamber.effective_area"
_OR_MEASURE = ", or diaphragm_diameter and plate_diameter"
_THRUST = ("pressure", "stroke", "force")
_OTHER_EXAMPLES = {
    "cam.rise": '"0.009 in/deg"',
    "cam.table": '[["0 deg", "0.60 in"], ["70 deg", "1.20 in"], ["140 deg", "1.85 in"]]',
    "chamber.effective_area": '"30 in**2"',
    "chamber.thrust.pressure": '"100 psi"',
    "chamber.thrust.stroke": '["0 in", "1.5 in", "2.5 in"]',
    "chamber.thrust.force": '["2970 lbf", "2900 lbf", "0 lbf"]',
}


def needed_keys(values: Values) -> list[str]:
    """Return the dotted keys that this setup needs; some depend on the values of others."""
    keys = [f"{section}.{key}" for section, names in NEEDED.items() for key in names]
    keys += [f"cam.{key}" for key in PROFILE_KEYS.get(values.get("cam.profile", ""), ())]
    if values.get("adjuster.kind") == "automatic":
        keys.append("adjuster.senses")
    if any(key.startswith("chamber.thrust") for key in values):
        keys += [f"chamber.thrust.{key}" for key in _THRUST]
    return keys


def missing_faults(own: Sheet, values: Values) -> list[Fault]:
    """Return a fault for each needed key that neither the file nor its base has."""
    lacking = [key for key in needed_keys(values) if key not in values and not own.is_broken(key)]
    if not {"chamber.style", "chamber.size"} <= values.keys() and "chamber.effective_area" in lacking:
        lacking.remove("chamber.effective_area")  # the tables will know it
    found = [_missing(key, values) for key in lacking]
    if not any(key in values or own.is_broken(key) for key in PLAY):
        fix = 'write free_stroke = "0.55 in", or lining_clearance = "0.020 in", or name a base that has it'
        found.append(file_fault(PLAY[0], "is missing", fix))
    return found


def _missing(key: str, values: Values) -> Fault:
    name = key.rpartition(".")[2]
    fix = f"write {name} = {_example(key)}"
    if key in OF_THE_CHAMBER:
        fix = _of_the_chamber(key, values)
    if not key.startswith("chamber.thrust"):
        fix += ", or name a base that has it"
    if key in OF_THE_CHAMBER and {"chamber.style", "chamber.size"} <= values.keys():
        return _not_in_the_tables(key, values["chamber.style"], values["chamber.size"], fix)
    return file_fault(key, "is missing", fix)


def _of_the_chamber(key: str, values: Values) -> str:
    """How to come by a figure of the chamber: its stroke is marked on it, its area goes with its size."""
    size = values.get("chamber.size", "")
    if key == AREA:
        usual = ", which is what a size in figures stands for" if size.isdigit() else ", as its maker states it"
        return f'write effective_area = "{size if size.isdigit() else 30} in**2"{usual}'
    listed = stroke_limit(values["chamber.style"], size) if size and "chamber.style" in values else None
    example = "2 1/2" if listed is None else f"{float(listed.limit_in / USUAL_SHARE):g}"
    return f'read it on the chamber, and write rated_stroke = "{example} in"'


def _not_in_the_tables(key: str, style: str, size: str, fix: str) -> Fault:
    """A stroke or an area that the published tables would have given for another size."""
    listed = sizes(style)
    if size in listed:
        return file_fault(key, "is missing", fix)
    if not size.isdigit() and style != "bolt":
        return file_fault(
            key, f"is missing, and no {style} has a letter for its size", 'write style = "bolt" if it is one'
        )
    return file_fault(
        key,
        f"is missing, and {style} {size} is not in the published tables",
        f"{fix}{_OR_MEASURE if key == AREA else ''}, or write one of the sizes {', '.join(listed)}",
    )


@cache
def _typed_examples() -> dict[str, object]:
    return dict(read_sheet(read_toml(builtin_text(EXAMPLE_SETUP))).typed) if EXAMPLE_SETUP in builtin_names() else {}


def _example(key: str) -> str:
    typed = _typed_examples().get(key)
    if typed is None:
        return _OTHER_EXAMPLES.get(key, '"..."')
    return f'"{typed}"' if isinstance(typed, str) else str(typed)
