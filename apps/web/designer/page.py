"""The page of the designer's desk: its parts, and which of them is drawn anew when something changes."""

from collections.abc import Callable, Mapping
from functools import partial
from html import escape
from typing import Any
from urllib.parse import parse_qsl, urlencode

import panel as pn

from apps.web.assets import asset
from apps.web.brake_view import BrakeView
from apps.web.brakes import Brakes
from apps.web.designer.desk import Desk
from apps.web.designer.field import Field, field_of, from_shown, nearest, to_shown
from apps.web.designer.frontier import Frontier, frontier
from apps.web.designer.html_form import form
from apps.web.designer.html_point import compare_html, names_of, point_html
from apps.web.designer.html_views import follows_html, front_html, map_words, tolerance_html, views_html
from apps.web.designer.judged import figure_words
from apps.web.designer.lines import STEPS, Drawn, Lines, Scale, scales
from apps.web.designer.overlay import overlay_svg
from apps.web.designer.pick import LETTERS, Pick, picked
from apps.web.designer.plots import FrontPlot, MapPlot
from apps.web.designer.sheet import Sheet
from apps.web.designer.varied import figure, present
from apps.web.desks import desk
from apps.web.frame import framed
from apps.web.session import Session
from apps.web.tools import Tools
from geometry.errors import MechvizError
from mechviz.study.parameter import SIZE

STATE = frozenset("pwtax")
"""Of how a brake is looked at: its pressure, lining, temperature, adjuster and stroke."""


def designer_desk(session: Session, brakes: Brakes) -> pn.Template:
    """Return the designer's desk for a visit."""
    document = pn.state.curdoc
    assert document is not None  # a visit has one
    made = Desk(session, document.add_next_tick_callback)
    page = Page(made, brakes)
    document.on_session_destroyed(lambda _: made.close())
    pn.state.onload(made.begin)
    style = f"<style>{asset('designer_page.css')}</style>"
    return framed(desk("designer"), Tools(session), page.parts, style)


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
        self.views, self.below = Sheet(self._heard), Sheet(self._heard)
        self.point, self.picks = Sheet(self._heard), Sheet(self._heard)
        self.map, self.front = MapPlot(self._tapped_map), FrontPlot(self._tapped_front)
        self.map_pane, self.front_pane = (
            pn.pane.Bokeh(one.plot, sizing_mode="stretch_width", visible=False) for one in (self.map, self.front)
        )
        self.lines = Lines(self._heard_lines, visible=False)
        self._pointed = PointSession(made.session)
        self.brake = BrakeView(self._pointed, brakes, extent="moving")
        self._field: Field | None = None
        self._frontier: Frontier | None = None
        self._scales: list[Scale] = []
        self._drawn: Drawn | None = None
        self._overlay = ""
        made.shown, made.save = self.show, self._save
        self.parts: Mapping[str, Any] = {
            "study": self.study,
            "views": self.views,
            "map": self.map_pane,
            "front": self.front_pane,
            "lines": self.lines,
            "below": self.below,
            "point": self.point,
            "picks": self.picks,
            "brake": self.brake,
        }
        for what in ("study", "view", "map", "point", "picks", "brake"):
            self.show(what)

    def _save(self, data: bytes, name: str, kind: str) -> None:
        self.study.save(data, name, kind, self.desk.later)

    def _draw(self, act: Callable[[], None]) -> None:
        """Change a plot in a turn of its own: Panel hears of messages without the lock that its models need."""
        self.desk.later(act)

    # what was done

    def _heard(self, act: str, data: Mapping[str, Any]) -> None:
        state, stem = self.desk.state, self.desk.stem
        match act:
            case "theme":
                theme = "dark" if data.get("key") == "dark" else "light"
                for plot in (self.map, self.front):
                    self._draw(partial(plot.dress, theme))
            case "slide":
                self._slid(str(data.get("key")), str(data.get("value")), bool(data.get("end")))
            case "png" | "svg":
                self.views.save_picture(state.view, f"{stem}-{state.view}.{act}", act)
            case "overlay-svg":
                self._save(overlay_svg(self.desk, "light").encode(), f"{stem}-compared.svg", "image/svg+xml")
            case "overlay-png":
                from mechviz.export import svg_to_png

                picture = svg_to_png(overlay_svg(self.desk, "light"), 1920, "light")
                self._save(picture, f"{stem}-compared.png", "image/png")
            case _:
                self.desk.heard(act, data)

    def _slid(self, key: str, value: str, end: bool) -> None:
        setup, study = self.desk.setup, self.desk.question.study
        if setup is None or study is None or key not in self.desk.state.keys or key == SIZE:
            return
        try:
            shown = figure(value, "number", key)
        except MechvizError:
            return
        self.desk.slid(key, from_shown(shown, study.parameter(key).kind, setup.system), end)

    def _heard_lines(self, data: Mapping[str, Any]) -> None:
        match data:
            case {"act": "pick", "row": int(row)} if self._drawn and 0 <= row < self._drawn.places.size:
                self.desk.stand_at(int(self._drawn.places[row]))
            case {"act": "brush", "key": str(key), "low": int() | float() as low, "high": int() | float() as high}:
                for scale in self._scales:
                    if scale.key == key:
                        ends = {"low": scale.figure(float(low)), "high": scale.figure(float(high))}
                        self.desk.brushed({"act": "brush", "key": key, **ends})
            case {"act": "clear", "key": str(key)}:
                self.desk.brushed({"act": "clear", "key": key})
            case _:
                pass

    def _tapped_map(self, x: float, y: float) -> None:
        if self._field is None or x is None or y is None:
            return
        study = self._field.result.study
        across, up = nearest(self._field, x, y)
        figures = self.desk.pick.figures(study.parameters)
        figures |= {self._field.across.parameter.key: across, self._field.up.parameter.key: up}
        self.desk.stand(picked(study.parameters, figures))

    def _tapped_front(self, x: float, y: float) -> None:
        if self._frontier is not None and x is not None and y is not None:
            place = self._frontier.nearest(x, y)
            if place is not None:
                self.desk.stand_at(place)

    # what is shown

    def show(self, what: str) -> None:
        """Draw a part of the desk anew."""
        {
            "study": self._show_study,
            "progress": self._show_study,
            "view": self._show_view,
            "map": self._show_map,
            "marks": self._show_marks,
            "point": self._show_point,
            "picks": self._show_picks,
            "answers": self._show_answers,
            "brake": self._show_brake,
        }[what]()

    def _show_study(self) -> None:
        made = self.desk
        if made.setup is None:
            faults = "".join(f"<li>{escape(fault)}</li>" for fault in made.faults)
            self.study.html = (
                f'<div class="head"><h1>Study</h1></div><ul class="wrong" role="alert">{faults}</ul>'
                "<p>This brake cannot be studied as it is: undo the last change, open another setup file, or take "
                "a built-in brake above.</p>"
            )
            return
        self.study.html = form(made.state, made.setup, made.question, made.running, made.stale)

    @property
    def _open(self) -> bool:
        """Whether plots are shown: after the first run, and while the brake can be used."""
        return self.desk.state.ran and self.desk.setup is not None

    def _show_view(self) -> None:
        state = self.desk.state
        view = state.view if self._open else ""
        self.views.html = views_html(state, self._open, self.desk.answers is not None)
        self.map_pane.visible = view == "map" and self._mappable
        self.front_pane.visible = view == "front" and self.desk.answers is not None
        self.lines.visible = view == "lines" and self.desk.answers is not None
        self.point.visible = self._open
        self.picks.visible = self._open
        if view == "map":
            self._map_words()
        else:
            self._show_answers()

    @property
    def _mappable(self) -> bool:
        across, up = self.desk.state.axes
        return across != up and self.desk.question.study is not None

    def _show_map(self) -> None:
        state, made = self.desk.state, self.desk
        study = made.question.study
        self._field = None
        if self._open and self._mappable and study is not None and made.setup is not None:
            one = [p for p in (study.parameter(key) for key in state.axes) if len(p.words) == 1]
            if not one:
                self._field = field_of(study, state.axes, state.mapped, made.pick)
                if state.view == "map":
                    self._draw(partial(self.map.show, self._field, self._now()))
        if state.view == "map":
            self.map_pane.visible = self._field is not None
            self._map_words()
            self._show_marks()

    def _now(self) -> tuple[float, float] | None:
        """Where the brake as it is stands on the map."""
        setup, found = self.desk.setup, list[float]()
        if setup is None or self._field is None:
            return None
        for axis in (self._field.across, self._field.up):
            p = axis.parameter
            if p.words:
                size = setup.brake.chamber.size
                found.append(float(p.words.index(size)) if size in p.words else float("nan"))
            else:
                found.append(float(to_shown(present(setup, p.key), p.kind, setup.system)))
        return (found[0], found[1]) if found[0] == found[0] and found[1] == found[1] else None

    def _map_words(self) -> None:
        if self.desk.state.view != "map" or not self._open:
            return
        if self._field is None:
            why = (
                "a second dimension"
                if len(self.desk.state.keys) < 2
                else "fields without a fault, and two sizes to go by"
            )
            self.below.html = f'<p class="note">The map needs {why}: see the study.</p>'
            return
        setup, state = self.desk.setup, self.desk.state
        assert setup is not None  # there is a field
        held = [key for key in state.keys if key not in state.axes]
        words = figure_words(self.desk.pick, names_of(held), setup.system)
        described = (
            f'<p class="unseen" data-describes="map">Map of {escape(self._field.outcome.words)} over '
            f"{escape(self._field.across.parameter.name)} and {escape(self._field.up.parameter.name)}; figures are in "
            "the list below, and in the table of this point.</p>"
        )
        self.below.html = described + map_words(self._field, words)

    def _show_marks(self) -> None:
        made, setup = self.desk, self.desk.setup
        if setup is None:
            return
        kept = list(zip(LETTERS, made.state.picks, strict=False))
        if made.state.view == "map" and self._field is not None:
            places = [(letter, *at) for letter, pick in kept if (at := self._place(pick))]
            self._draw(partial(self.map.mark, self._place(made.pick), places))
        elif made.state.view == "front" and self._frontier is not None:
            goals = [(letter, *self._goals(pick)) for letter, pick in kept]
            self._draw(partial(self.front.mark, self._goals(made.pick), goals))
        elif made.state.view == "lines":
            self.lines.chosen = self._chosen()

    def _place(self, pick: Pick) -> tuple[float, float] | None:
        """Where a point stands on the map."""
        setup, field = self.desk.setup, self._field
        if setup is None or field is None:
            return None
        found: list[float] = []
        for axis in (field.across, field.up):
            p, value = axis.parameter, pick.by_key.get(axis.parameter.key)
            if value is None or (p.words and value not in p.words):
                return None
            at = float(p.words.index(str(value))) if p.words else to_shown(float(value), p.kind, setup.system)
            found.append(float(at))
        return found[0], found[1]

    def _goals(self, pick: Pick) -> tuple[float, float]:
        """Where a point stands among two outcomes."""
        setup, point = self.desk.setup, self.desk.point(pick)
        found = [float("nan"), float("nan")]
        for n, key in enumerate(self._goal_keys()):
            kind = next((o.quantity.kind for o in self.desk.state.asked if o.key == key), None)
            if kind is not None and setup is not None:
                found[n] = float(to_shown(point.value(key), kind, setup.system))
        return found[0], found[1]

    def _goal_keys(self) -> tuple[str, str]:
        """The two goals, as far as the answers have them."""
        keys = [o.key for o in self.desk.answers.study.outcomes] if self.desk.answers else []
        wanted = self.desk.state.goals
        good = (
            [key if key in keys else keys[min(n, len(keys) - 1)] for n, key in enumerate(wanted)] if keys else ["", ""]
        )
        return good[0], good[1]

    def _chosen(self) -> list[int | None]:
        """The point on each of the parallel axes."""
        point = self.desk.point(self.desk.pick)
        answers, found = self.desk.answers, list[int | None]()
        if answers is None:
            return []
        for scale in self._scales:
            value: float | str | None = point.pick.by_key.get(scale.key)
            if isinstance(value, str):
                words = answers.study.parameter(scale.key).words
                value = float(words.index(value)) if value in words else float("nan")
            figure = point.value(scale.key) if value is None else float(value)
            share = scale.share(figure)
            found.append(None if not 0 <= share <= 1 else round(STEPS * share))
        return found

    def _show_point(self) -> None:
        made, study = self.desk, self.desk.question.study
        if not self._open or made.setup is None:
            return
        parameters = study.parameters if study else ()
        self.point.html = point_html(made.state, parameters, made.point(made.pick), made.setup.system)
        if made.state.view != "map":
            self._show_marks()

    def _show_picks(self) -> None:
        made, setup = self.desk, self.desk.setup
        if not self._open or setup is None:
            return
        points = [made.point(pick) for pick in made.state.picks]
        self._overlay = overlay_svg(made, None) if points else ""
        self.picks.html = compare_html(points, self._overlay, made.state.asked, setup.system)

    def _show_answers(self) -> None:
        made, state = self.desk, self.desk.state
        if not self._open or state.view == "map":
            if state.view == "map":
                self.views.html = views_html(state, self._open, made.answers is not None)
                self._map_words() if self._open else setattr(self.below, "html", "")
            return
        found = made.answers
        self.views.html = views_html(state, True, found is not None)
        if found is None:
            self.below.html = '<p class="note">Run the study to see this.</p>'
            return
        self.front_pane.visible, self.lines.visible = state.view == "front", state.view == "lines"
        {
            "front": self._show_front,
            "lines": self._show_lines,
            "follows": partial(self._table, lambda: follows_html(found.follows, found.study.outcomes)),
            "tolerance": partial(self._table, lambda: tolerance_html(found.tolerance, made.moved)),
        }[state.view]()
        self._show_marks()

    def _table(self, make: Any) -> None:
        self.below.html = self._old() + make()

    def _old(self) -> str:
        return (
            '<p class="note">These are the results of the study before it was changed. Run it again.</p>'
            if self.desk.stale
            else ""
        )

    def _show_front(self) -> None:
        found = self.desk.answers
        assert found is not None
        self._frontier = frontier(found.result, self._goal_keys())
        self._draw(partial(self.front.show, self._frontier))
        described = (
            '<p class="unseen" data-describes="front">Two outcomes against each other; '
            "the best choices stand in the table below.</p>"
        )
        self.below.html = self._old() + described + front_html(self.desk.state, found.result, self._frontier)

    def _show_lines(self) -> None:
        found = self.desk.answers
        assert found is not None
        self._scales = scales(found.result)
        self._drawn = self.lines.show(found.result, self._scales, self.desk.state.filters)
        self.below.html = self._old() + (
            '<p class="soft">Drag along an axis to keep to a range, press on it to let the range go; by keyboard, the '
            "two handles of an axis move by arrow keys. Press on a line to take its point. Solid lines keep limits, "
            "dashed ones do not; hatched is not allowed.</p>"
        )

    def _show_brake(self) -> None:
        if self._open or self.desk.setup is None:
            self.brake.look = looked(self.brake.look)
            self._pointed.draft.replace(
                self.desk.text_of(self.desk.pick) if self.desk.setup else self.desk.session.draft.text
            )
