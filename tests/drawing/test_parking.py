"""The parking section: drawn behind the chamber where one is fitted, its spring held back; nowhere else."""

import numpy as np
import pytest

from geometry.outlines import brake_outlines
from mechviz.drawing.compare import PREFIXES
from mechviz.drawing.layout import PARKING
from mechviz.drawing.parts import path_data
from mechviz.drawing.picture import picture
from tests.drawing.measure import NUMBER, SVG, Drawn
from tests.drawing.scenes import BUILT_IN, WORN, compared, pictured, scene, setup

NAME = "power spring, held back"


def ids(prefix: str = "") -> set[str]:
    return {f"{prefix}part-{name.replace('_', '-')}" for name in PARKING}


@pytest.mark.parametrize("name", BUILT_IN)
def test_it_is_drawn_caged_where_one_is_fitted_and_nowhere_else(name: str) -> None:
    fitted = setup(name).parking is not None
    found = Drawn(pictured(scene(name)).svg)
    assert ids() & set(found.ids) == (ids() if fitted else set())
    assert ("note-parking" in found.by_id) == fitted
    assert (NAME in "".join(found.root.itertext())) == fitted
    assert len([e for e in found.root.iter() if e.get("class") == "air air-parking"]) == fitted
    for outline in brake_outlines(scene(name).brake, scene(name).condition, parking=fitted):
        if outline.name in PARKING:  # whatever the brake does, plate and spring stay where the air holds them
            part = found.by_id[f"part-{outline.name.replace('_', '-')}"]
            assert next(part.iter(f"{SVG}path")).get("d") == path_data(outline)
            np.testing.assert_allclose(found.matrix(str(part.get("id"))), [1, 0, 0, 1, 0, 0])


def test_built_in_setups_have_some_with_and_some_without() -> None:
    assert {setup(name).parking is None for name in BUILT_IN} == {True, False}


def test_its_lines_are_lines() -> None:
    found = Drawn(pictured(scene(WORN)).svg)
    kinds = {part: next(found.by_id[f"part-{part}"].iter(f"{SVG}path")).get("class") for part in (
        "power-spring", "parking-diaphragm", "parking-plate", "parking-housing"
    )}  # fmt: skip
    assert kinds == {
        "power-spring": "mv-line-hold power-spring",
        "parking-diaphragm": "mv-line-push mv-sheet",
        "parking-plate": "mv-push",
        "parking-housing": "mv-section",
    }


@pytest.mark.parametrize("column", [True, False])
def test_it_stands_inside_the_picture_over_the_figures(column: bool) -> None:
    where = picture(scene(WORN), column=column).where
    assert where.parked is not None
    x, y, width, height = where.parked
    assert 0 < x < x + width == where.edge < where.width
    assert 0 < y < y + height < where.figures[1]
    outline = next(o for o in scene(WORN).outlines if o.name == "parking_housing")
    left, low, right, high = outline.geometry.bounds
    np.testing.assert_allclose(
        [*where.at("arm", right, high), *where.at("arm", left, low)], [x, y, x + width, y + height]
    )


def test_without_labels_it_has_no_name() -> None:
    found = Drawn(picture(scene(WORN), labels="none").svg)
    assert ids() <= set(found.ids)
    assert NAME not in "".join(found.root.itertext())


def test_it_is_in_every_panel_and_inside_its_third() -> None:
    found = Drawn(compared(WORN, "life").svg)
    for n, prefix in enumerate(PREFIXES):
        assert ids(prefix) <= set(found.ids)
        housing = next(found.by_id[f"{prefix}part-parking-housing"].iter(f"{SVG}path"))
        xs = [float(number) for number in NUMBER.findall(housing.get("d", ""))][::2]
        plane = found.matrix(f"{prefix}plane-arm")
        panel = found.by_id[f"{prefix}panel"]
        shift, share = (
            [float(number) for number in NUMBER.findall(part)]
            for part in str(next(e.get("transform") for e in panel.iter() if e.get("transform"))).split("scale")
        )
        right = shift[0] + share[0] * (plane[0] * min(xs) + plane[4])
        assert 1600 / 3 * n < right < 1600 / 3 * (n + 1)
