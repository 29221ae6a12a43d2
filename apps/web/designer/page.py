"""The page of the designer's desk: its parts, and which of them is drawn anew when something changes."""

from collections.abc import Mapping
from html import escape
from typing import Any
from urllib.parse import parse_qsl, urlencode

import panel as pn

from apps.web.assets import asset
from apps.web.brakes import Brakes
from apps.web.designer.acts import do
from apps.web.designer.desk import Desk
from apps.web.designer.field import from_shown
from apps.web.designer.html_form import form
from apps.web.designer.html_point import compare_html, point_html
from apps.web.designer.html_views import views_html
from apps.web.designer.job import Later
from apps.web.designer.overlay import overlay_svg
from apps.web.designer.pointed import PointView
from apps.web.designer.sheet import Sheet
from apps.web.designer.varied import figure
from apps.web.designer.views import OLD, MapView, View, views_of
from apps.web.designer.work import Work
from apps.web.desks import desk
from apps.web.frame import framed
from apps.web.session import Session
from apps.web.tools import Tools
from geometry.errors import MechvizError
from mechviz.look.colours import ThemeName
from mechviz.study.parameter import SIZE

STATE = frozenset("pwtax")
"""Of how a brake is looked at: its pressure, lining, temperature, adjuster and stroke."""


def designer_desk(session: Session, brakes: Brakes) -> pn.Template:
    """Return the designer's desk for a visit."""
    document: Any = pn.state.curdoc
    later: Later = document.add_next_tick_callback
    made = Desk(session, later)
    page = Page(made, brakes)

    def ended(_: object) -> None:
        made.close()

    document.on_session_destroyed(ended)
    pn.state.onload(made.begin)
    style = f"<style>{asset('designer_page.css')}</style>"
    return framed(desk("designer"), Tools(document_of(made)), page.parts, style)


def document_of(made: Desk) -> Any:
    """Return what the bar works on."""
    return Work(made)


def looked(look: str) -> str:
    """Return how a brake is looked at without the state that it was in, which is no state of another one.

    >>> looked("p=0.6&w=15.7&u=inch")
    'u=inch'
    """
    return urlencode([(name, value) for name, value in parse_qsl(look) if name not in STATE])


class PointSession(Session):
    """The point that stands there as what a picture shows: a draft of its own, the look in the visit's address."""

    def __init__(self, outer: Session) -> None:
        super().__init__(outer.draft.text)
        self._outer = outer

    def keep(self, **own: str | None) -> None:
        """Keep in the visit's address what is no state of one brake."""
        self._outer.keep(**{name: value and (looked(value) or None) for name, value in own.items()})

    def kept(self, name: str) -> str | None:
        """Return what is kept there."""
        return self._outer.kept(name)


class Page:
    """The parts, and what each shows."""

    def __init__(self, made: Desk, brakes: Brakes) -> None:
        self.desk = made
        self.study = Sheet(self._heard, tells_theme=True)
        self.bar, self.below = Sheet(self._heard), Sheet(self._heard)
        self.point, self.picks = Sheet(self._heard), Sheet(self._heard)
        self.views = views_of(made)
        self._pointed = PointSession(made.session)
        self.brake = PointView(self._pointed, brakes)
        made.shown, made.save = self.show, self._save
        plotted = [name for name, view in self.views.items() if view.part is not None]
        self.stages = {name: pn.Column(sizing_mode="stretch_width") for name in plotted}
        rest = {"below": self.below, "point": self.point, "picks": self.picks, "brake": self.brake}
        self.parts: Mapping[str, Any] = {"study": self.study, "views": self.bar, **self.stages, **rest}
        self._waiting = ["study", "view", "point", "picks", "brake"]
        self.draw()

    def _save(self, data: bytes, name: str, kind: str) -> None:
        self.study.hand_out(data, name, kind, self.desk.later)

    # what was done

    def _heard(self, act: str, data: Mapping[str, Any]) -> None:
        view, stem = self.desk.state.view, self.desk.stem
        match act:
            case "theme":
                theme: ThemeName = "dark" if data.get("key") == "dark" else "light"
                self.desk.later(lambda: self._dress(theme))
            case "width":
                mapped = self.views["map"]
                if isinstance(mapped, MapView):
                    mapped.fit(phone=data.get("key") == "phone")
                    self.show("map")
            case "slide":
                self._slid(str(data.get("key")), str(data.get("value")), bool(data.get("end")))
            case "png" | "svg":
                self.bar.save_picture(view, f"{stem}-{view}.{act}", act)
            case "overlay-svg":
                self._save(overlay_svg(self.desk, "light").encode(), f"{stem}-compared.svg", "image/svg+xml")
            case "overlay-png":
                from mechviz.export import svg_to_png

                picture = svg_to_png(overlay_svg(self.desk, "light"), 1920, "light")
                self._save(picture, f"{stem}-compared.png", "image/png")
            case _:
                do(self.desk, act, data)

    def _dress(self, theme: ThemeName) -> None:
        for one in self.views.values():
            one.dress(theme)

    def _slid(self, key: str, value: str, end: bool) -> None:
        """Move the point; a slider counts in the unit that is shown."""
        setup, study = self.desk.setup, self.desk.question.study
        if setup is None or study is None or key not in self.desk.state.keys or key == SIZE:
            return
        try:
            shown = figure(value, "number", key)
        except MechvizError:
            return
        self.desk.slid(key, from_shown(shown, study.parameter(key).kind, setup.system), end)

    # what is shown

    @property
    def _open(self) -> bool:
        """Whether plots are shown: after the first run, and while the brake can be used."""
        return self.desk.state.ran and self.desk.setup is not None

    @property
    def _view(self) -> View:
        return self.views[self.desk.state.view]

    def show(self, what: str) -> None:
        """Have a part drawn anew: study, progress, view, answers, map, marks, point, picks or brake.

        That is done in a turn of the session's own, which has the lock that plots need, and once for all that is asked
        for until then: a slider that moves faster than its map is drawn skips what nobody would see.
        """
        if what not in self._waiting:
            self._waiting.append(what)
            if len(self._waiting) == 1:
                self.desk.later(self.draw)

    def draw(self) -> None:
        """Draw what waits."""
        waiting, self._waiting = self._waiting, []
        for what in waiting:
            self._draw(what)

    def _draw(self, what: str) -> None:
        mapped = self.desk.state.view == "map"
        match what:
            case "study" | "progress":
                self._show_study()
            case "view":
                self._show_view()
            case "answers":
                self._show_bar() if mapped else self._show_view()
                self.bar.focus_lost("[role=tab][aria-selected=true]")
            case "map" if mapped:
                self._show_view()
            case "map" | "marks":
                if self._open:
                    self._view.mark()
            case "point":
                self._show_point()
            case "picks":
                self._show_picks()
            case "pose":
                self.brake.follow(self.desk.text_of(self.desk.pick))
            case _:
                self._show_brake()

    def _show_study(self) -> None:
        made = self.desk
        if made.setup is not None:
            self.study.html = form(made.state, made.setup, made.question, made.running, made.stale)
            return
        faults = "".join(f"<li>{escape(fault)}</li>" for fault in made.faults)
        self.study.html = (
            f'<div class="head"><h1>Study</h1></div><ul class="wrong" role="alert">{faults}</ul><p>This brake cannot '
            "be studied as it is: undo the last change, open another setup file, or take a built-in brake above.</p>"
        )

    def _show_bar(self) -> None:
        self.bar.html = views_html(self.desk.state, self._open, self.desk.answers is not None)

    def _show_view(self) -> None:
        self._show_bar()
        self.point.visible = self.picks.visible = self.below.visible = self._open
        if not self._open:
            self._stand(plot=False)
            return
        words = self._view.show()
        self._stand(plot=words is not None and self._view.drawn)
        if words is None:
            runs = self.desk.running.share is not None
            waiting = "The study is being worked out." if runs else "Run the study first."
            self.below.html = f'<p class="note">{waiting}</p>'
            return
        old = OLD if self.desk.stale and self.desk.state.view != "map" else ""
        self.below.html = old + words

    def _stand(self, *, plot: bool) -> None:
        """Put the chosen view's plot on the page, or none; a plot that is only hidden may keep its place there."""
        for name, stage in self.stages.items():
            wanted = [self.views[name].part] if plot and name == self.desk.state.view else []
            if list(stage) != wanted:
                stage[:] = wanted

    def _show_point(self) -> None:
        made, study = self.desk, self.desk.question.study
        if self._open and made.setup is not None:
            parameters = study.parameters if study else ()
            self.point.html = point_html(made.state, parameters, made.point(made.pick), made.setup.system)

    def _show_picks(self) -> None:
        made, setup = self.desk, self.desk.setup
        if self._open and setup is not None:
            points = [made.point(pick) for pick in made.state.picks]
            picture = overlay_svg(made, None) if points else ""
            self.picks.html = compare_html(points, picture, made.outcomes, setup.system)

    def _show_brake(self) -> None:
        """Show the point's brake; one that cannot be says why in its place."""
        self.brake.look = looked(self.brake.look)
        self._pointed.draft.replace(self.desk.text_of(self.desk.pick))
        self.brake.rest()
