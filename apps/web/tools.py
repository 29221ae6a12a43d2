"""The bar that every desk has: open, save, start from a built-in brake, undo, redo, light or dark."""

import re
from typing import Any, ClassVar

import param
from panel.custom import JSComponent

from apps.web.assets import script, sheets
from apps.web.draft import Draft
from apps.web.mechanic.bench import Bench
from geometry.setup import builtin_names
from geometry.setup.text import MOST_BYTES

Document = Draft | Bench
"""What the bar works on: a setup under way, or a job."""


class Tools(JSComponent):
    """What can be done with the setup file. The script asks by messages; the draft answers by its parameters."""

    toml = param.String(doc="The file as it would be saved.")
    name_of_file = param.String(doc="What a saved file is called.")
    can_undo = param.Boolean(default=False)
    can_redo = param.Boolean(default=False)
    builtin = param.List(default=list(builtin_names()), doc="Setups to start from.")
    most_bytes = param.Integer(default=MOST_BYTES, doc="How long a file may be.")
    refused = param.Dict(allow_None=True, doc="What could not be opened: its name, and a line for each fault.")

    _esm = script("tools.js")
    _stylesheets: ClassVar[list[str]] = sheets("controls.css", "tools.css")

    def __init__(self, draft: Document) -> None:
        super().__init__(sizing_mode="stretch_width")
        self._draft = draft
        self._draft.param.watch(self._follow, ["text", "can_undo", "can_redo", "refused"])
        self._follow()

    def _follow(self, *_: object) -> None:
        draft, refused = self._draft, self._draft.refused
        self.param.update(
            toml=draft.text,
            name_of_file=file_name(draft),
            can_undo=draft.can_undo,
            can_redo=draft.can_redo,
            refused=refused and {"name": refused.name, "lines": list(refused.lines)},
        )

    def _handle_msg(self, data: Any) -> None:
        """Do what the script asks for; what is not known is nothing."""
        draft = self._draft
        match data:
            case {"open": str(text), "name": str(name)}:
                draft.open(text, name[:120])
            case {"start": str(name)} if name in builtin_names():
                draft.start_from(name)
            case {"act": "undo"}:
                draft.undo()
            case {"act": "redo"}:
                draft.redo()
            case {"act": "dismiss"}:
                draft.refused = None
            case _:
                pass


def file_name(draft: Document) -> str:
    r"""Return what the setup is called as a file: its title in letters that every system takes.

    >>> file_name(Draft('schema = 1\ntitle = "Tipper, axle 2 (right)"\nbase = "drive-16.5x7"'))
    'tipper-axle-2-right.toml'
    """
    for title in (draft.value("title"), draft.value("base"), "brake"):
        if words := re.findall(r"[a-z0-9]+(?:\.[0-9][a-z0-9]*)?", title.lower()):
            return "-".join(words)[:60].rstrip(".") + ".toml"
    raise AssertionError("the last of them always is a name")
