"""What the server hands out beside the desks: the page's module, pictures of the built-in brakes, brakes' data."""

import gzip
from typing import ClassVar

from tornado.web import HTTPError, RequestHandler

from apps.web.brakes import Brakes, UnknownBrakeError
from apps.web.pictures import builtin_picture
from geometry.errors import SetupError
from mechviz.page.bundle import bundled

PAGE_MODULE = "mechviz.js"
KEPT = "public, max-age=31536000, immutable"
CHECKED = "no-cache"


class Module(RequestHandler):
    """The animated page's script: one ES module, the same as in the page without a server."""

    packed: ClassVar[bytes | None] = None

    def get(self) -> None:
        """Hand out the module."""
        if Module.packed is None:
            Module.packed = gzip.compress(bundled().encode(), mtime=0)
        _packed(self, Module.packed, "text/javascript", CHECKED)


class Picture(RequestHandler):
    """A small drawing of a built-in brake."""

    def get(self, name: str) -> None:
        """Hand out the drawing, or say that there is no such brake."""
        try:
            svg = builtin_picture(name)
        except SetupError:
            raise HTTPError(404) from None
        _packed(self, gzip.compress(svg.encode(), mtime=0), "image/svg+xml", CHECKED)


class BrakeData(RequestHandler):
    """What the page's script needs of one brake, worked out in another process when it is first asked for."""

    def initialize(self, brakes: Brakes) -> None:
        """Take the store that all of them share."""
        self.brakes = brakes

    async def get(self, key: str) -> None:
        """Hand out the data; they are of a text with this fingerprint, and never change."""
        try:
            data = await self.brakes.data(key)
        except UnknownBrakeError:
            raise HTTPError(404) from None
        _packed(self, data, "application/json", KEPT)


def _packed(handler: RequestHandler, data: bytes, kind: str, kept: str) -> None:
    """Send what is gzipped; every browser takes it."""
    handler.set_header("Content-Type", f"{kind}; charset=utf-8")
    handler.set_header("Content-Encoding", "gzip")
    handler.set_header("Cache-Control", kept)
    handler.set_header("X-Content-Type-Options", "nosniff")
    handler.finish(data)
