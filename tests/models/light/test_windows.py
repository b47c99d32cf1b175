"""Times worth booking, on made-up days whose best hour is known."""

from __future__ import annotations

import weakref
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.light.windows import WANTS, Ask, Sky, SpotTimes, local_clock, rank
from models.problems import InputProblem

DAY = date(2026, 10, 17)  # a Saturday
ZONE = "Europe/Amsterdam"
NOT_HERE = "Foundry Lane: golden light: not at this spot in the days and hours asked for."
MIDNIGHT = datetime(2026, 10, 16, 22, tzinfo=UTC)


def sky(reserve: Any = 1.0, behind: Any = 11.0, too_strong: Any = False, steps: int = 97) -> Sky:
    return Sky(
        np.broadcast_to(np.asarray(reserve, float), steps).copy(),
        np.broadcast_to(np.asarray(behind, float), steps).copy(),
        np.broadcast_to(np.asarray(too_strong, bool), steps).copy(),
    )


def spot(days: int = 1, **changes: Any) -> SpotTimes:
    """Quarter hours of local days from DAY on: always shade, one stop in hand, sun 20 degrees high in the west."""
    steps = 96 * days + 1
    unix_s = MIDNIGHT.timestamp() + 900.0 * np.arange(steps)
    day, minute = local_clock(unix_s, ZONE)
    flat = {
        "state": np.full(steps, "shade"),
        "sun_elevation_deg": np.full(steps, 20.0),
        "sun_azimuth_deg": np.full(steps, 270.0),
        "golden": np.zeros(steps, bool),
        "blue": np.zeros(steps, bool),
        "sun_reaches": np.ones(steps, bool),
    }
    skies = {"clear": sky(steps=steps), "overcast": sky(steps=steps)}
    basis = {"spot_id": 1, "name": "Foundry Lane", "looking_deg": 270.0}
    return SpotTimes(**basis | {"unix_s": unix_s, "day": day, "minute": minute} | skies | flat | changes)


def at(hour: float, length: float = 1.0, steps: int = 97) -> np.ndarray:
    """True from an hour of the first day on, its end included."""
    quarters = np.arange(steps) / 4
    return (quarters >= hour) & (quarters <= hour + length)


def ask(**changes: Any) -> Ask:
    return Ask(**{"first": DAY, "last": DAY + timedelta(days=6)} | changes)


def starts(found: Any) -> list[str]:
    return [f"{(window.start + timedelta(hours=2)):%H:%M}" for window in found.windows]


def test_the_hour_with_most_in_hand_comes_first() -> None:
    best = spot(clear=sky(np.where(at(14), 1.8, 0.4)))
    window = rank([best], ask()).windows[0]
    assert (window.start, window.end) == (MIDNIGHT + timedelta(hours=14), MIDNIGHT + timedelta(hours=15))
    assert window.worst_reserve == pytest.approx(1.0)
    assert window.worst_sky == "at 8 oktas"
    assert window.against == ()
    assert window.reasons == (
        "1.0 stops in hand at worst, at 8 oktas, at 14:00.",
        "Light with a clear sky: shade.",
    )


def test_the_worse_of_the_two_skies_counts() -> None:
    cloudy = np.where(at(10), -1.0, 1.5)
    found = rank([spot(clear=sky(1.5), overcast=sky(cloudy))], ask(from_min=600, to_min=660))
    assert found.windows[0].worst_reserve == -1
    assert found.windows[0].worst_sky == "at 8 oktas"
    assert found.windows[0].against == ("The flash falls 1.0 stops short.",)


def test_the_worst_step_of_the_window_counts_its_end_included() -> None:
    dip = np.where(np.arange(97) == 4 * 15, 0.2, 1.9)
    found = rank([spot(clear=sky(dip), overcast=sky(1.9))], ask(from_min=14 * 60, to_min=15 * 60))
    assert found.windows[0].worst_reserve == pytest.approx(0.2)


def test_reserve_counts_to_two_stops_then_the_want_decides() -> None:
    golden = at(17, 0.5)
    plenty = np.where(at(9), 5.0, 2.5)
    found = rank([spot(clear=sky(plenty), overcast=sky(plenty), golden=golden)], ask(want="golden"))
    assert all(window.worst_reserve == pytest.approx(2.5) for window in found.windows)
    assert found.windows[0].want_share == pytest.approx(0.75)
    assert "more than 2 counts as 2" in found.windows[0].reasons[0]


def test_then_footfall_then_date() -> None:
    quiet = np.where(at(11, 1, 193), 20.0, 300.0)
    found = rank([spot(days=2, footfall=quiet)], ask())
    assert starts(found)[0] == "11:00"
    assert found.windows[0].reasons[-1] == "Footfall: about 20 people an hour."
    assert found.windows[1].start < found.windows[-1].start
    uncounted = replace(spot(), spot_id=2, name="Quay", looking_deg=None)
    busy = spot(footfall=np.full(97, 900.0))
    assert rank([uncounted, busy], ask()).windows[0].name == "Foundry Lane"


def test_too_strong_and_too_dark_speak_against_a_time() -> None:
    """With plenty in hand they still rank behind a poor hour, and before one that falls short."""
    reserve = np.select([at(10), at(14), at(20)], [0.3, -0.5, 6.0], -3.0)
    strong = spot(clear=sky(reserve, too_strong=at(20)), overcast=sky(reserve))
    dark = spot(clear=sky(reserve), overcast=sky(reserve, behind=np.where(at(20), 1.4, 11)))
    for given_spot in (strong, dark):
        assert starts(rank([given_spot], ask()))[:3] == ["10:00", "20:00", "14:00"]
    assert rank([strong], ask()).windows[1].against == (
        "The flash's lowest power is too strong with a clear sky, from 20:00.",
    )
    assert rank([dark], ask()).windows[1].against == ("Surroundings fall to EV100 1.4 at 8 oktas, at 20:00.",)


def test_golden_needs_the_sun_up_and_reaching() -> None:
    golden = at(17)
    good = spot(golden=golden, sun_elevation_deg=np.full(97, 3.0))
    window = rank([good], ask(want="golden")).windows[0]
    assert window.want_share == 1
    assert window.reasons[1] == "Golden light throughout, if the sky is clear: the sun 3° high."
    for spoilt in ({"sun_elevation_deg": np.full(97, -2.0)}, {"sun_reaches": np.zeros(97, bool)}):
        found = rank([spot(golden=golden, **spoilt)], ask(want="golden"))
        assert found.windows == ()
        assert found.unmet == (NOT_HERE,)
    assert rank([good], ask(want="golden", from_min=480, to_min=720)).unmet == (NOT_HERE,)
    assert rank([good], ask(want="golden", weekdays=frozenset({0}))).unmet == (NOT_HERE,)


@pytest.mark.parametrize(
    ("azimuth", "elevation", "meets"),
    [(270, 14.9, True), (309, 5, True), (231, 5, True), (311, 5, False), (270, 15.1, False), (90, 5, False)],
)
def test_low_sun_behind(azimuth: float, elevation: float, meets: bool) -> None:
    low = spot(sun_azimuth_deg=np.full(97, float(azimuth)), sun_elevation_deg=np.full(97, elevation))
    found = rank([low], ask(want="low sun behind"))
    assert bool(found.windows) == meets
    assert bool(found.unmet) != meets


def test_low_sun_behind_a_house_is_not_behind_the_subject() -> None:
    hidden = spot(sun_elevation_deg=np.full(97, 5.0), sun_reaches=np.zeros(97, bool))
    assert rank([hidden], ask(want="low sun behind")).windows == ()


def test_low_sun_behind_needs_a_bearing() -> None:
    found = rank([spot(looking_deg=None, sun_elevation_deg=np.full(97, 5.0))], ask(want="low sun behind"))
    assert found.unmet == ("Foundry Lane: choose a camera bearing first; low sun behind needs one.",)


def test_shade_must_last_and_blue_hour_may_be_short() -> None:
    state = np.where(at(12, 1), "shade", "sun")
    found = rank([spot(state=state)], ask(want="shade"))
    assert starts(found) == ["12:00"]
    assert "Open shade throughout." in found.windows[0].reasons
    blue = rank([spot(blue=at(18, 0), sun_elevation_deg=np.full(97, -5.0))], ask(want="blue"))
    assert "Blue hour for 15 minutes of it: the sun 5° under." in blue.windows[0].reasons


def test_hard_filters() -> None:
    week = spot(days=7)
    sundays = rank([week], ask(weekdays=frozenset({6})))
    assert {window.start.astimezone(UTC).date() for window in sundays.windows} <= {
        date(2026, 10, 17),
        date(2026, 10, 18),
    }
    assert {(window.start + timedelta(hours=2)).weekday() for window in sundays.windows} == {6}
    assert starts(rank([week], ask(from_min=600, to_min=675, length_min=75)))[:2] == ["10:00", "10:00"]
    assert rank([week], ask(min_reserve=1.5)).windows == ()
    over_midnight = rank([week], ask(from_min=23 * 60 + 30, to_min=30))
    assert set(starts(over_midnight)) == {"23:30"}


def test_a_length_off_the_grid_is_covered_whole() -> None:
    dip = np.where(np.arange(97) == 4 * 15, 0.2, 1.9)
    found = rank([spot(clear=sky(dip), overcast=sky(1.9))], ask(from_min=14 * 60, to_min=14 * 60 + 50, length_min=50))
    assert (found.windows[0].end - found.windows[0].start) == timedelta(minutes=50)
    assert found.windows[0].worst_reserve == pytest.approx(0.2)


def test_windows_of_one_day_stand_apart() -> None:
    found = rank([spot(days=2)], ask(length_min=90))
    by_day: dict[date, list[datetime]] = {}
    for window in found.windows:
        by_day.setdefault((window.start + timedelta(hours=2)).date(), []).append(window.start)
    for times in by_day.values():
        gaps = np.diff([time.timestamp() for time in sorted(times)])
        assert gaps.min() >= 2 * 90 * 60
    assert rank([spot(days=2)], ask(), limit=3).windows == rank([spot(days=2)], ask()).windows[:3]


def test_unmet_says_which_filter_took_how_many() -> None:
    """93 hours start on the day; Saturday only, 10 to 12 leaves 5, and none has 3 stops."""
    found = rank([spot()], ask(from_min=600, to_min=720, min_reserve=3.0))
    assert found.unmet == (
        "Foundry Lane: none of 93 possible starts is left: 88 outside the hours; 5 with less than 3.0 stops in hand.",
    )
    assert rank([spot()], ask(weekdays=frozenset({0}))).unmet == (
        "Foundry Lane: none of 93 possible starts is left: 93 on other weekdays.",
    )
    assert rank([spot()], ask(first=date(2027, 1, 1), last=date(2027, 1, 2))).unmet == ("Foundry Lane: no such days.",)


def test_steps_without_figures_and_breaks_are_never_booked() -> None:
    gap = spot()
    later = np.where(np.arange(97) > 48, 3600.0, 0.0)
    reserve = np.where(np.arange(97) < 20, np.nan, 1.0)
    broken = replace(gap, unix_s=gap.unix_s + later, clear=sky(reserve))
    for window in rank([broken], ask(), limit=100).windows:
        first = (window.start - MIDNIGHT) / timedelta(minutes=15)
        assert first >= 20
        assert not 44 < first <= 48


def test_spots_are_taken_one_after_the_other_and_let_go() -> None:
    alive: list[weakref.ref[object]] = []

    def one_by_one():
        for k in range(5):
            heights = np.full(97, 20.0)
            alive.append(weakref.ref(heights))
            assert sum(held() is not None for held in alive) <= 2
            yield spot(spot_id=k, sun_elevation_deg=heights)
            del heights

    assert rank(one_by_one(), ask(), limit=4, of_each=1).windows


def test_together_the_best_are_the_best_of_each_in_order() -> None:
    hands = (np.linspace(0.5, 2.5 - 0.5 * k, 193) for k in range(4))
    spots = [
        spot(days=2, spot_id=k, name=f"Spot {k}", clear=sky(hand, steps=193), overcast=sky(1.4, steps=193))
        for k, hand in enumerate(hands)
    ]
    together = rank(spots, ask(), limit=9)
    alone = [rank([each], ask(), limit=9).windows for each in spots]
    assert len({window.spot_id for window in together.windows}) > 1
    hand = [round(window.worst_reserve, 1) for window in together.windows]
    assert hand == sorted(hand, reverse=True)
    assert hand == sorted((round(w.worst_reserve, 1) for found in alone for w in found), reverse=True)[:9]
    for number in range(4):
        mine = [window for window in together.windows if window.spot_id == number]
        assert mine == list(alone[number][: len(mine)])
    assert rank(iter(spots), ask(), limit=9) == together


def test_nothing_to_rank() -> None:
    assert rank([], ask()).windows == ()
    one_step = spot(clear=sky(steps=97))
    short = replace(one_step, **{name: getattr(one_step, name)[:3] for name in ("unix_s", "day", "minute")})
    assert rank([short], ask()).unmet == ("Foundry Lane: no such days.",)


def test_local_clock_over_the_autumn_change() -> None:
    """Amsterdam, 25 October 2026: 03:00 CEST becomes 02:00 CET at 01:00 UTC (tz database)."""
    unix_s = datetime(2026, 10, 25, 0, 30, tzinfo=UTC).timestamp() + 1800.0 * np.arange(3)
    day, minute = local_clock(unix_s, ZONE)
    assert day.astype(str).tolist() == ["2026-10-25"] * 3
    assert minute.tolist() == [150, 120, 150]


@pytest.mark.parametrize(
    ("field", "bad"),
    [
        ("last", {"last": date(2026, 10, 16)}),
        ("length_min", {"length_min": 5}),
        ("weekdays", {"weekdays": frozenset()}),
        ("weekdays", {"weekdays": frozenset({7})}),
        ("hours", {"from_min": -1}),
        ("hours", {"from_min": 600, "to_min": 600}),
        ("hours", {"from_min": 600, "to_min": 630}),
        ("want", {"want": "rain"}),
    ],
)
def test_bad_asks(field: str, bad: dict[str, Any]) -> None:
    with pytest.raises(InputProblem) as problem:
        ask(**bad)
    assert problem.value.field == field


reserves = st.lists(st.floats(-4, 4), min_size=97, max_size=97)


@settings(max_examples=40)
@given(reserves, reserves, st.sampled_from(WANTS), st.sampled_from((30, 60, 75)))
def test_ranked_by_the_worst_reserve_of_what_each_window_covers(
    clear: list[float], overcast: list[float], want: Any, length_min: int
) -> None:
    found = rank([spot(clear=sky(clear), overcast=sky(overcast))], ask(want=want, length_min=length_min))
    counted = [float(np.round(min(window.worst_reserve, 2.0), 1)) for window in found.windows]
    assert counted == sorted(counted, reverse=True)
    for window in found.windows:
        first = round((window.start - MIDNIGHT) / timedelta(minutes=15))
        covered = slice(first, first - (-length_min // 15) + 1)
        assert window.worst_reserve == min(*clear[covered], *overcast[covered])
        assert window.end - window.start == timedelta(minutes=length_min)
    assert found.windows or found.unmet
