"""Sizes that no setup states, as shares of sizes that it does."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Proportions:
    """What the parts look like where nothing in the solution depends on it.

    The shares are the project's own for a plausible brake, not any maker's. The solver never reads them; a finding of
    `geometry.interference` rests on them and says so.
    """

    # of the new drum's radius
    drum_wall: float = 0.075
    spindle: float = 0.27
    spindle_wall: float = 0.035
    hub: float = 0.40
    anchor_pin: float = 0.070
    anchor_boss: float = 0.118
    web_depth: float = 0.25
    platform: float = 0.030
    # of the roller's radius
    fork: float = 0.74
    journal: float = 0.42
    cam_clearance: float = 0.10
    nest_clearance: float = 0.01
    # of the cam's tip radius
    nose: float = 0.17
    # of the arm's length
    camshaft: float = 0.11
    adjuster_boss: float = 0.235
    adjuster_neck: float = 0.21
    adjuster_end: float = 0.078
    worm: float = 0.088
    clevis_pin: float = 0.036
    clevis_reach: float = 0.37
    rod: float = 0.057
    bracket_plate: float = 0.07
    # of the chamber's outside radius
    sheet: float = 0.90
    shell: float = 0.030
    rod_opening: float = 0.25
    floor: float = 0.77
    stud_spread: float = 0.587
    plate: float = 0.045
    # of the chamber's rated stroke
    spring_solid: float = 0.16
    # lengths (mm) and angles (rad) that do not scale
    hole_spacing: float = 12.7
    platform_overhang: float = 0.07


PROPORTIONS = Proportions()
