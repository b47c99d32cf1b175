"""Which way to face them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.exposure import EvFigure
from models.light.facing import BEARINGS, sun_place
from models.light.flash import facing_order, reserve
from tests.models.light.setups import choice, evs

EIGHT = st.lists(evs, min_size=8, max_size=8)


def figures(*evs_100: float) -> list[EvFigure]:
    return [EvFigure(ev) for ev in evs_100]


@pytest.mark.parametrize(
    ("looking", "elevation", "azimuth", "place"),
    [
        (0, 30, 180, "in the model's eyes"),
        (350, 30, 190, "in the model's eyes"),
        (0, 30, 90, "from the side"),
        (0, 30, 270, "from the side"),
        (0, 30, 45, "rim from behind"),
        (0, 40, 0, "rim from behind"),
        (350, 10, 5, "in the lens"),
        (0, 10, 30, "rim from behind"),
        (0, 70, 180, "from high above"),
        (0, -2, 180, "not on the subject"),
    ],
)
def test_where_the_sun_stands(looking: float, elevation: float, azimuth: float, place: str) -> None:
    assert sun_place(looking, elevation, azimuth, sun_reaches=True) == place
    assert sun_place(looking, elevation, azimuth, sun_reaches=False) == "not on the subject"


def test_the_face_looks_back_at_the_camera() -> None:
    """Sun in the south lights the plane facing south: a camera looking north sees that face."""
    order = facing_order(
        choice(),
        figures(10, 10, 10, 10, 15, 10, 10, 10),
        figures(*[11] * 8),
        sun_elevation_deg=30,
        sun_azimuth_deg=180,
        sun_reaches=True,
    )
    north = order[-1]
    assert (north.looking_deg, north.subject.ev100, north.binds) == (0, 15, "face")
    assert north.sun == "in the model's eyes"


def test_best_first_and_reserve_counts_to_two_stops() -> None:
    order = facing_order(
        choice(distance_m=1.5),
        figures(*[8] * 8),
        figures(12, 12.5, 11, 10, 9, 14.5, 14, 15),
        sun_elevation_deg=30,
        sun_azimuth_deg=0,
        sun_reaches=True,
    )
    assert [facing.looking_deg for facing in order] == [0, 45, 90, 135, 180, 270, 225, 315]
    assert order[0].sun == "rim from behind"
    assert order[0].reserve_stops < order[4].reserve_stops
    assert all(facing.reserve_stops > 2 for facing in order[:5])


@given(EIGHT, EIGHT, st.floats(-10, 89), st.floats(0, 360), st.booleans())
def test_all_eight_once_and_nothing_better_by_a_third_comes_later(
    planes: list[float], behind: list[float], elevation: float, azimuth: float, reaches: bool
) -> None:
    order = facing_order(
        choice(),
        figures(*planes),
        figures(*behind),
        sun_elevation_deg=elevation,
        sun_azimuth_deg=azimuth,
        sun_reaches=reaches,
    )
    assert sorted(facing.looking_deg for facing in order) == list(BEARINGS)
    counted = [min(facing.reserve_stops, 2) for facing in order]
    assert all(later <= earlier + 1 / 3 + 1e-9 for k, earlier in enumerate(counted) for later in counted[k:])
    for facing in order:
        assert facing.reserve_stops == reserve(choice(), facing.subject, facing.behind).stops
