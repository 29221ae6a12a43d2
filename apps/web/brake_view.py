"""The moving picture of a setup inside a desk."""

from typing import Any, ClassVar

import param
from panel.custom import JSComponent

from apps.web.assets import script, sheets
from apps.web.brakes import Brakes
from apps.web.making import Extent
from apps.web.session import Session


class MovingPicture(JSComponent):
    """A brake, or a lesson, that moves in the browser by the page's own script.

    The browser fetches its data by ``source``; ``look`` is how it is looked at, as the page without a server would
    write it into its address.
    """

    source = param.String(doc="Where the data are; empty where there is no brake to be seen.")
    message = param.String(doc="Why there is none.")
    look = param.String(doc="How it is looked at.")
    loaded = param.String(doc="The source of the brake that is drawn now, told by the script.")
    whole_keyboard = param.Boolean(default=False, doc="Whether its keys work wherever the focus is.")

    shown = param.String(doc="The source that is seen.")
    failed = param.String(doc="The source that could not be shown.")
    failure = param.List(default=[], item_type=str, doc="What was wrong with it.")

    _esm = script("brake.js")
    _stylesheets: ClassVar[list[str]] = sheets("controls.css", "brake.css")


class BrakeView(MovingPicture):
    """A session's brake, pressed by hand, with all that the page without a server can show."""

    def __init__(self, session: Session, brakes: Brakes, extent: Extent = "whole", **given: Any) -> None:
        super().__init__(sizing_mode="stretch_width", look=session.kept("look") or "", **given)
        self._session, self._brakes = session, brakes
        self._extent: Extent = extent
        session.draft.param.watch(self._follow, "text")
        self.param.watch(self._keep, "look")
        self._follow()

    def _keep(self, _: object) -> None:
        self._session.keep(look=self.look or None)

    def _follow(self, _: object = None) -> None:
        """Show the draft's brake; one that cannot be solved says why, each fault on a line."""
        draft = self._session.draft
        if draft.setup is None or draft.faults:
            faults = "\n".join(fault.text(draft.system) for fault in draft.faults)
            self.param.update(source="", message=f"This brake cannot be shown:\n{faults}")
        else:
            self.param.update(source=f"made/{self._brakes.name(draft.text, self._extent)}.json", message="")
