"""The setups that come with the program."""

from difflib import get_close_matches
from functools import cache
from importlib.resources import files

from geometry.errors import SetupError
from geometry.setup.words import file_fault


@cache
def builtin_names() -> tuple[str, ...]:
    """Return the names of the built-in setups."""
    found = files("geometry").joinpath("setups").iterdir()
    return tuple(sorted(f.name.removesuffix(".toml") for f in found if f.name.endswith(".toml")))


@cache
def builtin_text(name: str) -> str:
    """Return a built-in setup as a file to start from. Raises `SetupError` for a name that there is not."""
    if name not in builtin_names():
        raise SetupError(file_fault("setup", "is no built-in setup", nearest_builtin(name), name))
    return files("geometry").joinpath("setups", f"{name}.toml").read_text(encoding="utf-8")


def nearest_builtin(name: str) -> str:
    """Say which built-in setup was likely meant, or name them all."""
    near = get_close_matches(name[:60].lower(), builtin_names(), 2, 0.4)
    return "use " + " or ".join(near or builtin_names())
