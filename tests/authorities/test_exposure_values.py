"""ISO 2720:1974, ASA PH2.5-1960 (APEX) and camera practice (ISO 516, 517, 12232), row by row.

The rows stand in data/exposure.csv and data/table_exposure_series.csv, whose source column says where each was seen.

Tolerances: those of the rows; arithmetic, so 0.01 EV, 0.001 APEX, 0.1 % in lux.
"""

from __future__ import annotations

from math import log2

import pytest

from models.light.exposure import START, Settings, aperture_value, ev100_of_settings, speed_value, time_value
from models.light.series import APERTURES, ISOS, SHUTTERS, Step
from models.units import ev100_from_illuminance, illuminance_from_ev100, luminance_from_ev100
from tests.authorities.light_rows import given, number, rows, table, wanted

SERIES = {"aperture": APERTURES, "shutter": SHUTTERS, "iso": ISOS}


def by_id(row: dict[str, str]) -> str:
    return row["id"]


@pytest.mark.parametrize("row", rows("exposure.csv", "EV100 from camera settings"), ids=by_id)
def test_ev100_of_settings(row: dict[str, str]) -> None:
    asked = given(row)
    assert ev100_of_settings(Settings(asked["t"], asked["f"], asked["ISO"])) == pytest.approx(wanted(row)[0], abs=0.001)


def test_sunny_16() -> None:
    (row,) = rows("exposure.csv", "sunny 16")
    found = ev100_of_settings(Settings(1 / 100, 16, 100))
    assert found == pytest.approx(wanted(row)[0], abs=0.01)
    assert abs(found - 15) <= 0.5


@pytest.mark.parametrize("row", rows("exposure.csv", "illuminance for EV100"), ids=by_id)
def test_lux_and_luminance_of_an_ev(row: dict[str, str]) -> None:
    lux, luminance = wanted(row)
    assert illuminance_from_ev100(given(row)["EV100"]) == pytest.approx(lux, rel=0.001)
    assert luminance_from_ev100(given(row)["EV100"]) == pytest.approx(luminance, rel=0.001)


@pytest.mark.parametrize("row", rows("exposure.csv", "EV100 for illuminance"), ids=by_id)
def test_ev_of_lux_with_the_flat_receptor(row: dict[str, str]) -> None:
    assert ev100_from_illuminance(given(row)["E_lx"]) == pytest.approx(wanted(row)[0], abs=0.001)


def test_apex() -> None:
    for row in rows("exposure.csv", "APEX Sv"):
        assert speed_value(given(row)["ISO"]) == pytest.approx(wanted(row)[0], abs=0.001)
    for row in rows("exposure.csv", "APEX Tv"):
        assert time_value(given(row)["t"]) == pytest.approx(wanted(row)[0], abs=0.001)
    for row in rows("exposure.csv", "APEX Av"):
        assert aperture_value(given(row)["f"]) == pytest.approx(wanted(row)[0], abs=0.001)


def test_apex_sums_to_the_same_ev() -> None:
    """Ev = Av + Tv = Bv + Sv, and EV100 = EV at the ISO less its stops over 100 (ASA PH2.5-1960)."""
    settings = Settings(1 / 250, 8, 400)
    ev = aperture_value(8) + time_value(1 / 250)
    assert ev100_of_settings(settings) == pytest.approx(ev - (speed_value(400) - speed_value(100)))


@pytest.mark.parametrize("series", SERIES)
def test_the_third_stop_series(series: str) -> None:
    published = [row for row in table("table_exposure_series.csv") if row["series"] == series]
    assert len(published) == len(SERIES[series])
    for row, step in zip(published, SERIES[series], strict=True):
        assert step.index == int(row["third_stop_index"])
        assert step.nominal == pytest.approx(number(row["nominal"]), rel=1e-9)
        assert step.exact == pytest.approx(float(row["exact"]), rel=1e-5)


@pytest.mark.parametrize("series", SERIES)
def test_nominal_numbers_lie_near_the_power_of_two_they_stand_for(series: str) -> None:
    """Printed numbers are rounded: the worst is f/1.2, 0.14 EV off its exact value."""

    def off_ev(step: Step) -> float:
        return abs(log2(step.nominal / step.exact)) * (2 if series == "aperture" else 1)

    assert max(off_ev(step) for step in SERIES[series]) < 0.15


def test_the_usual_start_and_the_surroundings_under_it() -> None:
    """1/125 s, f/5.6, ISO 200 (common practice, no source): EV100 10.9 to 11.0 by ISO 2720 arithmetic."""
    assert 10.9 <= START.ev100 <= 11.0
    assert 10.2 <= START.ev100 - 2 / 3 <= 10.4
