"""Which parts of the solid brake are named in a picture, in the order in which they look for a place."""

from mechviz.drawing.names import Labels, Name

FEW = (
    Name("S-cam", "turn", ("s_cam",)),
    Name("slack adjuster", "turn", ("slack_adjuster",)),
    Name("camshaft", "turn", ("camshaft", "camshaft_end")),
    Name("pushrod", "push", ("pushrod",)),
    Name("chamber", "hold", ("chamber_pressure", "chamber_non_pressure")),
    Name("roller", "spread", ("roller_left", "roller_right")),
    Name("shoe", "spread", ("shoe_left_web", "shoe_right_web", "shoe_left_platform", "shoe_right_platform")),
    Name("lining", "rub", ("lining_left", "lining_right")),
    Name("diaphragm", "push", ("diaphragm",)),
    Name("parking section", "hold", ("parking_housing",)),
    Name("drum", "hold", ("drum",)),
    Name("anchor pin", "hold", ("anchor_pin_left", "anchor_pin_right", "anchor_pin_shared")),
    Name("return spring", "hold", ("shoe_return_spring",)),
)
"""What moves and what is talked about."""

MORE = (
    Name("clevis", "push", ("clevis",)),
    Name("clevis pin", "push", ("clevis_pin",)),
    Name("push plate", "push", ("push_plate",)),
    Name("return spring", "hold", ("chamber_return_spring",)),
    Name("power spring: never open", "hold", ("power_spring",)),
    Name("camshaft tube", "hold", ("shaft_tube",)),
    Name("spider", "hold", ("spider",)),
    Name("bracket", "hold", ("bracket",)),
    Name("clamp ring", "hold", ("clamp_ring",)),
    Name("axle", "hold", ("axle_tube", "spindle")),
    Name("hub", "hold", ("hub",)),
    Name("air port", "push", ("air_port",)),
    Name("wheel", "hold", ("wheel",)),
)
"""The rest."""

OUTSIDE = (
    Name("pushrod", "push", ("pushrod",)),
    Name("slack adjuster", "turn", ("slack_adjuster",)),
    Name("chamber", "hold", ("chamber_pressure", "chamber_non_pressure")),
    Name("wheel", "hold", ("wheel",)),
)
"""What is named of a brake with its wheel on."""


def names(labels: Labels) -> tuple[Name, ...]:
    """Return what is named."""
    return {"none": (), "few": FEW, "all": (*FEW, *MORE)}[labels]
