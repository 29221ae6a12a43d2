"""The one look of the drawing, the animated page, the desks, the PDF and the gallery, as data.

A part wears the colour of its verb (`colours`), lines and text have sizes as shares of the picture's height
(`measures`), hatches and textures say the same in black and white (`textures`), and `css` hands all of it to an SVG
or a page as custom properties and classes. The type and the width of its letters are in `font`.
"""

from mechviz.look.colours import PRINT, THEMES, VERBS, ThemeName, VerbName, colours
from mechviz.look.css import css_variables, stylesheet, themed
from mechviz.look.defs import svg_defs
from mechviz.look.font import FAMILY, font_face_css, fractions, missing_characters, text_width
from mechviz.look.measures import LINES, TEXT, line_weight, text_size

__all__ = [
    "FAMILY",
    "LINES",
    "PRINT",
    "TEXT",
    "THEMES",
    "VERBS",
    "ThemeName",
    "VerbName",
    "colours",
    "css_variables",
    "font_face_css",
    "fractions",
    "line_weight",
    "missing_characters",
    "stylesheet",
    "svg_defs",
    "text_size",
    "text_width",
    "themed",
]
