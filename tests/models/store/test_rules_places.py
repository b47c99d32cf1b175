"""Areas by where they lie, held to shapely over all shapes at hand."""

from __future__ import annotations

from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Point

from models.problems import InputProblem
from models.store.rules import add_area, add_areas, areas_along, areas_at, areas_at_each, areas_in_view, delete_area
from models.street.town import Box
from tests.models.store.rules_drafts import AREA, area_draft, square


@pytest.fixture(scope="module")
def shapes():
    """Sixty round and toothed outlines over some ten kilometres, every third with a hole, every fifth in two parts."""
    return [_outline(number) for number in range(60)]


@pytest.fixture(scope="module")
def town(shared_store, shapes):
    with shared_store.writing() as s:
        add_areas(s, [area_draft(f"area {number:02}", shape) for number, shape in enumerate(shapes)])
    return shared_store


def _outline(number):
    longitude, latitude = 5.2 + 0.013 * (number * 7 % 11), 52.5 + 0.009 * (number * 5 % 13)
    outer = _ring(longitude, latitude, 0.004 + 0.0007 * number, 5 + number % 9)
    rings = (outer, _ring(longitude, latitude, 0.002, 6)) if number % 3 == 0 else (outer,)
    return (rings, (_ring(longitude + 0.2, latitude, 0.003, 4),)) if number % 5 == 0 else (rings,)


def _ring(longitude, latitude, radius, corners):
    turns = [2 * pi * corner / corners for corner in range(corners)]
    points = tuple((longitude + 1.6 * radius * cos(turn), latitude + radius * sin(turn)) for turn in turns)
    return (*points, points[0])


def polygon(shape):
    return MultiPolygon([(rings[0], rings[1:]) for rings in shape])


def names(areas):
    return [area.name for area in areas]


@tried(max_examples=60)
@given(latitude=st.floats(52.48, 52.65), longitude=st.floats(5.18, 5.56))
def test_at_a_point_are_those_that_hold_it(town, shapes, latitude, longitude):
    expected = [f"area {k:02}" for k, shape in enumerate(shapes) if polygon(shape).covers(Point(longitude, latitude))]
    with town.reading() as s:
        assert names(areas_at(s, latitude, longitude)) == expected


@tried(max_examples=40)
@given(number=st.integers(0, 59), side=st.integers(0, 3), along=st.floats(0, 1))
def test_a_point_on_an_edge_is_in(town, shapes, number, side, along):
    (west, south), (east, north) = shapes[number][0][0][side : side + 2]
    with town.reading() as s:
        found = areas_at(s, south + along * (north - south), west + along * (east - west))
    assert f"area {number:02}" in names(found)


@tried(max_examples=20)
@given(points=st.lists(st.tuples(st.floats(52.48, 52.65), st.floats(5.18, 5.56)), max_size=8))
def test_at_many_points_as_at_each(town, points):
    with town.reading() as s:
        assert areas_at_each(s, points) == tuple(areas_at(s, *point) for point in points)


@tried(max_examples=40)
@given(points=st.lists(st.tuples(st.floats(52.48, 52.65), st.floats(5.18, 5.56)), min_size=2, max_size=5, unique=True))
def test_along_a_way_are_those_it_meets(town, shapes, points):
    way = LineString([(longitude, latitude) for latitude, longitude in points])
    expected = [f"area {k:02}" for k, shape in enumerate(shapes) if polygon(shape).intersects(way)]
    with town.reading() as s:
        assert names(areas_along(s, points)) == expected


def test_in_a_hole_is_not_in(store):
    with store.writing() as s:
        area = add_area(s, AREA)
        assert areas_at(s, 52.022, 5.065) == ()
        assert areas_at(s, 52.01, 5.05) == (area,)
        assert areas_at(s, 52.02, 5.07) == (area,)  # on the edge of the hole
        assert areas_at(s, 52.55, 5.25) == (area,)  # in its other part


def test_overlapping_areas_all_apply(store):
    with store.writing() as s:
        souths = (("quay", 52.5), ("Park", 52.45), ("far", 53.0))
        add_areas(s, [area_draft(name, square(south)) for name, south in souths])
        assert names(areas_at(s, 52.52, 5.25)) == ["Park", "quay"]
        assert names(areas_at(s, 52.46, 5.25)) == ["Park"]


def test_an_area_put_aside_is_nowhere(store):
    with store.writing() as s:
        area = add_area(s, area_draft())
        delete_area(s, area.id, 1)
        assert areas_at(s, 52.55, 5.25) == ()
        assert areas_along(s, [(52.0, 5.25), (53.0, 5.25)]) == ()
        assert areas_in_view(s, Box(52.0, 5.0, 53.0, 6.0)) == ()


def test_a_way_of_one_point_or_none(store):
    with store.writing() as s:
        area = add_area(s, area_draft())
        assert areas_along(s, [(52.55, 5.25)]) == (area,)
        assert areas_along(s, [(52.55, 5.25), (52.55, 5.25)]) == (area,)
        assert areas_along(s, []) == ()
        assert areas_at_each(s, []) == ()


@pytest.mark.parametrize("turned", [False, True])
def test_a_way_over_180_degrees_goes_the_short_way(store, turned):
    way = [(-17.0, 179.0), (-17.0, -179.0)]
    shapes = {"west": square(-17.05, 179.4), "east": square(-17.05, -179.6), "round the world": square(-17.05, 20.0)}
    with store.writing() as s:
        add_areas(s, [area_draft(name, shape) for name, shape in shapes.items()])
        assert names(areas_along(s, way[::-1] if turned else way)) == ["east", "west"]


def test_in_view_are_those_whose_box_meets_it(store):
    with store.writing() as s:
        add_areas(s, [area_draft(name, square(52.5, west)) for name, west in (("b", 5.2), ("a", 5.5), ("c", -179.95))])
        assert names(areas_in_view(s, Box(52.0, 5.0, 53.0, 6.0))) == ["a", "b"]
        assert names(areas_in_view(s, Box(52.0, 5.0, 53.0, 6.0), limit=1)) == ["a"]
        assert names(areas_in_view(s, Box(52.0, 5.25, 52.5, 5.4))) == ["b"]
        assert names(areas_in_view(s, Box(52.0, 179.0, 53.0, -179.0))) == ["c"]


def test_a_wrong_shape_is_refused_by_name(store):
    crossed = ((((5.0, 52.0), (5.1, 52.1), (5.1, 52.0), (5.0, 52.1), (5.0, 52.0)),),)
    with store.writing() as s:
        with pytest.raises(InputProblem, match=r"area 2: shape: .*crosses.* near latitude 52.05, longitude 5.05"):
            add_areas(s, [area_draft(), area_draft("bow", crossed)])
        assert areas_in_view(s, Box(52, 5, 53, 6)) == ()
