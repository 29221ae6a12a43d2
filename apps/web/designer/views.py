"""The ways to look at a study: each is a part of the page, what it shows of the desk, and what stands below it."""

from collections.abc import Callable, Mapping
from html import escape
from typing import Any, Protocol

import panel as pn

from apps.web.designer.desk import Desk
from apps.web.designer.field import COARSE, FINE, Axis, Field, field_of, nearest, to_shown
from apps.web.designer.front_plot import FrontPlot
from apps.web.designer.frontier import Frontier, frontier
from apps.web.designer.html_point import names_of
from apps.web.designer.html_views import follows_html, front_html, map_words, tolerance_html
from apps.web.designer.job import Answers
from apps.web.designer.judged import figure_words
from apps.web.designer.labels import DESK, PHONE
from apps.web.designer.lines import STEPS, Drawn, Lines, Scale, scales
from apps.web.designer.map_plot import MapPlot
from apps.web.designer.pick import LETTERS, Pick, picked
from apps.web.designer.varied import present
from mechviz.look.colours import ThemeName

NOWHERE = (float("nan"), float("nan"))
OLD = '<p class="note">These are the results of the study before it was changed. Run it again.</p>'


class View(Protocol):
    """One way to look. ``part`` is what is drawn, None where all is in the words."""

    part: Any

    @property
    def drawn(self) -> bool:
        """Whether there is something on it."""
        ...

    def show(self) -> str | None:
        """Show the desk and return the words below as HTML; None where there is nothing to show yet."""
        ...

    def mark(self) -> None:
        """Mark the point that stands there and the ones that are kept."""
        ...

    def dress(self, theme: ThemeName) -> None:
        """Take a theme's colours."""
        ...


class MapView:
    """An outcome over two dimensions; it is worked out anew as often as a slider moves, whether or not a study ran."""

    def __init__(self, made: Desk) -> None:
        self.desk = made
        self.plot = MapPlot(self.tapped)
        self.part: Any = pn.pane.Bokeh(self.plot.plot, sizing_mode="stretch_width")
        self.field: Field | None = None

    @property
    def drawn(self) -> bool:
        """Whether there is a map."""
        return self.field is not None

    def show(self) -> str | None:
        """Work the map out and show it."""
        made, setup, study = self.desk, self.desk.setup, self.desk.question.study
        axes = made.state.axes
        self.field = None
        if setup is None or study is None:
            return '<p class="note">There is no map of this study as it is: put right what is wrong in it.</p>'
        if axes[0] == axes[1] or any(len(study.parameter(key).words) == 1 for key in axes):
            return '<p class="note">A map needs two dimensions with a range each: vary one more.</p>'
        field = self.field = field_of(study, axes, made.state.mapped, made.pick, COARSE if made.moving else FINE)
        now = self.place(Pick.of({key: present(setup, key) for key in axes if not study.parameter(key).words}))
        marked = [at for pick in (made.pick, *made.state.picks) if (at := self.place(pick))]
        self.plot.show(field, now, marked)
        self.mark()
        held = [key for key in made.state.keys if key not in axes]
        names = [escape(axis.parameter.name) for axis in (field.across, field.up)]
        described = (
            f'<p class="unseen" data-describes="map">Map of {escape(field.outcome.words)} over {" and ".join(names)}; '
            "its limits are in the list below, the figures of a place in the table of this point.</p>"
        )
        return described + map_words(field, figure_words(made.pick, names_of(held), setup.system))

    def place(self, pick: Pick) -> tuple[float, float] | None:
        """Return where a point stands on the map; None where it has not both dimensions."""
        if self.field is None:
            return None
        found = [self._along(axis, pick) for axis in (self.field.across, self.field.up)]
        return None if found[0] is None or found[1] is None else (found[0], found[1])

    def _along(self, axis: Axis, pick: Pick) -> float | None:
        p, value = axis.parameter, pick.by_key.get(axis.parameter.key)
        if value is None or (p.words and value not in p.words) or self.desk.setup is None:
            return None
        return float(p.words.index(str(value)) if p.words else to_shown(float(value), p.kind, self.desk.setup.system))

    def mark(self) -> None:
        """Mark the point and the kept ones."""
        kept = zip(LETTERS, self.desk.state.picks, strict=False)
        picks = [(letter, *at) for letter, pick in kept if (at := self.place(pick))]
        self.plot.mark(self.place(self.desk.pick), picks)

    def fit(self, *, phone: bool) -> None:
        """Place words for the width of a phone, or of a larger map."""
        self.plot.pixels = PHONE if phone else DESK

    def dress(self, theme: ThemeName) -> None:
        """Take a theme's colours."""
        self.plot.dress(theme)

    def tapped(self, x: float, y: float) -> None:
        """Make the place that was pressed the point."""
        if self.field is not None:
            study = self.field.result.study
            across, up = nearest(self.field, x, y)
            figures = self.desk.pick.figures(study.parameters)
            figures |= {self.field.across.parameter.key: across, self.field.up.parameter.key: up}
            self.desk.stand(picked(study.parameters, figures))


class FrontView:
    """Two outcomes against each other, and the choices that nothing beats."""

    def __init__(self, made: Desk) -> None:
        self.desk = made
        self.plot = FrontPlot(self.tapped)
        self.part: Any = pn.pane.Bokeh(self.plot.plot, sizing_mode="stretch_width")
        self.frontier: Frontier | None = None

    @property
    def drawn(self) -> bool:
        """Whether there are points."""
        return self.frontier is not None

    def show(self) -> str | None:
        """Show the points of the last run."""
        found = self.desk.answers
        if found is None:
            return None
        frontier_found = self.frontier = frontier(found.result, self._goals(found))
        self.plot.show(frontier_found)
        self.mark()
        described = (
            '<p class="unseen" data-describes="front">Two outcomes against each other; the best choices are in the '
            "table below.</p>"
        )
        return described + front_html(self._goals(found), found.result, frontier_found)

    def _goals(self, found: Answers) -> tuple[str, str]:
        """The two goals, as far as this run asked for them."""
        keys = [outcome.key for outcome in found.study.outcomes]
        first, second = (key if key in keys else keys[-1] for key in self.desk.state.goals)
        return first, second

    def mark(self) -> None:
        """Mark the point and the kept ones by their outcomes."""
        picks = zip(LETTERS, map(self._at, self.desk.state.picks), strict=False)
        self.plot.mark(self._at(self.desk.pick), [(letter, *at) for letter, at in picks])

    def _at(self, pick: Pick) -> tuple[float, float]:
        setup, found = self.desk.setup, self.desk.answers
        if setup is None or found is None:
            return NOWHERE
        point = self.desk.point(pick)
        first, second = (
            float(to_shown(point.value(key), found.study.outcome(key).quantity.kind, setup.system))
            for key in self._goals(found)
        )
        return first, second

    def dress(self, theme: ThemeName) -> None:
        """Take a theme's colours."""
        self.plot.dress(theme)

    def tapped(self, x: float, y: float) -> None:
        """Make the nearest point that is drawn the point."""
        place = None if self.frontier is None else self.frontier.nearest(x, y)
        if place is not None:
            self.desk.stand_at(place)


class LinesView:
    """All points across parallel axes."""

    def __init__(self, made: Desk) -> None:
        self.desk = made
        self.part = Lines(self.heard)
        self._scales: list[Scale] = []
        self._drawn: Drawn | None = None

    @property
    def drawn(self) -> bool:
        """Whether there are lines."""
        return self._drawn is not None

    def show(self) -> str | None:
        """Show the points of the last run under the brushed ranges."""
        found = self.desk.answers
        if found is None:
            return None
        self._scales = scales(found.result)
        self._drawn = self.part.draw(found.result, self._scales, self.desk.state.filters)
        self.mark()
        return (
            '<p class="soft">Drag along an axis to keep to a range, press on it to let the range go; by keyboard, '
            "its two handles move by arrow keys. Press on a line to take its point. Solid lines keep every limit, "
            "dashed ones do not; hatched is not allowed.</p>"
        )

    def mark(self) -> None:
        """Draw the point that stands there as a line of its own."""
        point, found = self.desk.point(self.desk.pick), list[int | None]()
        for scale in self._scales:
            value: float | str | None = point.pick.by_key.get(scale.key)
            figure = point.value(scale.key) if value is None else scale.counted(value)
            share = float(scale.share(figure))
            found.append(round(STEPS * share) if 0 <= share <= 1 else None)
        self.part.chosen = found

    def dress(self, theme: ThemeName) -> None:
        """It follows the page's theme by itself."""

    def heard(self, data: Mapping[str, Any]) -> None:
        """Do what is asked for on the axes."""
        made, drawn = self.desk, self._drawn
        match data:
            case {"act": "pick", "row": int(row)} if drawn is not None and 0 <= row < drawn.places.size:
                made.stand_at(int(drawn.places[row]))
            case {"act": "brush", "key": str(key), "low": int() | float() as low, "high": int() | float() as high}:
                for scale in (one for one in self._scales if one.key == key):
                    made.brush(key, scale.figure(float(low)), scale.figure(float(high)))
            case {"act": "clear", "key": str(key)}:
                made.unbrush(key)
            case _:
                pass


class TableView:
    """A view that is a table: what follows what, and the tolerances."""

    def __init__(self, made: Desk, html: Callable[[Answers], str]) -> None:
        self.desk, self._html, self.part = made, html, None

    @property
    def drawn(self) -> bool:
        """It has no plot."""
        return False

    def show(self) -> str | None:
        """Return the table of the last run."""
        return None if self.desk.answers is None else self._html(self.desk.answers)

    def mark(self) -> None:
        """It has no places."""

    def dress(self, theme: ThemeName) -> None:
        """It follows the page's theme by itself."""


def views_of(made: Desk) -> dict[str, View]:
    """Return every way to look at a desk's study, by its name."""
    return {
        "map": MapView(made),
        "lines": LinesView(made),
        "front": FrontView(made),
        "follows": TableView(made, lambda found: follows_html(found.follows, found.study.outcomes)),
        "tolerance": TableView(made, lambda found: tolerance_html(found.tolerance, made.moved)),
    }
