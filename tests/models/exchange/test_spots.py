"""Spots in and out, with what people get wrong in them."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.exchange.geojson_out import write_spots
from models.exchange.spots import read_spots
from models.problems import FileProblems, InputProblem
from models.street.scene import Canopy, SkylinePoint
from models.street.spot import SpotDraft

HOSTILE = "`${1}`</script><img src=x onerror=alert(1)>"


def file_of(*spots: dict[str, Any], at: Any = (5.23, 52.53)) -> bytes:
    geometry = {"type": "Point", "coordinates": list(at)}
    features = [{"type": "Feature", "properties": spot, "geometry": geometry} for spot in spots]
    return json.dumps({"type": "FeatureCollection", "features": features}).encode()


def amsterdam(latitude_deg: float, longitude_deg: float) -> str:
    assert (latitude_deg, longitude_deg) == (52.53, 5.23)
    return "Europe/Amsterdam"


def test_a_name_is_enough() -> None:
    (spot,) = read_spots(file_of({"name": HOSTILE}), amsterdam).spots
    assert spot == SpotDraft(name=HOSTILE, latitude_deg=52.53, longitude_deg=5.23, zone="Europe/Amsterdam")


def test_the_zone_asked_for_comes_before_the_files_and_the_files_before_the_maps() -> None:
    raw = file_of({"name": "A", "zone": "Asia/Tokyo"}, {"name": "B", "zone": None})
    assert [spot.zone for spot in read_spots(raw, amsterdam).spots] == ["Asia/Tokyo", "Europe/Amsterdam"]
    assert {spot.zone for spot in read_spots(raw, amsterdam, "UTC").spots} == {"UTC"}


def test_lengths_in_feet_and_lists_of_canopies_and_points() -> None:
    rowan = {
        "bearing_from_deg": 225,
        "bearing_to_deg": 262,
        "elevation_from_deg": 18,
        "elevation_to_deg": 52,
        "transmittance_leaf": 0.3,
        "transmittance_bare": 0.7,
    }
    noted = {"name": "A", "pavement_width_m": "8 ft", "canopies": [rowan], "measured": [[10, 20.5], [40, 30]]}
    (spot,) = read_spots(file_of(noted), amsterdam).spots
    assert spot.pavement_width_m == pytest.approx(2.4384)
    assert spot.canopies == (Canopy(225, 262, 18, 52, 0.3, 0.7),)
    assert spot.measured == (SkylinePoint(10, 20.5), SkylinePoint(40, 30))


def test_unknown_properties_are_left_aside_and_named() -> None:
    read = read_spots(file_of({"name": "A", "stars": 5, "colour": "red"}), amsterdam)
    assert read.notes == ("Properties without a place here, left aside: colour, stars.",)


@pytest.mark.parametrize(
    ("noted", "message"),
    [
        ({}, "feature 1: name: give the spot a name"),
        ({"name": 5}, "name: 5 is not text"),
        ({"name": "A", "zone": "Mars/Olympus"}, "feature 1 'A': zone: 'Mars/Olympus' is not known"),
        ({"name": "A", "roof": "tent"}, "roof: 'tent' is not known"),
        ({"name": "A", "wall_reflectance": 1.5}, "wall_reflectance: 1.5 is outside"),
        ({"name": "A", "pavement_width_m": "wide"}, "pavement_width_m: 'wide' is not understood"),
        ({"name": "A", "floor_m": True}, "floor_m: True is not a number"),
        ({"name": "A", "hazards": ["dogs"]}, "hazards: ['dogs'] is not text"),
        ({"name": "A", "measured": [[10]]}, "measured 1: [10]: write [bearing, elevation] in degrees"),
        ({"name": "A", "measured": 7}, "measured: 7 is not a list"),
        ({"name": "A", "measured": [["n", 3]]}, "measured 1: 'n' is not a number"),
        ({"name": "A", "canopies": [{"bearing_from_deg": 1}]}, "canopies 1: lacks bearing_to_deg, elevation_from_deg"),
        ({"name": "A", "canopies": [{"leaf": 1}]}, "canopies 1: {'leaf': 1}: write an object with"),
        ({"name": "A", "canopies": ["leaves"]}, "canopies 1: 'leaves': write an object with"),
    ],
)
def test_a_bad_spot_names_the_feature_and_the_field(noted: dict[str, Any], message: str) -> None:
    with pytest.raises(InputProblem) as raised:
        read_spots(file_of(noted), amsterdam)
    assert message in str(raised.value)


def test_months_in_leaf_are_a_list_of_months() -> None:
    canopy = dict.fromkeys(("bearing_from_deg", "elevation_from_deg", "transmittance_leaf", "transmittance_bare"), 0)
    canopy |= {"bearing_to_deg": 10, "elevation_to_deg": 10}
    for months in ("May", [13], [None]):
        with pytest.raises(InputProblem, match="leaf"):
            read_spots(file_of({"name": "A", "canopies": [canopy | {"leaf_months": months}]}), amsterdam)
    roof = read_spots(file_of({"name": "A", "canopies": [canopy | {"leaf_months": []}]}), amsterdam).spots[0].canopies
    assert roof[0].leaf_months == ()


def test_a_spot_is_one_point_on_the_earth() -> None:
    for place, message in (((5.23, 95), "latitude 95"), ((), "is not a position"), (("5", "52"), "is not a position")):
        with pytest.raises(InputProblem, match=message):
            read_spots(file_of({"name": "A"}, at=place), amsterdam)
    line = file_of({"name": "A"}).replace(b'"Point"', b'"LineString"')
    with pytest.raises(InputProblem, match="is a 'LineString'; a spot is one Point"):
        read_spots(line, amsterdam)


def test_every_bad_spot_is_told_at_once() -> None:
    with pytest.raises(FileProblems) as raised:
        read_spots(file_of({"name": "A"}, {"name": "B", "roof": "tent"}, {"name": "C", "turbidity": -1}), amsterdam)
    assert [problem.field for problem in raised.value.problems] == ["feature 2 'B'", "feature 3 'C'"]


WORDS = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=20).map(str.strip)
BEARING = st.floats(0, 359.9)


@st.composite
def drafts(draw: st.DrawFn) -> SpotDraft:
    canopies = st.builds(
        Canopy,
        BEARING,
        BEARING,
        st.floats(0, 40),
        st.floats(41, 90),
        st.floats(0, 1),
        st.floats(0, 1),
        st.lists(st.integers(1, 12), max_size=12).map(tuple),
        WORDS,
    )
    points = st.builds(SkylinePoint, BEARING, st.floats(-10, 90))
    return SpotDraft(
        name=" ".join(draw(WORDS).split()) or "A",
        latitude_deg=draw(st.floats(-90, 90)),
        longitude_deg=draw(st.floats(-180, 180)),
        zone=draw(st.sampled_from(("Europe/Amsterdam", "Pacific/Kiritimati", "UTC"))),
        floor_m=draw(st.floats(-50, 300)),
        roof=draw(st.sampled_from(("none", "arcade", "underpass"))),
        hazards=draw(WORDS),
        pavement_width_m=draw(st.none() | st.floats(0, 100)),
        lighting_class=draw(st.none() | st.sampled_from(("P1", "C5"))),
        night_ev100=draw(st.none() | st.floats(-6, 12)),
        looking_deg=draw(st.none() | BEARING),
        canopies=tuple(draw(st.lists(canopies, max_size=2))),
        measured=tuple(draw(st.lists(points, max_size=3))),
    )


@settings(max_examples=30, deadline=None)
@given(st.lists(drafts(), max_size=3))
def test_spots_come_back_as_they_went_out(spots: list[SpotDraft]) -> None:
    assert read_spots(write_spots(spots).encode(), amsterdam).spots == tuple(spots)
