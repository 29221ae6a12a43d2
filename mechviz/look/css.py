"""The look as CSS: custom properties for the colours, and the classes that a drawing's elements wear.

A picture writes a colour as ``var(--mv-NAME)``, in its style sheet or in an attribute (``fill="var(--mv-push)"``); a
browser follows the theme by itself, and `mechviz.export.flatten_css` writes the values in for PDF and PNG, whose
renderer knows no custom properties.
"""

from typing import Literal

from mechviz.look.colours import VERBS, ThemeName, VerbName, colours
from mechviz.look.font import FAMILY
from mechviz.look.measures import HEIGHT, LINES, TEXT, LineName, dashes, line_weight, plain, text_size
from mechviz.look.textures import TEXTURES

PREFIX = "--mv-"


def css_variables(theme: ThemeName | Literal["auto"] = "auto", selector: str = ":root") -> str:
    """Return the custom properties of a theme as a CSS rule.

    ``auto`` follows the reader's system, unless the element has ``data-theme="light"`` or ``"dark"``; printing is
    always done in the print theme.
    """
    if theme != "auto":
        return _rule(selector, theme)
    return "\n".join(
        [
            _rule(selector, "light"),
            f'@media (prefers-color-scheme: dark) {{ {_rule(f"""{selector}:not([data-theme="light"])""", "dark")} }}',
            _rule(f'{selector}[data-theme="dark"]', "dark"),
            f"@media print {{ {_rule(f'{selector}, {selector}[data-theme]', 'print')} }}",
        ]
    )


def _rule(selector: str, theme: ThemeName) -> str:
    values = "; ".join(f"{PREFIX}{name}: {colour}" for name, colour in colours(theme).items())
    return f"{selector} {{ color-scheme: {'dark' if theme == 'dark' else 'light'}; {values} }}"


def stylesheet(height: float = HEIGHT, prefix: str = "mv-") -> str:
    """Return the classes for a picture ``height`` high in its own units, whose root has ``class="mv"``.

    A part wears its verb (``mv-push``: fill and outline) or a texture of its own (``mv-section``, ``mv-rub-touch``);
    a line its use (``mv-dimension``, ``mv-centre``); a text its size (``mv-label``) and, where it is a figure of a
    part, the part's verb (``mv-of-push``). A text over lines stands on a rectangle ``mv-plate``; a halo of its own
    (``paint-order``) would in a PDF eat into the neighbouring letters. ``prefix`` is that of `svg_defs`, whose patterns
    the classes use.
    """
    rules = [
        f'.mv text {{ font-family: "{FAMILY}", sans-serif; fill: var({PREFIX}ink) }}',
        f".mv-paper {{ fill: var({PREFIX}paper); stroke: none }}",
        *(_part(verb, height, prefix) for verb in VERBS),
        f".mv-section {{ fill: url(#{prefix}section); stroke: var({PREFIX}hold) }}",
        f".mv-rub-touch {{ fill: url(#{prefix}rub-touch); stroke: var({PREFIX}rub) }}",
        f".mv-forbidden {{ fill: url(#{prefix}forbidden); stroke: none }}",
        *(_line(name, height) for name in LINES),
        *(f".mv text.mv-of-{verb}, .mv tspan.mv-of-{verb} {{ fill: var({PREFIX}{verb}) }}" for verb in VERBS),
        *(f".mv-{name} {{ font-size: {plain(text_size(name, height))}px }}" for name in TEXT),
        ".mv-title, .mv-heading, .mv-figure { font-weight: 700 }",
        f".mv text.mv-note {{ fill: var({PREFIX}soft) }}",
        f".mv-plate {{ fill: var({PREFIX}paper); stroke: none }}",
    ]
    return "\n".join(rules)


def _part(verb: VerbName, height: float, prefix: str) -> str:
    """A part: its texture, and an outline that is thicker where the part pushes."""
    weight = line_weight("heavy" if verb == "push" else "outline", height)
    fill = f"url(#{prefix}{verb})" if TEXTURES[verb].step else f"var({PREFIX}{verb}-fill)"
    ends = "; stroke-linejoin: round; stroke-linecap: round" if verb == "spread" else ""
    return f".mv-{verb} {{ fill: {fill}; stroke: var({PREFIX}{verb}); stroke-width: {plain(weight)}{ends} }}"


def _line(name: LineName, height: float) -> str:
    """A line's weight and dashes; dimensions, leaders and centre lines also bring their colour."""
    pattern = dashes(name, height)
    parts = [f"stroke-width: {plain(line_weight(name, height))}"]
    if pattern:
        parts.append("stroke-dasharray: " + " ".join(plain(part) for part in pattern))
    if name in ("dimension", "leader", "centre"):
        parts += ["fill: none", f"stroke: var({PREFIX}{'soft' if name == 'centre' else 'ink'})"]
    return f".mv-{name} {{ {'; '.join(parts)} }}"


def themed(name: str) -> str:
    """Return how a colour is written in a picture.

    >>> themed("push")
    'var(--mv-push)'
    """
    return f"var({PREFIX}{name})"
