"""Tabs that serve one test after another, and pages that are made anew in them without being loaded again.

Loading the animated page takes the browser four times as long as starting its script anew in the page that is there.
So what a test leaves is put away (its player destroyed, its place emptied), and the next test that asks for the same
file gets a new player in the same place, from the same markup and the same data, at the address it asks for. A lesson
is loaded anew, and so is a tab in which a test has changed more than the page itself (a function of the browser's, a
name, a style): the tab compares what it had when it was opened with what is there now.
"""

from contextlib import suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from playwright.sync_api import Browser, BrowserContext, Error, Page

DEFAULT: dict[str, Any] = {"viewport": {"width": 1366, "height": 768}, "reduced_motion": "reduce"}
SET_ANEW = {"viewport", "color_scheme", "reduced_motion"}
"""What can be set in a tab that is open; with any other option a tab is of one test alone."""
BLANK = "about:blank"
MOST = 4
"""Tabs that wait, a browser: one for each built-in setup."""
LOADS = count()

BEGIN = """
(() => {
  const owners = {window, document, Math, Date, Element: Element.prototype, Canvas: HTMLCanvasElement.prototype};
  const look = () => {
    const seen = new Map();
    for (const [name, owner] of Object.entries(owners)) {
      for (const [key, {value, get}] of Object.entries(Object.getOwnPropertyDescriptors(owner))) {
        if (!/^(\\d+|event|__THREE__)$/.test(key)) seen.set(`${name}.${key}`, value instanceof Object ? value : get);
      }
    }
    for (const node of [document.documentElement, document.head, document.body]) {
      const own = node.cloneNode(false).outerHTML, inside = [...node.children].map((one) => one.localName).join();
      seen.set(node.localName, `${own} ${inside}`);
    }
    return seen;
  };
  const place = () => document.getElementById("page");
  const kept = {};
  const begun = () => {
    kept.markup = place()?.innerHTML;
    kept.seen = look();
  };
  const away = () => {
    const solid = place()?.querySelector("[data-role=solid]")?.solid;
    if (!solid || document.fullscreenElement || place().matches(".lesson-stage")) return false;
    solid.player.destroy();
    kept.Player = solid.player.constructor;
    place().replaceChildren();
    scrollTo(0, 0);
    const now = look();
    return now.size === kept.seen.size && [...now].every(([key, value]) => kept.seen.get(key) === value);
  };
  const anew = (state) => {
    history.replaceState(null, "", state || location.pathname + location.search);
    place().innerHTML = kept.markup;
    new kept.Player(place(), JSON.parse(document.getElementById("data").textContent));
  };
  Object.defineProperty(window, "tab", {value: {away, anew}, enumerable: false});
  document.addEventListener("readystatechange", begun, {once: true});
})();
"""
"""Runs before a page's own script: keeps its markup as it is before that, and what there is besides.

three.js leaves a mark of its own (`__THREE__`), and the module of a page loads it once, however often it is shown.
"""


@dataclass
class Tab:
    """A tab, the file whose page may be started in it anew (none: nothing may), and the options it was set to."""

    page: Page
    wanted: dict[str, Any]
    file: str = ""
    own: bool = False
    offline: bool = False

    @property
    def context(self) -> BrowserContext:
        return self.page.context

    def set(self, wanted: dict[str, Any]) -> None:
        """Set size, colours and motion, while nothing stands in the tab."""
        if self.wanted == wanted and self.page.viewport_size == wanted["viewport"]:
            self.page.emulate_media(media="null")
            return
        self.page.set_viewport_size(wanted["viewport"])
        scheme, motion = wanted.get("color_scheme", "null"), wanted["reduced_motion"]
        self.page.emulate_media(media="null", color_scheme=scheme, reduced_motion=motion)
        self.wanted = wanted

    def show(self, url: str) -> None:
        """Show a page: loaded, or started anew where it is the one that was put away here.

        The network is off, but for a page that a server of this machine has.
        """
        if self.offline == bool(served_by(url)):
            self.offline = not self.offline
            self.context.set_offline(self.offline)
        file, (_, mark, state) = file_of(url), url.partition("#")
        if self.file == file:
            self.page.evaluate("(state) => tab.anew(state)", mark + state)
        else:
            self.page.goto(_fresh(url))
        self.file = file

    def put_away(self) -> None:
        """Leave nothing standing, and find out whether the page may be started anew here."""
        with suppress(Error):
            if self.page.evaluate("() => globalThis.tab?.away() ?? false"):
                return
        self.file = ""
        self.page.goto(BLANK)


@dataclass
class Tabs:
    """The tabs of one browser that no test uses now, the one used last at the end."""

    browser: Browser
    waiting: list[Tab] = field(default_factory=list[Tab])

    @classmethod
    def of(cls, browser: Browser) -> "Tabs":
        """Return a browser's tabs."""
        return ALL.setdefault(browser, cls(browser))

    def take(self, url: str, options: dict[str, Any]) -> Tab:
        """Return a tab with the options wanted: the one with this page, else one with none, else another."""
        wanted = DEFAULT | options
        if not options.keys() <= SET_ANEW:
            return Tab(_page(self.browser, wanted), wanted, own=True)
        tab = self._waiting(file_of(url)) or Tab(_page(self.browser, wanted, BEGIN), {})
        tab.set(wanted)
        return tab

    def _waiting(self, file: str) -> Tab | None:
        for fits in (lambda tab: tab.file == file, lambda tab: not tab.file, lambda _: len(self.waiting) >= MOST):
            found = next(filter(fits, self.waiting), None)
            if found is not None:
                self.waiting.remove(found)
                return found
        return None

    def give_back(self, tab: Tab) -> None:
        """Take a tab back from a test that has gone well."""
        if tab.own:
            tab.context.close()
            return
        tab.put_away()
        self.waiting.append(tab)


ALL: dict[Browser, Tabs] = {}


def _page(browser: Browser, wanted: dict[str, Any], script: str = "") -> Page:
    context = browser.new_context(**wanted)
    if script:
        context.add_init_script(script)
    return context.new_page()


def served_by(url: str) -> tuple[str, ...]:
    """What a page from a server of this machine may ask: that server; nothing for a page from a file."""
    place = urlsplit(url)
    if place.hostname not in ("127.0.0.1", "localhost"):
        return ()
    return tuple(f"{way}://{place.netloc}/" for way in (place.scheme, place.scheme.replace("http", "ws")))


def file_of(url: str) -> str:
    """What a page's file is known by: its address, and when it was written."""
    file = url.partition("#")[0]
    path = Path(unquote(urlsplit(file).path))
    return f"{file} {path.stat().st_mtime_ns}" if file.startswith("file:") else file


def _fresh(url: str) -> str:
    """An address that no tab can have open already: with another state alone a page would not be loaded again."""
    file, mark, state = url.partition("#")
    return f"{file}?{next(LOADS)}{mark}{state}" if file.startswith("file:") else url
