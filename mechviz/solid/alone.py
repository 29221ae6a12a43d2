"""Drawing solids in a process of its own: whatever VTK does there, and whatever it leaves behind, stays there."""

from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TypeVar

from geometry.errors import Fault, MechvizError
from geometry.setup import Setup
from mechviz.drawing.names import Labels
from mechviz.drawing.scene import Scene
from mechviz.solid.gl import NoGraphicsError, needed
from mechviz.solid.shot import Shot
from mechviz.solid.take import Take

Result = TypeVar("Result")


def still_svg(scene: Scene, shot: Shot, labels: Labels = "few") -> str:
    """Return the SVG of `mechviz.solid.still`, drawn in a process of its own.

    Raises `NoGraphicsError` where this machine cannot draw solids, `AssemblyError` for a part that cannot be made.
    """
    needed()
    return _alone(_still, scene, shot, labels)


def _still(scene: Scene, shot: Shot, labels: Labels) -> str:
    from mechviz.solid.still import still

    return still(scene, shot, labels).svg


def window(setup: Setup, shot: Shot) -> None:
    """Open a window with the solid brake, in a process of its own, and come back when it is closed.

    Raises `NoGraphicsError` where this machine cannot draw solids, `AssemblyError` for a part that cannot be made.
    """
    needed()
    _alone(_window, setup, shot)


def _window(setup: Setup, shot: Shot) -> None:
    from mechviz.solid.window import Window

    window = Window(setup, shot)
    try:
        window.show()
    finally:
        window.close()


def _alone(act: Callable[..., Result], *given: object) -> Result:
    """Call a function of a module in a process that is made for it."""
    try:
        with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
            return pool.submit(act, *given).result()
    except BrokenProcessPool as error:
        fault = Fault("solid view", "the process that draws it ended at once", "report this", kind="number")
        raise NoGraphicsError(fault) from error


def film(setup: Setup, takes: list[Take], path: Path, fps: int) -> Iterator[int]:
    """Write a film of takes, in a process of its own, and tell after each frame how many there are.

    Closing the iterator before its end stops the process. Raises `NoGraphicsError` where this machine cannot draw
    solids, `AssemblyError` for a part that cannot be made.
    """
    needed()
    context = get_context("spawn")
    here, there = context.Pipe(duplex=False)
    process = context.Process(target=_film, args=(there, setup, takes, path, fps), daemon=True)
    process.start()
    there.close()
    try:
        while True:
            told = here.recv()
            if isinstance(told, MechvizError):
                raise told
            if told is None:
                return
            yield told
    except EOFError as error:
        fault = Fault(
            "solid view",
            "the process that draws the film ended before it",
            "start it again; a shorter --film press needs less",
            kind="number",
        )
        raise NoGraphicsError(fault) from error
    finally:
        process.terminate()
        process.join()


def _film(tell: Connection, setup: Setup, takes: list[Take], path: Path, fps: int) -> None:
    from mechviz.solid.encode import SCREENS, encoded
    from mechviz.solid.film import film_frames

    screen = SCREENS[path.suffix.lower()]
    try:
        for count in encoded(film_frames(setup, takes, screen), path, fps, screen):
            tell.send(count)
        tell.send(None)
    except MechvizError as error:
        tell.send(error)
