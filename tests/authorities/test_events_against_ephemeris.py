"""Events of the day against JPL's DE421 ephemeris through skyfield.

60 s, or the time the sun takes there for 0.02 degrees where that is longer; where it grazes a height within 0.02
degrees, crossing it or not are both right. The tests sample skyfield's heights every five minutes (0.004 degrees from
a straight line) and know nothing of our search; its own sunrises and sunsets are a second judge where the sun goes up
and down every day.
"""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from skyfield import almanac

from models.clock import from_unix_s, unix_s
from models.sky.events import crossings, day_events, events_of_days
from tests.authorities.solar_ephemeris import altitude_azimuth, observer, skyfield_time

LEVELS_DEG = (-18.0, -12.0, -6.0, -4.0, -0.833, 6.0)
WITHIN_S, WITHIN_DEG = 60.0, 0.02
SAMPLE_S = 300.0

PLACES = {
    "Havenmark": ("Europe/Amsterdam", 52.53, 5.23),
    "Tromso": ("Europe/Oslo", 69.65, 18.96),
    "Auckland": ("Pacific/Auckland", -36.85, 174.76),
    "Tokyo": ("Asia/Tokyo", 35.68, 139.69),
    "Kiritimati": ("Pacific/Kiritimati", 1.87, -157.4),
    "Honolulu": ("Pacific/Honolulu", 21.31, -157.86),
    "Quito": ("America/Guayaquil", -0.18, -78.47),
    "South Pole": ("Antarctica/McMurdo", -90.0, 0.0),
    "far north": ("Arctic/Longyearbyen", 89.9, 15.0),
}


def passages_in_ephemeris(level_deg, samples_s, heights_deg):
    """(instant in seconds, rising, degrees a second) for every change of side between samples."""
    above = heights_deg >= level_deg
    at = np.flatnonzero(above[1:] != above[:-1])
    rates = (heights_deg[at + 1] - heights_deg[at]) / SAMPLE_S
    return [
        (float(samples_s[i] + (level_deg - heights_deg[i]) / rate), bool(above[i + 1]), abs(float(rate)))
        for i, rate in zip(at, rates, strict=True)
    ]


def assert_passages_agree(level_deg, start, end, latitude_deg, longitude_deg, samples_s, heights_deg):
    ours = [
        (unix_s(found.instant), found.rising) for found in crossings(level_deg, start, end, latitude_deg, longitude_deg)
    ]
    theirs = passages_in_ephemeris(level_deg, samples_s, heights_deg)
    if [rising for _, rising in ours] == [rising for _, rising, _ in theirs]:
        for (our_s, _), (their_s, _, rate) in zip(ours, theirs, strict=True):
            assert abs(our_s - their_s) <= max(WITHIN_S, WITHIN_DEG / rate), (level_deg, from_unix_s(our_s))
        return
    turns = np.flatnonzero(np.diff(np.sign(np.diff(heights_deg)))) + 1
    extremes_deg = np.concatenate([heights_deg[turns], heights_deg[[0, -1]]])
    assert np.abs(extremes_deg - level_deg).min() <= WITHIN_DEG, (level_deg, start, ours, theirs)


def assert_day_agrees(day, zone, latitude_deg, longitude_deg):
    events = day_events(day, zone, latitude_deg, longitude_deg)
    samples_s = np.arange(unix_s(events.start), unix_s(events.end) + 1, SAMPLE_S)
    heights_deg, _ = altitude_azimuth(samples_s, latitude_deg, longitude_deg)
    for level_deg in LEVELS_DEG:
        assert_passages_agree(level_deg, events.start, events.end, latitude_deg, longitude_deg, samples_s, heights_deg)
    for ours_deg, theirs_deg in ((events.highest_deg, heights_deg.max()), (events.lowest_deg, heights_deg.min())):
        assert ours_deg == pytest.approx(theirs_deg, abs=WITHIN_DEG + missed_between_samples_deg(theirs_deg))


def missed_between_samples_deg(height_deg):
    """How much higher or lower the sun may turn half a sample away: all of its way where it passes close overhead."""
    half_way = np.radians(SAMPLE_S / 240 / 2)
    overhead = abs(height_deg) > 85
    return np.degrees(half_way if overhead else half_way**2 / 2 / np.cos(np.radians(height_deg)))


@pytest.mark.parametrize("name", PLACES)
@pytest.mark.parametrize("month", [3, 6, 12])
def test_known_places_through_the_year(name, month):
    assert_day_agrees(date(2026, month, 21), *PLACES[name])


@pytest.mark.parametrize("on", [date(2026, 3, 29), date(2026, 10, 25)])
def test_both_clock_changes(on):
    assert_day_agrees(on, *PLACES["Havenmark"])


@pytest.mark.parametrize("after_days", range(0, 24, 4))
def test_the_last_sunsets_before_the_midnight_sun(after_days):
    assert_day_agrees(date(2026, 5, 5) + timedelta(days=after_days), *PLACES["Tromso"])


def random_days(count, seed):
    chance = np.random.default_rng(seed)
    for _ in range(count):
        latitude_deg = float(np.degrees(np.arcsin(chance.uniform(-1, 1))))
        on = date(1990, 1, 1) + timedelta(days=int(chance.integers(0, 60 * 365)))
        yield on, "UTC", latitude_deg, float(chance.uniform(-180, 180))


def test_random_places_and_days():
    for case in random_days(25, seed=1990):
        assert_day_agrees(*case)


@pytest.mark.slow
def test_many_random_places_and_days():
    for case in random_days(300, seed=2050):
        assert_day_agrees(*case)


@pytest.mark.parametrize("name", ["Havenmark", "Auckland", "Tokyo", "Kiritimati", "Honolulu", "Quito"])
def test_each_local_day_has_its_own_sunrise_and_sunset(name):
    """A year of days against skyfield's own search."""
    zone, latitude_deg, longitude_deg = PLACES[name]
    days = events_of_days([date(2026, 1, 1) + timedelta(days=n) for n in range(365)], zone, latitude_deg, longitude_deg)
    place, sun = observer(latitude_deg, longitude_deg)
    span = skyfield_time(unix_s(days[0].start)), skyfield_time(unix_s(days[-1].end))
    for find, ours in ((almanac.find_risings, "sunrises"), (almanac.find_settings, "sunsets")):
        theirs, really = find(place, sun, *span, horizon_degrees=-0.833)
        assert really.all()
        assert [len(getattr(day, ours)) for day in days] == [1] * 365
        assert all(day.start <= getattr(day, ours)[0] < day.end for day in days)
        apart_s = [
            abs((getattr(day, ours)[0] - their).total_seconds())
            for day, their in zip(days, theirs.utc_datetime(), strict=True)
        ]
        assert max(apart_s) < WITHIN_S


@pytest.mark.parametrize("name", ["Havenmark", "Tromso", "Auckland", "Kiritimati"])
def test_noon_is_the_transit(name):
    zone, latitude_deg, longitude_deg = PLACES[name]
    days = events_of_days(
        [date(2026, 1, 1) + timedelta(days=n) for n in range(0, 365, 9)], zone, latitude_deg, longitude_deg
    )
    place, sun = observer(latitude_deg, longitude_deg)
    for day in days:
        transits = almanac.find_transits(place, sun, skyfield_time(unix_s(day.start)), skyfield_time(unix_s(day.end)))
        assert min(abs((day.noon - their).total_seconds()) for their in transits.utc_datetime()) < WITHIN_S
