"""Whatever goes wrong becomes plain lines on standard error and an exit code, never a traceback."""

import os
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

from cyclopts.exceptions import CycloptsError, MissingArgumentError, UnusedCliTokensError

from apps.terminal import complain, open_streams

if TYPE_CHECKING:
    from geometry.errors import MechvizError

UNUSABLE, INTERNAL, INTERRUPTED, PIPE_CLOSED = 2, 3, 130, 141


def guarded(command: Callable[[], int | None]) -> int:
    """Run a command and return its exit code, whatever happens in it."""
    open_streams()
    try:
        code = command() or 0
        sys.stdout.flush()
        return code
    except CycloptsError as error:
        return _mistyped(error)
    except BrokenPipeError:
        return _stop_writing(PIPE_CLOSED)
    except OSError as error:
        complain(f"mechviz: {' '.join(str(part) for part in (error.strerror or error, error.filename) if part)}")
        return _stop_writing(UNUSABLE)
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        return _refused(error)


def _mistyped(error: CycloptsError) -> int:
    """A command line that was not understood."""
    chain = " ".join(["mechviz", *(error.command_chain or ())])
    complain(f"{chain}: {_what_was_mistyped(error)}")
    complain(f"Try: {chain} --help")
    return UNUSABLE


def _what_was_mistyped(error: CycloptsError) -> str:
    if isinstance(error, UnusedCliTokensError):
        words = " ".join(error.unused_tokens or ())
        return f'cannot use "{words}". Put quotation marks round what has spaces in it: "1 3/4 in"'
    if isinstance(error, MissingArgumentError) and error.argument and error.argument.name == "SETUP":
        return "SETUP is missing: name a setup file or a built-in setup. mechviz setups lists them."
    said = str(error)
    if "," in (value := getattr(getattr(error, "token", None), "value", "") or ""):
        option = error.argument.name if error.argument else ""
        return f'cannot use "{value}" as one word. Write {" ".join(f"{option} {word}" for word in value.split(","))}'
    return said


def _refused(error: Exception) -> int:
    """Input that cannot be used says so itself; anything else is a fault of the program."""
    from geometry.errors import MechvizError

    if isinstance(error, MechvizError):
        return _unusable(error)
    what = " ".join(f"{type(error).__name__}: {error}".split())[:300]
    complain(f"mechviz: internal error: {what}; please report with the file")
    return INTERNAL


def _unusable(error: "MechvizError") -> int:
    """Every fault on a line of its own, in the units of the file where they are known."""
    system = getattr(error, "system", None) or "inch"
    for fault in error.faults:
        complain(f"mechviz: {fault.text(system)}")
    return UNUSABLE


def _stop_writing(code: int) -> int:
    """Nobody takes the output any more. Point it at nothing, so that Python's own exit stays quiet too."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return code
