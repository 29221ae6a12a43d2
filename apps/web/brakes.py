"""What is worked out for the desks: made once for everybody, in a process of its own, and kept as it is sent.

A session names a job by its key, and the browser asks for its data under that name. So forty browsers that look at one
brake cost what one costs, and no slider waits while a brake is worked out.
"""

import asyncio
import gzip
import os
import signal
import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from functools import partial
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait
from typing import ParamSpec, TypeVar

from apps.web.cache import keep, kept
from apps.web.making import Extent, Job, Made, brake

T = TypeVar("T")
Given = ParamSpec("Given")

MOST = 96
"""Brakes and lessons that are kept; one is about 0.4 MB."""


Packed = tuple[bytes, list[Job]]
"""Gzipped data, and the jobs that they name."""


class UnknownJobError(KeyError):
    """No job of that name is known here, or no longer."""


class Brakes:
    """Every brake and lesson that somebody looks at, by its key; those named longest ago are forgotten."""

    def __init__(self, executor: Executor | None = None) -> None:
        self._executor = executor or _process()
        self._second: Executor | None = executor
        self._jobs = OrderedDict[str, Job]()
        self._made = OrderedDict[str, asyncio.Task[Packed]]()

    def named(self, job: Job) -> str:
        """Return the name under which the data of a job can be had."""
        _keep(self._jobs, job.key, job)
        return job.key

    def name(self, text: str, extent: Extent = "whole") -> str:
        """Return the name under which the data of a setup's text can be had."""
        return self.named(brake(text, extent))

    async def data(self, key: str) -> bytes:
        """Return the data of a job, gzipped. Raises `UnknownJobError`, and what goes wrong in the job."""
        if key not in self._jobs:
            raise UnknownJobError(key)
        _keep(self._made, key, self._made.get(key) or asyncio.ensure_future(self._make(self._jobs[key])))
        try:
            data, more = await asyncio.shield(self._made[key])
        except BaseException:
            if key in self._made and self._made[key].done():
                del self._made[key]
            raise
        for other in more:
            self.named(other)
        return data

    async def _make(self, job: Job) -> "Packed":
        """Work a job out; where the process has died of something else, once more in a new one."""
        try:
            return await self._run(job)
        except BrokenProcessPool:
            self._executor = _process()
            return await self._run(job)

    async def _run(self, job: Job) -> "Packed":
        return await asyncio.get_running_loop().run_in_executor(self._executor, packed, job)

    async def work(self, task: Callable[Given, T], *given: Given.args, **named: Given.kwargs) -> T:
        """Work out what somebody at a desk waits for: in a second process, so that it waits for no brake's data."""
        loop, call = asyncio.get_running_loop(), partial(task, *given, **named)
        self._second = self._second or _process()
        try:
            return await loop.run_in_executor(self._second, call)
        except BrokenProcessPool:
            self._second = _process()
            return await loop.run_in_executor(self._second, call)

    async def warm(self, text: str) -> None:
        """Make the data of a brake before anybody asks; one that cannot be made says why when it is asked for."""
        with suppress(Exception):
            await self.data(self.name(text))

    def close(self) -> None:
        """Let the processes go."""
        for executor in (self._executor, self._second):
            if executor is not None:
                working = list(getattr(executor, "_processes", None) or {})  # shutdown forgets them
                executor.shutdown(wait=False, cancel_futures=True)
                for one in working:
                    with suppress(ProcessLookupError):
                        os.kill(one, signal.SIGTERM)


def packed(job: Job) -> Packed:
    """Work a job out, or find it worked out before; return its data gzipped, with the jobs that it names."""
    if (found := kept(job.key)) is not None:
        return found, []
    made: Made = job.make(*job.told)
    data = gzip.compress(made.data, 6, mtime=0)
    if not made.more:
        keep(job.key, data)
    return data, list(made.more.values())


def _process() -> Executor:
    return ProcessPoolExecutor(1, get_context("forkserver"), initializer=_leave_with_the_server)


def _leave_with_the_server() -> None:
    """End this process with the server, however that ends: one that works on would hold what the server held."""
    server = parent_process()
    if server is not None:
        threading.Thread(target=_until, args=(server.sentinel,), daemon=True).start()


def _until(sentinel: int) -> None:
    wait([sentinel])
    os._exit(0)


def _keep(kept: OrderedDict[str, T], key: str, value: T) -> None:
    kept[key] = value
    kept.move_to_end(key)
    while len(kept) > MOST:
        kept.popitem(last=False)
