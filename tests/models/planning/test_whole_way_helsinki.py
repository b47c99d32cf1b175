"""The whole way on real data: a city from a file, a spot in a street and one in a square, skyline, day, year, times.

Map data in tests/data/helsinki © OpenStreetMap contributors, ODbL 1.0. Held to what is known from outside: corners of
a building straight from the file and geodesic distances to them (Karney's algorithms), the ephemeris DE421, and the
exposure guide ANSI PH2.7 as tests/authorities/data/daylight_guide.csv gives it (0.5 EV: the guide is in whole EV).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import numpy as np
import osmium
import pytest
from geographiclib.geodesic import Geodesic
from shapely import LineString, Polygon
from skyfield import almanac

from models.planning.imports import ImportReport, import_osm
from models.planning.light import SpotLight, spot_light
from models.planning.map_layers import buildings_geojson, shadows_geojson
from models.planning.moments import read_moment
from models.planning.now import light_now
from models.planning.spot_page import spot_page
from models.planning.spots import spots_page
from models.planning.times import booking_times
from models.planning.turns import events_at
from models.planning.year import year_at
from models.store.engine import Store
from models.store.spots import Spot
from models.store.town import get_building
from models.street.town import Box
from tests.authorities.published import rows
from tests.authorities.solar_ephemeris import observer, timescale
from tests.models.exchange.test_osm import HELSINKI
from tests.models.planning.grounds import equip, stand

NOW = datetime(2026, 6, 21, 10, 0, tzinfo=UTC)
ZONE = "Europe/Helsinki"
SQUARE = {"latitude_deg": 60.1715, "longitude_deg": 24.9437, "zone": ZONE}
STREET = {"latitude_deg": 60.1680, "longitude_deg": 24.9400, "zone": ZONE}
TOWER_WAY, TOWER_M = 123525580, 70.0
"""A tower of which the file says height=70, some 75 m to the west of the street spot."""

GUIDE = {row_id: float(row.value) for row_id, row in rows("daylight_guide.csv").items() if row_id.startswith("ex-00")}
EYE_M = 1.5
ALLOWED_EV = 0.5


@dataclass(frozen=True)
class City:
    store: Store
    report: ImportReport
    square: Spot
    street: Spot

    def light(self, spot: Spot) -> SpotLight:
        return spot_light(self.store, spot, now=NOW)


@pytest.fixture(scope="module")
def city(shared_plans) -> City:
    equip(shared_plans)
    report = import_osm(shared_plans, HELSINKI, name="centre")
    square, street = (stand(shared_plans, name, **place) for name, place in (("square", SQUARE), ("street", STREET)))
    return City(shared_plans, report, square, street)


@pytest.fixture(scope="module")
def corners() -> list[tuple[float, float]]:
    """(latitude, longitude) of the tower's corners, straight from the file."""
    for way in osmium.FileProcessor(str(HELSINKI)).with_locations():
        if way.is_way() and way.id == TOWER_WAY:
            assert way.tags["height"] == f"{TOWER_M:g}"
            return [(node.lat, node.lon) for node in way.nodes]
    raise LookupError("the file has no such way")


def at(clock: str, sky: str = "0", on: str = "2026-06-21"):
    return read_moment(on, clock, sky, ZONE, NOW)


def in_metres(place: dict[str, object], corners) -> Polygon:
    """The corners east and north of a place by geodesic distance and azimuth."""
    points = []
    for latitude, longitude in corners:
        found = Geodesic.WGS84.Inverse(place["latitude_deg"], place["longitude_deg"], latitude, longitude)
        bearing = np.radians(found["azi1"])
        points.append((found["s12"] * np.sin(bearing), found["s12"] * np.cos(bearing)))
    return Polygon(points)


def distance_on(bearing_deg: float, outline: Polygon) -> float:
    """How far off the outline stands on a bearing, metres; inf where it does not."""
    bearing = np.radians(bearing_deg)
    met = LineString([(0, 0), (1000 * np.sin(bearing), 1000 * np.cos(bearing))]).intersection(outline)
    return float("inf") if met.is_empty else min(np.hypot(*point) for point in met.coords)


def test_the_towers_skyline_is_that_of_its_corners(city, corners):
    """arctan((70 - 1.5) m / distance) on the bearing of every bin in which the tower is the skyline."""
    light = city.light(city.street)
    skyline = light.standing.skyline
    with city.store.reading() as s:
        tops = {
            k: row.top_m for k, number in enumerate(light.standing.building_ids) if (row := get_building(s, number))
        }
    tower = [k for k, top_m in tops.items() if top_m == TOWER_M]
    bins = np.flatnonzero(np.isin(skyline.obstacle, tower))
    outline = in_metres(STREET, corners)
    assert len(bins) >= 10
    for k in bins:
        bearing = (k + 0.5) * 0.5
        expected = np.degrees(np.arctan((TOWER_M - EYE_M) / distance_on(bearing, outline)))
        assert float(skyline.at(bearing)) == pytest.approx(expected, abs=0.1), bearing
    assert 40 < skyline.elevation_deg[bins].max() < 55


def test_the_tower_hides_the_afternoon_sun_for_as_long_as_it_stands_over_it(city, corners):
    """The sun at 17:00 EEST, 38 degrees high: behind the tower exactly while its bearing crosses it."""
    outline = in_metres(STREET, corners)
    light = city.light(city.street)
    checked = 0
    for minute in range(0, 60, 2):
        moment = at(f"16:{minute:02d}")
        now = light_now(light, moment, None)
        away = distance_on(now.sun_azimuth_deg, outline)
        edge = 0.0 if away == float("inf") else float(np.degrees(np.arctan((TOWER_M - EYE_M) / away)))
        if edge > now.sun_elevation_deg + 1 and not now.too_close:
            assert now.state == "shade"
            checked += 1
    assert checked >= 5


@pytest.mark.parametrize("day", [date(2026, 6, 21), date(2026, 12, 21), date(2026, 3, 29), date(2026, 10, 25)])
def test_sunrise_and_sunset_are_those_of_the_ephemeris(city, day):
    """Within 60 s of DE421; local days of the two clock changes among them."""
    events = events_at(city.store, city.square, at("12:00", on=day.isoformat()))
    place, sun = observer(SQUARE["latitude_deg"], SQUARE["longitude_deg"])
    start, end = (timescale().from_datetime(instant) for instant in (events.start, events.end))
    for search, ours in ((almanac.find_risings, events.sunrise), (almanac.find_settings, events.sunset)):
        theirs, risen = search(place, sun, start, end)
        assert risen.all()
        assert len(theirs) == 1
        assert ours is not None
        assert abs((theirs[0].utc_datetime() - ours).total_seconds()) <= 60


def test_the_square_reads_what_the_exposure_guide_says(city):
    """17:00 EEST, the sun 38 degrees high and unobstructed: full sun on the face that is turned to it, open shade on
    the face that is turned away with the open sky before it; and a cloudy bright sky on level ground at noon."""
    light = city.light(city.square)
    sun = light_now(light, at("17:00"), None)
    assert sun.state == "sun"
    to_the_sun = light_now(light, at("17:00"), (sun.sun_azimuth_deg + 180) % 360).subject.ev100
    assert to_the_sun == pytest.approx(GUIDE["ex-002"], abs=ALLOWED_EV)
    away = light_now(light, at("17:00"), sun.sun_azimuth_deg).subject.ev100
    assert away == pytest.approx(GUIDE["ex-006"], abs=ALLOWED_EV)
    closed = light_now(light, at("13:20", "8"), None)
    level_lx = float(closed.series.light.illuminance_lx[0, 8])
    assert np.log2(level_lx / 2.5) == pytest.approx(GUIDE["ex-004"], abs=ALLOWED_EV)
    assert closed.subject.ev100 < np.log2(level_lx / 2.5) - 0.7


def test_the_street_is_darker_than_the_square_and_both_rest_on_assumed_heights(city):
    noon = at("13:20")
    square, street = (light_now(city.light(spot), noon, None) for spot in (city.square, city.street))
    assert (square.state, street.state) == ("sun", "shade")
    assert square.subject.ev100 > street.subject.ev100 + 2
    for now, spot in ((square, city.square), (street, city.street)):
        standing = city.light(spot).standing
        assert " heights assumed" in now.rests_on.skyline_source
        assert any("buildings within 500 m was assumed" in words for words in now.rests_on.assumed)
        assert any("trees within 60 m taken as round crowns" in words for words in now.rests_on.assumed)
        assert 0 < standing.assumed_share < 1
        bare = np.sqrt(0.7**2 + 0.25**2 + 0.1**2)
        assert now.subject.doubt_stops == pytest.approx(np.hypot(bare, 0.5 * standing.assumed_share), abs=1e-6)
        assert now.subject.doubt_stops > bare + 0.005


def test_an_assumed_height_is_doubted_by_half_of_itself(city):
    """16 m give or take 8: where such a house is the skyline, its edge lies from 6.5 to 22.5 m over the eye."""
    standing = city.light(city.street).standing
    skyline = standing.skyline
    guessed = np.isin(skyline.obstacle, standing.assumed_buildings)
    given = (skyline.obstacle >= 0) & ~guessed
    assert guessed.any()
    assert given.any()
    assert np.median(skyline.doubt_deg[guessed]) > 2 * np.median(skyline.doubt_deg[given])


def test_the_day_and_the_times_of_the_street(city):
    page = spot_page(city.store, city.street.id, at("16:40"), {"looking": "west"})
    words = [point.words for point in page.turning_points]
    assert {"sunrise", "sunset"} & set(words)
    assert page.turning_points == tuple(sorted(page.turning_points, key=lambda point: point.instant))
    assert page.flash.reserve.stops == pytest.approx(page.flash.reserve.capacity_ev - page.flash.reserve.ev_to_beat)
    assert page.light.behind is not None
    assert page.flash.reserve.ev_to_beat == pytest.approx(
        max(page.light.behind.ev100, page.light.subject.ev100) + 2 / 3, abs=1e-9
    )
    assert len(page.day_rows) >= 20
    week = {"from": "2026-06-22", "to": "2026-06-28", "looking": "west", "length": "60 min"}
    times = booking_times(city.store, city.street.id, week, NOW)
    assert times.rows
    assert "heights assumed" in times.rests_on
    best = times.rows[0]
    then = spot_page(
        city.store, city.street.id, at(f"{best.start + timedelta(hours=3):%H:%M}", "0", f"{best.start:%Y-%m-%d}"), week
    )
    assert then.flash.reserve.stops >= best.worst_reserve - 1e-3


def test_the_year_of_the_street_agrees_with_its_page(city):
    light = city.light(city.street)
    year = year_at(light, 2026, 0, 270.0)
    for on, clock in (
        ("2026-02-11", "12:15"),
        ("2026-06-21", "16:45"),
        ("2026-09-30", "09:00"),
        ("2026-12-21", "23:30"),
    ):
        moment = at(clock, on=on)
        local = moment.local
        day = (local.date() - date(2026, 1, 1)).days
        now = light_now(light, moment, 270.0)
        assert year.face_ev[day, local.hour * 4 + local.minute // 15] == pytest.approx(now.subject.ev100, abs=1e-3)


def test_list_and_map_of_the_city(city):
    page = spots_page(city.store, at("13:20"), sort="brightness")
    assert [row.name for row in page.rows] == ["square", "street"]
    view = Box(60.1665, 24.937, 60.1730, 24.9470)
    houses = buildings_geojson(city.store, view)["features"]
    assert len(houses) > 100
    assert {house["properties"]["height_source"] for house in houses} == {"surveyed", "levels", "assumed"}
    (shadow,) = shadows_geojson(city.store, at("13:20"), view)["features"]
    assert shadow["geometry"]["type"] == "MultiPolygon"
    assert city.report.assumed_buildings > 250
