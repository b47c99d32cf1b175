"""The shadow of an upright edge on level ground: plane trigonometry, h / tan(altitude) (data/shadow_length.csv).

Tolerance 0.5 %, as the rows give it; the sun's disc blurs the edge by more than that.
"""

import pytest

from models.street.scene import Building, pack_walls
from models.street.shadows import shadows
from models.street.skyline import skyline_of
from tests.authorities.published import rows

ROWS = list(rows("shadow_length.csv").values())
TOLERANCE = 0.005


def test_all_rows_are_here():
    assert [row.id for row in ROWS] == ["sp-100", "sp-102", "sp-104"]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_length_and_bearing_of_a_shadow(row):
    """The row's bearing: the sun's azimuth + 180, here due north from a wall that faces it."""
    house = Building((((-5.0, -5.0), (5.0, -5.0), (5.0, 0.0), (-5.0, 0.0)),), top_m=row.number("height_m"))
    west, south, east, north = shadows([house], row.number("sun_alt_deg"), 180.0).bounds
    assert north == pytest.approx(float(row.value), rel=TOLERANCE)
    assert (west, south, east) == pytest.approx((-5, -5, 5), abs=1e-6)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_at_the_tip_of_the_shadow_the_edge_stands_as_high_as_the_sun(row):
    away = float(row.value)
    house = Building(
        (((-50.0, -away - 5), (50.0, -away - 5), (50.0, -away), (-50.0, -away)),), top_m=row.number("height_m")
    )
    assert skyline_of(pack_walls([house]), eye_m=0.0).at(180.0) == pytest.approx(row.number("sun_alt_deg"), abs=0.1)
