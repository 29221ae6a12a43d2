"""The data of the moving pictures: made once for each brake, in a process of its own, and kept as it is sent.

A session names a brake by the fingerprint of its text, and the browser asks for it under that name. So forty browsers
that look at one brake cost what one costs, and no slider waits while a brake is worked out.
"""

import asyncio
import gzip
import json
from collections import OrderedDict
from concurrent.futures import Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from hashlib import sha256
from multiprocessing import get_context
from typing import Literal, TypeVar

T = TypeVar("T")
Extent = Literal["whole", "moving"]
"""``whole``: all that the page can show. ``moving``: all but its faults, made in a third of the time."""

MOST = 64
"""Brakes that are kept; one is about 0.3 MB."""


class UnknownBrakeError(KeyError):
    """No brake of that name is known here, or no longer."""


class Brakes:
    """Every brake that somebody looks at, by its fingerprint; those that nobody asked for longest are forgotten."""

    def __init__(self, executor: Executor | None = None) -> None:
        self._executor = executor or _process()
        self._texts = OrderedDict[str, tuple[str, Extent]]()
        self._made = OrderedDict[str, asyncio.Task[bytes]]()

    def name(self, text: str, extent: Extent = "whole") -> str:
        """Return the name under which the data of a setup's text can be had."""
        key = sha256(f"{extent}\n{text}".encode()).hexdigest()[:32]
        _keep(self._texts, key, (text, extent))
        return key

    async def data(self, key: str) -> bytes:
        """Return the data of a brake, as gzipped JSON. Raises `UnknownBrakeError`."""
        if key not in self._texts:
            raise UnknownBrakeError(key)
        if key not in self._made:
            _keep(self._made, key, asyncio.ensure_future(self._make(*self._texts[key])))
        try:
            return await asyncio.shield(self._made[key])
        except BaseException:
            if self._made[key].done():
                del self._made[key]
            raise

    async def _make(self, text: str, extent: Extent) -> bytes:
        """Work a brake out; where the process has died of something else, once more in a new one."""
        loop = asyncio.get_running_loop()
        try:
            return await loop.run_in_executor(self._executor, made, text, extent)
        except BrokenProcessPool:
            self._executor = _process()
            return await loop.run_in_executor(self._executor, made, text, extent)

    async def warm(self, text: str) -> None:
        """Make the data of a brake before anybody asks; one that cannot be made says why when it is asked for."""
        with suppress(Exception):
            await self.data(self.name(text))

    def close(self) -> None:
        """Let the process go."""
        self._executor.shutdown(wait=False, cancel_futures=True)


def _process() -> Executor:
    return ProcessPoolExecutor(1, get_context("forkserver"))


def made(text: str, extent: Extent) -> bytes:
    """Return the data of the brake that a setup's text describes, as gzipped JSON."""
    from geometry.setup import read_setup_text
    from mechviz.page.html import component_data

    setup = read_setup_text(text, "setup")
    return gzip.compress(json.dumps(component_data(setup, faults=extent == "whole")).encode(), 6, mtime=0)


def _keep(kept: OrderedDict[str, T], key: str, value: T) -> None:
    kept[key] = value
    kept.move_to_end(key)
    while len(kept) > MOST:
        kept.popitem(last=False)
