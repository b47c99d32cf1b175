"""Areas far from every spot are told from those near one."""

from __future__ import annotations

from math import asin, cos, radians, sin, sqrt

import pytest

from models.planning.rules.far import far_words, widened
from models.rules.areas import Shape
from models.store.engine import Store
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from models.street.town import Box
from tests.models.planning.rules.town import square

DEGREE_KM = 111.195
"""Of latitude, on a sphere of 6,371 km."""


def haversine_km(a: tuple[float, float], b: tuple[float, float]) -> float:
    (south, west), (north, east) = (map(radians, each) for each in (a, b))
    half = sin((north - south) / 2) ** 2 + cos(south) * cos(north) * sin((east - west) / 2) ** 2
    return 2 * 6371 * asin(sqrt(half))


@pytest.fixture
def town(plans: Store) -> Store:
    with plans.writing() as s:
        add_spot(s, SpotDraft(name="Foundry Lane", latitude_deg=52.525, longitude_deg=5.225, zone="Europe/Amsterdam"))
    return plans


def test_without_a_spot_nothing_is_far(plans: Store) -> None:
    assert far_words(plans, square(-40.0, 170.0)) == ""


@pytest.mark.parametrize(
    ("south", "west"),
    [(52.52, 5.22), (52.525 + 49 / DEGREE_KM, 5.22), (52.52, 5.225 + 48 / (DEGREE_KM * 0.6084)), (52.0, 5.0)],
)
def test_an_area_round_a_spot_or_a_walk_away_is_not_asked_about(town: Store, south: float, west: float) -> None:
    """cos 52.525 degrees is 0.6084."""
    assert far_words(town, square(south, west, 1.0)) == ""


@pytest.mark.parametrize("shape", [square(52.525 + 52 / DEGREE_KM, 5.22), square(52.52, 5.225 + 54 / 67.65)])
def test_beyond_fifty_kilometres_it_is(town: Store, shape: Shape) -> None:
    assert far_words(town, shape).startswith("It lies about 5")


def test_swapped_corners_are_told_with_their_distance(town: Store) -> None:
    """By the haversine on a sphere of 6,371 km; the ellipsoid differs by 0.6 % at most."""
    swapped = square(5.22, 52.52)
    words = far_words(town, swapped)
    assert words.endswith(" km from Foundry Lane, the nearest spot.")
    assert int(words.split()[3].replace(",", "")) == pytest.approx(
        haversine_km((52.525, 5.225), (5.225, 52.525)), rel=0.006
    )
    assert far_words(town, swapped, kept=swapped) == ""


def test_a_box_is_widened_over_the_date_line() -> None:
    wide = widened(Box(-1.0, 179.8, 1.0, 179.9))
    assert wide.meets(Box(0.0, -179.9, 0.1, -179.8))
    assert not wide.meets(Box(0.0, -170.0, 0.1, -169.0))
