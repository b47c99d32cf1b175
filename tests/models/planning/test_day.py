"""A local day at a spot: golden and blue only where they reach, the line the flash can beat, doubts hour by hour."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import numpy as np
import pytest

from models.clock import local_day, unix_s
from models.drawing.day_strip import draw_day_strip
from models.light.flash import capacity_ev
from models.planning.answers import Moment
from models.planning.day import Day, day_at, later_with_more, strip_of, until_words
from models.planning.light import SpotLight, light_series, spot_light
from models.planning.now import light_now
from models.sky.events import Limits, day_events
from models.street.scene import Canopy
from tests.models.light.setups import choice
from tests.models.planning.grounds import at, block, build, stand

OCTOBER = at("2026-10-17T14:40")
ROOF = Canopy(0, 360, 1, 90, 0.0, 0.0, (), "a hall's roof")


@pytest.fixture(scope="module")
def town(shared_plans):
    """A row to the south of the first spot; nothing round the others."""
    build(shared_plans, block(-60, -30, 60, -12, 15.0))
    return shared_plans


@pytest.fixture(scope="module")
def shady(town):
    return spot_light(town, stand(town, "shady"), now=OCTOBER.instant)


@pytest.fixture(scope="module")
def field(town):
    return spot_light(town, stand(town, "field", north_m=6000.0), now=OCTOBER.instant)


def day_of(light: SpotLight, moment: Moment, looking: float | None, limits: Limits | None = None) -> Day:
    spot = light.spot
    events = day_events(moment.local.date(), spot.zone, spot.latitude_deg, spot.longitude_deg, limits)
    return day_at(light, moment, events, looking)


def reaching(day: Day) -> list[tuple[str, bool]]:
    return [(band.name, band.reaches) for band in day.bands]


def test_open_ground_has_all_four_bands(field):
    day = day_of(field, OCTOBER, None)
    assert reaching(day) == [("blue", True), ("golden", True), ("golden", True), ("blue", True)]
    assert day.bands[1].words.startswith("golden hour 07:")
    assert all("not at this spot" not in band.words for band in day.bands)


def test_behind_a_row_there_is_no_golden_hour_in_winter_though_blue_gets_in(shady):
    """On 21 December the golden sun stands between south-east and south-west, behind the row from end to end."""
    december = at("2026-12-21T12:00")
    day = day_of(shady, december, None)
    golden = [band for band in day.bands if band.name == "golden"]
    assert golden
    assert not any(band.reaches for band in golden)
    assert all(band.words.endswith("CET, not at this spot") for band in golden)
    assert all(band.reaches for band in day.bands if band.name == "blue")


def test_golden_light_on_the_row_behind_counts_for_the_camera_that_sees_it(town):
    """The evening's golden sun stands at 304 to 319 degrees. A house to the west hides 219 to 321 of it from the spot,
    and lets it by to the wall on the other side, north of the middle."""
    build(town, block(8, 2970, 20, 3030, 20.0), block(-20, 2990, -8, 3010, 20.0), name="gap")
    gap = spot_light(town, stand(town, "gap", north_m=3000.0), now=OCTOBER.instant)
    june = at("2026-06-21T12:00")
    own, east = (
        [band for band in day_of(gap, june, looking).bands if band.name == "golden"] for looking in (None, 90.0)
    )
    assert (own[-1].reaches, east[-1].reaches) == (False, True)


def test_lamps_never_pass_for_blue_hour(town):
    """Under a closed roof the sky is out of sight; bright lamps do not change that."""
    hall = stand(town, "hall", north_m=-7000.0, canopies=(ROOF,), lighting_class="C0")
    day = day_of(spot_light(town, hall, now=OCTOBER.instant), OCTOBER, None)
    assert [band.reaches for band in day.bands if band.name == "blue"] == [False, False]
    lamps = day.series.lamps_on
    assert day.series.light.illuminance_lx[lamps, 8].min() > 40


def test_a_band_of_minutes_is_still_looked_at(field):
    """Two minutes of golden hour, shorter than the steps of the day."""
    events = day_of(field, OCTOBER, None, Limits(golden=(4.0, 4.25)))
    golden = [band for band in events.bands if band.name == "golden"]
    assert all(band.end - band.start < timedelta(minutes=5) for band in golden)
    assert [band.reaches for band in golden] == [True, True]


@pytest.mark.parametrize(
    ("looking", "under", "face_under", "stricter"),
    [
        (None, 1.0, 2.0, 1.0),
        (0.0, 2 / 3, 2 / 3, 2 / 3),
        (0.0, 2 / 3, 2.0, 2.0),
        (0.0, 1.0, 0.0, 1.0),
        (0.0, 0.0, 0.0, 0.0),
    ],
)
def test_under_the_limit_there_is_reserve_and_over_it_there_is_none(shady, looking, under, face_under, stricter):
    setup = choice(surroundings_under=under, face_under=face_under)
    strip = strip_of(
        shady, day_of(shady, OCTOBER, looking), light_now(shady, OCTOBER, looking), OCTOBER, setup, looking
    )
    assert strip.limit_ev == pytest.approx(capacity_ev(setup)[0] - stricter)
    highest = strip.face_ev if strip.behind_ev is None else np.maximum(strip.face_ev, strip.behind_ev)
    assert strip.reserve_stops is not None
    assert (strip.reserve_stops[highest <= strip.limit_ev] >= -1e-9).all()
    if looking is None or under == face_under:
        assert (strip.reserve_stops[highest > strip.limit_ev] < 0).all()
        assert "stricter" not in strip.limit_words
    else:
        assert strip.limit_words.endswith("under (the stricter of the two)")


def test_the_moment_of_the_day_is_the_moment_alone(shady):
    day, now = day_of(shady, OCTOBER, 90.0), light_now(shady, OCTOBER, 90.0)
    strip = strip_of(shady, day, now, OCTOBER, choice(), 90.0)
    here = int(np.flatnonzero(strip.unix_s == unix_s(OCTOBER.instant))[0])
    assert strip.face_ev[here] == pytest.approx(now.subject.ev100, abs=1e-4)
    assert now.behind is not None
    assert strip.behind_ev is not None
    assert strip.behind_ev[here] == pytest.approx(now.behind.ev100, abs=1e-4)
    assert strip.face_doubt[here] == pytest.approx(now.subject.doubt_stops, abs=1e-4)


def test_the_doubt_is_wide_by_night_where_no_lamps_are_noted(shady):
    strip = strip_of(shady, day_of(shady, OCTOBER, None), light_now(shady, OCTOBER, None), OCTOBER, choice(), None)
    assert strip.face_doubt[0] > 2.4
    assert strip.face_doubt[12 * 12] < 0.9


def test_later_with_more_is_later_that_day_and_lasts(shady):
    noon = at("2026-06-21T11:00")
    weak = choice(distance_m=4.0, surroundings_under=2.0)
    later = later_with_more(day_of(shady, noon, None), noon, weak)
    assert later is not None
    assert later.reserve_stops >= 0
    found = datetime.strptime(later.words.removeprefix("Wait until "), "%H:%M")  # noqa: DTZ007
    assert found.hour >= 19
    moment = replace(
        noon, instant=datetime(2026, 6, 21, found.hour - 2, found.minute, tzinfo=UTC) + timedelta(minutes=15)
    )
    assert later_with_more(day_of(shady, moment, None), moment, weak) is not None
    midnight = at("2026-06-21T21:50")
    assert later_with_more(day_of(shady, midnight, None), midnight, weak) is None


def test_until_names_the_next_turn_of_the_same_day(field):
    day = day_of(field, OCTOBER, None)
    assert until_words(day, OCTOBER) == "until 18:40 (sunset)"
    assert until_words(day, at("2026-10-17T21:30")) is None


@pytest.mark.parametrize(
    ("place", "day", "hours"),
    [
        ((52.53, 5.23, "Europe/Amsterdam"), date(2026, 3, 29), 23),
        ((52.53, 5.23, "Europe/Amsterdam"), date(2026, 10, 25), 25),
        ((69.65, 18.96, "Europe/Oslo"), date(2026, 6, 21), 24),
        ((69.65, 18.96, "Europe/Oslo"), date(2026, 12, 21), 24),
        ((-36.85, 174.76, "Pacific/Auckland"), date(2026, 4, 5), 25),
        ((1.87, -157.4, "Pacific/Kiritimati"), date(2026, 1, 1), 24),
        ((-77.85, 166.67, "Antarctica/McMurdo"), date(2026, 9, 27), 23),
        ((89.99, 0.0, "UTC"), date(2026, 3, 20), 24),
    ],
)
def test_a_day_anywhere_is_whole(field, place, day, hours):
    latitude, longitude, zone = place
    light = replace(field, spot=replace(field.spot, latitude_deg=latitude, longitude_deg=longitude, zone=zone))
    start, end = local_day(day, zone)
    moment = Moment(start + (end - start) / 2, zone, 0, "you set it")
    found = day_of(light, moment, 0.0)
    assert (end - start) == timedelta(hours=hours)
    assert (found.runs[0].start, found.runs[-1].end) == (start, end)
    assert all(before.end == after.start and before.state != after.state for before, after in pairwise(found.runs))
    assert all(start <= point.instant <= end for point in found.turns)
    strip = strip_of(light, found, light_now(light, moment, 0.0), moment, choice(), 0.0)
    assert np.isfinite(strip.face_ev).all()
    assert draw_day_strip(strip, "narrow").startswith("<svg")


def test_polar_night_and_midnight_sun_have_their_states(field):
    oslo = {"latitude_deg": 69.65, "longitude_deg": 18.96, "zone": "Europe/Oslo"}
    light = replace(field, spot=replace(field.spot, **oslo))
    winter = at("2026-12-21T11:00", "Europe/Oslo")
    states = {run.state for run in day_of(light, winter, None).runs}
    assert states == {"dark", "dusk"}
    summer = at("2026-06-21T22:30", "Europe/Oslo")
    day = day_of(light, summer, None)
    assert {run.state for run in day.runs} == {"sun"}
    assert day.turns == ()
    assert until_words(day, summer) is None
    golden = [band for band in day.bands if band.name == "golden"]
    assert golden
    assert "goes on past midnight" in golden[-1].words
    assert golden[-1].reaches


def test_a_closed_sky_has_no_sun_and_still_knows_where_gold_would_fall(field):
    closed = replace(OCTOBER, oktas=8)
    day = day_of(field, closed, None)
    assert {run.state for run in day.runs} == {"shade", "dusk", "dark"}
    assert ("golden", True) in reaching(day)
    assert light_series(field, day.series.unix_s[:1], 8, ()).sky.direct_normal_lx[0] == 0
