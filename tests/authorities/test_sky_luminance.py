"""Brightness over the sky against the CIE general sky and the traditional overcast sky.

Sources beside each row of data/sky_luminance.csv and data/table_cie_general_sky.csv: ISO 15469:2004 / CIE S 011/E:2003
table 1; Moon & Spencer 1942; closed forms of geometry. Tolerances as given there: 0.1 % for luminances, half a unit of
the last place for ratios. The coefficients of the table are exact.
"""

from __future__ import annotations

import csv

import numpy as np
import pytest

from models.sky.dome import (
    GENERAL_SKIES,
    general_sky,
    mixed_dome,
    relative_luminance,
    traditional_overcast,
    unit_vectors,
)
from tests.authorities.published import DATA, rows

ROWS = rows("sky_luminance.csv")
PATCHES = [row for row in ROWS.values() if row.quantity.startswith("relative sky luminance")]
NORTH = np.array([0.0, 1.0, 0.0])


def grid():
    """Directions over the whole sky a degree apart, and their solid angles."""
    azimuth, elevation = np.meshgrid(np.arange(0.5, 360), np.arange(0.5, 90))
    solid_angle = np.cos(np.radians(elevation.ravel())) * np.radians(1.0) ** 2
    return unit_vectors(azimuth.ravel(), elevation.ravel()), solid_angle


def on_vertical_over_level(luminance):
    towards, solid_angle = grid()
    on_vertical = (luminance * np.maximum(towards @ NORTH, 0) * solid_angle).sum()
    return on_vertical / (luminance * towards[:, 2] * solid_angle).sum()


def test_the_table_of_general_skies():
    with (DATA / "table_cie_general_sky.csv").open(encoding="utf-8", newline="") as file:
        published = {int(row["type"]): tuple(float(row[name]) for name in "abcde") for row in csv.DictReader(file)}
    assert {number: tuple(shape) for number, shape in GENERAL_SKIES.items()} == published


@pytest.mark.parametrize("row", PATCHES, ids=lambda row: row.id)
def test_luminance_against_the_zenith(row):
    sun = unit_vectors(0.0, row.number("sun_elev_deg"))
    patch = unit_vectors(row.number("azimuth_from_sun_deg"), row.number("patch_elev_deg"))
    assert relative_luminance(int(row.number("type")), patch, sun) == pytest.approx(float(row.value), rel=1e-3)


def test_vertical_light_under_the_traditional_overcast_sky():
    towards, _ = grid()
    ratio = on_vertical_over_level(traditional_overcast(towards[:, 2]))
    assert ratio == pytest.approx(float(ROWS["dl-080"].value), abs=0.0005)


@pytest.mark.parametrize(("row_id", "sky", "tolerance"), [("dl-081", 1, 0.001), ("dl-082", 5, 0.0005)])
def test_vertical_light_under_general_skies(row_id, sky, tolerance):
    towards, _ = grid()
    ratio = on_vertical_over_level(general_sky(sky, towards[:, 2], towards[:, 2]))
    assert ratio == pytest.approx(float(ROWS[row_id].value), abs=tolerance)


def test_traditional_overcast_level_light_and_horizon():
    towards, solid_angle = grid()
    level = (traditional_overcast(towards[:, 2]) * towards[:, 2] * solid_angle).sum()
    assert level / np.pi == pytest.approx(float(ROWS["dl-083"].value), rel=1e-4)
    assert traditional_overcast(0.0) / traditional_overcast(1.0) == pytest.approx(float(ROWS["dl-084"].value), abs=5e-5)


@pytest.mark.parametrize("oktas", [0, 3, 8])
def test_a_mixed_dome_gives_one_lux_on_level_ground(oktas):
    towards, solid_angle = grid()
    projected = solid_angle * towards[:, 2]
    luminance = mixed_dome(towards, projected, unit_vectors(140.0, 35.0), oktas)
    assert luminance @ projected == pytest.approx(1.0)


def test_no_clouds_is_the_clear_sky_and_eight_oktas_the_overcast_one():
    towards, solid_angle = grid()
    sun = unit_vectors(140.0, 35.0)
    clear, overcast = (mixed_dome(towards, solid_angle * towards[:, 2], sun, oktas) for oktas in (0, 8))
    assert clear / clear[0] == pytest.approx(
        relative_luminance(12, towards, sun) / relative_luminance(12, towards[0], sun)
    )
    assert overcast / overcast[0] == pytest.approx(
        traditional_overcast(towards[:, 2]) / traditional_overcast(towards[0, 2])
    )


def test_a_sun_under_the_horizon_leaves_a_finite_sky():
    towards, solid_angle = grid()
    luminance = mixed_dome(towards, solid_angle * towards[:, 2], unit_vectors(270.0, -15.0), 0)
    assert np.isfinite(luminance).all()
    assert (luminance > 0).all()
