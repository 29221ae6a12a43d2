"""Spots and the search from the nearest place on, against every place tried the slow way."""

from itertools import islice

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Point, box

from mechviz.drawing.lettering import Text
from mechviz.drawing.placing import NEAREST, REACHES, Room, Wanted, union
from mechviz.drawing.spots import APART, spots

BOUNDS = (12.0, 12.0, 700.0, 500.0)
PARTS = union([Point(200, 200).buffer(120).difference(Point(200, 200).buffer(90)), box(400, 40, 420, 480)])
TARGETS = (Point(200, 200).buffer(20), box(395, 100, 425, 140), PARTS, Point(690, 490).buffer(5))


def test_a_box_with_a_spot_stands_on_the_shape_and_most_that_do_have_one() -> None:
    rng = np.random.default_rng(1)
    corner = rng.uniform((0, 0), (720, 520), (4000, 2)).round(1)
    size = rng.uniform(1, 90, (4000, 2)).round(1)
    edges = np.hstack([corner, corner + size]).T
    exact = shapely.intersects(PARTS, shapely.box(*edges))
    told = spots(BOUNDS, PARTS).met(edges)
    assert not (told & ~exact).any()
    large = size.min(axis=1) > 2 * APART
    assert (told & exact & large).sum() > 0.85 * (exact & large).sum() > 500


def test_a_spot_on_the_edge_of_a_box_does_not_count() -> None:
    found = spots((0.0, 0.0, 40.0, 40.0), box(15.9, 15.9, 16.1, 16.1))
    beside, round_it = (16.0, 8.0, 30.0, 30.0), (15.9, 8.0, 30.0, 30.0)
    assert found.met(np.array([beside, round_it]).T).tolist() == [False, True]


@pytest.mark.parametrize("reach", REACHES)
@pytest.mark.parametrize("target", TARGETS, ids=["in a ring", "on a bar", "everything", "in a corner"])
def test_the_nearest_free_places_are_those_of_an_exhaustive_search(target: shapely.Geometry, reach: float) -> None:
    room = Room(BOUNDS, PARTS)
    room.keep_clear([Text("a text that stands", 300, 60)], [box(230, 300, 330, 360)])
    room.leaders.append(LineString([(440, 60), (600, 300)]))
    edges = room._grid(Wanted((Text("label"),), target), reach)
    boxes = shapely.box(*edges)
    standing = [PARTS, *room.shapes, *room.leaders, *(box(*taken).buffer(-1e-9) for taken in room.boxes)]
    free = np.flatnonzero(~shapely.intersects(np.array(standing)[:, np.newaxis], boxes).any(axis=0))
    distance = shapely.distance(target, boxes[free])
    nearest = free[np.argsort(distance, kind="stable")[:NEAREST]]
    found = [spot for _, spot in islice(room._free(edges, target), NEAREST)]
    assert [spot.bounds for spot in found] == [boxes[place].bounds for place in nearest]
    assert found
