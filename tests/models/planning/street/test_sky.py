"""The sky of a moment: typed before forecast, then the month's usual cloud, then what stood there always."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import hypot

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.calibration import PRIOR_STOPS
from models.planning.answers import Moment
from models.planning.light import spot_light
from models.planning.moments import year_sky
from models.planning.now import light_now, reading_now, spread_stops
from models.planning.settings import change_settings
from models.planning.spot_page import spot_page
from models.planning.spots import spots_page
from models.planning.street.sky import under_weather, weather_kept, whole
from models.store.weather import HourDraft, replace_forecast, shelf
from tests.models.planning.grounds import ZONE, equip, stand

NOON = datetime(2026, 10, 17, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)
ASSUMED = Moment(NOON + HOUR / 2, ZONE, 2, "assumed")


@pytest.fixture
def lane(plans):
    return stand(plans, "Lane")


def typed(spot, hours=0, **figures):
    return HourDraft(spot_id=spot.id, starts=NOON + hours * HOUR, kept_at=NOON - 2 * HOUR, **figures)


def forecast(spot, *clouds, issued_at=NOON - 3 * HOUR, every=1, **figures):
    told = {"source": "a forecast", "issued_at": issued_at}
    return [replace(typed(spot, n * every, oktas=cloud, **figures), **told) for n, cloud in enumerate(clouds)]


def keep(plans, *drafts):
    with plans.writing() as s:
        for draft in drafts:
            shelf.add(s, draft)


def fetch(plans, spot, drafts):
    with plans.writing() as s:
        replace_forecast(s, spot.id, drafts)


def sky(plans, spot, moment=ASSUMED, now=NOON):
    found = under_weather(plans, moment, spot and spot.id, now)
    return found.oktas, found.oktas_by, found.oktas_spread


def test_nothing_kept_leaves_what_stood_there(plans, lane):
    assert under_weather(plans, ASSUMED, lane.id, NOON) == ASSUMED
    assert under_weather(plans, ASSUMED, None, NOON) == ASSUMED


def test_a_sky_of_the_address_is_never_changed(plans, lane):
    keep(plans, typed(lane, oktas=7.0))
    chosen = replace(ASSUMED, oktas=0, oktas_by="you set it")
    assert under_weather(plans, chosen, lane.id, NOON) is chosen


def test_the_forecast_gives_the_sky_its_age_and_its_spread(plans, lane):
    fetch(plans, lane, forecast(lane, 5.2, 8.0))
    oktas, by, spread = sky(plans, lane)
    assert (oktas, by) == (5, "by forecast of 3 h ago")
    assert spread == pytest.approx(hypot(1.4, 1 + 0.5 * 3 / 24), abs=0.001)
    later = replace(ASSUMED, instant=NOON + 5 * HOUR)
    assert under_weather(plans, later, lane.id, NOON) == later


def test_what_was_typed_goes_before_the_forecast(plans, lane):
    fetch(plans, lane, forecast(lane, 5.0, 5.0))
    keep(plans, typed(lane, oktas=1.0))
    assert sky(plans, lane) == (1, "typed 2 h ago", 0.0)
    assert sky(plans, lane, replace(ASSUMED, instant=NOON + 1.5 * HOUR))[1] == "by forecast of 3 h ago"


def test_a_typed_hour_without_cloud_leaves_the_cloud_to_the_forecast(plans, lane):
    fetch(plans, lane, forecast(lane, 5.0, wind_m_s=3.0, gust_m_s=14.0))
    keep(plans, typed(lane, wind_m_s=9.0))
    assert sky(plans, lane)[0] == 5
    with plans.reading() as s:
        hour = weather_kept(s, lane.id, ASSUMED.instant)
    assert (hour.oktas, hour.wind_m_s, hour.gust_m_s) == (5.0, 9.0, 14.0)
    assert hour.source == "by hand, the rest from a forecast"


def test_another_spot_has_its_own_weather(plans, lane):
    keep(plans, typed(lane, oktas=7.0))
    assert sky(plans, stand(plans, "Quay")) == (2, "assumed", 0.0)


def test_past_the_reach_the_months_usual_cloud_is_marked_assumed(plans, lane):
    change_settings(plans, {"cloud_by_month": "6 6 5 5 4 4 4 4 5 5,4 6 7"})
    fetch(plans, lane, forecast(lane, 7.0))
    assert sky(plans, lane)[0] == 7
    later = replace(ASSUMED, instant=NOON + 30 * HOUR)
    for spot in (lane, None):
        assert sky(plans, spot, later) == (5, "assumed, usual for October", 0.0)
    december = replace(ASSUMED, instant=datetime(2026, 12, 31, 23, 30, tzinfo=UTC))
    assert sky(plans, None, december) == (6, "assumed, usual for January", 0.0)


def test_steps_of_six_hours_hold(plans, lane):
    fetch(plans, lane, forecast(lane, 2.0, 8.0, every=6))
    assert sky(plans, lane, replace(ASSUMED, instant=NOON + 5 * HOUR))[0] == 2
    assert sky(plans, lane, replace(ASSUMED, instant=NOON))[2] == pytest.approx(hypot(3, 1.0625), abs=0.001)


def test_of_two_typed_for_one_hour_the_later_holds(plans, lane):
    keep(plans, typed(lane, oktas=1.0), replace(typed(lane, oktas=6.0), kept_at=NOON))
    assert sky(plans, lane)[0] == 6


def test_one_hours_weather_says_nothing_of_the_year(plans, lane):
    fetch(plans, lane, forecast(lane, 8.0, 8.0))
    moment = under_weather(plans, ASSUMED, lane.id, NOON)
    assert year_sky(moment) == (2, "assumed")
    assert year_sky(replace(ASSUMED, oktas=6, oktas_by="you set it")) == (6, "you set it")
    equip(plans)
    page = spot_page(plans, lane.id, moment, {})
    assert "under 2 of 8 cloud, assumed" in page.year.caption
    assert "sky 8 of 8 covered, by forecast of 3 h ago, taken for the whole day" in page.day.caption
    assert page.rests_on.oktas_by == "by forecast of 3 h ago"
    assert any("the cloud of the forecast to lie off by up to 1.1 eighths" in line for line in page.rests_on.assumed)


def test_the_spread_widens_the_doubt_and_nothing_else(plans, lane):
    light = spot_light(plans, lane, now=NOON)
    sure = replace(ASSUMED, oktas=6)
    wide = replace(sure, oktas_spread=2.0)
    one, two = (light_now(light, moment, 90.0) for moment in (sure, wide))
    assert two.subject.ev100 == one.subject.ev100
    swing = float(np.log2((1 - 0.75 * 0.5**3.4) / 0.25)) / 2
    assert spread_stops(6, 2.0) == pytest.approx(swing)
    assert one.subject.doubt_stops == pytest.approx(np.sqrt(PRIOR_STOPS**2 + 0.25**2 + 0.5**2))
    assert two.subject.doubt_stops == pytest.approx(np.sqrt(PRIOR_STOPS**2 + 0.25**2 + 0.5**2 + swing**2))
    assert reading_now(light, wide, 90.0).subject == two.subject
    assert reading_now(light, sure, 90.0).subject == one.subject


@given(st.integers(0, 8), st.floats(0, 4), st.floats(0, 4))
def test_a_wider_spread_never_narrows_the_doubt(oktas, spread, more):
    assert 0 <= spread_stops(oktas, spread) <= spread_stops(oktas, spread + more) <= 1


@pytest.mark.parametrize(("oktas", "shown"), [(0.0, 0), (0.49, 0), (0.5, 1), (2.5, 3), (7.5, 8), (8.0, 8)])
def test_cloud_is_shown_to_the_nearest_eighth(oktas, shown):
    assert whole(oktas) == shown


def test_the_list_keeps_one_sky_and_says_that_a_spot_may_have_its_own(plans, lane):
    own = "a spot with weather kept for this hour goes by that on its own page"
    assert own not in spots_page(plans, ASSUMED).rests_on
    fetch(plans, lane, forecast(lane, 8.0))
    assert own in spots_page(plans, ASSUMED).rests_on
    assert spots_page(plans, ASSUMED).moment.oktas == 2
    assert own not in spots_page(plans, replace(ASSUMED, oktas_by="you set it")).rests_on
    assert own not in spots_page(plans, replace(ASSUMED, instant=NOON + 9 * HOUR)).rests_on
