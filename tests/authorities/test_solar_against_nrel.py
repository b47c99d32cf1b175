"""Sun position and day against published worked examples: NREL/TP-560-34302 (SPA), Meeus 1998, almanacs.

Tolerance 0.01 degrees for positions: the accuracy of the low-precision solar coordinates used (Meeus 1998, ch. 25).
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from models.clock import unix_s
from models.sky.events import day_events, events_of_days
from models.sky.sun import PARALLAX_DEG, refracted_deg, sun_at, sun_positions
from tests.authorities.published import rows

ROWS = rows("solar_position.csv")
SPA_INSTANT = datetime(2003, 10, 17, 19, 30, 30, tzinfo=UTC)
SPA_PLACE = 39.742476, -105.1786
SPA_PRESSURE_HPA, SPA_TEMPERATURE_C = 820.0, 11.0


def value(row_id: str) -> float:
    return float(ROWS[row_id].value)


def spa_refraction_deg() -> float:
    """Ours, for the pressure and temperature of the example (Meeus 1998, p. 107)."""
    elevation_deg = sun_at(SPA_INSTANT, *SPA_PLACE).elevation_deg
    standard = refracted_deg(elevation_deg) - elevation_deg
    return standard * SPA_PRESSURE_HPA / 1010 * 283 / (273 + SPA_TEMPERATURE_C)


def test_elevation_before_refraction():
    assert sun_at(SPA_INSTANT, *SPA_PLACE).elevation_deg == pytest.approx(value("sp-011"), abs=0.01)


def test_zenith_angle_with_refraction():
    seen = sun_at(SPA_INSTANT, *SPA_PLACE).elevation_deg + spa_refraction_deg()
    assert 90 - seen == pytest.approx(value("sp-001"), abs=0.01)


def test_azimuth():
    assert sun_at(SPA_INSTANT, *SPA_PLACE).azimuth_deg == pytest.approx(value("sp-002"), abs=0.01)


def test_position_of_a_whole_array():
    elevation_deg, azimuth_deg = sun_positions(np.full((3, 2), unix_s(SPA_INSTANT)), *SPA_PLACE)
    assert elevation_deg == pytest.approx(np.full((3, 2), value("sp-011")), abs=0.01)
    assert azimuth_deg == pytest.approx(np.full((3, 2), value("sp-002")), abs=0.01)


def test_incidence_on_a_sloping_plane():
    sun = sun_at(SPA_INSTANT, *SPA_PLACE)
    slope, zenith = np.radians(30), np.radians(90 - sun.elevation_deg - spa_refraction_deg())
    turned = np.radians(sun.azimuth_deg - 170)
    cosine = np.cos(zenith) * np.cos(slope) + np.sin(zenith) * np.sin(slope) * np.cos(turned)
    assert np.degrees(np.arccos(cosine)) == pytest.approx(value("sp-003"), abs=0.01)


@pytest.mark.parametrize(
    ("row_id", "instant"),
    [("sp-008", SPA_INSTANT), ("sp-021", datetime(1992, 10, 13, tzinfo=UTC) - timedelta(seconds=59))],
)
def test_declination_is_the_height_at_the_pole(row_id, instant):
    """TD of the second example less 59 s is UT (Meeus 1998, table 10.A)."""
    at_pole = sun_at(instant, 90.0, 0.0).elevation_deg
    assert at_pole + PARALLAX_DEG * np.cos(np.radians(at_pole)) == pytest.approx(value(row_id), abs=0.01)


def test_refraction():
    assert spa_refraction_deg() == pytest.approx(value("sp-012"), abs=0.0003)
    assert refracted_deg(0.5541) == pytest.approx(value("sp-027"), abs=0.003)
    assert refracted_deg(value("sp-026")) == pytest.approx(0.5, abs=0.003)


def seconds_apart(a: datetime, b: datetime) -> float:
    return abs((a - b).total_seconds())


def test_spa_example_rise_transit_set():
    """60 s, usual for low-precision methods. The sunset of that UT day is the one of the evening before."""
    day_before, day = events_of_days((date(2003, 10, 16), date(2003, 10, 17)), "America/Denver", *SPA_PLACE)
    assert seconds_apart(day_before.sunset, datetime.fromisoformat(ROWS["sp-005"].value)) < 60
    assert seconds_apart(day.sunrise, datetime.fromisoformat(ROWS["sp-004"].value)) < 60
    assert seconds_apart(day.noon, datetime.fromisoformat(ROWS["sp-006"].value)) < 60


@pytest.mark.parametrize("row_id", ["sp-080", "sp-090", "sp-092"])
def test_colorado_winter_days(row_id):
    """Local standard time (UTC-7). To the second by SPA, to the minute by the US Naval Observatory; 60 s either way."""
    row = ROWS[row_id]
    on = date.fromisoformat(row.inputs["date"])
    day = day_events(on, "America/Denver", row.number("lat"), row.number("lon"))
    ours = (day.sunrise, day.noon, day.sunset) if row_id == "sp-080" else (day.sunrise, day.sunset)
    for instant, clock in zip(ours, row.value.split(" / "), strict=True):
        assert seconds_apart(instant, datetime.fromisoformat(f"{on}T{clock}-07:00")) <= 60


def of_day(row_id: str):
    row = ROWS[row_id]
    zone = "Asia/Kolkata" if row.number("lon") > 70 else "Europe/London"
    on = date.fromisoformat(row.inputs["date"])
    return on, day_events(on, zone, row.number("lat"), row.number("lon"))


@pytest.mark.parametrize(
    ("row_id", "event"),
    [
        ("sp-050", lambda day: day.sunrise),
        ("sp-051", lambda day: day.sunset),
        ("sp-052", lambda day: day.civil[0].start),
        ("sp-053", lambda day: day.nautical[0].start),
        ("sp-054", lambda day: day.astronomical[0].start),
        ("sp-055", lambda day: day.civil[1].end),
        ("sp-056", lambda day: day.nautical[1].end),
        ("sp-057", lambda day: day.noon),
        ("sp-061", lambda day: day.nautical[0].start),
    ],
)
def test_london_almanac_minutes(row_id, event):
    """90 s: 60 s and the rounding to a minute."""
    on, day = of_day(row_id)
    assert seconds_apart(event(day), datetime.fromisoformat(f"{on}T{ROWS[row_id].value}:00+00:00")) <= 90


@pytest.mark.parametrize(
    ("row_id", "band", "allowed_s"),
    [("sp-070", lambda day: day.golden[0], 60), ("sp-072", lambda day: day.blue[1], 90)],
)
def test_golden_and_blue(row_id, band, allowed_s):
    on, day = of_day(row_id)
    for instant, clock in zip((band(day).start, band(day).end), ROWS[row_id].value.split(".."), strict=True):
        assert seconds_apart(instant, datetime.fromisoformat(f"{on}T{clock}+00:00")) <= allowed_s
