"""The page's script as one ES module: its files in their order, each in a scope of its own.

The files are plain modules that import from one another by name only, so that a bundler is a few lines: an import
becomes a look-up in what the earlier file gave, an export an entry in what this file gives.
"""

import re
from collections.abc import Sequence
from functools import cache
from importlib.resources import files

EXPORTS = {"mount": "player", "render": "component", "mountLesson": "lesson"}
"""What a module may give, and which file has it."""

_IMPORT = re.compile(r"^import \{([^}]*)\} from \"\./([a-z_]+)\.js\";\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (function|class|const) (\w+)", re.MULTILINE)
_COMMENT = re.compile(r"^\s*(?:/\*\*.*?\*/\n|//[^\n]*\n)", re.DOTALL | re.MULTILINE)


def script_files() -> dict[str, str]:
    """Return the text of every file of the script, by its name without suffix."""
    page = files("mechviz.page")
    found = {"interpolate": page / "interpolate.js"}
    found |= {file.name.removesuffix(".js"): file for file in (page / "script").iterdir() if file.name.endswith(".js")}
    return {name: file.read_text(encoding="utf-8") for name, file in found.items()}


@cache
def bundled(*gives: str) -> str:
    """Return one ES module that exports what it ``gives`` (``mount`` and ``render`` if not said) and imports nothing.

    Files that nothing of that needs are left out.
    """
    sources, wanted = script_files(), gives or ("mount", "render")
    parts = [_scoped(name, sources[name]) for name in in_order(sources, [EXPORTS[name] for name in wanted])]
    given = ", ".join(f"{{{name}}} = {_scope(EXPORTS[name])}" for name in wanted)
    return "\n".join([*parts, f"export const {given};\n"])


def in_order(sources: dict[str, str], entries: Sequence[str]) -> list[str]:
    """Return the entries and all that they import from, so that each file comes after those it imports from."""
    found: list[str] = []

    def visit(name: str, above: tuple[str, ...]) -> None:
        if name in above:
            raise ValueError(f"the page's script imports in a circle: {' -> '.join([*above, name])}")
        for _, other in _IMPORT.findall(sources[name]):
            visit(other, (*above, name))
        if name not in found:
            found.append(name)

    for entry in entries:
        visit(entry, ())
    return found


def _scope(name: str) -> str:
    return f"${name}"


def _scoped(name: str, text: str) -> str:
    """One file as a function that is called at once and returns what it exports."""
    given = [match[1] for match in _EXPORT.findall(text)]
    text = _EXPORT.sub(r"\1 \2", text)
    text = _IMPORT.sub(lambda match: f"const {{{match[1].replace(' as ', ': ')}}} = {_scope(match[2])};\n", text)
    text = _COMMENT.sub("", text)
    return f"const {_scope(name)} = (() => {{\n{text.strip()}\nreturn {{{', '.join(given)}}};\n}})();"
