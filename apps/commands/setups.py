"""`mechviz setups`: the built-in setups, or one of them as a file to start from."""

from typing import Annotated

from cyclopts import Parameter

from apps.terminal import say, width

EPILOGUE = """Examples:
  mechviz setups
  mechviz setups drive-16.5x7 > quarry.toml"""


def setups(
    name: Annotated[str | None, Parameter(name="NAME", metavar="NAME", help="Print this one.")] = None, /
) -> int:
    """List the built-in setups, or print one as a file to start from."""
    from geometry.setup.starter import starter

    say(_listed() if name is None else starter(name))
    return 0


def _listed() -> str:
    """Name and title of each, and what to do with them."""
    import tomllib

    from geometry.setup import builtin_names, builtin_text
    from mechviz.report.layout import fitting, hang

    names = builtin_names()
    longest = max(len(name) for name in names)
    columns = fitting(width())
    titles = {name: str(tomllib.loads(builtin_text(name)).get("title", "")) for name in names}
    lines = [line for name, title in titles.items() for line in hang(title, columns, f"{name:<{longest + 2}}")]
    start = f"To start a file of your own: mechviz setups {names[0]} > my-brake.toml"
    return "\n".join([*lines, "", *hang(start, columns)]) + "\n"
