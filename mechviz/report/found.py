"""How the brake was found, in a line or two: what the file itself says apart from what it took from its base."""

from geometry.chamber import Chamber
from geometry.quantity import System
from geometry.setup import Setup
from geometry.setup.merge import PROFILE_KEYS, STANDS_FOR
from mechviz.checks.case import Case
from mechviz.checks.proof import chamber_name
from mechviz.checks.train import TRAIN
from mechviz.report.written import both, gap_text, taped

UNSAID = ("linkage.face_distance", "cam.profile", "adjuster.kind")
"""What has no figure to tell where the file states it, and is told where it does not."""


def found_lines(setup: Setup, system: System) -> list[str]:
    """Return the lines that stand under the title: the setup's name, what was found, and what was only assumed."""
    figures = _figures(setup, system)
    read = [words for key, words in figures.items() if _stated(setup, key) and key not in UNSAID]
    assumed = [words for key, words in figures.items() if not _stated(setup, key)]
    lines = [f"Setup: {setup.source}" + (f" (based on {setup.base})" if setup.base else "")]
    lines += [f"As found: {', '.join(read)}."] if read else []
    return lines + ([f"Assumed, not in the file: {', '.join(assumed)}."] if assumed else [])


def _stated(setup: Setup, key: str) -> bool:
    if key == "chamber.size":  # its clamp ring and marks say it as well
        return {"chamber.style", "chamber.size"} <= setup.stated or Case(setup, ()).knows_chamber
    if key == "cam.profile":
        return not _of_the_base(setup)
    return key in setup.stated or STANDS_FOR.get(key) in setup.stated


def _chamber(chamber: Chamber) -> str:
    name = chamber_name(chamber.style, chamber.size)
    return name if name.endswith("chamber") else f"{name} chamber"


def _of_the_base(setup: Setup) -> str:
    """What of cam, rollers, shoes and wind-up the file does not say, in words; nothing where it says it all."""
    own_cam = any(all(f"cam.{key}" in setup.stated for key in keys) for keys in PROFILE_KEYS.values())
    own_train = all(f"foundation.{key}" in setup.stated for key in TRAIN)
    parts = [] if own_cam else ["cam"]
    parts += [] if own_train else ["rollers", "shoes"]
    parts += [] if "foundation.windup_stiffness" in setup.stated else ["wind-up"]
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)


def _figures(setup: Setup, system: System) -> dict[str, str]:
    found, chamber = setup.as_found, setup.brake.chamber
    words = {
        "chamber.size": _chamber(chamber),
        "linkage.arm_length": f"arm {taped(setup.brake.linkage.arm_length, system)}",
        "linkage.pin_reach": f"pin reach {taped(setup.brake.linkage.pin_reach, system)}",
        "condition.lining_thickness": f"lining {taped(found.lining_thickness, system)}",
        "condition.drum_diameter": f"drum {both(found.drum_diameter, 'length', system)}",
    }
    if found.free_stroke is not None:
        words["condition.free_stroke"] = f"free stroke {taped(found.free_stroke, system)}"
    if found.lining_clearance is not None:
        words["condition.lining_clearance"] = f"lining clearance {gap_text(found.lining_clearance, system)}"
    words["linkage.face_distance"] = "where the chamber sits"
    words["cam.profile"] = _of_the_base(setup)
    words["adjuster.kind"] = f"{setup.brake.adjuster.kind} adjuster"
    words["condition.drum_temperature"] = f"drum at {both(found.drum_temperature, 'temperature', system)}"
    words["test.pressure"] = f"chamber pressure {both(setup.test.pressure, 'pressure', system)}"
    return words
