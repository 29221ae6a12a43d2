"""What the server hands out beside the desks: the page's module, pictures of the built-in brakes, brakes' data."""

import gzip
from typing import ClassVar

from tornado.web import HTTPError, RequestHandler

from apps.web.brakes import Brakes, UnknownJobError
from apps.web.pictures import builtin_picture
from geometry.errors import MechvizError, SetupError
from mechviz.page.bundle import bundled

PAGE_MODULE = "mechviz.js"
KEPT = "public, max-age=31536000, immutable"
CHECKED = "no-cache"
KINDS = {"html": "text/html; charset=utf-8", "pdf": "application/pdf", "json": "application/json"}


class Module(RequestHandler):
    """The animated page's script: one ES module, the same as in the page without a server."""

    packed: ClassVar[bytes | None] = None

    def get(self) -> None:
        """Hand out the module."""
        if Module.packed is None:
            Module.packed = gzip.compress(bundled().encode(), mtime=0)
        _packed(self, Module.packed, "text/javascript; charset=utf-8", CHECKED)


class Picture(RequestHandler):
    """A small drawing of a built-in brake."""

    def get(self, name: str) -> None:
        """Hand out the drawing, or say that there is no such brake."""
        try:
            svg = builtin_picture(name)
        except SetupError:
            raise HTTPError(404) from None
        _packed(self, gzip.compress(svg.encode(), mtime=0), "image/svg+xml", CHECKED)


class MadeData(RequestHandler):
    """What the page's script needs of one brake or lesson, worked out in another process when it is first asked for."""

    def initialize(self, brakes: Brakes) -> None:
        """Take the store that all of them share."""
        self.brakes = brakes

    async def get(self, key: str) -> None:
        """Hand out the data; they are of what has this key, and never change."""
        try:
            _packed(self, await _made(self.brakes, key), "application/json", KEPT)
        except MechvizError as error:
            # an answer like any other: to be asked for what cannot be shown is part of writing a lesson
            self.set_header("Cache-Control", "no-store")
            self.finish({"refused": [str(fault) for fault in error.faults]})


class MadeFile(RequestHandler):
    """A file to be saved, worked out like the data."""

    def initialize(self, brakes: Brakes) -> None:
        """Take the store that all of them share."""
        self.brakes = brakes

    async def get(self, key: str, name: str, suffix: str) -> None:
        """Hand out the file under the name that the address gives it."""
        data = await _made(self.brakes, key)
        self.set_header("Content-Disposition", f'attachment; filename="{name}.{suffix}"')
        _packed(self, data, KINDS[suffix], KEPT)


async def _made(brakes: Brakes, key: str) -> bytes:
    try:
        return await brakes.data(key)
    except UnknownJobError:
        raise HTTPError(404) from None


def _packed(handler: RequestHandler, data: bytes, kind: str, kept: str) -> None:
    """Send what is gzipped; every browser takes it."""
    handler.set_header("Content-Type", kind)
    handler.set_header("Content-Encoding", "gzip")
    handler.set_header("Cache-Control", kept)
    handler.set_header("X-Content-Type-Options", "nosniff")
    handler.finish(data)
