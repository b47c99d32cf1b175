"""Coordinates and map boxes as people and pages give them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.places import read_box, read_place
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
