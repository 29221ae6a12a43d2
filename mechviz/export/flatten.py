"""Writing a theme's colours into an SVG, for renderers that know no CSS custom properties.

Measured on the renderer behind PDF and PNG: rules by class, by child and by descendant, ``font`` in short form,
``paint-order``, patterns, markers and clip paths come out as in a browser; anything painted with ``var()`` comes out
black, fallback or not; ``@media`` and ``@font-face`` are passed over. So a picture writes every colour as
``var(--mv-NAME)``, wherever it likes, and this puts the values in.
"""

import re
from collections.abc import Mapping

from mechviz.export.errors import refused
from mechviz.look.colours import ThemeName, colours
from mechviz.look.css import PREFIX

_STYLE = re.compile(r"(<style\b[^>]*>)(.*?)(</style>)", re.DOTALL)
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_AT_RULE = re.compile(r"@[\w-]+[^{};]*(?:;|\{(?:[^{}]|\{[^{}]*\})*\})")
_DECLARED = re.compile(r"(?<![\w(-])--[\w-]+\s*:[^;}]*;?\s*")
_USED = re.compile(r"var\(\s*(--[\w-]+)\s*(?:,([^()]*))?\)")


def flatten_css(svg: str, theme: ThemeName = "light", extra: Mapping[str, str] | None = None) -> str:
    """Return the SVG with each ``var(--mv-NAME)`` replaced by the theme's value, and its style sheet kept plain.

    ``extra`` gives values of further custom properties (``{"--name": "#123456"}``). Media queries, embedded fonts and
    the properties' own declarations are dropped. Raises `ExportError` for a property without value and fallback.
    """
    values = {f"{PREFIX}{name}": colour for name, colour in colours(theme).items()} | dict(extra or {})
    plain = _STYLE.sub(lambda match: match[1] + _without_themes(match[2]) + match[3], svg)
    while _USED.search(plain):
        plain = _USED.sub(lambda match: _value(match, values), plain)
    return plain


def _without_themes(css: str) -> str:
    """Return a style sheet's ordinary rules."""
    return _DECLARED.sub("", _AT_RULE.sub("", _COMMENT.sub("", css)))


def _value(match: re.Match[str], values: Mapping[str, str]) -> str:
    """Return what a use of a property stands for."""
    name, fallback = match[1], match[2]
    if name in values:
        return values[name]
    if fallback is not None:
        return fallback.strip()
    raise refused("svg", f"uses {name}, which no theme has", "use a colour of mechviz.look.colours")
