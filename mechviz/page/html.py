"""The animated page: one file that opens from anywhere, without a server and without a network."""

import json
import re
from base64 import b64encode
from functools import cache
from hashlib import sha256
from html import escape
from importlib.metadata import version
from importlib.resources import files
from string import Template
from typing import Any, Literal

from geometry.found import condition_of
from geometry.quantity import System
from geometry.setup import Setup
from mechviz.drawing.layout import layout
from mechviz.drawing.scene import scene_at
from mechviz.drawing.style import note_css
from mechviz.look import css_variables, font_face_css, stylesheet
from mechviz.page.air import air_data
from mechviz.page.bundle import bundled
from mechviz.page.defects import Sound, defects_data
from mechviz.page.facts import page_facts
from mechviz.page.labels import page_names
from mechviz.page.motion import motion_data
from mechviz.page.picture import drawn_facts, page_picture
from mechviz.page.solid import solid_view
from mechviz.page.table import page_table
from mechviz.page.worn import life_data
from mechviz.report.cautions import COMPOUND

Theme = Literal["auto", "light", "dark"]

CONTROLS = (
    ("pressure", "Chamber pressure", "push"),
    ("lining", "Lining left", "rub"),
    ("temperature", "Drum temperature", "rub"),
    ("freeStroke", "Adjuster: cold free stroke", "turn"),
)

MODES = (("brake", "Brake"), ("life", "Life"), ("faults", "Faults"), ("air", "Air"))
"""The ways to look at the brake, in the order of their keys."""

KEYS = (
    ("1 2 3 4", "the brake by hand, its working life, its faults, its air"),
    ("Space", "press the brake, let it go"),
    ("P", "play and pause"),
    (", .", "a step back, a step forward"),
    ("← →", "move through the application; in the story: back and next"),
    ("Home End", "released, applied"),
    ("- +", "slower, faster"),
    ("S", "start or end the story"),
    ("Page down, Page up", "next and back: step, event or defect (a presenter's remote sends these)"),
    ("A", "life: adjuster works or has stopped; air: another scenario"),
    ("H", "life: cold or hot drum"),
    ("Q, N", "faults: show one without its name; name it"),
    ("B", "labels on or off"),
    ("V", "the drawing, the brake as a solid, on a wide screen both"),
    ("O", "solid: look from another side"),
    ("← → ↑ ↓, - +", "solid, when it has the focus: walk round it; with Shift move it; farther, closer"),
    ("D, W", "solid: drum see-through, solid, removed; wheel on or off"),
    ("C, E", "solid: cut it; take it apart, put it together"),
    ("J, K", "solid: the part before, the next part"),
    ("L", "large type for projecting"),
    ("U", "inches or millimetres"),
    ("T", "light or dark"),
    ("F", "full screen"),
    ("R", "back to the brake as found, without a defect"),
    ("Ctrl Z, Ctrl Y", "undo, redo"),
    ("Esc", "let go of the part, end the story, close this sheet"),
)

TRIANGLE = (
    '<svg viewBox="0 0 20 18" aria-hidden="true"><path d="M10 1.5 18.8 17H1.2z"/>'
    '<path d="M10 6.5v5.4M10 13.4v1.4"/></svg>'
)

START = '{mount}(document.getElementById("page"), JSON.parse(document.getElementById("data").textContent));'

_BETWEEN_TAGS = re.compile(r">\s+<")


def page_html(setup: Setup, system: System | None = None, theme: Theme = "auto") -> str:
    """Return the page of a setup that can be solved, in one file.

    ``system`` says which units stand first (the setup's own if not given), ``theme`` whether the page is light or dark
    (the reader's system decides if ``auto``). Raises `AssemblyError` for a cam too rough to be tabulated.
    """
    return page_of(page_data(setup, system, theme))


def page_of(data: dict[str, Any]) -> str:
    """Return the page of data that `page_data` made, in one file."""
    inside = {name: part for name, part in data.items() if name != "markup"} | {"wholePage": True}
    return page_file(escape(data["facts"]["title"]), data["markup"], inside, "mount", page_css())


def page_file(title: str, markup: str, data: dict[str, Any], mount: str, css: str) -> str:
    """Return one file with our script; ``title`` and ``markup`` are HTML, ``mount`` the function that gets the data."""
    script = _inline(f"\n{bundled(mount)}{START.format(mount=mount)}\n")
    return _template("page.html").substitute(
        hash=_hash(script),
        version=version("mechviz"),
        title=title,
        css=css,
        markup=markup,
        data=_json(data).replace("<", "\\u003c"),
        script=script,
    )


def page_data(
    setup: Setup, system: System | None = None, theme: Theme = "auto", *, faults: bool = True
) -> dict[str, Any]:
    """Return what the script needs to put the page into any element: ``mount(el, data)``.

    ``markup`` goes into an element that is still empty; ``page_css`` goes beside it. Without ``faults`` the page has no
    such mode, and is made in a third of the time.
    """
    condition = condition_of(setup)
    scene = scene_at(setup, condition, "released")
    where = layout(setup.brake, scene.outlines)
    facts = page_facts(setup, system) | drawn_facts(setup.brake, condition, scene.outlines, where)
    named = page_names(scene, where)
    facts["names"] = named.data()
    table = page_table(setup.brake, condition, setup.test.pressure)
    sound = {"facts": facts, "table": table, "motion": motion_data(setup.brake)}
    solid = solid_view(setup, condition)
    more: dict[str, Any] = {"life": life_data(setup, table["box"]["lining"][0]), "air": air_data(setup)}
    if faults:
        more |= {"defects": defects_data(Sound(setup, sound, scene.outlines, where, solid, named))}
    more |= {"solid": solid.data()}  # after the defects, which bring surfaces of their own
    return sound | more | {"markup": _markup(facts, page_picture(scene, where, named.note()), theme)}


def component_data(
    setup: Setup, system: System | None = None, theme: Theme = "auto", *, faults: bool = True
) -> dict[str, Any]:
    """Return the data of a component that brings its own style sheet: ``render({model, el})`` with ``model.data``."""
    return page_data(setup, system, theme, faults=faults) | {"css": page_css()}


@cache
def page_css() -> str:
    """Return the page's style sheet: the type, the themes, the picture's classes, and the page's own rules."""
    return "\n".join(
        [font_face_css(), css_variables("auto", ".mechviz"), stylesheet(900), note_css(), _own("page.css")]
    )


@cache
def lesson_css() -> str:
    """Return the style sheet of a lesson: the page's, and its own rules."""
    return f"{page_css()}\n{_own('lesson.css')}"


def _own(name: str) -> str:
    return (files("mechviz.page") / name).read_text(encoding="utf-8")


def _template(name: str) -> Template:
    return Template((files("mechviz.page") / name).read_text(encoding="utf-8"))


def _markup(facts: dict[str, Any], picture: str, theme: Theme) -> str:
    hidden = {"inch": "", "metric": ""} | {"metric" if facts["system"] == "inch" else "inch": " hidden"}
    markup = _template("markup.html").substitute(
        title=escape(facts["title"]),
        theme=theme,
        found_inch=escape(_found(facts, "inch")),
        found_metric=escape(_found(facts, "metric")),
        hide_inch=hidden["inch"],
        hide_metric=hidden["metric"],
        svg=picture,
        triangle=TRIANGLE,
        compound=escape(COMPOUND),
        modes="".join(_mode(*mode, key) for key, mode in enumerate(MODES, 1)),
        controls="".join(_control(*control) for control in CONTROLS),
        cautions="".join(f"<li>{escape(words)}</li>" for words in facts["cautions"]),
        keys="".join(f"<div><dt><kbd>{escape(key)}</kbd></dt><dd>{escape(does)}</dd></div>" for key, does in KEYS),
    )
    return _BETWEEN_TAGS.sub("> <", markup)


def _found(facts: dict[str, Any], system: str) -> str:
    return " ".join(line for line in facts["found"][system] if not line.startswith("Setup:"))


def _mode(name: str, label: str, key: int) -> str:
    return (
        f'<button type="button" data-role="mode-{name}" data-mode-key="{name}"'
        f' aria-pressed="{"true" if name == "brake" else "false"}">{label} <kbd>{key}</kbd></button>'
    )


def _control(name: str, label: str, verb: str) -> str:
    return (
        f'<div class="control of-{verb}" data-control="{name}">'
        f'<label><span class="name">{escape(label)}</span><input type="range" min="0" value="0"></label>'
        f'<span class="typed"><input type="text" inputmode="text" autocomplete="off" size="5"'
        f' aria-label="{escape(label)}, typed"> <span class="unit"></span></span>'
        '<span class="fault" role="alert"></span></div>'
    )


def _json(data: object) -> str:
    return json.dumps(data, separators=(",", ":"), allow_nan=False, ensure_ascii=False)


def _inline(text: str) -> str:
    """Make a text safe inside <script>: neither an end tag nor a comment can begin in it."""
    return text.replace("</script", "<\\/script").replace("<!--", "<\\!--")


def _hash(script: str) -> str:
    return "sha256-" + b64encode(sha256(script.encode("utf-8")).digest()).decode("ascii")
