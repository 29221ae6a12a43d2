"""What an inspector looks for on each part: common practice of the trade, no single source."""

LOOK_FOR = {
    "wheel": "Cracks, loose or missing nuts, oil run down its inside; and past it the linings, as far as they show.",
    "drum": "Cracks on the friction surface or the outside, heat spots, a diameter over the figure cast on it, oil.",
    "hub": "Oil or grease past the seal: it soaks the linings.",
    "spindle": "",
    "axle_tube": "Bracket and spider seats without cracks in their welds.",
    "spider": "Cracks round the anchor pins and the bolts; bolts loose or missing.",
    "anchor_pin": "Seized in the shoe: it stays open, or stays in. A flat spot or play when the shoe is levered.",
    "shoe_web": "Bent or cracked webs, an oval hole at the anchor pin, a worn seat of the roller.",
    "shoe_platform": "A platform bent up at its ends or rusted between it and the lining.",
    "lining": "Thickness at the middle against the limit of the rule in force, cracks, loose blocks, oil, glaze.",
    "rivets": "Heads that reach the drum: the lining is worn out there. Loose or missing rivets.",
    "shoe_return_spring": "Broken, stretched or unhooked: the shoes then drag and the rollers leave the cam.",
    "s_cam": "Worn, cracked or flat spots on the profile; rollers that come near the tip: the cam may turn over.",
    "roller": "Flat spots, seized on its journal: it then scrubs on the cam.",
    "camshaft": "Play in its bushings: move the shaft up and down by hand.",
    "camshaft_end": "Play between splines and adjuster; the lock ring in its place.",
    "shaft_tube": "Tube bent or its bushings worn: the cam then tilts.",
    "slack_adjuster": "Applied stroke and arm angle; the same make and length on both ends of the axle; no play.",
    "clevis": "At least 1/2 in of thread in it, the jam nut tight, the pin's holes not worn oval.",
    "clevis_pin": "Worn thin, seized, or its split pin missing.",
    "pushrod": "Stroke against its limit for this chamber; straight, and not rubbing on the chamber's opening.",
    "push_plate": "",
    "diaphragm": "Air leaking with the brake pressed: listen at the clamp ring and at the rod's opening.",
    "chamber_return_spring": "A rod that does not come all the way back.",
    "chamber_non_pressure": "Cracks round the studs, rust-through; drain holes open at the bottom.",
    "chamber_pressure": "Dents, cracks, a hose that chafes; the size marked on it the same on both ends of the axle.",
    "clamp_ring": "Its outside diameter tells the chamber's size; bolts tight, ring not rusted through.",
    "air_port": "Hose cracked, chafed or leaking at its end.",
    "studs": "Nuts tight: a loose chamber takes stroke.",
    "bracket": "Cracks and loose bolts: it bends and takes stroke.",
    "parking_housing": "Cracks, dents, rust: keep clear, never open or strike it. It holds a spring that can kill.",
    "parking_plate": "",
    "parking_diaphragm": "Air leaking with the parking brake released.",
    "power_spring": "A broken spring shows only as a parking brake that does not hold. Never look for it inside.",
}
"""By a part's name without its side; empty for a part of which nothing is to be looked for."""


def look_for(name: str) -> str:
    """Return what to look for on a part. Raises KeyError for a name that is not listed."""
    for side in ("left", "right", "shared"):
        name = name.replace(f"_{side}", "")
    return LOOK_FOR[name]
