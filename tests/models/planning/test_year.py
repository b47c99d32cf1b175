"""A year at a spot agrees with the single instant, everywhere in it; and the map drawn of it."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest

from models.clock import from_unix_s, to_local
from models.drawing.year_map import draw_year_map
from models.light.flash import reserve
from models.planning.answers import Moment
from models.planning.grids import year_quarters
from models.planning.light import spot_light
from models.planning.now import light_now
from models.planning.year import year_at, year_map_of
from models.street.scene import Canopy
from tests.models.light.setups import choice
from tests.models.planning.grounds import at, block, build, stand

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
LIMES = Canopy(150, 250, 15, 60, 0.2, 0.7, (5, 6, 7, 8, 9, 10), "limes")


@pytest.fixture(scope="module")
def corner(shared_plans):
    """Two rows in an L, a crown to the south that changes with the season, a lamp-lit night."""
    build(shared_plans, block(-40, 8, 40, 20, 14.0), block(10, -60, 22, 0, 11.0))
    return spot_light(shared_plans, stand(shared_plans, canopies=(LIMES,), lighting_class="P4"), now=NOW)


@pytest.mark.parametrize(("looking", "oktas"), [(None, 0), (315.0, 0), (200.0, 5), (45.0, 8)])
def test_the_year_and_the_single_instant_agree(corner, looking, oktas):
    """The same code: nothing but rounding in 32 bits between them."""
    year = year_at(corner, 2026, oktas, looking)
    grid = year_quarters(2026, corner.spot.zone)
    random = np.random.default_rng(oktas)
    day_time = np.argwhere(np.isfinite(grid) & (year.face_ev > 3))
    for day, quarter in [*random.choice(day_time, 30), *random.choice(np.argwhere(np.isfinite(grid)), 10)]:
        moment = Moment(from_unix_s(grid[day, quarter]), corner.spot.zone, oktas, "you set it")
        now = light_now(corner, moment, looking)
        assert year.face_ev[day, quarter] == pytest.approx(now.subject.ev100, abs=1e-3), moment
        if looking is not None:
            assert year.behind_ev is not None
            assert now.behind is not None
            assert year.behind_ev[day, quarter] == pytest.approx(now.behind.ev100, abs=1e-3), moment


def test_the_map_of_reserve_is_the_reserve_of_the_instant(corner):
    moment = at("2026-10-17T14:30")
    year = year_at(corner, 2026, 0, 315.0)
    drawn = year_map_of(year, corner, moment, choice(), (), "reserve")
    now = light_now(corner, moment, 315.0)
    local = moment.local
    day = (local.date() - date(2026, 1, 1)).days
    expected = reserve(choice(), now.face, now.backdrop).stops
    assert drawn.values[day, local.hour * 4 + local.minute // 15] == pytest.approx(expected, abs=1e-3)
    assert drawn.moment is not None
    assert (drawn.moment.day, drawn.moment.hour) == (day, 16.5)
    assert np.array_equal(year_map_of(year, corner, moment, choice(), (), "ev").values, year.face_ev, equal_nan=True)


def test_clock_changes_are_gaps_and_marks(corner):
    year = year_at(corner, 2026, 0, None)
    assert year.face_ev.shape == (365, 96)
    assert np.argwhere(np.isnan(year.face_ev)).tolist() == [[87, quarter] for quarter in range(8, 12)]
    drawn = year_map_of(year, corner, at("2026-10-17T14:30"), choice(), (), "ev")
    assert [(change.day, change.words) for change in drawn.clock_changes] == [
        (87, "clocks forward 29 Mar"),
        (297, "clocks back 25 Oct"),
    ]
    assert (drawn.quantity, drawn.zone_words) == ("ev", "CET and CEST")


def test_sunrise_and_sunset_are_on_the_local_clock(corner):
    """52.53 N 5.23 E, skyfield 1.55 with DE421: 03:15:45 and 20:06:02 UTC on 21 June 2026, 07:47:40 and 15:26:35 on 21
    December. Within a minute, as the events themselves are held to."""
    drawn = year_map_of(year_at(corner, 2026, 0, None), corner, at("2026-10-17T14:30"), choice(), (), "ev")
    for day, rise, fall in ((date(2026, 6, 21), 5.2625, 22.1006), (date(2026, 12, 21), 8.7944, 16.4431)):
        k = (day - date(2026, 1, 1)).days
        assert drawn.sunrise_hour[k] == pytest.approx(rise, abs=1 / 60)
        assert drawn.sunset_hour[k] == pytest.approx(fall, abs=1 / 60)


@pytest.mark.parametrize(
    ("place", "nights"),
    [
        ((69.65, 18.96, "Europe/Oslo"), 40),
        ((-36.85, 174.76, "Pacific/Auckland"), 0),
        ((1.87, -157.4, "Pacific/Kiritimati"), 0),
    ],
)
def test_a_year_anywhere_can_be_drawn(shared_plans, place, nights):
    latitude, longitude, zone = place
    here = {"latitude_deg": latitude, "longitude_deg": longitude, "zone": zone}
    light = spot_light(shared_plans, stand(shared_plans, **here), now=NOW)
    moment = at("2026-06-21T10:00", zone)
    drawn = year_map_of(year_at(light, 2026, 2, None), light, moment, choice(), ("21 Jun",), "reserve")
    none = np.isnan(drawn.sunrise_hour) & np.isnan(drawn.sunset_hour)
    assert none.sum() >= nights
    assert (none.sum() == 0) == (nights == 0)
    assert np.isnan(drawn.values).sum() <= 4
    assert draw_year_map(drawn, "narrow").startswith("<svg")


def test_summer_in_the_far_south_is_in_january(shared_plans):
    here = {"latitude_deg": -36.85, "longitude_deg": 174.76, "zone": "Pacific/Auckland"}
    light = spot_light(shared_plans, stand(shared_plans, **here), now=NOW)
    year = year_at(light, 2026, 0, None)
    bright = (year.face_ev > 10).sum(axis=1)
    assert bright[10] > bright[175] + 16  # quarter hours: four hours longer


def test_no_year_is_taken_for_another(corner):
    """Each thing that bears on it makes another year; a note does not."""
    one = year_at(corner, 2026, 0, None)
    assert year_at(corner, 2026, 0, None) is one
    assert year_at(corner, 2026, 0, 90.0) is not one
    assert year_at(corner, 2026, 1, None) is not one
    assert year_at(corner, 2027, 0, None).first_day == date(2027, 1, 1)


def test_a_night_with_lamps_is_as_bright_as_they_are(corner):
    """P4, 5 lx on the ground: 2.8 lx on a face, EV 0.2."""
    year = year_at(corner, 2026, 0, None)
    december_night = (date(2026, 12, 20) - date(2026, 1, 1)).days
    assert year.face_ev[december_night, 4] == pytest.approx(np.log2(5 * 0.56 / 2.5), abs=0.15)


def test_a_moment_of_the_repeated_hour_lies_in_its_own_quarter(corner):
    local = to_local(datetime(2026, 10, 25, 1, 30, tzinfo=UTC), corner.spot.zone)
    assert (local.hour, local.fold) == (2, 1)
    moment = Moment(datetime(2026, 10, 25, 1, 30, tzinfo=UTC), corner.spot.zone, 0, "")
    drawn = year_map_of(year_at(corner, 2026, 0, None), corner, moment, choice(), (), "ev")
    assert drawn.moment is not None
    assert (drawn.moment.day, drawn.moment.hour) == (297, 2.5)
