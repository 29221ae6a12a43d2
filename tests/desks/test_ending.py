"""No process works on when its server has gone: it would hold what the server held, and whoever waits for it."""

import asyncio
from concurrent.futures import ThreadPoolExecutor
from os import getpid
from pathlib import Path
from time import monotonic, sleep

import pytest

from apps.web.brakes import Brakes


def alive(process: int) -> bool:
    """Whether a process still runs: one that has ended and is not yet read of counts as ended."""
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def gone(process: int) -> bool:
    """Whether a process ends in a while."""
    end = monotonic() + 20
    while alive(process) and monotonic() < end:
        sleep(0.05)
    return not alive(process)


async def _begun() -> int:
    """A process that a desk's server has left in the middle of its work."""
    brakes = Brakes()
    process = await brakes.work(getpid)
    working = asyncio.ensure_future(brakes.work(sleep, 60))
    await asyncio.sleep(0.2)
    assert alive(process)
    brakes.close()
    working.cancel()
    await asyncio.gather(working, return_exceptions=True)
    return process


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="no /proc here to look at processes")
def test_a_process_that_works_ends_with_its_server() -> None:
    with ThreadPoolExecutor(1) as aside:  # this thread may have a loop of the browser's
        process = aside.submit(lambda: asyncio.run(_begun())).result()
    assert gone(process)
