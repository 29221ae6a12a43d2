"""A file to start from: a built-in setup as base, its figures ready to be written over, none of them a reading."""

import re

from geometry.setup.builtin import builtin_text

HEAD = """# Based on {name}: what stays behind a # is taken from there, and counts as assumed.
# Take the # away from what you have read or measured on this vehicle, and write what you found.
schema = 1
title = "My brake"
base = "{name}"
"""
_KEY = re.compile(r"^(?=[A-Za-z_]+ *=)", re.MULTILINE)
_MEASURED = """
[measured]                     # read on the vehicle, any of these
# stroke = "1 3/4 in"
# arm_angle_released = "107 deg"
# arm_angle_applied = "91 deg"
# arm_length = "5 1/2 in"
# pin_reach = "6 in"
# clamp_diameter = "8 3/32 in"
# long_stroke_marks = false
# resolution = "1/16 in"       # how finely the tape was read
"""


def starter(name: str) -> str:
    """Return the text of a file to start from. Raises `SetupError` for a name that there is not."""
    text = builtin_text(name)
    body = text[text.index("\n[") :]
    written = HEAD.format(name=name) + _KEY.sub("# ", body).rstrip() + "\n"
    return written if "[measured]" in written else written + _MEASURED
