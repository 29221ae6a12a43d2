"""The first page: the three desks, and the built-in brakes."""

from functools import cache
from html import escape
from urllib.parse import quote

from apps.web.desks import DESKS, Desk
from geometry.setup import builtin_names, read_setup

START = Desk("start", "Start", "", "")


@cache
def start_html() -> str:
    """Return the page's content."""
    desks = "".join(
        f'<a href="./{desk.slug}" data-desk="{desk.slug}"><strong>{desk.name}</strong>{escape(desk.job)}</a>'
        for desk in DESKS
    )
    brakes = "".join(_brake(name) for name in builtin_names())
    return (
        '<div class="start"><h1>See inside an S-cam drum air brake</h1>'
        "<p>What moves, why stroke grows, where the right angle is lost, and whether a brake is in adjustment.</p>"
        f'<div class="three">{desks}</div>'
        "<h2>Start with a built-in brake</h2><p>Or open a setup file of your own above, or drop it on this page.</p>"
        f'<ul class="brakes">{brakes}</ul></div>'
    )


def _brake(name: str) -> str:
    setup = read_setup(name)
    links = "".join(f'<a href="./{desk.slug}?setup={quote(name)}">{desk.verb}</a>' for desk in DESKS)
    title = escape(setup.title)
    return (
        f'<li><img src="./pictures/{quote(name)}.svg" alt="{title}: both planes, applied" width="1600" height="900">'
        f'<h3>{title}</h3><p>{escape(name)}</p><nav aria-label="{title}">{links}</nav></li>'
    )
