"""Coordinates and map boxes as people and pages give them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.places import read_box, read_place, read_view
from models.problems import InputProblem


@pytest.mark.parametrize(
    "typed",
    [
        "52.53, 5.23",
        "52.53 5.23",
        "52.53;5.23",
        "52°31'48\"N 5°13'48\"E",
        "52° 31.8' N, 5° 13.8' E",
        "5°13′48″E 52°31′48″N",
    ],
)
def test_a_place_is_read_as_people_paste_it(typed):
    assert read_place(typed) == pytest.approx((52.53, 5.23), abs=1e-9)


def test_south_and_west_are_negative():
    assert read_place("33°30'S 70°30'W") == (-33.5, -70.5)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ("95, 5", "latitude"),
        ("5, 195", "longitude"),
        ("Foundry Lane", "place"),
        ("52.5", "place"),
        ("52°61'N 5°E", "place"),
        ("52°N 53°N", "place"),
        ("", "place"),
        ("nan, nan", "place"),
    ],
)
def test_a_bad_place_names_what_is_wrong(typed, field):
    with pytest.raises(InputProblem) as problem:
        read_place(typed)
    assert problem.value.field == field


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_decimal_degrees_read_back(latitude, longitude):
    assert read_place(f"{latitude:.6f}, {longitude:.6f}") == pytest.approx((latitude, longitude), abs=1e-6)


def test_a_box_is_west_south_east_north():
    box = read_box("5.22,52.52,5.24,52.54")
    assert (box.west, box.south, box.east, box.north) == (5.22, 52.52, 5.24, 52.54)


@pytest.mark.parametrize("typed", [None, "", "1,2,3", "a,b,c,d", "5,60,6,50", "5,-95,6,50", "nan,0,1,1", "inf,0,1,1"])
def test_a_bad_box_is_refused(typed):
    with pytest.raises(InputProblem) as problem:
        read_box(typed)
    assert problem.value.field == "bbox"


@pytest.mark.parametrize(
    ("shown", "meant"),
    [
        ("5.22,52.52,5.24,52.54", (5.22, 52.52, 5.24, 52.54)),
        ("170,10,190,20", (170, 10, -170, 20)),  # across the date line
        ("365.22,52.52,365.24,52.54", (5.22, 52.52, 5.24, 52.54)),  # once round
        ("-541,0,-539,1", (179, 0, -179, 1)),  # and once and a half the other way
        ("-200,-95,200,95", (-180, -90, 180, 90)),  # all of it, and more than there is
    ],
)
def test_a_view_is_the_part_of_the_world_that_a_map_shows(shown, meant):
    box = read_view(shown)
    assert (box.west, box.south, box.east, box.north) == pytest.approx(meant)


@pytest.mark.parametrize("typed", [None, "", "1,2,3", "a,b,c,d", "5,60,6,50", "5,95,6,96", "5,-96,6,-95", "nan,0,1,1"])
def test_a_view_of_nothing_is_refused(typed):
    with pytest.raises(InputProblem) as problem:
        read_view(typed)
    assert problem.value.field == "bbox"


@given(st.floats(-2000, 2000), st.floats(0, 359), st.floats(-90, 90), st.floats(0, 90))
def test_every_view_lies_in_the_world(west, across, south, up):
    box = read_view(f"{west},{south},{west + across},{south + up}")
    assert -180 <= box.west <= 180
    assert -180 <= box.east <= 180
    assert -90 <= box.south <= box.north <= 90
    assert (box.east - box.west - across) % 360 == pytest.approx(0, abs=1e-6) or (
        (box.east - box.west - across) % 360 == pytest.approx(360, abs=1e-6)
    )
