"""Building parts against hand-computable scenes: which ground is covered from which height up."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, union_all
from shapely.geometry.base import BaseGeometry

from models.exchange.parts import with_parts
from models.street.plane import LocalPlane
from models.street.town import BuildingDraft

PLANE = LocalPlane(60.17, 24.94)
Rect = tuple[float, float, float, float]
WHOLE = (0, 0, 40, 20)


def block(rect: Rect, top_m: float, bottom_m: float = 0.0, source: str = "surveyed") -> BuildingDraft:
    x0, y0, x1, y1 = rect
    latitude, longitude = PLANE.to_degrees([x0, x1, x1, x0], [y0, y0, y1, y1])
    ring = tuple(zip(longitude.tolist(), latitude.tolist(), strict=True))
    return BuildingDraft((ring,), top_m, bottom_m, source)  # type: ignore[arg-type]


def ground(building: BuildingDraft) -> BaseGeometry:
    rings = []
    for ring in building.rings:
        east, north = PLANE.to_metres([point[1] for point in ring], [point[0] for point in ring])
        rings.append(list(zip(east.tolist(), north.tolist(), strict=True)))
    return Polygon(rings[0], rings[1:])


def standing_at(buildings: list[BuildingDraft], x: float, y: float) -> list[tuple[float, float]]:
    """(bottom, top) of all that stands over a point, lowest first."""
    here = box(x - 0.1, y - 0.1, x + 0.1, y + 0.1)
    return sorted((round(b.bottom_m, 6), round(b.top_m, 6)) for b in buildings if ground(b).intersects(here))


def test_a_part_from_the_ground_takes_the_outlines_place() -> None:
    buildings, cut = with_parts([block(WHOLE, 12)], [block((0, 0, 10, 20), 30)])
    assert cut == 1
    assert standing_at(buildings, 5, 10) == [(0, 30)]
    assert standing_at(buildings, 25, 10) == [(0, 12)]


def test_parts_that_cover_all_leave_nothing_of_the_outline() -> None:
    buildings, _ = with_parts([block(WHOLE, 12)], [block((-0.2, 0, 20, 20), 9), block((20, 0, 40, 19.8), 15)])
    assert [building.top_m for building in buildings] == [9, 15]


def test_under_a_raised_part_of_a_building_known_to_be_higher_it_is_open() -> None:
    buildings, _ = with_parts([block(WHOLE, 18)], [block((0, 0, 40, 5), 18, 4.6)])
    assert standing_at(buildings, 20, 2.5) == [(4.6, 18)]
    assert standing_at(buildings, 20, 10) == [(0, 18)]


@pytest.mark.parametrize(("top_m", "source"), [(6.4, "levels"), (16.0, "assumed")])
def test_an_outline_that_ends_at_the_parts_foot_or_has_no_height_is_the_lower_floors(top_m: float, source: str) -> None:
    parts = [block((0, 0, 20, 20), 20, 6.4), block((5, 5, 15, 15), 26, 20)]
    buildings, _ = with_parts([block(WHOLE, top_m, source=source)], parts)
    assert standing_at(buildings, 2, 2) == [(0, 6.4), (6.4, 20)]
    assert standing_at(buildings, 10, 10) == [(0, 6.4), (6.4, 20), (20, 26)]
    assert standing_at(buildings, 30, 10) == [(0, top_m)]


def test_a_part_of_another_building_is_no_part_of_this_one() -> None:
    outline, other = block(WHOLE, 12), block((38, 0, 60, 20), 30)
    assert with_parts([outline], [other]) == ([outline, other], 0)


def test_a_part_without_an_outline_stands_by_itself() -> None:
    part = block(WHOLE, 9)
    assert with_parts([], [part]) == ([part], 0)


def test_a_courtyard_stays_open() -> None:
    outline = block(WHOLE, 12)
    yard = block((10, 5, 30, 15), 0).rings[0]
    hollow = BuildingDraft((outline.rings[0], yard), 12)
    buildings, _ = with_parts([hollow], [block((0, 0, 9, 20), 15)])
    assert standing_at(buildings, 20, 10) == []
    assert standing_at(buildings, 35, 10) == [(0, 12)]


RECTS = st.builds(
    lambda x, y, w, h: (x, y, x + w, y + h),
    st.integers(-5, 30),
    st.integers(-5, 15),
    st.integers(2, 20),
    st.integers(2, 15),
)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(RECTS, st.sampled_from((0.0, 4.0, 8.0))), min_size=1, max_size=5))
def test_no_ground_is_lost_or_won(drawn: list[tuple[Rect, float]]) -> None:
    parts = [block(rect, bottom_m + 5, bottom_m) for rect, bottom_m in drawn]
    buildings, _ = with_parts([block(WHOLE, 12)], parts)
    before = union_all([box(*WHOLE), *(box(*rect) for rect, _ in drawn)])
    after = union_all([ground(building) for building in buildings])
    assert after.symmetric_difference(before).area < 0.01 * before.area
