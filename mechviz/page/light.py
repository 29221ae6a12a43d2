"""What moves another brake at once in a page that stands already: a light answer, before the whole page is made anew.

It has the shape of a defect's patch (`defects.py`): links of the table, motion, facts and the outlines that differ. The
names beside the parts and the solids stay those of the page that stands.
"""

from functools import cached_property
from typing import Any

from geometry.found import condition_of
from geometry.outlines import Outline
from geometry.outlines.all_parts import arm_bodies, wheel_outlines
from geometry.setup import Setup
from mechviz.drawing.layout import Layout, layout
from mechviz.drawing.scene import Scene, scene_at
from mechviz.page.defects import FRAMES, moved_layout, part_paths
from mechviz.page.facts import brake_facts
from mechviz.page.motion import motion_data
from mechviz.page.picture import CHAMBER, hull_of
from mechviz.page.table import page_table


class Standing:
    """The brake of a page that stands: what another brake's light answer is held against."""

    def __init__(self, setup: Setup) -> None:
        self.setup = setup

    @cached_property
    def _scene(self) -> Scene:
        return scene_at(self.setup, condition_of(self.setup), "released")

    @cached_property
    def _where(self) -> Layout:
        return layout(self.setup.brake, self._scene.outlines)

    def _outlines(self, setup: Setup) -> tuple[Outline, ...]:
        """The other brake's parts; a plane that looks the same is not drawn anew, and what deforms not at all."""
        brake, was, condition = setup.brake, self.setup.brake, condition_of(setup)
        wheel = tuple(o for o in self._scene.outlines if o.plane == "wheel")
        formed, before = ((b.profile, b.shoe, b.lining, b.drum) for b in (brake, was))
        worn, then = (one.as_found.drum_diameter for one in (setup, self.setup))
        if formed != before or worn != then:
            wheel = wheel_outlines(brake, condition)
        return (*wheel, *arm_bodies(brake, setup.parking is not None))

    @cached_property
    def _paths(self) -> dict[str, str]:
        return part_paths(self._scene.outlines)

    def patch(self, setup: Setup) -> dict[str, Any]:
        """Return what differs of another brake. Raises `AssemblyError` where it cannot be put together."""
        brake, was, condition = setup.brake, self.setup.brake, condition_of(setup)
        outlines = self._outlines(setup)
        where = moved_layout(self._where, brake, outlines)
        facts = brake_facts(setup) | {"layout": where.data()}
        paths = {name: path for name, path in part_paths(outlines).items() if path != self._paths.get(name)}
        found: dict[str, Any] = {"table": page_table(brake, condition, setup.test.pressure), "shapes": paths}
        if brake.chamber != was.chamber:
            facts |= {"chamberHull": hull_of([o for o in outlines if o.name in CHAMBER])}
        same = (brake.chamber, brake.profile, brake.shoe) == (was.chamber, was.profile, was.shoe)
        return found | {"facts": facts} | ({} if same else {"motion": motion_data(brake, FRAMES)})
