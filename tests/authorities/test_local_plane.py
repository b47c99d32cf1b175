"""Metres per degree on the WGS84 ellipsoid: meridian and prime-vertical radii of curvature (data/geodesy.csv).

Tolerance 0.1 %, what a flat plane needs at city scale; the formulas themselves agree to the centimetre that is printed.
"""

import pytest

from models.street.plane import FLATTENING, SEMI_MAJOR_M, LocalPlane
from tests.authorities.published import rows

ROWS = rows("geodesy.csv")
PER_DEGREE = [row for row in ROWS.values() if row.quantity.startswith("metres per degree")]
PRINTED_M = 0.006


def test_the_ellipsoid_is_wgs84():
    assert ROWS["ge-030"].value == f"a={SEMI_MAJOR_M} ; 1/f={round(1 / FLATTENING, 9)}"


def test_all_rows_are_here():
    assert len(PER_DEGREE) == 6


@pytest.mark.parametrize("row", PER_DEGREE, ids=lambda row: row.id)
def test_metres_per_degree(row):
    north, east = (float(value) for value in row.value.split("/"))
    plane = LocalPlane(row.number("lat"), 5.0)
    assert plane.metres_per_degree == pytest.approx((north, east), abs=PRINTED_M)
    ahead, _ = plane.to_metres(plane.latitude_deg, 5.01)
    _, up = plane.to_metres(plane.latitude_deg + 0.01, 5.0)
    assert (float(ahead), float(up)) == pytest.approx((east / 100, north / 100), rel=1e-3)
