"""Help as plain text that fits the screen: names on the left, what they do wrapped beside or below them."""

from typing import TYPE_CHECKING, Any

from apps.terminal import width
from mechviz.report.layout import fitting, hang

if TYPE_CHECKING:
    from cyclopts.help import HelpEntry, HelpPanel
    from rich.console import Console, ConsoleOptions

INDENT = "  "
BELOW = " " * 6


class HelpText:
    """Writes cyclopts' help panels without colour, borders or lines that are cut."""

    def render_usage(self, console: "Console", options: "ConsoleOptions", usage: Any) -> None:  # noqa: ARG002 - cyclopts hands it over
        """Write the usage line."""
        _lines(console, hang(f"Usage: {_plain(usage)}", _width()))

    def render_description(self, console: "Console", options: "ConsoleOptions", description: Any) -> None:  # noqa: ARG002 - cyclopts hands it over
        """Write what the command does."""
        _lines(console, ["", *hang(_plain(description), _width())])

    def __call__(self, console: "Console", options: "ConsoleOptions", panel: "HelpPanel") -> None:  # noqa: ARG002 - cyclopts hands it over
        """Write a panel: its title, and each entry's names with what they do below."""
        columns = _width()
        lines = [line for entry in panel.entries for line in _entry(entry, panel.format == "parameter", columns)]
        _lines(console, ["", f"{_plain(panel.title)}:", *lines] if lines else [])


def _width() -> int:
    return fitting(width())


def _entry(entry: "HelpEntry", parameter: bool, columns: int) -> list[str]:
    names = entry.display_labels_with_metavar if parameter else (*entry.positive_names, *entry.positive_shorts)
    head = INDENT + ", ".join(names)
    words = " ".join(part for part in (_plain(entry.description), _notes(entry)) if part)
    aside = f"{head:<14}  "
    if len(aside) <= 16:
        return hang(words, columns, aside)
    return [head, *hang(words, columns, BELOW)]


def _notes(entry: "HelpEntry") -> str:
    """Choices and default, where there are any."""
    choices = f"One of: {', '.join(entry.choices)}." if entry.choices else ""
    default = f"Default: {entry.default}." if entry.default not in (None, "()") else ""
    return " ".join(note for note in (choices, default) if note)


def _plain(text: Any) -> str:
    """The words of one of rich's texts, which cyclopts wraps in a class of its own."""
    inner = getattr(text, "primary_renderable", text)
    return str(getattr(inner, "plain", inner or "")).strip()


def _lines(console: "Console", lines: list[str]) -> None:
    for line in lines:
        console.print(line, markup=False, highlight=False, soft_wrap=True)
